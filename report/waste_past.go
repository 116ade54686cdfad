package report

import (
	"maps"
	"math"
	"slices"

	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
)

func kindName(g concrete.Group, most int) string {
	if g.Use == "" {
		return "all"
	}
	return clean(g.Use+", "+g.Method, most)
}

// wastePast is what all placements together used over the drawing.
func wastePast(all concrete.Group) string {
	ratio, more := all.RatioOfTotals, "more"
	if ratio.Value < 0 {
		ratio.Value, ratio.Low, ratio.High, more = -ratio.Value, -ratio.High, -ratio.Low, "less"
	}
	return "So far the jobs have used " + percent.of(more+" concrete than drawn").long(ratio) + ", all together."
}

// pastWaste is what the placements of each kind used.
func (a *author) pastWaste() Exhibit {
	type group = concrete.Group
	o := a.f.Overage
	order := most(indices(len(o.Groups)), func(i int) int { return o.Groups[i].N })
	groups := make([]group, len(order))
	for k, i := range order {
		groups[k] = o.Groups[i]
	}
	table := tableOf("Waste by kind of placement", append(allKinds(o, len(groups)), groups...),
		wordsIn("Kind", func(g group) string { return kindName(g, shortName) }),
		numbers("Average", func(g group) Cell { return percent.cell(g.RawMean) }),
		numbers("All concrete together", func(g group) Cell { return percent.cell(g.RatioOfTotals) }),
		numbers("Half stayed under", func(g group) Cell { return percent.cell(g.Past.P50) }),
		numbers("9 in 10 stayed under", func(g group) Cell { return percent.cell(g.Past.P90) }),
		counts("Placements", func(g group) int { return g.N }))
	return Exhibit{Title: "What past placements used", Chart: a.wasteBoxes(groups, order), Table: table,
		Says: "Concrete used over the drawing, kind by kind."}
}

// mostKinds keeps a chart readable on a phone.
const mostKinds = 12

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
func (a *author) wasteBoxes(groups []concrete.Group, which []int) *Chart {
	ratios := make([][]float64, len(a.f.Overage.Groups))
	for _, p := range a.f.Overage.Points {
		ratios[p.Group] = append(ratios[p.Group], p.Ratio())
	}
	plot := boxPlot{id: "chart-waste", scale: "used over the drawing, %",
		says: "A box for each kind of placement: the middle half of its placements, a line at the middle one, and whiskers from the 1 in 10 that used least to the 1 in 10 that used most. The table holds the same figures."}
	for k, g := range groups[:min(len(groups), mostKinds)] {
		r := boxRow{label: kindName(g, labelName), n: g.N, tip: kindName(g, shortName) + ": half stayed under " + percent.value(g.Past.P50) + ", from " + plural(g.N, "placement")}
		for i := range r.five {
			r.five[i] = math.NaN()
		}
		if five, err := interval.Quantiles(ratios[which[k]], 0.1, 0.25, 0.5, 0.75, 0.9); err == nil {
			for i, v := range five {
				r.five[i] = 100 * v
			}
		}
		plot.rows = append(plot.rows, r)
	}
	return plot.chart()
}

// usedOnNeat draws each placement's yards against the drawing, with what the
// next one will take, for the two commonest ways of placing.
func (a *author) usedOnNeat() []Exhibit {
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
				rows = append(rows, row{clean(method, labelName) + ", " + a.yards(s.NeatYd), s})
			}
		}
	}
	if len(rows) == 0 {
		return nil
	}
	return []Exhibit{{Title: "The next job, whatever is placed",
		Says:  "How much more than the drawing the next job will use: most likely the middle column, 8 times in 10 between the first and the last.",
		Chart: a.fitChart(methods),
		Table: tableOf("Used over the drawing on the next job, by way of placing and size", rows,
			wordsIn("Job", func(r row) string { return r.name }),
			numbers("1 in 10 stays under", func(r row) Cell { return percent.cell(r.s.NextJob.P10) }),
			numbers("Half stay under", func(r row) Cell { return percent.cell(r.s.NextJob.P50) }),
			numbers("8 in 10 stay under", func(r row) Cell { return percent.cell(r.s.NextJob.P80) }),
			numbers("9 in 10 stay under", func(r row) Cell { return percent.cell(r.s.NextJob.P90) }),
			numbers("The order runs short, in 100", func(r row) Cell { return ofHundred.cell(r.s.ChanceShort) }))}}
}

// fitChart draws the placements by each method and what the model expects.
func (a *author) fitChart(methods []string) *Chart {
	m := a.units.volume
	plot := fitPlot{id: "chart-used", across: "on the drawing," + m.unit, up: "used," + m.unit, point: "a placement",
		says: "A point for each placement, or for some of them where they are many: the volume on the drawing across, what it used upward. The line is the middle of what the next job will use, the band holds it 8 times in 10."}
	for _, method := range methods {
		f := fit{name: "by " + clean(method, labelName)}
		end := 0.0
		for _, p := range thinnedPoints(a.f.Overage, method) {
			f.points = append(f.points, spot{p.Neat * m.factor, p.Used * m.factor, f.name + ": " + a.yards(p.Neat) + " on the drawing, " + a.yards(p.Used) + " used"})
			end = max(end, p.Neat)
		}
		a.fitted(&f, method, min(end, mostFitted))
		plot.fits = append(plot.fits, f)
	}
	return plot.chart()
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
	return thin(points, mostPlotted)
}

// mostFitted is the largest volume to which a line is drawn, in yd³.
const mostFitted = 60

// fitted fills a fit's line and band by the model, up to a volume.
func (a *author) fitted(f *fit, method string, end float64) {
	const steps = 24
	m := a.units.volume
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
		f.line = append(f.line, spot{x: neat * m.factor, y: used.Quantile(0.5) * m.factor})
		f.band = append(f.band, reach{neat * m.factor, used.Quantile(0.1) * m.factor, used.Quantile(0.9) * m.factor})
	}
}

// whereLost says where the yards beyond the drawing went.
func (a *author) whereLost() []Exhibit {
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
	table := tableOf("Delivered beyond the drawing, % of the drawing, over "+plural(l.N, "probed placement"), append([]part{{"In all", "delivered beyond the drawing", l.Delivered}}, parts...),
		wordsIn("Part", func(p part) string { return p.name }),
		numbers("Share", func(p part) Cell { return percent.cell(p.f) }),
		wordsIn("What it is", func(p part) string { return p.means }))
	return []Exhibit{{Title: "Where the concrete goes", Table: table,
		Says: "Of each 100" + a.units.volume.unit + " on the drawing, " + grouped(100*l.Delivered.Value, 0) + " more were delivered: here is where they went.",
		Chart: &Chart{ID: "chart-lost", Height: sidewaysHeight(len(parts)),
			Says: "A bar for each place where concrete beyond the drawing went, with its range. The table holds the same figures.",
			draw: func() *board {
				labels, rows := make([]string, len(parts)), make([]shownFigure, len(parts))
				for i, p := range parts {
					labels[i], rows[i] = p.name, shownFigure{p.f, p.name + ": " + percent.long(p.f)}
				}
				b := sideways(labels, "% of the drawing")
				b.bars("share", percent, rows)
				b.errorBars("share", percent, rows)
				return b
			}}}}
}

// fixedLoss is what is lost on every job whatever its size.
func (a *author) fixedLoss() []Exhibit {
	fixed := a.f.Overage.Fixed
	methods := slices.DeleteFunc(slices.Sorted(maps.Keys(fixed)), func(m string) bool { return !fixed[m].Known() })
	if len(methods) == 0 {
		return nil
	}
	m := measure{factor: a.units.volume.factor, digits: cents}
	return []Exhibit{{Title: "Lost on every job, large or small",
		Says: "This is why a small job needs a larger share.",
		Table: tableOf("Lost whatever the size,"+a.units.volume.unit+" a job", methods,
			wordsIn("Placed by", func(s string) string { return clean(s, shortName) }),
			numbers("Lost", func(s string) Cell { return m.cell(fixed[s]) }),
			counts("Placements", func(s string) int { return fixed[s].N }))}}
}

// wasteByCrew compares the crews on the same placements.
func (a *author) wasteByCrew() []Exhibit {
	type crew = concrete.CrewUse
	if len(a.f.Overage.Crews) == 0 {
		return nil
	}
	return []Exhibit{{Title: "By crew", Says: "How much more or less than an average crew each uses on the same placements.",
		Table: tableOf("Concrete used against an average crew, % of the drawing", a.f.Overage.Crews,
			wordsIn("Crew", func(c crew) string { return clean(c.Crew, shortName) }),
			numbers("More or less", func(c crew) Cell { return percent.cell(c.VsAverage) }),
			counts("Placements", func(c crew) int { return c.N }))}}
}

// orderFirmness shows the kinds whose order would be another one without odd
// placements, or without those that may have been cut short.
func (a *author) orderFirmness() []Exhibit {
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
		Table: tableOf("Orders at the usual size,"+a.units.volume.unit+", counted three ways", moved,
			wordsIn("Kind", func(g group) string { return kindName(g, shortName) }),
			numbers("Order", func(g group) Cell { return a.volumeCell(g.OrderYd) }),
			numbers("Odd ones counting less", func(g group) Cell { return a.volumeCell(g.RobustOrderYd) }),
			numbers("Without those perhaps cut short", func(g group) Cell { return a.volumeCell(g.UncutOrderYd) }))}}
}
