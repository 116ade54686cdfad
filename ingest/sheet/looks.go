package sheet

import (
	"strings"
)

// oneDegree finds the one number that is left of a cell about the weather.
var oneDegree = patternOf(`^[^\d]*?(-?\d{2,3})(?: ?[°º] ?[fc]?| ?deg\w*| ?[fc])?\b?[^\d]*$`)

// besideWeather is the temperature that stands among words about the weather.
func besideWeather(s string) (float64, bool) {
	rest := weatherAside.ReplaceAllString(windIn.ReplaceAllString(s, " "), " ")
	p := oneDegree.FindStringSubmatch(rest)
	if p == nil || rest == s && !weatherWord.MatchString(s) {
		return 0, false
	}
	if strings.ContainsAny(rest, "$#/+'\"") || len(s) > longestKnown {
		return 0, false
	}
	v := float64(atoi(strings.TrimPrefix(p[1], "-")))
	return v, true
}

// lookAtMarked notes numbers that letters tell of: a mix by its grade, people by
// hours.
func (p *profile) lookAtMarked(i int, s string, h habit) bool {
	lower := strings.ToLower(s)
	if len(lower) < 20 && strings.IndexByte("nscrgv", lower[0]) >= 0 {
		if g := graded.FindStringSubmatch(lower); g != nil {
			p.numbers++
			p.unitTexts["mpa"]++
			p.values[i] = float64(atoi(g[1]))
			return true
		}
	}
	hours, ok := stretches(s, h)
	if ok {
		p.people++
		p.numbers++
		p.values[i] = hours
	}
	return ok
}

// stretches are the hours of a crew as people by hours, told from sizes by the
// hours' own word: 3 x 7h + 1 x 5h.
func stretches(s string, h habit) (float64, bool) {
	if !hoursWord.MatchString(s) || !timesIn.MatchString(s) {
		return 0, false
	}
	if t, ok := parseCrewTime(s, h); ok {
		return float64(t.people) * t.each, true
	}
	return parseCrewSum(s, h)
}

var (
	hoursWord = patternOf(`(?i)\d ?(?:h|hrs?|hours?|horas?)\b`)
	timesIn   = patternOf(`(?i)\d ?(?:x|×|\*|@|men|guys|of us|hands|man|people)`)
)
