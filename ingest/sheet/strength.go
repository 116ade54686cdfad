package sheet

import (
	"strings"

	"pourback/ingest/record"
)

// strength finds a mix's strength: 4k, 4000#, 4,000 psi mix, 30 MPa.
var strength = patternOf(`^(\d[\d,.]*)\s*(k|#|lbs?|psi|ksi|mpa|n/mm2)?\b\.?\s*(?:psi|mix|lbs?|concrete|strength|test|air|w/ ?air|ae)*\s*$`)

// graded finds a grade named by its strength in MPa: N25 and S32 of AS 1379, C25 and
// C25/30 of EN 206 (by cylinder, then by cube).
var graded = patternOf(`^(?:n|s|c|rc|gp|vr) ?([1-9]\d)(?: ?/ ?[1-9]\d)?(?: ?mpa)?(?: (?:grade|mix|concrete))?$`)

// leastPSI is a strength below which no structural mix is sold, and a bare number
// is of another unit, or bags of cement to the yard.
const leastPSI = 500

// readStrength reads a strength in psi. A bare number that cannot be psi is not
// guessed at.
func (r *cellReader) readStrength(c *column, field any, text string) {
	f := field.(*record.Number)
	*f = record.Number{}
	s := plainLower(text)
	if isMissingWord(s) {
		return
	}
	if p := graded.FindStringSubmatch(s); p != nil && r.loose {
		s = p[1] + " mpa" // N25, C25/30: the grade is the strength in MPa
	}
	if p := strength.FindStringSubmatch(strings.ReplaceAll(s, "#", " lb ")); p != nil {
		switch p[2] {
		case "k", "ksi":
			s = p[1] + " ksi"
		case "", "lb", "lbs", "psi":
			s = p[1]
		default:
			s = p[1] + " mpa"
		}
	}
	var a amount
	ok := false
	if a, ok = parseQuantity(s, c.measure, r.habit, &r.say); !ok {
		return
	}
	if r.loose && a.unit == "" && !c.foreign && a.value < leastPSI {
		r.say.fail(codeNotNumber, "no strength in psi", "write one such as 4000")
		return
	}
	*f = record.Number{V: a.value, OK: r.inRange(c, a.value, a.converted)}
}
