package sheet

import (
	"strings"

	"pourback/ingest/record"
)

// readSum reads a number, or several that add up: 9 + 1.5. What came back of a
// delivery is the leftover's: 10 less 1/2 back.
func (r *cellReader) readSum(c *column, field any, text string) {
	f := field.(*record.Number)
	*f = record.Number{}
	s := plainSigns(text)
	if isMissingWord(s) {
		return
	}
	if _, plain := plainFigures(s, r.habit); plain {
		r.readFigures(c, field, text)
		return
	}
	if c.unit == record.CubicYard {
		if !c.foreign && cubes.MatchString(text) {
			r.say.fail(codeWrongUnit, "a cube of what is not said", "write yd or m3 behind it")
			return
		}
		s = thenMore.ReplaceAllString(inFigures(plainLower(text)), "$1 + $2")
		if strings.Contains(s, "+") {
			s = shortLoad.ReplaceAllString(s, " ")
		}
		s = strings.Trim(truckCount.ReplaceAllString(s, ""), " ,;")
		if p := cameBack.FindStringSubmatch(s); p != nil {
			r.readBack(c, f, p[1], p[2])
			return
		}
		s = yardWords.ReplaceAllString(s, "")
		if r.fewYards(c, f, s) {
			return
		}
	}
	if _, sum := sumTerms(s); !sum {
		r.readFigures(c, field, s)
		return
	}
	a, ok := parseSum(s, c.measure, r.habit, &r.say)
	*f = record.Number{V: a.value, OK: ok && r.inRange(c, a.value, true)}
}

// cubes are cubic metres where the heading is of those, and nobody knows what
// elsewhere.
var cubes = patternOf(`(?i)\bcubes?\b`)

var (
	// yardWords stand around an amount of concrete and add nothing to it.
	yardWords = patternOf(`^(?:about|around|maybe|just|only|approx\.?|ordered|got|used|total(?: of)?|order)\s+(?:a )?|\s*(?:or so|total|even|on the nose|exactly|dumped|wasted|back|left(?: over)?|extra|over|returned|tossed|on (?:the )?(?:ground|truck)|to plant|washed out|delivered|ordered|came|used|of (?:mud|concrete|crete))$`)
	thenMore  = patternOf(`(\d(?: ?(?:yds?|yards?|cy|y))?)\s*(?:&|\band\b|\bthen\b|\bplus\b)\s*(\d)`)
	// how many loads came, beside how much
	truckCount = patternOf(`[,;]?\s*\(?\b(?:in )?\d{1,2}\s*(?:trucks?|loads?|trips?)\)?$|^\d{1,2}\s*(?:trucks?|loads?|trips?)[,;:]\s*`)
	shortLoad  = patternOf(`\b(?:short(?: load)?|clean ?-?up(?: load)?|balance(?: load)?)\b`)
	wentTo     = patternOf(`^(` + numeralForm + `)\s*(?:yd3|yds?\.?|cy|y|yards?)?,?\s+(?:in|to|on|for|at|into|down|used|went|given|gave|dumped|left|wasted|poured|put|washed)\b[a-z' ]*$`)
	smallThing = patternOf(`barrow|bucket|wheel|gal|bag|shovel|load|truck|pail`)
	cameBack   = patternOf(`^(` + numeralForm + `(?:\s*\+\s*` + numeralForm + `)*\s*(?:yd3|yds?\.?|cy|y|yards?|m3)?)\s*(?:,|;|less|minus|-|\(|w/|with|and|but)+\s*(` + numeralForm + `\s*(?:yds?\.?|cy|y|yards?|m3)?)\s*(?:(?:came |went |sent )?back|left(?: ?over)?|returned|leftover|over|extra|wasted|dumped)\s*\)?$`)
	halfYard   = patternOf(`^(` + numeralForm + `)\s*(?:a |of a |an? )?\s*(?:yd3|yds?|cy|y|yards?|yarda)\.?$`)
)

// readBack reads what came and what of it went back.
func (r *cellReader) readBack(c *column, f *record.Number, came, back string) {
	q := quantityReader{m: c.measure, h: r.habit}
	b, err := q.terms(strings.TrimSpace(back))
	a, ok := parseSum(came, c.measure, r.habit, &r.say)
	if err != nil || !ok || b.value >= a.value {
		r.say.fail(codeNotNumber, "not a volume with what came back", "write the volume, such as 10")
		return
	}
	*f = record.Number{V: a.value, OK: r.inRange(c, a.value, true)}
	if c.spec.Name == "delivered_yd" {
		r.spill("leftover_yd", setNumber(b.value))
	}
}

// fewYards reads a fraction of a yard that was written in words.
func (r *cellReader) fewYards(c *column, f *record.Number, s string) bool {
	p := halfYard.FindStringSubmatch(strings.TrimSpace(s))
	if p == nil {
		return false
	}
	n, rest, ok := scanNumeral(p[1], r.habit)
	if !ok || rest != "" {
		return false
	}
	v := n.value
	*f = record.Number{V: v, OK: r.inRange(c, v, true)}
	return true
}

var noneLeft = patternOf(`^(?:none|no|nothing|zero|nada|ninguno|nil|zip|zilch|not? (?:a )?(?:bit|drop|thing|lick|any|waste)|nothing (?:left|back|over|wasted)|none (?:left|back|over)|(?:used|poured|placed) (?:it )?all|all (?:used|poured|placed|in|of it(?: went in)?)|came out (?:even|right|perfect)|right on|dead on|spot on|on the money|perfect|empty|ran out|clean(?:ed)? out|no leftovers?|sin sobra(?:nte)?)$`)

// readLeftover knows that none left over is zero.
func (r *cellReader) readLeftover(c *column, field any, text string) {
	switch s := strings.TrimRight(plainLower(text), ".! "); {
	case noneLeft.MatchString(s):
		*field.(*record.Number) = record.Some(0.0)
	case s == "half" || s == "a half" || s == "quarter" || s == "qtr" || s == "a quarter" || s == "media yarda" || s == "three quarters":
		n, _, _ := scanNumeral(inFigures(s), r.habit)
		*field.(*record.Number) = record.Some(c.bare(n.value))
	case s == "a yard" || s == "a yd" || s == "a full yard":
		*field.(*record.Number) = record.Some(1.0)
	default:
		if p := wentTo.FindStringSubmatch(inFigures(s)); p != nil && !smallThing.MatchString(s) {
			text = p[1]
		}
		r.readSum(c, field, text)
	}
}
