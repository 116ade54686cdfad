package page

import (
	"pourback/analysis/bid"
	"pourback/report/say"
)

// order is what to order for a day, and what may come of it.
func (a *bidAuthor) order(d *bid.Day) Exhibit {
	w, o := a.w.Order(d, len(a.b.Days) > 1), d.Order
	drawn, used := bid.Basis{From: bid.FromDrawing}, d.UsedYd.Basis
	text := func(what, figure string) fact { return fact{what, say.Cell{Text: figure}, used} }
	lines := []fact{
		{w.Neat, say.Cell{Text: a.w.Volume(d.NeatYd)}, drawn},
		{w.Used, a.Known(tenthsOf(a.Units.Volume), spreadOf(d.UsedYd)), used},
		text(w.AtOnce, a.w.Loads(o.Yd, o.Loads)),
		text(w.Allowance, a.w.Share(o.Allowance)),
		a.number(w.RunsShort, o.ChanceShort),
		text(w.Left, a.w.Volume(o.LeftoverYd)),
		text(w.Cost, a.Exactly(o.Cost)),
	}
	if h := d.Hold; d.TwoSteps() {
		lines = append(lines, text(w.First, a.w.Loads(h.FirstYd, h.Loads)), text(w.Hold, a.w.Tenths(h.HoldYd)), text(w.CallIn, a.w.CallAt(h)),
			text(w.ShortThen, a.TimesIn100(h.Short)), text(w.Saves, a.Exactly(h.Saves)))
		if h.WaitMin >= 1 {
			lines = append(lines, text(w.Wait, a.Minutes(h.WaitMin)))
		}
	}
	x := Exhibit{Title: w.Title, Table: a.facts(w.Caption, lines)}
	x.Table.Below = a.w.WhyThisOrder(a.b, d)
	return x
}

// volume is how a placement's neat volume is worked out, piece by piece.
func (a *bidAuthor) volume(p *bid.Part) Exhibit {
	w := a.w.VolumeOf(a.part(p))
	type line struct{ piece, how, yd string }
	var lines []line
	for _, piece := range p.Pieces {
		lines = append(lines, line{a.w.PieceName(piece), a.w.PieceHow(piece), a.w.Hundredths(piece.Yd)})
	}
	if len(lines) > 1 {
		lines = append(lines, line{w.All, "", a.w.Hundredths(p.NeatYd.Figure.Value)})
	}
	column := func(head string, number bool, of func(line) string) ColumnOf[line] {
		return ColumnOf[line]{Head: head, Number: number, Cell: func(l line) say.Cell { return say.Cell{Text: of(l)} }}
	}
	return Exhibit{Title: w.Title, Table: TableOf(w.Caption, lines,
		column(w.Piece, false, func(l line) string { return l.piece }), column(w.How, false, func(l line) string { return l.how }), column(w.Volume, true, func(l line) string { return l.yd }),
		from(a.w, func(line) bid.Basis { return bid.Basis{From: bid.FromDrawing} }))}
}

// tenthsOf shows every figure of a measure to a tenth.
func tenthsOf(m say.Measure) say.Measure {
	m.Digits = say.Tenths
	return m
}

// hours are those of the job by task.
func (a *bidAuthor) hours() Exhibit {
	l := a.b.Labor
	w, h := a.w.LaborHours(&l), a.w.Of("person-hours")
	tasks := append([]bid.Task{{Share: 1, Hours: a.allHours()}}, l.Tasks...)
	return Exhibit{Title: w.Title, Table: TableOf(w.Caption, tasks,
		ColumnOf[bid.Task]{Head: w.Task, Cell: func(t bid.Task) say.Cell {
			if t.Task == "" {
				return say.Cell{Text: w.All}
			}
			return say.Cell{Text: a.Word(t.Task)}
		}},
		ColumnOf[bid.Task]{Head: w.Hours, Number: true, Cell: func(t bid.Task) say.Cell { return a.Cell(h, t.Hours.Figure) }},
		ColumnOf[bid.Task]{Head: w.Share, Number: true, Cell: func(t bid.Task) say.Cell { return a.Exact(say.Percent, t.Share).With(a.PercentSign()) }},
		from(a.w, func(t bid.Task) bid.Basis { return t.Hours.Basis }))}
}

// allHours are the hours of the whole job, with the range of this one job.
func (a *bidAuthor) allHours() bid.Number {
	n := a.b.Labor.Mean
	if s := a.b.Labor.Hours; !n.Figure.Bounded && s.P90 > s.P10 {
		n.Figure.Low, n.Figure.High, n.Figure.Bounded = s.P10, s.P90, true
	}
	return n
}

// waiting is what clogs and other delays may take.
func (a *bidAuthor) waiting() Exhibit {
	d, pumped := a.b.Delay, a.b.Delay.ClogChance.Figure.Known()
	w, lines := a.w.Waiting(pumped), []fact{}
	if pumped {
		lines = append(lines, a.number(w.Clog, d.ClogChance), a.number(w.ClogMin, d.ClogMin))
	}
	return Exhibit{Title: w.Title, Table: a.facts(w.Caption, append(lines, a.number(w.Other, d.OtherMin), a.number(w.Cost, d.CrewCost)))}
}

// steel is one placement's reinforcement, each way it may be done.
func (a *bidAuthor) steel(p *bid.Part) Exhibit {
	w, h := a.w.Steel(a.part(p)), a.w.Of("person-hours")
	column := func(head string, number bool, cell func(bid.SteelWay) say.Cell) ColumnOf[bid.SteelWay] {
		return ColumnOf[bid.SteelWay]{Head: head, Number: number, Cell: cell}
	}
	x := Exhibit{Title: w.Title, Table: TableOf(w.Caption, p.Steel,
		column(w.Option, false, func(s bid.SteelWay) say.Cell { return say.Cell{Text: a.w.Option(s)} }),
		column(w.Cost, true, func(s bid.SteelWay) say.Cell { return a.numberCell(s.Cost) }),
		column(w.Material, true, func(s bid.SteelWay) say.Cell { return a.numberCell(s.Material) }),
		column(w.Hours, true, func(s bid.SteelWay) say.Cell { return a.Cell(h, s.Hours.Figure) }),
		column(w.Risk, true, func(s bid.SteelWay) say.Cell { return a.riskCell(s) }),
		column(w.Quantity, true, func(s bid.SteelWay) say.Cell { return say.Cell{Text: a.w.SteelQuantity(s)} }),
		column(w.What, false, func(s bid.SteelWay) say.Cell { return say.Cell{Text: a.w.Takeoff(s)} }),
		from(a.w, func(s bid.SteelWay) bid.Basis { return s.Cost.Basis }))}
	x.Table.Below = a.w.SteelNotes(p)
	return x
}

// part names a placement.
func (a *bidAuthor) part(p *bid.Part) string { return a.w.Part(a.b, p) }

// weather is what the month does to a fresh surface.
func (a *bidAuthor) weather() Exhibit {
	o := a.b.Weather
	w, e := a.w.Weather(o), a.Units.Evaporation
	var lines []fact
	if o.Pours > 0 {
		rate := func(what string, v float64) fact { return fact{what, a.rate(v).With(e.Unit), o.Rate.Basis} }
		lines = append(lines, rate(w.Half, o.Rate.P50), rate(w.Tenth, o.Rate.P90))
	}
	x := Exhibit{Title: w.Title, Table: a.facts(w.Caption, append(lines, a.number(w.Over, o.Share)))}
	x.Table.Below = []string{a.w.WeatherCaution(o)}
	return x
}

// reserve is what is set aside for callbacks.
func (a *bidAuthor) reserve() Exhibit {
	r, w := a.b.Reserve, a.w.Reserve()
	return Exhibit{Title: w.Title, Table: a.facts(w.Caption, []fact{
		a.number(w.Warranty, r.Months), a.number(w.Callbacks, r.Callbacks), a.number(w.Each, r.EachCost), a.number(w.Cost, r.Cost)})}
}

// riskCell is how many slabs with a steel are called about, unless too few stand
// behind it.
func (a *bidAuthor) riskCell(s bid.SteelWay) say.Cell {
	if s.TooFewSlabs() {
		return a.w.TooFewSlabs()
	}
	return a.numberCell(s.Risk)
}
