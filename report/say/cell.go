package say

import (
	"math"
	"strconv"
	"unicode/utf8"

	"pourback/analysis/figure"
	"pourback/ingest/record"
)

// Valued is a cell of a text for a value.
func Valued(text string, v float64) Cell {
	return Cell{Text: text, Value: strconv.FormatFloat(v, 'g', -1, 64)}
}

// Blank is a cell that has nothing to say.
func Blank() Cell { return Cell{Text: "–", Unknown: true} }

// Unsaid is a cell of a figure that is not known, with the reason.
func Unsaid(why string) Cell { return Cell{Text: "not known", Why: why, Unknown: true} }

func (a *Voice) MoneyCell(c record.Cents) Cell { return Cell{Text: a.Money(c), Value: c.String()} }

// SumCell is a figure of money that was booked.
func (a *Voice) SumCell(f figure.Figure) Cell { return a.Cell(a.Cash(), f) }

// MoneyFigure is an amount with its range: "$5,710 (5,200 to 6,300)".
func (a *Voice) MoneyFigure(f figure.Figure, decimals int) Cell {
	c := Cell{Text: a.Amount(f.Value, decimals), Value: strconv.FormatFloat(f.Value, 'g', -1, 64)}
	if f.Bounded && !math.IsInf(f.Low, 0) && !math.IsInf(f.High, 0) {
		c.Text += " (" + Grouped(f.Low, decimals) + " to " + Grouped(f.High, decimals) + ")"
	}
	return c
}

// ExactIn is a width with its unit, after a space.
func (v *Voice) ExactIn(m Measure, in float64) string { return " " + Grouped(in*m.Factor, 3) + m.Unit }

// Thousandths shows small lengths to the last digit that a crack gauge has.
func (v *Voice) Thousandths(m Measure, f figure.Figure) Cell {
	if !f.Known() {
		return Cell{Text: "–"}
	}
	c := v.Known(Measure{Factor: m.Factor}, f)
	c.Text = Grouped(f.Value*m.Factor, 3)
	return c
}

// Cell is one figure or word.
type Cell struct {
	Text  string
	Value string // the figure as the JSON has it; "" for a word
	Note  int    // which line of the table's foot belongs to it, from 1; 0 for none
	Below string // a second line: what the figure rests on
	Shade int    // how dark its ground is, from 1 to 5; 0 for plain

	Why     string
	Unknown bool
}

// Short says whether a cell is better kept on one line, as dates and the names
// of jobs are.
func (c Cell) Short() bool { return utf8.RuneCountInString(c.Text) <= 16 }

// Word is a cell of text from the records.
func Word(s string) Cell { return Cell{Text: Clean(s, ShortName)} }

// Whole is a cell of an exact count.
func Whole(n int) Cell { return Cell{Text: Count(n), Value: strconv.Itoa(n)} }

// Exact is a cell of a sum, which has no range.
func (v *Voice) Exact(m Measure, x float64) Cell {
	return Cell{Text: v.Number(m, x, 0), Value: strconv.FormatFloat(x, 'g', -1, 64)}
}

// Cell shows a figure with its range, or why there is none.
func (v *Voice) Cell(m Measure, f figure.Figure) Cell {
	if !f.Known() {
		return Cell{Text: "not known", Why: v.Reason(f.Why), Unknown: true}
	}
	return v.Known(m, f)
}

// Known is the cell of a figure that is known.
func (v *Voice) Known(m Measure, f figure.Figure) Cell {
	why := v.Reason(f.Why)
	if f.Bounded && math.IsInf(f.Low, 0) && math.IsInf(f.High, 0) {
		why = v.text("too few records to draw a range")
	}
	return Cell{Text: v.Short(m, f), Value: strconv.FormatFloat(f.Value, 'g', -1, 64), Why: why}
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
