package visits

import (
	"pourback/analysis/cracks"
	"pourback/analysis/stat/survival"
)

// leastDrawn is how many slabs must still be followed for the lines to go on.
const leastDrawn = 10

// followedTo is the age to which enough slabs are followed.
func followedTo(km *survival.KM) float64 {
	end := 0.0
	for i, t := range km.Time {
		if km.AtRisk[i] >= leastDrawn {
			end = t
		}
	}
	return end
}

// lineOf is a Kaplan-Meier curve as shares cracked, to an age.
func lineOf(code LineCode, km *survival.KM, end float64) SeenLine {
	l := SeenLine{Code: code, Age: []float64{0}, Risk: []float64{0}}
	for i, t := range km.Time {
		if t <= end && km.Event[i] > 0 {
			l.Age, l.Risk = append(l.Age, t), append(l.Risk, 1-km.Survival[i])
		}
	}
	return l.until(end)
}

// betweenLine puts each share at the look by which its cracks had arisen.
func betweenLine(b *cracks.Between, end float64) SeenLine {
	l := SeenLine{Code: LineBetween, Age: []float64{0}, Risk: []float64{0}}
	ages, shares := b.Steps()
	for j, age := range ages {
		if age > end {
			break
		}
		l.Age, l.Risk = append(l.Age, age), append(l.Risk, shares[j])
	}
	return l.until(end)
}

// until draws the line's last step out to an age.
func (l SeenLine) until(end float64) SeenLine {
	if last := len(l.Age) - 1; l.Age[last] < end {
		l.Age, l.Risk = append(l.Age, end), append(l.Risk, l.Risk[last])
	}
	return l
}
