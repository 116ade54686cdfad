package sheet

import (
	"strings"

	"pourback/ingest/record"
)

// Words of a crew's time.
const (
	peopleForm = `(?:(?:man|person|hand|guy)[- ]?crew|guys?|men|mens|man|people|persons?|hands|workers|finishers|laborers|crew|pers|ppl|hombres?|trabajadores|personas|peones|albaniles|fellas|fellows|bodies|lads|boys|of (?:us|them)|on (?:it|crew|site)|helpers)`
	hoursForm  = `(?:h|hr|hrs|hours?|horas?)`
	eachForm   = `(?:each|ea|apiece|a ?piece|per man|per person|a man|cada uno|c/u|/man|straight)`
)

// peopleHours reads a crew's time: 4 guys x 7, 5x6, 3 men 8 hrs, 4 @ 6.5 each, 3
// of them 6 hours apiece, 4 men, 8 1/2 hrs each.
var peopleHours = patternOf(`^(?:crew of )?(\d{1,2})\s*[- ]?\s*(?:(` + peopleForm + `)\b)?\s*(?:worked|put in|did)?\s*(x|×|\*|@|for|por|at|,|-|/|a)?\s*(\d{1,3}(?:[.,]\d{1,2}|:\d{2})?(?:[ -]?\d/\d)?|\d{0,2} ?[½¼¾])\s*(` + hoursForm + `)?\.?\s*,?\s*` + eachForm + `?\.?$`)

// hoursPeople is the other way about: 7 hrs x 4 guys, 7 hours each for 4 men.
var hoursPeople = patternOf(`^(\d{1,2}(?:\.\d{1,2})?(?: \d/\d)?)\s*` + hoursForm + `\.?\s*(?:` + eachForm + `)?\s*(x|×|\*|@|for|w/|with|,)?\s*(\d{1,2})\s*(` + peopleForm + `)$`)

// hoursEach reads the hours of each of a crew whose number stands elsewhere.
var hoursEach = patternOf(`^(\d{1,2}(?:[.,]\d{1,2})?(?:[ -]?\d/\d)?|\d{0,2} ?[½¼¾])\s*(?:` + hoursForm + `)?\.?\s*` + eachForm + `\.?$`)

// parseEach reads 6 each, 7.5 hrs per man: the hours of each of the crew.
func parseEach(text string, h habit) (float64, bool) {
	p := hoursEach.FindStringSubmatch(inFigures(plainLower(text)))
	if p == nil {
		return 0, false
	}
	n, rest, ok := scanNumeral(strings.TrimSpace(p[1]), h)
	return n.value, ok && rest == "" && n.value > 0 && n.value <= 24*7
}

// parseCrewSum reads several stretches of a crew's time that add up: 4 x 4.5 + 4,
// 3 men 8 hrs + 2 hrs.
func parseCrewSum(text string, h habit) (hours float64, ok bool) {
	parts := strings.Split(plainSigns(text), "+")
	if len(parts) == 1 {
		return crewByCrew(text, h)
	}
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

// Words around a crew's hours that are of all of them together.
var (
	inAll     = patternOf(`\s*(?:total|in all|all told|altogether|combined|all together)\.?$|^total(?: of)?:?\s+`)
	cameTo    = patternOf(`^(.*\S)\s*=\s*(\d+(?:\.\d+)?)\s*(?:` + hoursForm + `|mh)?\.?$`)
	manHours  = patternOf(`^(\d+(?:\.\d+)?)\s*(?:mh|m\.h\.|man[- ]?h(?:ou)?rs?)\s*[(,/-]*\s*(\d{1,2})\s*` + peopleForm + `\)?$|^(\d{1,2})\s*` + peopleForm + `\s*[(,/-]*\s*(\d+(?:\.\d+)?)\s*(?:mh|m\.h\.|man[- ]?h(?:ou)?rs?)\)?$`)
	eitherWay = patternOf(`^\d{1,2}\s*[-/]\s*\d{1,2}$`)
)

// parseManHours reads person-hours with the people beside them: 18 mh (3 men).
func parseManHours(text string) (hours float64, people int64, ok bool) {
	p := manHours.FindStringSubmatch(plainLower(text))
	if p == nil {
		return 0, 0, false
	}
	n, _, ok := scanNumeral(p[1]+p[4], habit{mark: '.'})
	people = int64(atoi(p[2] + p[3]))
	return n.value, people, ok && people > 0 && people <= 40
}

// parseCrewTime is false where a cell does not tell people and hours apart.
func parseCrewTime(text string, h habit) (crewTime, bool) {
	s := inFigures(plainLower(text))
	if q := hoursPeople.FindStringSubmatch(s); q != nil {
		sign := " "
		if q[2] == "x" || q[2] == "×" || q[2] == "*" || q[2] == "@" || eachWord.MatchString(s) {
			sign = " x "
		}
		s = q[3] + " " + q[4] + sign + q[1] + " hrs"
	}
	p := peopleHours.FindStringSubmatch(s)
	if p == nil {
		return crewTime{}, false
	}
	named, sign := p[2] != "" || strings.HasPrefix(s, "crew of"), p[3]
	if !named && sign != "x" && sign != "×" && sign != "*" && sign != "@" {
		return crewTime{}, false
	}
	if named && sign == "" && p[5] == "" && !strings.Contains(s, " ") {
		return crewTime{}, false
	}
	each, rest, ok := scanNumeral(strings.TrimSpace(p[4]), h)
	if minutes, clock := parseClock(p[4]); clock {
		each.value, rest, ok = minutes/60, "", true
	}
	people := int64(atoi(p[1]))
	if !ok || rest != "" || people < 1 || people > 40 || each.value <= 0 || each.value > 24*7 {
		return crewTime{}, false
	}
	if each.value > longestDay && !eachWord.MatchString(s) && sign != "x" && sign != "×" && sign != "*" && sign != "@" {
		return crewTime{}, false // 28 hrs, 4 men: more likely all of them together
	}
	return crewTime{people, each.value}, true
}

var (
	// wholeDays are no hours: nobody says how long a day was.
	wholeDays = patternOf(`\b(?:all|half(?: a)?|whole|full|\d+(?:\.\d+)?|a|one|two|three) ?days?\b|\bdays?$`)
	andMe     = patternOf(`^(\d{1,2})\s*(?:\+|&|and|plus|y)\s*(?:me|myself|boss|owner|foreman|yo)$`)
	ofUs      = patternOf(`\b(?:of )?(?:us|them)\b`)
)

// longestDay is how long a day of work can be in hours; more than that is of all
// the crew, or of several days.
const longestDay = 16

var (
	eachWord  = patternOf(`\b(?:` + eachForm + `)\b`)
	crewComma = patternOf(`\s*(?:,|;|&|\band\b)\s*`)
)

// crewByCrew reads 4 guys 7, 1 guy 3: people and hours by parts.
func crewByCrew(text string, h habit) (hours float64, ok bool) {
	parts := crewComma.Split(plainLower(text), 9)
	for _, part := range parts {
		t, ok := parseCrewTime(part, h)
		if !ok {
			return 0, false
		}
		hours += float64(t.people) * t.each
	}
	return hours, len(parts) > 1
}

func (r *cellReader) readCrewHours(c *column, field any, text string) {
	f := field.(*record.Number)
	*f = record.Number{}
	s := plainLower(text)
	if _, plain := plainFigures(s, r.habit); plain {
		r.readSum(c, field, text)
		return
	}
	s = inAll.ReplaceAllString(s, "")
	if p := cameTo.FindStringSubmatch(s); p != nil {
		r.readProduct(c, f, p[1], p[2])
		return
	}
	if wholeDays.MatchString(s) || eitherWay.MatchString(s) && isSmall(s) {
		r.say.fail(codeNotNumber, "not hours of one meaning", "write the hours of all of the crew")
		return
	}
	if hours, people, ok := parseManHours(s); ok {
		*f = record.Number{V: hours, OK: r.inRange(c, hours, true)}
		r.spillHeads(people)
		return
	}
	if t, ok := parseCrewTime(s, r.habit); ok {
		hours := float64(t.people) * t.each
		*f = record.Number{V: hours, OK: r.inRange(c, hours, true)}
		r.spillHeads(t.people)
		return
	}
	if each, ok := parseEach(s, r.habit); ok {
		r.scratch.each, r.scratch.eachOwn = record.Some(each), true
		r.spilled = true
		return
	}
	if hours, ok := parseCrewSum(s, r.habit); ok && !c.foreign {
		*f = record.Number{V: hours, OK: r.inRange(c, hours, true)}
		return
	}
	r.readSum(c, field, s)
}

func (r *cellReader) spillHeads(people int64) {
	r.spill("crew_size", func(field any) { *field.(*record.Count) = record.Some(people) })
}

// isSmall says whether the first of two numbers can be a crew: 4-7 and 4/7 may be
// four people for seven hours.
func isSmall(s string) bool {
	n, _ := leadingInt(s)
	return n <= 12
}

// readProduct reads 4 x 7 = 28, if it is.
func (r *cellReader) readProduct(c *column, f *record.Number, factors, total string) {
	want, _, ok := scanNumeral(total, r.habit)
	t, crew := parseCrewTime(factors, r.habit)
	got := float64(t.people) * t.each
	if !crew {
		got, crew = parseCrewSum(factors, r.habit)
	}
	if !ok || !crew || got-want.value > 0.01 || want.value-got > 0.01 {
		r.say.fail(codeNotNumber, "hours that do not come to what stands behind them", "write the hours of all of the crew")
		return
	}
	*f = record.Number{V: got, OK: r.inRange(c, got, true)}
	if t.people > 0 {
		r.spillHeads(t.people)
	}
}
