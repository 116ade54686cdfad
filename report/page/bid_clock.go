package page

import (
	"fmt"
	"strconv"
	"strings"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
	"pourback/report/chart"
	"pourback/report/say"
)

// byTheClock are a day's trucks and its slab by the clock, and what is read to the
// dispatcher; nothing of a bid that was kept before there were clocks.
func (a *bidAuthor) byTheClock(d *bid.Day) []Exhibit {
	if d.Clock == nil || len(d.Clock.Trucks) == 0 {
		return nil
	}
	return []Exhibit{a.dispatch(d), a.trucks(d), a.slabDay(d)}
}

// dispatch is the concrete as asked of the plant.
func (a *bidAuthor) dispatch(d *bid.Day) Exhibit {
	w, h := a.w.Dispatch(d, len(a.b.Days) > 1), a.w.MixOf()
	var lines []fact
	text := func(what, said string, b bid.Basis) { lines = append(lines, fact{what, say.Cell{Text: said}, b}) }
	var said []string
	for _, m := range d.Asked {
		if len(d.Asked) > 1 {
			text(h.For, say.Clean(strings.Join(m.Placements, ", "), say.ShortName), bid.Basis{From: bid.FromSpec})
		}
		text(h.Strength, a.Strength(m.PSI.Figure.Value), m.PSI.Basis)
		text(h.Rock, a.Inches(m.AggregateIn.Figure.Value), m.AggregateIn.Basis)
		text(h.Slump, a.w.Slump(m.SlumpIn), m.SlumpIn.Basis)
		if m.AirPct.Figure.Value > 0 {
			text(h.Air, a.w.AirContent(m), m.AirPct.Basis)
		} else {
			text(h.Air, h.NoAir, m.AirPct.Basis)
		}
		if m.FiberLbYd.Figure.Value > 0 {
			text(h.Fiber, a.w.FiberDose(m), m.FiberLbYd.Basis)
		}
		if mixed := a.w.Admixtures(m); len(mixed) > 0 {
			text(h.Admixtures, strings.Join(mixed, ", "), bid.Basis{From: bid.FromSpec})
		}
		said = append(said, a.w.Mix(m))
	}
	x := Exhibit{Title: w.Title, Table: a.facts(w.Caption, lines)}
	x.Table.Below = append(said, a.w.ToDispatcher(d.Clock)...)
	return x
}

// trucks are the trucks of a day, each from batching to gone.
func (a *bidAuthor) trucks(d *bid.Day) Exhibit {
	w := a.w.TrucksHeads(d, len(a.b.Days) > 1)
	time := func(head string, of func(clock.Truck) clock.Time) ColumnOf[clock.Truck] {
		return ColumnOf[clock.Truck]{Head: head, Number: true, Cell: func(t clock.Truck) say.Cell { return say.Cell{Text: a.w.Time(of(t))} }}
	}
	text := func(head string, of func(clock.Truck) string) ColumnOf[clock.Truck] {
		return ColumnOf[clock.Truck]{Head: head, Number: true, Cell: func(t clock.Truck) say.Cell { return say.Cell{Text: of(t)} }}
	}
	table := TableOf(w.Caption, d.Clock.Trucks,
		ColumnOf[clock.Truck]{Head: w.Truck, Cell: func(t clock.Truck) say.Cell { return say.Cell{Text: a.w.Truck(t)} }},
		text(w.Load, a.w.TruckLoad),
		time(w.Batched, func(t clock.Truck) clock.Time { return t.Batched }), time(w.Leaves, func(t clock.Truck) clock.Time { return t.Leaves }),
		time(w.Arrives, func(t clock.Truck) clock.Time { return t.Arrives }), time(w.Starts, func(t clock.Truck) clock.Time { return t.Starts }),
		time(w.Empty, func(t clock.Truck) clock.Time { return t.Empty }), time(w.Gone, func(t clock.Truck) clock.Time { return t.Gone }),
		time(w.Ends, func(t clock.Truck) clock.Time { return t.LimitEnds }), text(w.Slack, a.w.Slack),
		text(w.Down, func(t clock.Truck) string { return a.w.Ordered(t.DownYd) }))
	table.Drawing = a.truckLine(d)
	table.Below = a.w.TruckNotes(d.Clock)
	return Exhibit{Title: w.Title, Table: table}
}

func minutes(t clock.Time) float64 { return float64(t.Min) }

// truckLine draws the trucks, the ends of their time and the call.
func (a *bidAuthor) truckLine(d *bid.Day) *chart.Drawing {
	w, c := a.w.DayLine(d.Clock), d.Clock
	p := chart.DayPlot{Says: w.Trucks, Clock: a.onTheHour(c), Keys: []chart.DayKey{{Name: w.OnRoad, Hue: chart.Past}, {Name: w.Discharging, Hue: chart.Own}, {Name: w.LimitEnds}}}
	for _, t := range c.Trucks {
		hue := chart.Own
		if t.SlackMin < 0 {
			hue = chart.Worse
		}
		tip := fmt.Sprintf("%s–%s", a.w.Time(t.Starts), a.w.Time(t.Empty))
		p.Rows = append(p.Rows, chart.DayRow{Label: a.w.TruckRow(t), Ticks: []chart.Spot{{X: minutes(t.LimitEnds), Tip: a.w.Time(t.LimitEnds)}},
			Bars: []chart.DayBar{{From: minutes(t.Batched), To: minutes(t.Starts), Hue: chart.Past, Thin: true, Tip: a.w.Time(t.Batched)}, {From: minutes(t.Empty), To: minutes(t.Gone), Hue: chart.Past, Thin: true, Tip: a.w.Time(t.Gone)},
				{From: minutes(t.Starts), To: minutes(t.Empty), Hue: hue, Tip: tip}}})
	}
	if c.Call != nil {
		p.Rule = chart.Rule{Name: a.w.CallMark(c.Call), At: minutes(c.Call.By)}
	}
	return drawn(p)
}

func drawn(p chart.DayPlot) *chart.Drawing {
	if c := p.Chart(); c != nil {
		return c.Drawing()
	}
	return nil
}

// onTheHour names the hours of a day's scale, which a change of the clocks moves.
func (a *bidAuthor) onTheHour(d *clock.Day) func(min int) string {
	return func(min int) string { return a.w.Hour(d.Wall(min)) }
}

// slabDay is what is done to the slab when, to the last cut.
func (a *bidAuthor) slabDay(d *bid.Day) Exhibit {
	type line struct {
		part, what string
		from, to   clock.Time
	}
	w, several := a.w.SlabDay(d, len(a.b.Days) > 1), len(d.Placements) > 1
	var lines []line
	for _, s := range d.Clock.Line {
		lines = append(lines, line{s.Placement, a.w.Stage(s.Work), s.From, s.To})
	}
	for _, s := range d.Clock.Saw {
		lines = append(lines, line{s.Placement, a.w.SawKind(s.Early), s.From, s.To})
	}
	columns := []ColumnOf[line]{{Head: w.What, Cell: func(l line) say.Cell {
		if several {
			return say.Cell{Text: say.Clean(l.part, say.LabelName) + ": " + l.what}
		}
		return say.Cell{Text: l.what}
	}}}
	for _, c := range []struct {
		head string
		of   func(line) clock.Time
	}{{w.From, func(l line) clock.Time { return l.from }}, {w.To, func(l line) clock.Time { return l.to }}} {
		columns = append(columns, ColumnOf[line]{Head: c.head, Number: true, Cell: func(l line) say.Cell { return say.Cell{Text: a.w.Time(c.of(l))} }})
	}
	table := TableOf(w.Caption, lines, columns...)
	table.Drawing = a.slabLine(d)
	for _, s := range d.Clock.Saw {
		said := a.w.SawAt(s)
		if several {
			said = say.Clean(s.Placement, say.LabelName) + ": " + said
		}
		table.Below = append(table.Below, said)
	}
	table.Below = append(table.Below, a.w.SlabNotes(d.Clock)...)
	return Exhibit{Title: w.Title, Table: table}
}

// slabLine draws the slab's day, with the air of a forecast along it.
func (a *bidAuthor) slabLine(d *bid.Day) *chart.Drawing {
	c, several := d.Clock, len(d.Placements) > 1
	w := a.w.DayLine(c)
	p := chart.DayPlot{Says: w.Slab, Clock: a.onTheHour(c)}
	label := func(part, what string) string {
		if several {
			return say.Clean(part, say.LabelName) + ": " + what
		}
		return what
	}
	for _, s := range c.Line {
		hue := chart.Own
		if s.Work == clock.Bleeding {
			hue = chart.Past
		}
		p.Rows = append(p.Rows, chart.DayRow{Label: label(s.Placement, a.w.Stage(s.Work)), Bars: []chart.DayBar{{From: minutes(s.From), To: minutes(s.To), Hue: hue, Thin: s.Work == clock.Bleeding, Tip: a.w.Until(s.From, s.To)}}})
	}
	if len(c.Saw) > 0 {
		p.Keys = []chart.DayKey{{Name: w.FirstCut}}
	}
	for _, s := range c.Saw {
		p.Rows = append(p.Rows, chart.DayRow{Label: label(s.Placement, a.w.SawKind(s.Early)), Bars: []chart.DayBar{{From: minutes(s.From), To: minutes(s.To), Hue: chart.Better, Tip: a.w.Until(s.From, s.To)}},
			Ticks: []chart.Spot{{X: minutes(s.FirstTo), Tip: a.w.Time(s.FirstTo)}}})
	}
	if c.Air.From == clock.FromForecast {
		air, rate := chart.DayRow{Label: w.Air}, chart.DayRow{Label: w.Drying}
		for _, h := range c.Air.Hours {
			air.Words = append(air.Words, chart.Rule{Name: a.w.BareDegrees(h.AirF), At: minutes(h.At)})
			if h.Rate >= 0 {
				rate.Words = append(rate.Words, chart.Rule{Name: strconv.FormatFloat(h.Rate*a.Units.Evaporation.Factor, 'f', 2, 64), At: minutes(h.At)})
			}
		}
		p.Rows = append(p.Rows, air, rate)
	}
	return drawn(p)
}

// TrucksAgain are the trucks still to come of a day planned anew.
func TrucksAgain(d *clock.Day, opt Options) Exhibit {
	a := newBidAuthor(&bid.Bid{}, opt)
	if len(d.Trucks) == 0 {
		return Exhibit{Title: a.w.NoTrucks()}
	}
	return a.trucks(&bid.Day{Clock: d})
}
