package sheet

import (
	"fmt"
	"math"
	"strings"

	"pourback/ingest/record"
)

// cellReader reads cells into a record's fields and notes what is wrong with
// them. One serves one row at a time.
type cellReader struct {
	*layout
	say       remarks
	problems  []record.Problem
	heard     map[wordIn]wordRead // words read before
	steels    map[string]steel    // cells of steel read before
	ambiguous int                 // dates that the setting alone decided

	fields  []any // of the row being read
	scratch scratch
	left    bool // a cell of the row could not be read and was left empty
	spilled bool // the last cell said something about another column
}

// read reads a cell as written into the field of its column.
func (r *cellReader) read(c *column, field any, text string) {
	r.say, r.spilled = r.say[:0], false
	if c.codes != nil {
		text = c.codes.of(text)
	}
	if !r.readMissing(c, field, text) {
		if c.manner != nil {
			c.manner(r, c, field, text)
		} else {
			r.readKind(c, field, text)
		}
		if c.manner != nil && c.target >= 0 && record.IsMissing(field) && !r.say.failed() {
			r.setMissing(c, field)
		}
	}
	for _, x := range r.say {
		r.add(c, text, x)
	}
}

func (r *cellReader) add(c *column, text string, x remark) {
	p := record.Problem{Severity: x.severity, Code: x.code, Column: c.spec.Name, Value: text, Wrong: x.wrong, Right: x.right}
	if p.Severity == record.Error && !r.form && !r.vital(c.spec) && x.code != codeSwallowed {
		p = r.leaveEmpty(p)
	}
	r.problems = append(r.problems, p)
}

// readMissing settles cells that say nothing, and those where a spreadsheet
// shows an error.
func (r *cellReader) readMissing(c *column, field any, text string) bool {
	broken := isCellError(strings.TrimSpace(text))
	if text != "" && !broken {
		return false
	}
	if c.target >= 0 {
		record.ClearField(field)
	}
	switch {
	case broken && r.vital(c.spec):
		r.say.fail(codeCellError, "a spreadsheet error", "mend the formula, or write the value")
	case broken:
		r.say.warn(codeCellError, "a spreadsheet error", "read as missing")
	default:
		r.setMissing(c, field)
	}
	return true
}

// setMissing gives a field without a value the column's default, and says so
// where there must be a value.
func (r *cellReader) setMissing(c *column, field any) {
	if f, ok := field.(*string); ok {
		*f = c.spec.Default
	}
	switch {
	case c.spec.Required && (r.form || r.vital(c.spec)):
		r.say.fail(codeMissing, "missing", required(c.spec))
	case c.spec.Required && c.spec.Name == "use":
		r.say.warn(codeMissing, "missing", "say what it is, or it counts with no kind")
	}
}

func required(c *record.Column) string { return "every row needs it (" + c.Doc + ")" }

func (r *cellReader) readKind(c *column, field any, text string) {
	switch f := field.(type) {
	case *string:
		*f = r.readString(c, text)
		if *f == "" && !r.say.failed() {
			r.setMissing(c, field)
		}
		return
	case *record.Flag:
		*f, _ = parseFlag(text, &r.say)
	default:
		if isMissingWord(plainSigns(text)) {
			record.ClearField(field)
		} else {
			r.readFigures(c, field, text)
		}
	}
	if record.IsMissing(field) && !r.say.failed() {
		r.setMissing(c, field)
	}
}

func (r *cellReader) readString(c *column, text string) (s string) {
	if c.words == nil {
		s, _ = parseText(text, c.spec, &r.say)
		return s
	}
	key := wordIn{c.target, text}
	w, ok := r.heard[key]
	if !ok {
		w.term, _ = c.words.parseWord(text, &w.said)
		if r.heard == nil || len(r.heard) > 1000 {
			r.heard = map[wordIn]wordRead{}
		}
		r.heard[key] = w
	}
	r.say = append(r.say, w.said...)
	return w.term
}

// wordIn is a word as written in a column, and wordRead what it meant.
type (
	wordIn struct {
		column int
		text   string
	}
	wordRead struct {
		term string
		said remarks
	}
)

// readFigures reads cells of numbers, money and dates.
func (r *cellReader) readFigures(c *column, field any, text string) {
	switch f := field.(type) {
	case *record.Number:
		a, ok := r.quantity(c, text)
		*f = record.Number{V: a.value, OK: ok}
	case *record.Count:
		a, ok := r.quantity(c, text)
		*f = record.Count{}
		if n, whole := r.whole(c, a.value); ok && whole {
			*f = record.Some(n)
		}
	case *record.Money:
		v, ok := parseMoney(text, r.habit, &r.say)
		*f = record.Money{V: v, OK: ok && r.inRange(c, v.Dollars(), false)}
	case *record.Date:
		d, ok := parseDay(text, c.cal, &r.say)
		*f = 0
		if ok {
			*f = d.date
		}
		r.countAmbiguous(d.either && ok)
	case *record.Moment:
		m, either, ok := parseMoment(text, c.cal, &r.say)
		*f = 0
		if ok {
			*f = m
		}
		r.countAmbiguous(either && ok)
	}
}

func (r *cellReader) countAmbiguous(either bool) {
	if either {
		r.ambiguous++
	}
}

// quantity reads a number and holds it to the column's range.
func (r *cellReader) quantity(c *column, text string) (amount, bool) {
	if v, ok := plainFigures(text, r.habit); ok {
		a := amount{value: c.bare(v), converted: c.foreign}
		return a, r.inRange(c, a.value, a.converted)
	}
	a, ok := parseQuantity(text, c.measure, r.habit, &r.say)
	if !ok {
		r.wasDate(c, text)
		return a, false
	}
	return a, r.inRange(c, a.value, a.converted)
}

// dayAndMonth is how spreadsheets show dates of the present year: 5-Apr, Apr-05.
var dayAndMonth = patternOf(`^(?:\d{1,2}-[A-Z][a-z]{2}|[A-Z][a-z]{2}-\d{2})$`)

// wasDate knows the number that a spreadsheet has turned into a date: 4-5 comes
// back as 5-Apr.
func (r *cellReader) wasDate(c *column, text string) {
	last := &r.say[len(r.say)-1]
	if last.code != codeNotNumber {
		return
	}
	var ignored remarks
	if _, ok := parseDay(text, c.cal, &ignored); ok || dayAndMonth.MatchString(strings.TrimSpace(text)) {
		last.wrong, last.right = "a date where a number belongs", "spreadsheets turn entries such as 4-5 into dates: write 4.5, or 4 to 5"
	}
}

// inRange says whether v may stand, and what is to be said about it.
func (r *cellReader) inRange(c *column, v float64, converted bool) bool {
	if v >= c.lo && v <= c.hi {
		return true
	}
	p, found := c.spec.RangeProblem(v)
	if !found {
		return true
	}
	if converted && c.spec.Unit != nil {
		p.Wrong = fmt.Sprintf("%s %s, %s", trimFloat(v), c.spec.Unit.Label, p.Wrong)
		if strings.HasPrefix(p.Right, "did you mean") {
			p.Right = "check the number and its unit"
		}
	}
	r.say = append(r.say, remark{p.Severity, p.Code, p.Wrong, p.Right})
	return p.Severity != record.Error
}

// whole brings a value to a whole number. Minutes are rounded; three and a half
// people are not.
func (r *cellReader) whole(c *column, v float64) (int64, bool) {
	n := math.Round(v)
	switch {
	case math.Abs(n) > 1e15:
		r.say.fail(codeNotNumber, "a number beyond all bounds", "write a whole number")
		return 0, false
	case math.Abs(v-n) < 1e-9:
	case c.spec.Unit != nil:
		r.say.warn(codeRounded, "not a whole number of "+c.spec.Unit.Label, fmt.Sprintf("read as %.0f", n))
	default:
		r.say.fail(codeNotWhole, "not a whole number", "write a whole number")
		return 0, false
	}
	return int64(n), true
}
