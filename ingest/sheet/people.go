package sheet

import (
	"regexp"
	"strings"

	"pourback/ingest/record"
)

// peopleHours reads a crew's time: 4 guys x 7, 5x6, 3 men 8 hrs, 4 @ 6.5 each.
var peopleHours = regexp.MustCompile(`^(\d{1,2})\s*[- ]?\s*(?:((?:man|person|hand|guy)[- ]?crew|guys?|men|mens|man|people|hands|workers|finishers|laborers|crew|pers(?:on)?s?|ppl|hombres?|trabajadores|personas|peones|albaniles|fellas|bodies|of us)\b)?\s*(x|×|\*|@|for|por|at|,|-|/|a)?\s*(\d{1,3}(?:[.,]\d{1,2}|:\d{2})?(?: ?\d/\d)?|½)\s*(h|hr|hrs|hours?|horas?)?\.?\s*(?:each|ea\.?|apiece|per man|cada uno|c/u|/man)?$`)

// hoursPeople is the other way about: 7 hrs x 4 guys.
var hoursPeople = regexp.MustCompile(`^(\d{1,2}(?:\.\d{1,2})?)\s*(?:h|hr|hrs|hours?|horas?)\.?\s*(?:x|×|\*|@|for|w/|with|each)\s*(\d{1,2})\s*(guys?|men|man|people|hands|hombres?|crew)$`)

// parseCrewSum reads several stretches of a crew's time that add up: 4 x 4.5 + 4,
// 3 men 8 hrs + 2 hrs.
func parseCrewSum(text string, h habit) (hours float64, ok bool) {
	parts := strings.Split(plainSigns(text), "+")
	if len(parts) < 2 || len(parts) > 9 {
		return 0, false
	}
	for _, part := range parts {
		part = strings.TrimSpace(part)
		if t, ok := parseCrewTime(part, h); ok {
			hours += float64(t.people) * t.each
			continue
		}
		q := quantityReader{m: ownUnit(record.Hour), h: h}
		a, err := q.terms(part)
		if err != nil {
			return 0, false
		}
		hours += a.value
	}
	return hours, true
}

// hoursEach says that a cell's people and hours are to be multiplied.
type crewTime struct {
	people int64
	each   float64
}

// parseCrewTime is false where a cell does not tell people and hours apart.
func parseCrewTime(text string, h habit) (crewTime, bool) {
	s := accents.Replace(strings.ToLower(strings.TrimSpace(plainSigns(text))))
	if q := hoursPeople.FindStringSubmatch(s); q != nil {
		s = q[2] + " " + q[3] + " x " + q[1]
	}
	p := peopleHours.FindStringSubmatch(s)
	if p == nil {
		return crewTime{}, false
	}
	named, sign := p[2] != "", p[3]
	if !named && sign != "x" && sign != "×" && sign != "*" && sign != "@" {
		return crewTime{}, false
	}
	if named && sign == "" && p[5] == "" && !strings.Contains(s, " ") {
		return crewTime{}, false
	}
	each, rest, ok := scanNumeral(p[4], h)
	if minutes, clock := parseClock(p[4]); clock {
		each.value, rest, ok = minutes/60, "", true
	}
	people := int64(atoi(p[1]))
	if !ok || rest != "" || people < 1 || people > 40 || each.value <= 0 || each.value > 24*7 {
		return crewTime{}, false
	}
	return crewTime{people, each.value}, true
}
