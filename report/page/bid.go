package page

import (
	"fmt"
	"strings"
	"time"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/figure"
	"pourback/analysis/trade"
	"pourback/ingest/record"
	"pourback/report/say"
)

// BidPage is a bid as a page: what to order, what it takes, what it costs and
// the price, each with what it stands on.
func BidPage(b *bid.Bid, opt Options) Page {
	a := &bidAuthor{Author: NewAuthor(&analysis.Factors{AsOf: b.AsOf, Placements: b.Records.Placements}, opt), b: b}
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
	p.Notes, p.Cautions, p.Method = a.SaidAll(b.Notes), a.cautions(), bidMethod
	return p
}

var bidMethod = []string{
	"The order is the one of least expected cost: concrete, disposal of what is left over, short loads, and a load that nobody planned for, each weighed by its chance (the newsvendor's problem).",
	"The cost is drawn many times over from what is known of volumes, hours, delays and callbacks; the price is the one at which the target margin is earned as often as the certainty says.",
	"Where the company's records are too few, common practice or a published guide stands in, and the bid says so at each number.",
}

// bidAuthor writes the page of one bid.
type bidAuthor struct {
	*Author
	b *bid.Bid
}

// title names the bid, by what is poured where it has no name of its own.
func (a *bidAuthor) title() string {
	if a.b.Spec.Name != "" {
		return "Bid: " + say.Clean(a.b.Spec.Name, say.LongName)
	}
	parts := make([]string, 0, len(a.b.Placements))
	for i := range a.b.Placements {
		p := &a.b.Placements[i]
		parts = append(parts, say.Clean(p.Use, say.ShortName)+" of "+quantity(a.Units.Area, p.AreaSqft, 0))
	}
	return "Bid: " + say.Clean(strings.Join(parts, ", "), say.LongName)
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
	return say.Capital(strings.Join(order, ", ")) + "; plan " + say.Grouped(hours.Value, 0) + " labor-hours; and ask " + a.Amount(a.b.Price.Price, 0) +
		", which leaves a margin of " + quantity(say.Percent, a.b.Price.Target, 1) + " or more " + timesIn100(a.b.Price.Certainty) + "."
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
	return say.Plural(int(p*100+0.5), "time") + " in 100"
}

func (a *bidAuthor) basis() string {
	r, s := a.b.Records, say.Capital(a.whenText())+". "
	if a.b.JobNo != "" {
		s = "Job " + say.Clean(a.b.JobNo, say.ShortName) + ", " + a.whenText() + ". "
	}
	if r.Placements == 0 {
		return s + "No placements are on record yet: every number below is common practice, a published guide or the spec's own."
	}
	return s + "It stands on " + say.Plural(r.Placements, "placement") + " on record as of " + say.AsOfText(a.b.AsOf) + ": " + say.Count(r.Volumes) + " with their volumes, " +
		say.Count(r.Hours) + " with their hours, " + say.Count(r.Pumped) + " pumped ones, " + say.Plural(r.Callbacks, "callback") + "."
}

// whenText is the day or month of the pour.
func (a *bidAuthor) whenText() string {
	if d, err := record.ParseDate(a.b.On); err == nil {
		return "to pour on " + say.DayText(d)
	}
	if len(a.b.On) == len("2006-01") {
		return "to pour in " + say.MonthText(a.b.On)
	}
	return "to pour in " + time.Month(a.b.Month).String()
}

// fact is a line of a table with one column of figures.
type fact struct {
	what   string
	figure say.Cell
	basis  bid.Basis
}

// facts are a table of lines that stand on different things.
func (a *Author) facts(caption string, lines []fact) *Table {
	return TableOf(caption, lines,
		ColumnOf[fact]{Head: "", Cell: func(f fact) say.Cell { return say.Cell{Text: f.what} }},
		ColumnOf[fact]{Head: "Figure", Number: true, Cell: func(f fact) say.Cell { return f.figure }},
		ColumnOf[fact]{Head: "Stands on", Cell: func(f fact) say.Cell { return a.standsOn(f.basis) }})
}

// standsOn says what a number stands on, with the sentence behind it at the
// table's foot where it is no plain arithmetic.
func (a *Author) standsOn(b bid.Basis) say.Cell {
	switch b.From {
	case bid.FromRecords:
		return say.Cell{Text: "own records (" + say.Count(b.N) + ")"}
	case bid.FromPractice:
		return say.Cell{Text: "common practice", Why: a.Said(b.Says)}
	case bid.FromSetting:
		return say.Cell{Text: "your setting", Why: a.Said(b.Says)}
	case bid.FromSpec:
		return say.Cell{Text: "this bid's spec"}
	case bid.FromDrawing:
		return say.Cell{Text: "the dimensions"}
	}
	return say.Cell{Text: "—"}
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
	if n.Unit == moneyUnit {
		return a.MoneyFigure(n.Figure, 0)
	}
	return a.Cell(a.measureOf(n.Unit), n.Figure)
}

// moneyUnit is what the analysis calls the currency's unit.
const moneyUnit = "$"

// measureOf is how a figure in a unit of the analysis is shown.
func (a *bidAuthor) measureOf(unit string) say.Measure {
	for _, u := range []*record.Unit{record.SquareFoot, record.CubicYard, record.Foot, record.Inch} {
		if unit == u.Label || unit == u.Name {
			return say.Shown(u, a.Units.Si)
		}
	}
	switch unit {
	case "", "share", "chance":
		return say.Share(figure.Figure{Value: 1})
	case "person-hours":
		return say.Measure{Factor: 1, Unit: " h"}
	case "lb/ft²/h":
		return a.Units.Evaporation
	case "lb":
		if a.Units.Si {
			return say.Measure{Factor: trade.KgPerLb, Unit: " kg"}
		}
	}
	return say.Measure{Factor: 1, Unit: " " + say.Clean(unit, say.ShortName)}
}

// spreadOf is a mean with the range from P10 to P90.
func spreadOf(s bid.Spread) figure.Figure {
	return figure.Figure{Value: s.Mean, Low: s.P10, High: s.P90, Bounded: s.P90 > s.P10}
}

// yards is a volume as it is ordered, to a quarter of a yard.
func (a *bidAuthor) yards(yd float64) string { return quantity(a.Units.Volume, yd, 2) }

// roughly is a volume to think of, to a tenth.
func (a *bidAuthor) roughly(yd float64) string { return quantity(a.Units.Volume, yd, 1) }

// quantity is an exact amount with no more decimals than it needs.
func quantity(m say.Measure, v float64, most int) string {
	s := say.Grouped(v*m.Factor, most)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s + m.Unit
}

// unwise is what to look at again in the spec, before anything else is read.
func (a *bidAuthor) unwise() Exhibit {
	type problem = bid.Problem
	several := len(a.b.Placements) > 1
	t := TableOf("What the spec asks for and should not", a.b.Cautions,
		ColumnOf[problem]{Head: "In the spec", Cell: func(p problem) say.Cell {
			where := say.Clean(p.Field+" "+p.Value, say.LongName)
			if several && p.Placement != "" {
				where = say.Clean(p.Placement, say.ShortName) + ": " + where
			}
			return say.Cell{Text: where}
		}},
		ColumnOf[problem]{Head: "What is the matter, and what would be right", Cell: func(p problem) say.Cell {
			return say.Cell{Text: say.Capital(a.Said(p.Matter()))}
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
		list = append(list, PluggedHose)
	}
	if sawn {
		list = append(list, SilicaDust)
	}
	if m := a.b.Month; m >= 5 && m <= 9 {
		list = append(list, heatIllness)
	}
	return append(list, noDesign)
}
