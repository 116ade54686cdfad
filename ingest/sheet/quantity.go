package sheet

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"pourback/ingest/record"
)

// measure says how the bare numbers of a column come to the record's unit: its
// heading may bear a unit of its own.
type measure struct {
	unit           *record.Unit
	factor, offset float64
	foreign        bool // the heading's unit is not the record's
}

func ownUnit(u *record.Unit) measure { return measure{unit: u, factor: 1} }

// bare brings a number without a unit to the record's unit.
func (m measure) bare(v float64) float64 {
	return convert(v, m.factor, m.offset)
}

func convert(v, factor, offset float64) float64 {
	if factor == 1 && offset == 0 {
		return v
	}
	return twelveDigits(v*factor + offset)
}

// twelveDigits rounds a converted value, so that 101.6 mm are 4 in and not
// 3.9999999999999996.
func twelveDigits(v float64) float64 {
	e := 11 - int(math.Floor(math.Log10(math.Abs(v))))
	if v == 0 || e < 0 || e > 22 {
		return v
	}
	p := math.Pow10(e)
	return math.Round(v*p) / p
}

func (m measure) isTime() bool   { return m.unit == record.Hour || m.unit == record.Minute }
func (m measure) isLength() bool { return m.unit == record.Inch || m.unit == record.Foot }

// amount is what a cell says about a quantity.
type amount struct {
	value     float64 // in the record's unit
	unit      string  // the last unit written, "" for none
	converted bool    // the number written is not the number read
}

// parseQuantity reads a number with or without units (90 mm, 7' 6", 1 h 15 min,
// 1:15), a range of two (75-80, read as its middle) or a rough number (~80), and
// brings it to the measure's unit. What is to be said about it goes to say.
func parseQuantity(text string, m measure, h habit, say *remarks) (amount, bool) {
	s := plainSigns(text)
	if strings.HasPrefix(s, "=") {
		say.fail(codeFormula, "a formula, not its value", "write the number itself")
		return amount{}, false
	}
	s, rough := trimApprox(s)
	if a, b, ok := splitRange(s); ok {
		return rangeMiddle(a, b, m, h, say)
	}
	q := quantityReader{m: m, h: h}
	a, err := q.terms(s)
	if err != nil {
		say.fail(err.code, err.wrong, err.right)
		return amount{}, false
	}
	q.remark(say, trimFloat(a.value))
	if rough {
		say.warn(codeApproximate, "a rough value", "read as "+trimFloat(a.value))
	}
	return a, true
}

// rangeMiddle reads a range as its middle. A unit behind the second number is
// the first one's too.
func rangeMiddle(low, high string, m measure, h habit, say *remarks) (amount, bool) {
	q := quantityReader{m: m, h: h}
	b, err := q.terms(high)
	var a amount
	if err == nil {
		if a, err = q.terms(low); err == nil && a.unit == "" && b.unit != "" {
			a, err = q.terms(low + " " + b.unit)
		}
	}
	if err == nil && a.value > b.value {
		err = &remark{code: codeNotNumber, wrong: "neither a number nor a range from low to high", right: "write one number"}
	}
	if err != nil {
		say.fail(err.code, err.wrong, err.right)
		return amount{}, false
	}
	middle := a.value + (b.value-a.value)/2
	q.remark(say, trimFloat(middle))
	say.warn(codeRange, "a range", "read as its middle, "+trimFloat(middle))
	return amount{middle, b.unit, true}, true
}

// quantityReader reads terms and keeps what is to be said about their figures.
type quantityReader struct {
	m             measure
	h             habit
	other, either bool
	word          string // a word behind a plain number, left out
}

// remark says what there is to say about the figures, read as the value given.
func (q *quantityReader) remark(say *remarks, read string) {
	if q.other {
		say.warn(codeOtherDecimal, "another decimal mark than this file's", "read as "+read)
	}
	if q.either {
		say.warn(codeEitherDecimal, "a number that can be read in two ways", "read as "+read+", by the decimal mark of this file")
	}
	if q.word != "" {
		say.warn(codeUnitLeftOut, fmt.Sprintf("%q behind the number is left out", q.word), "a number alone")
	}
}

// terms reads numbers with units that add up: 7 ft 6 1/2 in, 1 h 15 min, 90 mm.
func (q *quantityReader) terms(s string) (amount, *remark) {
	s, negative := cutSign(s)
	if v, ok := parseClock(s); ok && q.m.isTime() {
		factor, _, _ := q.m.unit.Scale("min")
		return amount{sign(v*factor, negative), "min", true}, nil
	}
	var sum amount
	var last float64
	for n := 0; ; n++ {
		num, rest, ok := scanNumeral(s, q.h)
		if !ok {
			return amount{}, q.notNumber()
		}
		q.other, q.either = q.other || num.other, q.either || num.either
		var unit string
		unit, s = scanUnit(rest)
		part, factor, err := q.term(sign(num.value, negative), unit, sum.unit, n)
		if err != nil {
			return amount{}, err
		}
		if n > 0 && factor >= last {
			return amount{}, q.notNumber()
		}
		sum = amount{sum.value + part, unit, sum.converted || unit != "" && factor != 1}
		if last = factor; s == "" {
			break
		}
	}
	if sum.converted {
		sum.value = twelveDigits(sum.value)
	}
	sum.converted = sum.converted || sum.unit == "" && q.m.foreign
	return sum, nil
}

// term brings one number and its unit to the record's unit. The n-th number may
// leave its unit to be understood from the one before: 7' 6, 1h15.
func (q *quantityReader) term(v float64, unit, before string, n int) (value, factor float64, err *remark) {
	switch {
	case unit == "" && n == 0:
		return q.m.bare(v), q.m.factor, nil
	case unit == "":
		unit = understood(before)
	case q.m.unit == record.Fahrenheit && isDegrees(unit):
		return q.m.bare(v), q.m.factor, nil
	}
	factor, offset, ok := q.m.unit.Scale(unit)
	switch {
	case ok && n > 0 && (offset != 0 || !q.m.isTime() && !q.m.isLength()):
		return 0, 0, q.notNumber()
	case ok:
		return convert(v, factor, offset), factor, nil
	case q.m.unit == nil && n == 0 && isWord(unit):
		q.word = unit
		return v, 1, nil
	case knownUnit(unit):
		return 0, 0, &remark{code: codeWrongUnit, wrong: fmt.Sprintf("%q is no unit of this column", unit), right: q.example()}
	}
	return 0, 0, q.notNumber()
}

// isDegrees says whether a unit is degrees of no scale: those of the column.
func isDegrees(unit string) bool {
	switch strings.ToLower(strings.Trim(unit, "°º. ")) {
	case "", "deg", "degs", "degree", "degrees", "grados":
		return true
	}
	return false
}

func (q *quantityReader) notNumber() *remark {
	return &remark{code: codeNotNumber, wrong: "not a number", right: q.example()}
}

// example says what would be right.
func (q *quantityReader) example() string {
	if q.m.unit == nil {
		return "write a number, such as 4 or 4.5"
	}
	return "write a number, such as 4.5 " + q.m.unit.Label
}

// understood is the unit that follows another in speech: feet and inches, hours
// and minutes.
func understood(before string) string {
	switch {
	case record.Foot.Knows(before) && !isMetric(before):
		return "in"
	case strings.HasPrefix(strings.ToLower(before), "h"):
		return "min"
	}
	return "?"
}

func isMetric(unit string) bool { return strings.Contains(strings.ToLower(unit), "m") }

var allUnits = []*record.Unit{record.Inch, record.Foot, record.SquareFoot, record.CubicYard, record.Fahrenheit, record.MilesPerHour,
	record.Percent, record.PSI, record.Gallon, record.Hour, record.Minute, record.Month}

func knownUnit(unit string) bool {
	return slices.ContainsFunc(allUnits, func(u *record.Unit) bool { return u.Knows(unit) })
}

func isWord(s string) bool {
	return strings.IndexFunc(s, func(r rune) bool { return (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') }) < 0
}

// scanUnit takes the unit that s begins with: letters and signs up to the next
// figure. A 2 or 3 directly behind a letter belongs to it, as in m2.
func scanUnit(s string) (unit, rest string) {
	end := 0
	for end < len(s) {
		c := s[end]
		power := (c == '2' || c == '3') && end > 0 && (isLetter(s[end-1]) || s[end-1] == '^') && (end+1 == len(s) || !isLetter(s[end+1]) && !isDigit(s[end+1]))
		if _, size := vulgarFraction(s[end:]); size > 0 || isDigit(c) && !power {
			break
		}
		end++
	}
	return strings.TrimSpace(s[:end]), strings.TrimSpace(s[end:])
}

func isLetter(c byte) bool { c |= 0x20; return c >= 'a' && c <= 'z' }

// splitRange parts 75-80, 75 to 80 and 3 1/2 - 4 in. A dash within a mixed
// number (4-1/2) or between feet and inches (7'-6") parts nothing.
func splitRange(s string) (low, high string, ok bool) {
	for _, word := range []string{" to ", "..."} {
		if a, b, found := strings.Cut(s, word); found {
			return strings.TrimSpace(a), strings.TrimSpace(b), true
		}
	}
	for i := 1; i < len(s); i++ {
		if s[i] != '-' {
			continue
		}
		a, b := strings.TrimSpace(s[:i]), strings.TrimSpace(s[i+1:])
		if rangeDash(a, b) {
			return a, b, true
		}
	}
	return "", "", false
}

func rangeDash(a, b string) bool {
	if a == "" || !beginsNumber(b) || !strings.ContainsAny(a, "0123456789½⅓⅔¼¾⅛⅜⅝⅞") {
		return false
	}
	last := a[len(a)-1]
	if (last == 'e' || last == 'E') && len(a) > 1 && isDigit(a[len(a)-2]) {
		return false
	}
	if _, _, fraction := properFraction(b); fraction && isDigit(last) && !strings.Contains(a, "/") {
		return false
	}
	feet := last == '\'' || strings.HasSuffix(strings.ToLower(a), "ft")
	return !feet || strings.HasSuffix(b, "'") || strings.HasSuffix(strings.ToLower(b), "ft")
}

func beginsNumber(s string) bool {
	s = strings.TrimLeft(s, "$€£ .,")
	if s == "" {
		return false
	}
	_, size := vulgarFraction(s)
	return isDigit(s[0]) || size > 0
}

func cutSign(s string) (rest string, negative bool) {
	switch {
	case strings.HasPrefix(s, "-"):
		return strings.TrimSpace(s[1:]), true
	case strings.HasPrefix(s, "+"):
		return strings.TrimSpace(s[1:]), false
	}
	return s, false
}

func sign(v float64, negative bool) float64 {
	if negative {
		return -v
	}
	return v
}

// parseClock reads hours and minutes written 1:15, or 1:15:30, in minutes.
func parseClock(s string) (minutes float64, ok bool) {
	h, rest, found := strings.Cut(s, ":")
	m, sec, seconds := strings.Cut(rest, ":")
	if !found || len(m) != 2 || seconds && len(sec) != 2 || h == "" || len(h) > 4 {
		return 0, false
	}
	var parts [3]int
	for i, p := range []string{h, m, sec} {
		n, size := leadingInt(p)
		if size != len(p) || i > 0 && n > 59 {
			return 0, false
		}
		parts[i] = n
	}
	return float64(parts[0]*60+parts[1]) + float64(parts[2])/60, true
}

// trimFloat writes a number for a message, with at most four decimals.
func trimFloat(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64)
}
