package say

import (
	"cmp"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"pourback/analysis/figure"
	"pourback/ingest/record"
)

// Number is what a cell shows, as one who goes on reckoning with it wants it: in
// the unit that is read, unrounded.
type Number struct {
	Value     float64
	Low, High float64 // the ends of its range, where it has one
	Bounded   bool
	Unit      string // its sign; "" for counts and bare numbers
	Share     bool   // a proportion, shown in percent
}

// numberOf is a figure in the unit of a measure.
func (v *Voice) numberOf(m Measure, f figure.Figure) *Number {
	n := &Number{Value: f.Value * m.Factor, Unit: strings.TrimSpace(m.Sign + v.lang.sign(m.Unit))}
	if f.Bounded {
		n.Low, n.High, n.Bounded = f.Low*m.Factor, f.High*m.Factor, true
	}
	if m.Unit == Percent.Unit {
		n.Value, n.Low, n.High, n.Unit, n.Share = f.Value, f.Low, f.High, "", true
	}
	return n
}

// Valued is a cell of a text for a value.
func Valued(text string, v float64) Cell {
	return Cell{Text: text, Value: strconv.FormatFloat(v, 'g', -1, 64), Number: &Number{Value: v}}
}

// In says in which measure, in a language's signs, the value of a cell is read.
func (v *Voice) In(m Measure, c Cell) Cell {
	if c.Number != nil {
		c.Number = v.numberOf(m, figure.Figure{Value: c.Number.Value})
	}
	return c
}

// Blank is a cell that has nothing to say.
func Blank() Cell { return Cell{Text: "–", Unknown: true} }

// unknown is a cell of what is not known, with the reason.
func (v *Voice) unknown(why string) Cell {
	return Cell{Text: v.text("not known"), Why: why, Unknown: true}
}

func (a *Voice) MoneyCell(c record.Cents) Cell {
	return Cell{Text: a.Money(c), Value: c.String(), Number: &Number{Value: c.Dollars(), Unit: a.Currency}}
}

// SumCell is a figure of money that was booked.
func (a *Voice) SumCell(f figure.Figure) Cell { return a.Cell(a.Cash(), f) }

// MoneyFigure is an amount with its range: "$5,710 (5,200 to 6,300)".
func (a *Voice) MoneyFigure(f figure.Figure, decimals int) Cell {
	c := Cell{Text: a.Amount(f.Value, decimals), Value: strconv.FormatFloat(f.Value, 'g', -1, 64), Number: a.numberOf(Measure{Factor: 1, Sign: a.Currency}, f)}
	if f.Bounded && !math.IsInf(f.Low, 0) && !math.IsInf(f.High, 0) {
		c.Text += " (" + a.to(Grouped(f.Low, decimals), Grouped(f.High, decimals)) + ")"
	}
	return c
}

// Thousandths shows small lengths to the last digit that a crack gauge has.
func (v *Voice) Thousandths(m Measure, f figure.Figure) Cell {
	if !f.Known() {
		return Cell{Text: "–"}
	}
	c := v.Known(m, f)
	c.Text = Grouped(f.Value*m.Factor, 3)
	return c
}

// Cell is one figure or word.
type Cell struct {
	Text  string
	Value string // the figure as the JSON has it; "" for a word
	Note  int    // which line of the table's foot belongs to it, from 1; 0 for none
	Below string // a second line: what the figure rests on

	Number *Number     // nil for a word
	Day    record.Date // of a date
	Month  string      // of a month, such as 2026-10
	Shade  int         // how dark its ground is, from 1 to 5; 0 for plain

	Why     string
	Unknown bool
}

// Short says whether a cell is better kept on one line, as dates and the names
// of jobs are.
func (c Cell) Short() bool { return utf8.RuneCountInString(c.Text) <= 16 }

// Word is a cell of text from the records.
func Word(s string) Cell { return Cell{Text: Clean(s, ShortName)} }

// Whole is a cell of an exact count.
func Whole(n int) Cell {
	return Cell{Text: Count(n), Value: strconv.Itoa(n), Number: &Number{Value: float64(n)}}
}

// Dated is a cell of a text for a date.
func Dated(text string, d record.Date) Cell { return Cell{Text: text, Day: d} }

// Monthly is a cell of a text for a month, such as 2026-10.
func Monthly(text, month string) Cell { return Cell{Text: text, Month: month} }

// When is the date or the month of a cell as ISO 8601 has it, "" where it is
// about none.
func (c Cell) When() string { return cmp.Or(c.Day.String(), c.Month) }

// Exact is a cell of a sum, which has no range.
func (v *Voice) Exact(m Measure, x float64) Cell {
	return Cell{Text: v.Number(m, x, 0), Value: strconv.FormatFloat(x, 'g', -1, 64), Number: v.numberOf(m, figure.Figure{Value: x})}
}

// Cell shows a figure with its range, or why there is none.
func (v *Voice) Cell(m Measure, f figure.Figure) Cell {
	if !f.Known() {
		return v.unknown(v.Reason(f.Why))
	}
	return v.Known(m, f)
}

// Known is the cell of a figure that is known.
func (v *Voice) Known(m Measure, f figure.Figure) Cell {
	why := v.Reason(f.Why)
	if f.Bounded && math.IsInf(f.Low, 0) && math.IsInf(f.High, 0) {
		why = v.text("too few records to draw a range")
	}
	return Cell{Text: v.Short(m, f), Value: strconv.FormatFloat(f.Value, 'g', -1, 64), Why: why, Number: v.numberOf(m, f)}
}

// Bare is a figure's cell without its unit, which the head bears.
func (v *Voice) Bare(m Measure, f figure.Figure) Cell {
	if !f.Known() {
		return Cell{Text: "–"}
	}
	m.Unit = ""
	return v.Cell(m, f)
}

// With puts words behind a cell's figure.
func (c Cell) With(words string) Cell {
	c.Text += words
	return c
}
