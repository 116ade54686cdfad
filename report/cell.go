package report

import (
	"math"
	"pourback/analysis/figure"
	"pourback/ingest/record"
	"strconv"
	"unicode/utf8"
)

// valued is a cell of a text for a value.
func valued(text string, v float64) Cell {
	return Cell{Text: text, Value: strconv.FormatFloat(v, 'g', -1, 64)}
}

// blank is a cell that has nothing to say.
func blank() Cell { return Cell{Text: "–", unknown: true} }

// unsaid is a cell of a figure that is not known, with the reason.
func unsaid(why string) Cell { return Cell{Text: "not known", why: why, unknown: true} }

func (a *voice) moneyCell(c record.Cents) Cell { return Cell{Text: a.money(c), Value: c.String()} }

// sumCell is a figure of money that was booked.
func (a *voice) sumCell(f figure.Figure) Cell { return a.cell(a.cash(), f) }

// moneyFigure is an amount with its range: "$5,710 (5,200 to 6,300)".
func (a *voice) moneyFigure(f figure.Figure, decimals int) Cell {
	c := Cell{Text: a.amount(f.Value, decimals), Value: strconv.FormatFloat(f.Value, 'g', -1, 64)}
	if f.Bounded && !math.IsInf(f.Low, 0) && !math.IsInf(f.High, 0) {
		c.Text += " (" + grouped(f.Low, decimals) + " to " + grouped(f.High, decimals) + ")"
	}
	return c
}

// exactIn is a width with its unit, after a space.
func (v *voice) exactIn(m measure, in float64) string { return " " + grouped(in*m.factor, 3) + m.unit }

// thousandths shows small lengths to the last digit that a crack gauge has.
func (v *voice) thousandths(m measure, f figure.Figure) Cell {
	if !f.Known() {
		return Cell{Text: "–"}
	}
	c := v.known(measure{factor: m.factor}, f)
	c.Text = grouped(f.Value*m.factor, 3)
	return c
}

// Cell is one figure or word.
type Cell struct {
	Text  string
	Value string // the figure as the JSON has it; "" for a word
	Note  int    // which line of the table's foot belongs to it, from 1; 0 for none
	Below string // a second line: what the figure rests on
	Shade int    // how dark its ground is, from 1 to 5; 0 for plain

	why     string
	unknown bool
}

// Short says whether a cell is better kept on one line, as dates and the names
// of jobs are.
func (c Cell) Short() bool { return utf8.RuneCountInString(c.Text) <= 16 }

// word is a cell of text from the records.
func word(s string) Cell { return Cell{Text: clean(s, shortName)} }

// whole is a cell of an exact count.
func whole(n int) Cell { return Cell{Text: count(n), Value: strconv.Itoa(n)} }

// exact is a cell of a sum, which has no range.
func (v *voice) exact(m measure, x float64) Cell {
	return Cell{Text: v.number(m, x, 0), Value: strconv.FormatFloat(x, 'g', -1, 64)}
}

// cell shows a figure with its range, or why there is none.
func (v *voice) cell(m measure, f figure.Figure) Cell {
	if !f.Known() {
		return Cell{Text: "not known", why: f.Why, unknown: true}
	}
	return v.known(m, f)
}

// known is the cell of a figure that is known.
func (v *voice) known(m measure, f figure.Figure) Cell {
	why := f.Why
	if f.Bounded && math.IsInf(f.Low, 0) && math.IsInf(f.High, 0) {
		why = "too few records to draw a range"
	}
	return Cell{Text: v.short(m, f), Value: strconv.FormatFloat(f.Value, 'g', -1, 64), why: why}
}

// bare is a figure's cell without its unit, which the head bears.
func (v *voice) bare(m measure, f figure.Figure) Cell {
	if !f.Known() {
		return Cell{Text: "–"}
	}
	m.unit = ""
	return v.cell(m, f)
}

// with puts words behind a cell's figure.
func (c Cell) with(words string) Cell {
	c.Text += words
	return c
}
