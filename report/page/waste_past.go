package page

import (
	"maps"
	"slices"

	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/report/chart"
	"pourback/report/say"
)

// pastWaste is what the placements of each kind used.
func (a *Author) pastWaste(w say.Waste) Exhibit {
	type group = concrete.Group
	o, h := a.f.Overage, w.Heads()
	groups := most(o.Groups, func(g group) int { return g.N })
	table := TableOf(w.PastCaption(), append(allKinds(o), groups...),
		wordsIn(h.Kind, func(g group) string { return w.Kind(g, say.ShortName) }),
		numbers(h.Average, func(g group) say.Cell { return a.Cell(say.Percent, g.RawMean) }),
		numbers(h.Together, func(g group) say.Cell { return a.Cell(say.Percent, g.RatioOfTotals) }),
		numbers(h.HalfUnder, func(g group) say.Cell { return a.Cell(say.Percent, g.Past.P50) }),
		numbers(h.NineUnder, func(g group) say.Cell { return a.Cell(say.Percent, g.Past.P90) }),
		counts(h.Placements, func(g group) int { return g.N }))
	return Exhibit{Title: w.PastTitle(), Chart: wasteBoxes(w, groups), Table: table, Says: w.PastSay()}
}

// allKinds is the row of all placements, where there are several kinds.
func allKinds(o *concrete.Overage) []concrete.Group {
	if len(o.Groups) < 2 {
		return nil
	}
	return []concrete.Group{o.All}
}

// wasteBoxes draws how the placements of each kind spread.
func wasteBoxes(w say.Waste, groups []concrete.Group) *chart.Chart {
	plot := chart.BoxPlot{ID: "chart-waste", Scale: w.OverAxis(), Says: w.PastChart(), None: w.NoKindTo}
	for _, g := range groups[:min(len(groups), chart.MostKinds)] {
		r := chart.BoxRow{Label: w.Kind(g, say.ShortName), N: g.N, Tip: w.BoxTip(g)}
		for i, v := range g.Spread {
			r.Five[i] = 100 * v
		}
		plot.Rows = append(plot.Rows, r)
	}
	return plot.Chart()
}

// usedOnNeat draws each placement's yards against the drawing, with what the
// next one will take, for the two commonest ways of placing.
func (a *Author) usedOnNeat(w say.Waste) []Exhibit {
	type size = concrete.OverageSize
	o, h := a.f.Overage, w.Heads()
	n := map[string]int{}
	for _, g := range o.Groups {
		n[g.Method] += g.N
	}
	methods := most(slices.Sorted(maps.Keys(n)), func(m string) int { return n[m] })
	methods = methods[:min(len(methods), 2)]
	var rows []size
	for _, method := range methods {
		for _, s := range o.BySize {
			if s.Use == concrete.AllUses && s.Method == method {
				rows = append(rows, s)
			}
		}
	}
	if len(rows) == 0 {
		return nil
	}
	return []Exhibit{{Title: w.ModelTitle(), Says: w.ModelSay(), Chart: a.fitChart(w, methods),
		Table: TableOf(w.ModelCaption(), rows,
			wordsIn(h.Job, w.ModelJob),
			numbers(h.P10, func(s size) say.Cell { return a.Cell(say.Percent, s.NextJob.P10) }),
			numbers(h.P50, func(s size) say.Cell { return a.Cell(say.Percent, s.NextJob.P50) }),
			numbers(h.P80, func(s size) say.Cell { return a.Cell(say.Percent, s.NextJob.P80) }),
			numbers(h.P90, func(s size) say.Cell { return a.Cell(say.Percent, s.NextJob.P90) }),
			numbers(h.OrderShort, func(s size) say.Cell { return a.Cell(say.OfHundred, s.ChanceShort) }))}}
}

// mostPlotted is how many placements by one method are drawn: more only cover
// each other, and each takes time and room on the page.
const mostPlotted = 150

// mostFitted is the largest volume to which a line is drawn, in yd³.
const mostFitted = 60

// fitChart draws the placements by each method and what the next ones will use.
func (a *Author) fitChart(w say.Waste, methods []string) *chart.Chart {
	k := a.Units.Volume.Factor
	plot := chart.FitPlot{ID: "chart-used", Across: w.DrawnAxis(), Up: w.UsedAxis(), Even: w.AsDrawn(), Says: w.ModelChart(), Few: a.TooFewPlacements}
	for _, method := range methods {
		f := chart.Fit{Name: w.By(method), Hue: chart.HueOf(method)}
		end := 0.0
		for _, p := range thinnedPoints(a.f.Overage, method) {
			f.Points = append(f.Points, chart.Spot{X: p.Neat * k, Y: p.Used * k, Tip: w.PointTip(method, p)})
			end = max(end, p.Neat)
		}
		for _, e := range a.f.Overage.NextBy(method, min(end, mostFitted)) {
			f.Line = append(f.Line, chart.Spot{X: e.NeatYd * k, Y: e.Middle * k})
			f.Band = append(f.Band, chart.Reach{X: e.NeatYd * k, Low: e.Low * k, High: e.High * k})
		}
		plot.Fits = append(plot.Fits, f)
	}
	return plot.Chart()
}

// thinnedPoints are the placements by a method, every so manieth of many.
func thinnedPoints(o *concrete.Overage, method string) []concrete.Placement {
	var points []concrete.Placement
	for _, p := range o.Points {
		if o.Groups[p.Group].Method == method {
			points = append(points, p)
		}
	}
	return chart.Thin(points, mostPlotted)
}

// whereLost says where the yards beyond the drawing went.
func (a *Author) whereLost(w say.Waste) []Exhibit {
	l, h := &a.f.Overage.WhereLost, w.Heads()
	if !l.Delivered.Known() {
		return nil
	}
	parts := w.LostParts(l)
	table := TableOf(w.LostCaption(l.N), append([]say.LostPart{w.LostAll(l)}, parts...),
		wordsIn(h.Part, func(p say.LostPart) string { return p.Name }),
		numbers(h.Share, func(p say.LostPart) say.Cell { return a.Cell(say.Percent, p.Share) }),
		wordsIn(h.Means, func(p say.LostPart) string { return p.Means }))
	return []Exhibit{{Title: w.LostTitle(), Table: table, Says: w.LostSay(l),
		Chart: lostChart(w, parts)}}
}

// lostChart draws the parts of what was delivered over the drawing.
func lostChart(w say.Waste, parts []say.LostPart) *chart.Chart {
	plot := chart.RowPlot{ID: "chart-lost", Says: w.LostChart(), Scale: w.LostAxis(), Series: []chart.RowSeries{{Hue: chart.Own, Bar: true}}}
	for _, p := range parts {
		plot.Rows = append(plot.Rows, chart.Row{Label: p.Name, Amounts: []chart.Amount{chart.Of(p.Share, 100, w.LostTip(p)).With(w.Value(say.Percent, p.Share))}})
	}
	return plot.Chart()
}

// fixedLoss is what is lost on every job whatever its size.
func (a *Author) fixedLoss(w say.Waste) []Exhibit {
	fixed, h := a.f.Overage.Fixed, w.Heads()
	methods := slices.DeleteFunc(slices.Sorted(maps.Keys(fixed)), func(m string) bool { return !fixed[m].Known() })
	if len(methods) == 0 {
		return nil
	}
	m := say.Measure{Factor: a.Units.Volume.Factor, Digits: say.Cents}
	return []Exhibit{{Title: w.FixedTitle(), Says: w.FixedSay(),
		Table: TableOf(w.FixedCaption(), methods,
			wordsIn(h.PlacedBy, w.Word),
			numbers(h.Lost, func(s string) say.Cell { return a.Cell(m, fixed[s]) }),
			counts(h.Placements, func(s string) int { return fixed[s].N }))}}
}

// wasteByCrew compares the crews on the same placements.
func (a *Author) wasteByCrew(w say.Waste) []Exhibit {
	type crew = concrete.CrewUse
	if len(a.f.Overage.Crews) == 0 {
		return nil
	}
	h := w.Heads()
	return []Exhibit{{Title: w.CrewsTitle(), Says: w.CrewsSay(),
		Table: TableOf(w.CrewsCaption(), a.f.Overage.Crews,
			wordsIn(h.Crew, w.CrewName),
			numbers(h.MoreOrLess, func(c crew) say.Cell { return a.Cell(say.Percent, c.VsAverage) }),
			counts(h.Placements, func(c crew) int { return c.N }))}}
}

// orderFirmness shows the kinds whose order would be another one without odd
// placements, or without those that may have been cut short.
func (a *Author) orderFirmness(w say.Waste) []Exhibit {
	type group = concrete.Group
	var leaning []group
	for _, k := range a.f.Overage.Leaning() {
		leaning = append(leaning, a.f.Overage.Groups[k])
	}
	if len(leaning) == 0 {
		return nil
	}
	h := w.Heads()
	volume := func(of func(group) figure.Figure) func(group) say.Cell {
		return func(g group) say.Cell { return w.Volume(of(g)) }
	}
	return []Exhibit{{Title: w.LeaningTitle(), Says: w.LeaningSay(),
		Table: TableOf(w.LeaningCaption(), leaning,
			wordsIn(h.Kind, func(g group) string { return w.Kind(g, say.ShortName) }),
			numbers(h.Order, volume(func(g group) figure.Figure { return g.OrderYd })),
			numbers(h.OddLess, volume(func(g group) figure.Figure { return g.RobustOrderYd })),
			numbers(h.Cut, volume(func(g group) figure.Figure { return g.UncutOrderYd })))}}
}
