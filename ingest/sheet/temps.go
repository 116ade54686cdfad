package sheet

import (
	"strings"

	"pourback/ingest/record"
)

// degreesForm finds a temperature with its scale or none.
const degreesForm = `(-?\d{1,3}(?:[.,]\d)?)\s*(?:[°º]\s*([fc])?|\b(?:deg(?:rees?|s)?\b\.?|grados)\s*([fc]\b)?|([fc])\b)?`

var (
	windIn = patternOf(`\b(?:winds?|gust(?:s|ing)?|viento)\b:? *(?:of |at |about |around |out of |from )?(?:the )?(?:[nsew]{1,3} |north |south |east |west )?(?:at )?(\d{1,3})(?:\s*(?:-|to)\s*(\d{1,3}))?\b\s*(mph|mi/h|km/?h|kph|kn|kt|knots)?|\b(\d{1,3})(?:\s*(?:-|to)\s*(\d{1,3}))?\s*(mph|mi/h|km/?h|kph|kn|kt|knots)\b(?:\s*(?:winds?|gusts?|breeze))?`)
	// amounts and times that are no temperature: after 3 pm, at 7:30, 1/2" of rain
	weatherAside = patternOf(`@ ?\d{1,2}(?::\d{2})? ?[ap]\.?m?\b\.?|@ ?noon\b|\b\d{1,2}(?::\d{2})\s*(?:[ap]\.?m?\.?)?\b|\b\d{1,2}\s*(?:am|pm|a\.m\.?|p\.m\.?|o'?clock|hrs?|hours?)\b|\b\d+\s*%\s*(?:chance|rain)[a-z ]*|\b(?:after|by|till|until|before) \d{1,2}\b|\brain(?:ed|ing|s)?\s+(?:at|from|around)\s+\d{1,2}\b|\b\d+\s*(?:nights?|days?|layers?|blankets?|times|men|guys|trucks?)\b|\b` + numeralForm + `\s*(?:"|inch(?:es)?\b|in\b\.?(?: of)? (?:rain|snow)\b)`)
	humidIn      = patternOf(`\b(\d{1,3})\s*%\s*(?:rh|hum(?:id(?:ity)?)?)?|\b(?:rh|hum(?:idity)?)\s*(\d{1,3})\b\s*%?`)
	airLabel     = patternOf(`\b(?:air|ambient|amb|outside|aire)\b\s*:?\s*` + degreesForm + `|` + degreesForm + `\s*\(?(?:air|ambient|amb|outside|aire)\b`)
	mudLabel     = patternOf(mudBefore.String() + `|` + mudBehind.String())
	mudBefore    = patternOf(`\b(?:concrete|conc|crete|mix|mud|load)\b\s*(?:temp)?\s*(?:was|at|:)?\s*` + degreesForm)
	mudBehind    = patternOf(degreesForm + `\s*\(?(?:concrete|conc|crete|mix|mud|load)\b`)
	labelled     = patternOf(`^\s*(?:air|ambient|amb|outside|concrete|conc|crete|mix|mud)\b`)
	twoTemps     = patternOf(`^([^/]*?)\s*/\s*([^/]*?)$`)
	degrees      = patternOf(degreesForm)
	degreeRange  = patternOf(`(\d{1,3})\s*[°º]?\s*f?\s*(?:-|\bto\b|\.\.+)\s*` + degreesForm)
	decade       = patternOf(`\b(?:low|mid|upper|high|in the)?[ -]*\d0'?s\b|\bteens\b|\bfeels? like\b|\bfelt like\b|\bheat index\b|\bwind ?chill\b|\bfreez`)
)

// readTemp reads the temperature of the air, with words about the weather beside
// it or none: 88, 88F, 59 and muggy, clear, 87, 62, wind 12 mph, 88/79.
func (r *cellReader) readTemp(c *column, field any, text string) {
	f := field.(*record.Number)
	*f = record.Number{}
	s := plainSigns(text)
	if isMissingWord(s) {
		return
	}
	if _, plain := plainFigures(s, r.habit); plain {
		r.readKind(c, field, text)
		return
	}
	s = plainLower(text)
	if p := twoTemps.FindStringSubmatch(s); p != nil && r.twoTemps(c, f, p[1], p[2], text) {
		return
	}
	s = r.besides(c, s, text)
	if s == "" && r.spilled {
		return
	}
	bare := strings.TrimSpace(tempWords.ReplaceAllString(s, ""))
	var said remarks
	if a, ok := parseQuantity(bare, c.measure, r.habit, &said); ok && (a.unit == "" || record.Fahrenheit.Knows(a.unit) || isDegrees(a.unit)) {
		r.say = append(r.say, said...)
		*f = record.Number{V: a.value, OK: r.inRange(c, a.value, a.converted)}
		return
	}
	if decade.MatchString(s) || strings.Contains(s, "?") {
		r.say.fail(codeNotNumber, "not a temperature", "write a number, such as 75")
		return
	}
	at := degrees.FindAllStringIndex(s, 3)
	if p := degreeRange.FindStringIndex(s); p != nil && len(at) == 2 {
		at = [][]int{p}
	}
	if len(at) != 1 {
		r.say.fail(codeNotNumber, "not one temperature", "write a number, such as 75")
		return
	}
	if a, ok := parseQuantity(s[at[0][0]:at[0][1]], c.measure, r.habit, &r.say); ok {
		*f = record.Number{V: a.value, OK: r.inRange(c, a.value, a.converted)}
	}
}

// tempWords stand around a temperature and add nothing to it.
var tempWords = patternOf(`^(?:high|hi|low|lo|about|around|upper|lower|max|min|temp|air)\b[ :]*|[ ,]+(?:hot|cold|warm|windy|sunny|clear|cloudy|nice|high|humid|breezy|rain|overcast)$`)

// besides takes what a cell says about wind, humidity and the concrete out of it
// and into the row, and times and amounts of rain away.
func (r *cellReader) besides(c *column, s, text string) string {
	if !strings.ContainsAny(s, " ,;(%\"") {
		return s
	}
	if p := windIn.FindStringSubmatch(s); p != nil {
		rest := windIn.ReplaceAllString(s, " ")
		if unit := p[3] + p[6]; unit != "" || degrees.MatchString(rest) {
			low, high := float64(atoi(p[1]+p[4])), float64(atoi(p[2]+p[5]))
			if high > low {
				low = (low + high) / 2
			}
			if unit != "" {
				low, _ = record.MilesPerHour.Convert(low, unit)
			}
			r.spill("wind_mph", setNumber(twelveDigits(low)))
			s = rest
		}
	}
	if p := humidIn.FindStringSubmatch(s); p != nil && !strings.Contains(s, "chance") && !strings.Contains(s, "rain") {
		r.spill("humidity_pct", setNumber(float64(atoi(p[1]+p[2]))))
		s = humidIn.ReplaceAllString(s, " ")
	}
	s = weatherAside.ReplaceAllString(s, " ")
	label := mudBefore
	if !labelled.MatchString(s) && mudBehind.MatchString(s) {
		if label = mudBehind; mudBefore.MatchString(s) {
			return s // 88 mud 79: which of them is not said
		}
	}
	if p := label.FindStringIndex(s); p != nil {
		r.spillTemp("concrete_temp_f", s[p[0]:p[1]], text, c)
		s = s[:p[0]] + " " + s[p[1]:]
	}
	return strings.Trim(strings.TrimSpace(s), ",;( ")
}

// spillTemp puts the one temperature of a text into another column, and says
// where it cannot be.
func (r *cellReader) spillTemp(name, s, text string, c *column) {
	d := degrees.FindString(s)
	var said remarks
	a, ok := parseQuantity(d, c.measure, r.habit, &said)
	i := r.table.Index(name)
	if !ok || i < 0 {
		return
	}
	if p, wrong := r.table.Columns[i].RangeProblem(a.value); wrong && p.Severity == record.Error {
		r.problems = append(r.problems, r.leaveEmpty(record.Problem{Severity: record.Warning, Code: p.Code, Column: name, Value: text, Wrong: p.Wrong, Right: p.Right}))
		return
	}
	r.spill(name, setNumber(a.value))
}

// twoTemps reads air and concrete by a stroke. It is false where the cell is
// none such.
func (r *cellReader) twoTemps(c *column, f *record.Number, a, b, text string) bool {
	one := func(s string) bool {
		d := degrees.FindStringIndex(s)
		return isMissingWord(s) || d != nil && d[0] == 0 && d[1] == len(s)
	}
	if airLabel.MatchString(a) || mudLabel.MatchString(b) {
		r.setTemp(c, f, a)
		r.spillTemp("concrete_temp_f", b, text, c)
		return true
	}
	if !one(a) || !one(b) || isMissingWord(a) && isMissingWord(b) {
		return false
	}
	if c.pairs == pairUnknown && !isMissingWord(a) && !isMissingWord(b) {
		r.say.fail(codeNotNumber, "two temperatures", "write that of the air, and that of the concrete as concrete_temp_f")
		return true
	}
	if c.pairs == pairConcreteAir {
		a, b = b, a
	}
	if !isMissingWord(a) {
		r.setTemp(c, f, a)
	}
	if !isMissingWord(b) && c.pairs != pairHighLow {
		r.spillTemp("concrete_temp_f", b, text, c)
	}
	return true
}

func (r *cellReader) setTemp(c *column, f *record.Number, s string) {
	if a, ok := parseQuantity(degrees.FindString(s), c.measure, r.habit, &r.say); ok {
		*f = record.Number{V: a.value, OK: r.inRange(c, a.value, a.converted)}
	}
}

// pairs is what the two numbers of 88/79 are.
type pairs int8

const (
	pairUnknown pairs = iota
	pairAirConcrete
	pairConcreteAir
	pairHighLow
)

var (
	headAirFirst = patternOf(`(?i)\b(?:air|amb(?:ient)?|outside|a)\b.*?[/,&+]?.*?\b(?:conc(?:rete)?|mix|mud|crete|c)\b|air.*conc|temp ?ac$|a/c`)
	headMudFirst = patternOf(`(?i)\b(?:conc(?:rete)?|mix|mud|crete)\b.*\b(?:air|amb(?:ient)?|outside)\b|conc.*air`)
)

// tempPairs finds out what the two temperatures of a column's cells are: by its
// heading or its key, or because a high would never stand below its low. Both
// orders of size are found only where they are air and concrete.
func tempPairs(about string, texts []string) pairs {
	switch {
	case headMudFirst.MatchString(about):
		return pairConcreteAir
	case headAirFirst.MatchString(about):
		return pairAirConcrete
	}
	rising, falling := 0, 0
	for _, text := range texts {
		p := twoTemps.FindStringSubmatch(plainSigns(text))
		if p == nil {
			continue
		}
		switch a, b := atoi(strings.Trim(p[1], "°ºFf ")), atoi(strings.Trim(p[2], "°ºFf ")); {
		case a == 0 || b == 0:
		case a < b:
			rising++
		case a > b:
			falling++
		}
	}
	if rising > 0 && falling > 0 && swings(texts) {
		return pairAirConcrete
	}
	return pairUnknown
}

// swings says whether the first of two temperatures spreads further over the
// column than the second, as the air does: concrete is kept between 50 and 90.
func swings(texts []string) bool {
	var lo, hi [2]int
	for _, text := range texts {
		p := twoTemps.FindStringSubmatch(plainSigns(text))
		if p == nil {
			continue
		}
		for k := range 2 {
			v := atoi(strings.Trim(p[k+1], "°ºFf "))
			if v <= 0 || v > 130 {
				continue
			}
			if lo[k] == 0 || v < lo[k] {
				lo[k] = v
			}
			hi[k] = max(hi[k], v)
		}
	}
	return hi[0]-lo[0] > hi[1]-lo[1]
}
