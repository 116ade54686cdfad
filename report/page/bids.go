package page

import (
	"slices"
	"strconv"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/figure"
	"pourback/report/chart"
	"pourback/report/say"
)

// BidsPage says what became of kept bids, by the names they were given.
func BidsPage(r *bid.Record, opt Options) Page {
	opt.WithSites = true // a bid is called after its site; whoever lists bids wants to know them
	a := NewAuthor(&analysis.Factors{}, opt)
	p := a.bids(r)
	p.LeftOut = leftOut(a.Voice, opt.LeftOut, p.Slug)
	return finished(a.Voice, p)
}

func (a *Author) bids(r *bid.Record) Page {
	if !a.named {
		r = unnamed(r)
	}
	b := bidsAuthor{a, say.Bids{Voice: a.Voice}, say.Bids{Voice: a.Voice}.Heads()}
	p := Page{Slug: bidsSlug, Title: b.w.Title(), Answer: b.w.Answer(r), Do: b.do(r), Notes: b.w.Notes(), Method: b.w.Method()}
	if len(r.Outcomes) == 0 {
		_, note := b.w.None()
		p.Notes = []string{note}
		return p
	}
	p.Exhibits = b.standing(r)
	var compared []line
	for _, o := range newest(r.Outcomes) {
		for _, l := range o.Lines {
			compared = append(compared, line{o, l})
		}
	}
	if len(compared) > 0 {
		p.Exhibits = append(p.Exhibits, Exhibit{Title: b.h.HeldTitle, Table: b.heldTable(r.Held)}, Exhibit{Title: b.h.LinesTitle, Chart: b.marginChart(compared), Table: b.linesTable(compared)})
	}
	if r.Wins != nil {
		p.Exhibits = append(p.Exhibits, b.won(r.Wins)...)
	}
	p.Exhibits = append(p.Exhibits, b.gone(r)...)
	return p
}

// unnamed are kept bids without their names, which are sites'.
func unnamed(r *bid.Record) *bid.Record {
	bare := *r
	bare.Outcomes = slices.Clone(r.Outcomes)
	for i := range bare.Outcomes {
		bare.Outcomes[i].Name = ""
	}
	return &bare
}

// bidsAuthor writes the page on kept bids.
type bidsAuthor struct {
	*Author
	w say.Bids
	h say.BidsHeads
}

// won are the shares won by markup and by price, where there are enough bids.
func (a bidsAuthor) won(n *bid.Wins) (all []Exhibit) {
	h := a.w.WonHeads()
	for _, t := range []struct {
		caption string
		bands   []bid.WinBand
		ends    func(bid.WinBand) string
	}{{h.Markup, n.ByMarkup, a.w.Markups}, {h.Price, n.ByPrice, a.w.AreaPrices}} {
		if len(t.bands) == 0 {
			continue
		}
		all = append(all, Exhibit{Title: h.Title, Table: TableOf(t.caption, t.bands,
			ColumnOf[bid.WinBand]{Head: h.From, Cell: func(b bid.WinBand) say.Cell { return say.Cell{Text: t.ends(b)} }},
			ColumnOf[bid.WinBand]{Head: h.Bids, Number: true, Cell: func(b bid.WinBand) say.Cell { return say.Whole(b.N) }},
			ColumnOf[bid.WinBand]{Head: h.Won, Number: true, Cell: func(b bid.WinBand) say.Cell { return a.Cell(say.InHundred, b.Share) }})})
	}
	return all
}

// newest puts the latest bid first.
func newest(outcomes []bid.Outcome) []bid.Outcome {
	return most(outcomes, func(o bid.Outcome) int { return int(o.ID) })
}

// line is one quantity of a bid.
type line struct {
	o bid.Outcome
	l bid.Line
}

// name is a bid's number, with its name where it was given one and sites may be
// named: that is what bids are called after.
func (a bidsAuthor) name(o bid.Outcome) say.Cell {
	if o.Name == "" || o.Name == "bid" {
		return say.Cell{Text: say.Count(int(o.ID))}
	}
	return say.Cell{Text: say.Count(int(o.ID)) + ", " + say.Clean(o.Name, say.ShortName)}
}

func (a bidsAuthor) heldTable(held []bid.Held) *Table {
	return TableOf(a.h.HeldCaption, held,
		ColumnOf[bid.Held]{Head: a.h.RangeOf, Cell: func(h bid.Held) say.Cell { return say.Cell{Text: a.w.What(h.What)} }},
		ColumnOf[bid.Held]{Head: a.h.Held, Number: true, Cell: func(h bid.Held) say.Cell { return a.Cell(say.InHundred, h.Share) }},
		ColumnOf[bid.Held]{Head: a.h.Jobs, Number: true, Cell: func(h bid.Held) say.Cell { return say.Whole(h.Share.N) }},
		ColumnOf[bid.Held]{Head: a.h.Side, Cell: func(h bid.Held) say.Cell { return say.Cell{Text: a.w.Side(h.Bias)} }},
		ColumnOf[bid.Held]{Head: a.h.Says, Cell: func(h bid.Held) say.Cell { return say.Cell{Text: a.w.VerdictOf(h)} }})
}

func (a bidsAuthor) linesTable(lines []line) *Table {
	t := TableOf(a.h.LinesCaption, lines,
		ColumnOf[line]{Head: a.h.Bid, Cell: func(r line) say.Cell {
			c := a.name(r.o)
			c.Why = a.w.But(r.o.But)
			return c
		}},
		ColumnOf[line]{Head: a.h.Job, Cell: func(r line) say.Cell { return say.Word(r.o.JobNo) }},
		ColumnOf[line]{Head: a.h.What, Cell: func(r line) say.Cell { return say.Cell{Text: a.w.What(r.l.What)} }},
		ColumnOf[line]{Head: a.h.Predicted, Number: true, Cell: func(r line) say.Cell {
			return a.outcome(r.l, figure.Figure{Value: r.l.Predicted, Low: r.l.Low, High: r.l.High, Bounded: r.l.High > r.l.Low})
		}},
		ColumnOf[line]{Head: a.h.Actual, Number: true, Cell: a.actual},
		ColumnOf[line]{Head: a.h.RangeHeld, Cell: a.held})
	if t.Left > 0 {
		t.More = a.h.More
	}
	return t
}

// marginChart sets the margin that each bid meant to keep, with its range, beside
// what its job kept; nil where no job tells.
func (a bidsAuthor) marginChart(lines []line) *chart.Chart {
	w := a.w.MarginPicture()
	plot := chart.RowPlot{ID: "chart-bids", Says: w.Says, Scale: w.Axis, Level: true, Series: []chart.RowSeries{{Name: w.Bid, Hue: chart.Bid}, {Name: w.Kept, Hue: chart.Own}}}
	for _, r := range lines {
		if r.l.What != bid.Margin || !r.l.Actual.OK || len(plot.Rows) == chart.MostKinds {
			continue
		}
		meant, kept := chart.None(), chart.None()
		meant.Value, meant.Low, meant.High = 100*r.l.Predicted, 100*r.l.Low, 100*r.l.High
		kept.Value = 100 * r.l.Actual.V
		meant.Tip, kept.Tip = w.BidTip(meant.Value, meant.Low, meant.High), w.KeptTip(kept.Value)
		plot.Rows = append(plot.Rows, chart.Row{Label: a.name(r.o).Text, Amounts: []chart.Amount{meant, kept}})
	}
	return plot.Chart()
}

func (a bidsAuthor) actual(r line) say.Cell {
	if !r.l.Actual.OK {
		return say.Cell{Text: a.h.Unknown, Why: a.w.Missing(r.l.What)}
	}
	return a.outcome(r.l, figure.Figure{Value: r.l.Actual.V})
}

func (a bidsAuthor) held(r line) say.Cell {
	switch {
	case !r.l.Actual.OK:
		return say.Cell{Text: "—"}
	case r.l.Held:
		return say.Cell{Text: a.h.Yes}
	}
	return say.Cell{Text: a.h.No}
}

// outcome is a quantity of a bid in its own unit.
func (a bidsAuthor) outcome(l bid.Line, f figure.Figure) say.Cell {
	switch l.What {
	case bid.Costs:
		return a.MoneyFigure(f, 0)
	case bid.Margin:
		return a.Known(say.Percent, f)
	case bid.Yards:
		if !f.Bounded {
			return say.Cell{Text: say.Bid{Voice: a.Voice}.Volume(f.Value), Value: strconv.FormatFloat(f.Value, 'g', -1, 64)}
		}
		return a.Known(a.Units.Volume, f)
	}
	return a.Known(say.Bid{Voice: a.Voice}.Of("person-hours"), f)
}
