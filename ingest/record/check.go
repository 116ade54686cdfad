package record

import (
	"cmp"
	"strconv"
)

// checks gathers what a record's rules find.
type checks struct{ found []Problem }

func (c *checks) add(s Severity, code, column, value, wrong, right string) {
	c.found = append(c.found, Problem{Severity: s, Code: code, Column: column, Value: value, Wrong: wrong, Right: right})
}

func (c *checks) fail(code, column, value, wrong, right string) {
	c.add(Error, code, column, value, wrong, right)
}

func (c *checks) warn(code, column, value, wrong, right string) {
	c.add(Warning, code, column, value, wrong, right)
}

// order warns where two dates that are both known stand in the wrong order.
func (c *checks) order(first string, a Date, then string, b Date) {
	if a != 0 && b != 0 && b < a {
		c.warn("dates-out-of-order", then, b.String(), "before "+first+" "+a.String(), "a later day")
	}
}

// RangeProblem says how v breaks the column's ranges, if it does. The value is
// given in the column's unit.
func (c *Column) RangeProblem(v float64) (Problem, bool) {
	if !c.Soft.Below(v) && !c.Soft.Beyond(v) && !c.Hard.Below(v) && !c.Hard.Beyond(v) {
		return Problem{}, false
	}
	for _, r := range []struct {
		Range
		Severity
		code string
	}{{c.Hard, Error, "impossible"}, {c.Soft, Warning, "unusual"}} {
		if !r.Below(v) && !r.Beyond(v) {
			continue
		}
		p := Problem{Severity: r.Severity, Code: r.code + "-value", Column: c.Name, Value: tidy(v)}
		switch {
		case r.Beyond(v):
			p.Wrong = cmp.Or(c.Over, "more than") + " " + c.amount(r.Max.V)
		case r.Above && r.Min.V == 0:
			p.Wrong = "not above zero"
		default:
			p.Wrong = "less than " + c.amount(r.Min.V)
		}
		p.Right = c.suggest(v)
		return p, true
	}
	return Problem{}, false
}

// suggest offers the slip of a decimal point that would bring v into the
// usual range, or else names that range.
func (c *Column) suggest(v float64) string {
	usual := c.Soft
	if !usual.Min.OK && !usual.Max.OK {
		usual = c.Hard
	}
	for _, slip := range []float64{v / 10, v / 100, -v} {
		if c.Soft.Max.OK && slip > 0 && !usual.Below(slip) && !usual.Beyond(slip) {
			return "did you mean " + tidy(slip) + "?"
		}
	}
	switch {
	case c.Kind == KindMoney && c.Soft.Beyond(v):
		return "is it right?"
	case usual.Min.OK && usual.Max.OK:
		return "usual is " + tidy(usual.Min.V) + " to " + c.amount(usual.Max.V)
	case usual.Min.OK:
		return "at least " + c.amount(usual.Min.V)
	case usual.Max.OK:
		return "at most " + c.amount(usual.Max.V)
	}
	return ""
}

func (c *Column) amount(v float64) string {
	if c.Kind == KindMoney && v >= 1e6 {
		return tidy(v/1e6) + " million"
	}
	if c.Unit == nil {
		return tidy(v)
	}
	return tidy(v) + " " + c.Unit.Label
}

// tidy writes a number with at most four significant digits behind the point.
func tidy(v float64) string {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	for s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	if s[len(s)-1] == '.' {
		s = s[:len(s)-1]
	}
	return s
}
