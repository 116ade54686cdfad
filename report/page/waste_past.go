package page

import (
	"maps"
	"math"
	"slices"

	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/report/chart"
	"pourback/report/say"
)

func kindName(g concrete.Group, most int) string {
	if g.Use == "" {
		return "all"
	}
	return say.Clean(g.Use+", "+g.Method, most)
}

// wastePast is what all placements together used over the drawing.
func (a *Author) wastePast(all concrete.Group) string {
	ratio, more := all.RatioOfTotals, "more"
	if ratio.Value < 0 {
		ratio.Value, ratio.Low, ratio.High, more = -ratio.Value, -ratio.High, -ratio.Low, "less"
	}
	return "So far the jobs have used " + a.Long(say.Percent.As("{value}% "+more+" concrete than drawn"), ratio) + ", all together."
}

// pastWaste is what the placements of each kind used.
func (a *Author) pastWaste() Exhibit {
	type group = concrete.Group
	o := a.f.Overage
	order := most(indices(len(o.Groups)), func(i int) int { return o.Groups[i].N })
	groups := make([]group, len(order))
	for k, i := range order {
		groups[k] = o.Groups[i]
	}
	table := TableOf("Waste by kind of placement", append(allKinds(o, len(groups)), groups...),
		wordsIn("Kind", func(g group) string { return kindName(g, say.ShortName) }),
		numbers("Average", func(g group) say.Cell { return a.Cell(say.Percent, g.RawMean) }),
		numbers("All concrete together", func(g group) say.Cell { return a.Cell(say.Percent, g.RatioOfTotals) }),
		numbers("Half stayed under", func(g group) say.Cell { return a.Cell(say.Percent, g.Past.P50) }),
		numbers("9 in 10 stayed under", func(g group) say.Cell { return a.Cell(say.Percent, g.Past.P90) }),
		counts("Placements", func(g group) int { return g.N }))
	return Exhibit{Title: "What past placements used", Chart: a.wasteBoxes(groups, order), Table: table,
		Says: "Concrete used over the drawing, kind by kind."}
}

// allKinds is the row of all placements, where there are several kinds.
func allKinds(o *concrete.Overage, kinds int) []concrete.Group {
	if kinds < 2 {
		return nil
	}
	return []concrete.Group{o.All}
}

func indices(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// wasteBoxes draws how the placements of each kind spread.
func (a *Author) wasteBoxes(groups []concrete.Group, which []int) *chart.Chart {
	ratios := make([][]float64, len(a.f.Overage.Groups))
	for _, p := range a.f.Overage.Points {
		ratios[p.Group] = append(ratios[p.Group], p.Ratio())
	}
	plot := chart.BoxPlot{Id: "chart-waste", Scale: "used over the drawing, %",
		Says: "A box for each kind of placement: the middle half of its placements, a line at the middle one, and whiskers from the 1 in 10 that used least to the 1 in 10 that used most. The table holds the same figures."}
	for k, g := range groups[:min(len(groups), chart.MostKinds)] {
		r := chart.BoxRow{Label: kindName(g, say.LabelName), N: g.N, Tip: kindName(g, say.ShortName) + ": half stayed under " + a.Value(say.Percent, g.Past.P50) + ", from " + say.Plural(g.N, "placement")}
		for i := range r.Five {
			r.Five[i] = math.NaN()
		}
		if five, err := interval.Quantiles(ratios[which[k]], 0.1, 0.25, 0.5, 0.75, 0.9); err == nil {
			for i, v := range five {
				r.Five[i] = 100 * v
			}
		}
		plot.Rows = append(plot.Rows, r)
	}
	return plot.Chart()
}

// usedOnNeat draws each placement's yards against the drawing, with what the
// next one will take, for the two commonest ways of placing.
func (a *Author) usedOnNeat() []Exhibit {
	type row struct {
		name string
		s    concrete.OverageSize
	}
	o := a.f.Overage
	n := map[string]int{}
	for _, g := range o.Groups {
		n[g.Method] += g.N
	}
	methods := slices.Sorted(maps.Keys(n))
	methods = most(methods, func(m string) int { return n[m] })
	methods = methods[:min(len(methods), 2)]
	var rows []row
	for _, method := range methods {
		for _, s := range o.BySize {
			if s.Use == "all" && s.Method == method {
				rows = append(rows, row{say.Clean(method, say.LabelName) + ", " + a.yards(s.NeatYd), s})
			}
		}
	}
	if len(rows) == 0 {
		return nil
	}
	return []Exhibit{{Title: "The next job, whatever is placed",
		Says:  "How much more than the drawing the next job will use: most likely the middle column, 8 times in 10 between the first and the last.",
		Chart: a.fitChart(methods),
		Table: TableOf("Used over the drawing on the next job, by way of placing and size", rows,
			wordsIn("Job", func(r row) string { return r.name }),
			numbers("1 in 10 stays under", func(r row) say.Cell { return a.Cell(say.Percent, r.s.NextJob.P10) }),
			numbers("Half stay under", func(r row) say.Cell { return a.Cell(say.Percent, r.s.NextJob.P50) }),
			numbers("8 in 10 stay under", func(r row) say.Cell { return a.Cell(say.Percent, r.s.NextJob.P80) }),
			numbers("9 in 10 stay under", func(r row) say.Cell { return a.Cell(say.Percent, r.s.NextJob.P90) }),
			numbers("The order runs short, in 100", func(r row) say.Cell { return a.Cell(say.OfHundred, r.s.ChanceShort) }))}}
}

// fitChart draws the placements by each method and what the model expects.
func (a *Author) fitChart(methods []string) *chart.Chart {
	m := a.Units.Volume
	plot := chart.FitPlot{Id: "chart-used", Across: "on the drawing," + m.Unit, Up: "used," + m.Unit, Point: "a placement",
		Says: "A point for each placement, or for some of them where they are many: the volume on the drawing across, what it used upward. The line is the middle of what the next job will use, the band holds it 8 times in 10."}
	for _, method := range methods {
		f := chart.Fit{Name: "by " + say.Clean(method, say.LabelName)}
		end := 0.0
		for _, p := range thinnedPoints(a.f.Overage, method) {
			f.Points = append(f.Points, chart.Spot{X: p.Neat * m.Factor, Y: p.Used * m.Factor, Tip: f.Name + ": " + a.yards(p.Neat) + " on the drawing, " + a.yards(p.Used) + " used"})
			end = max(end, p.Neat)
		}
		a.fitted(&f, method, min(end, mostFitted))
		plot.Fits = append(plot.Fits, f)
	}
	return plot.Chart()
}

// mostPlotted is how many placements by one method are drawn: more only cover
// each other, and each takes time and room on the page.
const mostPlotted = 150

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

// mostFitted is the largest volume to which a line is drawn, in yd³.
const mostFitted = 60

// fitted fills a fit's line and band by the model, up to a volume.
func (a *Author) fitted(f *chart.Fit, method string, end float64) {
	const steps = 24
	m := a.Units.Volume
	if a.f.Overage.Model == nil || end <= 0 {
		return
	}
	for i := 1; i <= steps; i++ {
		neat := max(1, end*float64(i)/steps)
		next, err := a.f.Overage.Model.Next(concrete.Job{Method: method, NeatYd: neat})
		if err != nil {
			return
		}
		used := next.Used()
		f.Line = append(f.Line, chart.Spot{X: neat * m.Factor, Y: used.Quantile(0.5) * m.Factor})
		f.Band = append(f.Band, chart.Reach{X: neat * m.Factor, Low: used.Quantile(0.1) * m.Factor, High: used.Quantile(0.9) * m.Factor})
	}
}

// whereLost says where the yards beyond the drawing went.
func (a *Author) whereLost() []Exhibit {
	l := &a.f.Overage.WhereLost
	if !l.Delivered.Known() {
		return nil
	}
	type part struct {
		name, means string
		f           figure.Figure
	}
	parts := []part{
		{"Left over", "delivered and not placed", l.Leftover},
		{"Thickness", "placed thicker than drawn", l.Thickness},
		{"Area", "larger than the volume on the drawing", l.Area},
		{"Lost whatever the size", "pump line, hopper, washout", l.Fixed},
		{"Not explained", "base, forms, spills, slips of measuring", l.Unexplained},
	}
	table := TableOf("Delivered beyond the drawing, % of the drawing, over "+say.Plural(l.N, "probed placement"), append([]part{{"In all", "delivered beyond the drawing", l.Delivered}}, parts...),
		wordsIn("Part", func(p part) string { return p.name }),
		numbers("Share", func(p part) say.Cell { return a.Cell(say.Percent, p.f) }),
		wordsIn("What it is", func(p part) string { return p.means }))
	return []Exhibit{{Title: "Where the concrete goes", Table: table,
		Says: "Of each 100" + a.Units.Volume.Unit + " on the drawing, " + say.Grouped(100*l.Delivered.Value, 0) + " more were delivered: here is where they went.",
		Chart: &chart.Chart{ID: "chart-lost", Height: chart.SidewaysHeight(len(parts)),
			Says: "A bar for each place where concrete beyond the drawing went, with its range. The table holds the same figures.",
			Draw: func() *chart.Board {
				labels, rows := make([]string, len(parts)), make([]chart.ShownFigure, len(parts))
				for i, p := range parts {
					labels[i], rows[i] = p.name, chart.ShownFigure{Figure: p.f, Tip: p.name + ": " + a.Long(say.Percent, p.f)}
				}
				b := chart.Sideways(labels, "% of the drawing")
				b.Bars("share", say.Percent, rows)
				b.ErrorBars("share", say.Percent, rows)
				return b
			}}}}
}

// fixedLoss is what is lost on every job whatever its size.
func (a *Author) fixedLoss() []Exhibit {
	fixed := a.f.Overage.Fixed
	methods := slices.DeleteFunc(slices.Sorted(maps.Keys(fixed)), func(m string) bool { return !fixed[m].Known() })
	if len(methods) == 0 {
		return nil
	}
	m := say.Measure{Factor: a.Units.Volume.Factor, Digits: say.Cents}
	return []Exhibit{{Title: "Lost on every job, large or small",
		Says: "This is why a small job needs a larger share.",
		Table: TableOf("Lost whatever the size,"+a.Units.Volume.Unit+" a job", methods,
			wordsIn("Placed by", func(s string) string { return say.Clean(s, say.ShortName) }),
			numbers("Lost", func(s string) say.Cell { return a.Cell(m, fixed[s]) }),
			counts("Placements", func(s string) int { return fixed[s].N }))}}
}

// wasteByCrew compares the crews on the same placements.
func (a *Author) wasteByCrew() []Exhibit {
	type crew = concrete.CrewUse
	if len(a.f.Overage.Crews) == 0 {
		return nil
	}
	return []Exhibit{{Title: "By crew", Says: "How much more or less than an average crew each uses on the same placements.",
		Table: TableOf("Concrete used against an average crew, % of the drawing", a.f.Overage.Crews,
			wordsIn("Crew", func(c crew) string { return say.Clean(c.Crew, say.ShortName) }),
			numbers("More or less", func(c crew) say.Cell { return a.Cell(say.Percent, c.VsAverage) }),
			counts("Placements", func(c crew) int { return c.N }))}}
}

// orderFirmness shows the kinds whose order would be another one without odd
// placements, or without those that may have been cut short.
func (a *Author) orderFirmness() []Exhibit {
	type group = concrete.Group
	moved := slices.DeleteFunc(slices.Clone(a.f.Overage.Groups), func(g group) bool {
		same := func(f figure.Figure) bool { return !f.Known() || f.Value == g.OrderYd.Value }
		return !g.OrderYd.Known() || same(g.RobustOrderYd) && same(g.UncutOrderYd)
	})
	if len(moved) == 0 {
		return nil
	}
	return []Exhibit{{Title: "Orders that lean on a few placements",
		Says: "The other kinds' orders stay the same whichever way the odd placements are counted.",
		Table: TableOf("Orders at the usual size,"+a.Units.Volume.Unit+", counted three ways", moved,
			wordsIn("Kind", func(g group) string { return kindName(g, say.ShortName) }),
			numbers("Order", func(g group) say.Cell { return a.volumeCell(g.OrderYd) }),
			numbers("Odd ones counting less", func(g group) say.Cell { return a.volumeCell(g.RobustOrderYd) }),
			numbers("Without those perhaps cut short", func(g group) say.Cell { return a.volumeCell(g.UncutOrderYd) }))}}
}
