package visits

import "pourback/analysis/stat/survival"

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
func lineOf(name string, km *survival.KM, end float64) SeenLine {
	l := SeenLine{Name: name, Age: []float64{0}, Risk: []float64{0}}
	for i, t := range km.Time {
		if t <= end && km.Event[i] > 0 {
			l.Age, l.Risk = append(l.Age, t), append(l.Risk, 1-km.Survival[i])
		}
	}
	return l.until(end)
}

// turnbullLine puts each mass at the end of its interval, to an age.
func turnbullLine(fit *survival.Turnbull, end float64) SeenLine {
	l := SeenLine{Name: "arose between two looks", Age: []float64{0}, Risk: []float64{0}}
	sum := 0.0
	for j, at := range fit.At {
		if sum += fit.Mass[j]; at.Right > end {
			break
		}
		l.Age, l.Risk = append(l.Age, at.Right), append(l.Risk, sum)
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
