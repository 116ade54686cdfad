package page

import (
	"slices"
	"strings"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/figure"
	"pourback/report/say"
)

// BidPage is a bid as a page: what to order, what it takes, what it costs and
// the price, each with what it stands on.
func BidPage(b *bid.Bid, opt Options) Page {
	a := newBidAuthor(b, opt)
	p := Page{Slug: bidSlug, LeftOut: leftOut(a.w.Voice, opt.LeftOut, bidSlug), Title: a.w.Title(b), Answer: a.w.Answer(b), Basis: a.w.Basis(b), Reading: a.w.Reading()}
	if len(b.Cautions) > 0 {
		p.Exhibits = append(p.Exhibits, a.unwise())
	}
	for i := range b.Days {
		p.Exhibits = append(p.Exhibits, a.order(&b.Days[i]))
		p.Exhibits = append(p.Exhibits, a.byTheClock(&b.Days[i])...)
	}
	for i := range b.Placements {
		if len(b.Placements[i].Pieces) > 0 {
			p.Exhibits = append(p.Exhibits, a.volume(&b.Placements[i]))
		}
	}
	p.Exhibits = append(p.Exhibits, a.hours(), a.waiting())
	for i := range b.Placements {
		if len(b.Placements[i].Joints.Panels) > 0 { // steps have none
			p.Exhibits = append(p.Exhibits, a.joints(&b.Placements[i]))
		}
	}
	for i := range b.Placements {
		if len(b.Placements[i].Steel) > 0 && !b.Bare() && len(b.Placements[i].Joints.Panels) > 0 {
			p.Exhibits = append(p.Exhibits, a.steel(&b.Placements[i]))
		}
	}
	p.Exhibits = append(p.Exhibits, a.weather(), a.reserve(), a.cost(), a.drivers(), a.price())
	p.Exhibits = append(p.Exhibits, a.priceTurns()...)
	if winning, told := a.winning(); told {
		p.Exhibits = append(p.Exhibits, winning)
	}
	p.Exhibits = append(p.Exhibits, a.settings())
	p.Notes, p.Cautions, p.Method = a.w.Notes(b), a.beware(append(a.hazards(), say.NoDesign)...), a.w.Method()
	return finished(a.Voice, p)
}

// bidAuthor writes the page of one bid.
type bidAuthor struct {
	*Author
	w say.Bid
	b *bid.Bid
}

func newBidAuthor(b *bid.Bid, opt Options) *bidAuthor {
	a := NewAuthor(&analysis.Factors{AsOf: b.AsOf, Placements: b.Records.Placements}, opt)
	return &bidAuthor{a, say.Bid{Voice: a.Voice}, b}
}

// fact is a line of a table with one column of figures.
type fact struct {
	what   string
	figure say.Cell
	basis  bid.Basis
}

// facts are a table of lines that stand on different things.
func (a *Author) facts(caption string, lines []fact) *Table {
	w := say.Bid{Voice: a.Voice}
	return TableOf(caption, lines,
		ColumnOf[fact]{Head: "", Cell: func(f fact) say.Cell { return say.Cell{Text: f.what} }},
		ColumnOf[fact]{Head: w.FigureHead(), Number: true, Cell: func(f fact) say.Cell { return f.figure }},
		from(w, func(f fact) bid.Basis { return f.basis }))
}

// from is the column that says what each line stands on.
func from[T any](w say.Bid, basis func(T) bid.Basis) ColumnOf[T] {
	return ColumnOf[T]{Head: w.FromHead(), Cell: func(row T) say.Cell { return w.From(basis(row)) }}
}

// number is a line for a figure with its unit.
func (a *bidAuthor) number(what string, n bid.Number) fact {
	if !n.Figure.Known() {
		n.Basis = bid.Basis{} // nothing stands on nothing
	}
	return fact{what, a.numberCell(n), n.Basis}
}

// numberCell is a figure in its own unit.
func (a *bidAuthor) numberCell(n bid.Number) say.Cell {
	if !n.Figure.Known() {
		return a.Cell(say.Percent, n.Figure)
	}
	switch n.Unit {
	case "$":
		return a.MoneyFigure(n.Figure, 0)
	case "chance", "share":
		return a.w.Chance(n.Figure)
	case "months":
		return say.Valued(a.w.Quantity(n.Figure.Value, n.Unit, 0), n.Figure.Value)
	}
	return a.Cell(a.w.Of(n.Unit), n.Figure)
}

// spreadOf is a mean with the range from P10 to P90.
func spreadOf(s bid.Spread) figure.Figure {
	return figure.Figure{Value: s.Mean, Low: s.P10, High: s.P90, Bounded: s.P90 > s.P10}
}

// unwise is what to look at again in the spec, before anything else is read.
func (a *bidAuthor) unwise() Exhibit {
	w, several := a.w.Unwise(), len(a.b.Placements) > 1
	return Exhibit{Title: w.Title, Table: TableOf(w.Caption, a.b.Cautions,
		ColumnOf[bid.Problem]{Head: w.Where, Cell: func(p bid.Problem) say.Cell {
			if !several {
				p.Placement = ""
			}
			return say.Cell{Text: a.w.Problem(p).Where}
		}},
		ColumnOf[bid.Problem]{Head: w.Matter, Cell: func(p bid.Problem) say.Cell {
			return say.Cell{Text: say.Capital(a.w.Matter(a.w.Problem(p)))}
		}})}
}

// hazards are the dangers of the work that this bid is for.
func (a *bidAuthor) hazards() []say.Hazard {
	pumped := slices.ContainsFunc(a.b.Placements, func(p bid.Part) bool { return p.Method == "pump" })
	sawn := slices.ContainsFunc(a.b.Spec.Placements, func(p bid.Placement) bool {
		return p.JointCut == "" || strings.Contains(p.JointCut, "saw") || strings.Contains(p.JointCut, "early")
	})
	list := []say.Hazard{say.CausticConcrete}
	if pumped {
		list = append(list, say.PluggedHose)
	}
	if sawn {
		list = append(list, say.SilicaDust)
	}
	if m := a.b.Month; m >= 5 && m <= 9 {
		list = append(list, say.HeatIllness)
	}
	return list
}
