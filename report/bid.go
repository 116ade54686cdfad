package report

import (
	"fmt"
	"strings"
	"time"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/figure"
	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// BidPage is a bid as a page: what to order, what it takes, what it costs and
// the price, each with what it stands on.
func BidPage(b *bid.Bid, opt Options) Page {
	a := &bidAuthor{author: newAuthor(&analysis.Factors{AsOf: b.AsOf, Placements: b.Records.Placements}, opt), b: b}
	p := Page{Slug: "bid", Title: a.title(), Answer: a.answer(), Basis: a.basis(),
		Reading: "A range in brackets is drawn so that 8 times in 10 what comes lies within it, unless another is named."}
	if len(b.Cautions) > 0 {
		p.Exhibits = append(p.Exhibits, a.unwise())
	}
	for i := range b.Days {
		p.Exhibits = append(p.Exhibits, a.order(&b.Days[i]))
	}
	p.Exhibits = append(p.Exhibits, a.hours(), a.waiting())
	for i := range b.Placements {
		p.Exhibits = append(p.Exhibits, a.joints(&b.Placements[i]))
	}
	for i := range b.Placements {
		if len(b.Placements[i].Steel) > 0 {
			p.Exhibits = append(p.Exhibits, a.steel(&b.Placements[i]))
		}
	}
	p.Exhibits = append(p.Exhibits, a.weather(), a.reserve(), a.cost(), a.drivers(), a.price(), a.settings())
	p.Notes, p.Cautions, p.Method = a.saidAll(b.Notes), a.cautions(), bidMethod
	return p
}

var bidMethod = []string{
	"The order is the one of least expected cost: concrete, disposal of what is left over, short loads, and a load that nobody planned for, each weighed by its chance (the newsvendor's problem).",
	"The cost is drawn many times over from what is known of volumes, hours, delays and callbacks; the price is the one at which the target margin is earned as often as the certainty says.",
	"Where the company's records are too few, common practice or a published guide stands in, and the bid says so at each number.",
}

// bidAuthor writes the page of one bid.
type bidAuthor struct {
	*author
	b *bid.Bid
}

// title names the bid, by what is poured where it has no name of its own.
func (a *bidAuthor) title() string {
	if a.b.Spec.Name != "" {
		return "Bid: " + clean(a.b.Spec.Name, longName)
	}
	parts := make([]string, 0, len(a.b.Placements))
	for i := range a.b.Placements {
		p := &a.b.Placements[i]
		parts = append(parts, clean(p.Use, shortName)+" of "+quantity(a.units.area, p.AreaSqft, 0))
	}
	return "Bid: " + clean(strings.Join(parts, ", "), longName)
}

// answer says the bid in one sentence.
func (a *bidAuthor) answer() string {
	var order []string
	for i := range a.b.Days {
		d := &a.b.Days[i]
		s := "order " + a.yards(d.Order.Yd)
		if twoSteps(d) {
			s = "order " + a.yards(d.Hold.FirstYd) + " and hold about " + a.roughly(d.Hold.HoldYd) + " back for the last load"
		}
		if len(a.b.Days) > 1 {
			s += fmt.Sprintf(" on day %d", d.Day)
		}
		order = append(order, s)
	}
	hours := a.b.Labor.Mean.Figure
	return capital(strings.Join(order, ", ")) + "; plan " + grouped(hours.Value, 0) + " labor-hours; and ask " + a.amount(a.b.Price.Price, 0) +
		", which leaves a margin of " + quantity(percent, a.b.Price.Target, 1) + " or more " + timesIn100(a.b.Price.Certainty) + "."
}

// twoSteps says whether a day is better ordered in two steps, with a last load
// worth speaking of.
func twoSteps(d *bid.Day) bool {
	const leastHeldYd = 0.5
	return d.Hold.Worth && d.Hold.HoldYd >= leastHeldYd
}

// timesIn100 is a chance as an owner would say it.
func timesIn100(p float64) string {
	switch {
	case p < 0.005:
		return "less than once in 100"
	case p > 0.995:
		return "more than 99 times in 100"
	}
	return plural(int(p*100+0.5), "time") + " in 100"
}

func (a *bidAuthor) basis() string {
	r, s := a.b.Records, capital(a.whenText())+". "
	if a.b.JobNo != "" {
		s = "Job " + clean(a.b.JobNo, shortName) + ", " + a.whenText() + ". "
	}
	if r.Placements == 0 {
		return s + "No placements are on record yet: every number below is common practice, a published guide or the spec's own."
	}
	return s + "It stands on " + plural(r.Placements, "placement") + " on record as of " + asOfText(a.b.AsOf) + ": " + count(r.Volumes) + " with their volumes, " +
		count(r.Hours) + " with their hours, " + count(r.Pumped) + " pumped ones, " + plural(r.Callbacks, "callback") + "."
}

// whenText is the day or month of the pour.
func (a *bidAuthor) whenText() string {
	if d, err := record.ParseDate(a.b.On); err == nil {
		return "to pour on " + dayText(d)
	}
	if len(a.b.On) == len("2006-01") {
		return "to pour in " + monthText(a.b.On)
	}
	return "to pour in " + time.Month(a.b.Month).String()
}

// fact is a line of a table with one column of figures.
type fact struct {
	what   string
	figure Cell
	basis  bid.Basis
}

// facts are a table of lines that stand on different things.
func (a *author) facts(caption string, lines []fact) *Table {
	return tableOf(caption, lines,
		column[fact]{head: "", cell: func(f fact) Cell { return Cell{Text: f.what} }},
		column[fact]{head: "Figure", number: true, cell: func(f fact) Cell { return f.figure }},
		column[fact]{head: "Stands on", cell: func(f fact) Cell { return a.standsOn(f.basis) }})
}

// standsOn says what a number stands on, with the sentence behind it at the
// table's foot where it is no plain arithmetic.
func (a *author) standsOn(b bid.Basis) Cell {
	switch b.From {
	case bid.FromRecords:
		return Cell{Text: "own records (" + count(b.N) + ")"}
	case bid.FromPractice:
		return Cell{Text: "common practice", why: a.said(b.Says)}
	case bid.FromSetting:
		return Cell{Text: "your setting", why: a.said(b.Says)}
	case bid.FromSpec:
		return Cell{Text: "this bid's spec"}
	case bid.FromDrawing:
		return Cell{Text: "the dimensions"}
	}
	return Cell{Text: "—"}
}

// number is a line for a figure with its unit.
func (a *bidAuthor) number(what string, n bid.Number) fact {
	if !n.Figure.Known() {
		n.Basis = bid.Basis{} // nothing stands on nothing
	}
	return fact{what, a.cell(n), n.Basis}
}

// cell is a figure in its own unit.
func (a *bidAuthor) cell(n bid.Number) Cell {
	if !n.Figure.Known() {
		return percent.cell(n.Figure)
	}
	if n.Unit == moneyUnit {
		return a.moneyFigure(n.Figure, 0)
	}
	return a.measureOf(n.Unit).cell(n.Figure)
}

// moneyUnit is what the analysis calls the currency's unit.
const moneyUnit = "$"

// measureOf is how a figure in a unit of the analysis is shown.
func (a *bidAuthor) measureOf(unit string) measure {
	for _, u := range []*record.Unit{record.SquareFoot, record.CubicYard, record.Foot, record.Inch} {
		if unit == u.Label || unit == u.Name {
			return shown(u, a.units.si)
		}
	}
	switch unit {
	case "", "share", "chance":
		return share(figure.Figure{Value: 1})
	case "person-hours":
		return measure{factor: 1, unit: " h"}
	case "lb/ft²/h":
		return a.units.evaporation
	case "lb":
		if a.units.si {
			return measure{factor: trade.KgPerLb, unit: " kg"}
		}
	}
	return measure{factor: 1, unit: " " + clean(unit, shortName)}
}

// spreadOf is a mean with the range from P10 to P90.
func spreadOf(s bid.Spread) figure.Figure {
	return figure.Figure{Value: s.Mean, Low: s.P10, High: s.P90, Bounded: s.P90 > s.P10}
}

// yards is a volume as it is ordered, to a quarter of a yard.
func (a *bidAuthor) yards(yd float64) string { return quantity(a.units.volume, yd, 2) }

// roughly is a volume to think of, to a tenth.
func (a *bidAuthor) roughly(yd float64) string { return quantity(a.units.volume, yd, 1) }

// quantity is an exact amount with no more decimals than it needs.
func quantity(m measure, v float64, most int) string {
	s := grouped(v*m.factor, most)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s + m.unit
}

// unwise is what to look at again in the spec, before anything else is read.
func (a *bidAuthor) unwise() Exhibit {
	type problem = bid.Problem
	several := len(a.b.Placements) > 1
	t := tableOf("What the spec asks for and should not", a.b.Cautions,
		column[problem]{head: "In the spec", cell: func(p problem) Cell {
			where := clean(p.Field+" "+p.Value, longName)
			if several && p.Placement != "" {
				where = clean(p.Placement, shortName) + ": " + where
			}
			return Cell{Text: where}
		}},
		column[problem]{head: "What is the matter, and what would be right", cell: func(p problem) Cell {
			return Cell{Text: capital(a.said(p.Matter()))}
		}})
	return Exhibit{Title: "Look at this again", Table: t}
}

// cautions are the dangers of the work that this bid is for.
func (a *bidAuthor) cautions() []Caution {
	var sawn, pumped bool
	for _, p := range a.b.Spec.Placements {
		pumped = pumped || p.Method == "pump"
		sawn = sawn || p.JointCut == "" || strings.Contains(p.JointCut, "saw") || strings.Contains(p.JointCut, "early")
	}
	list := []Caution{causticConcrete}
	if pumped {
		list = append(list, pluggedHose)
	}
	if sawn {
		list = append(list, silicaDust)
	}
	if m := a.b.Month; m >= 5 && m <= 9 {
		list = append(list, heatIllness)
	}
	return append(list, noDesign)
}
