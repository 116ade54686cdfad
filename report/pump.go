package report

import (
	"fmt"
	"slices"
	"strconv"

	"pourback/analysis/figure"
	"pourback/analysis/work"
)

// pump says how often the pump line plugs, whose, and where the time goes.
func (a *author) pump() Page {
	p := Page{Slug: pumpSlug, Title: "Pump and delays", Method: []string{
		"A rate is all clogs over all yards delivered, from the pumped placements that record both. Its range is exact for counts that come at random (Garwood 1936): it holds even where there was no clog.",
		"“Expect” draws each rate toward those of the others, the more the less it rests on: a few clogs in few yards may be luck (gamma-Poisson model; Gelman and others, Bayesian Data Analysis).",
		"The limits on the funnel are those within which chance keeps the rate of an outfit that is like all together: 19 in 20, and 998 in 1,000 (Spiegelhalter 2005). Whether all outfits could be alike is an exact test of equal rates.",
		"Minutes lost are added up; minutes a clog are those minutes over the clogs, with the range of a ratio (Cochran 1977, §6.4). Minutes of each cause have a range from Student's t distribution, shares of loads from Wilson's interval (1927).",
	}, Cautions: []Caution{pluggedHose}}
	const takes = "the method, the pump outfit, the yards delivered and the number of clogs (0 where there was none) of each pumped placement"
	if a.empty() {
		return a.begin(p, "how often the pump line plugs, and where time is lost", takes)
	}
	all := a.f.Pump.All
	p.Basis = a.basis(all.Placements, "pumped placement")
	if all.Placements == 0 {
		p.Answer = "The records cannot say how often the pump line plugs: no pumped placement has both its yards and its clogs."
		p.Exhibits = a.delayExhibits()
		p.Notes = []string{"It takes " + takes + "."}
		return p
	}
	p.Answer = a.pumpAnswer()
	p.Exhibits = slices.Concat([]Exhibit{a.byOutfit()}, a.delayExhibits(), a.clogTime(), a.byMix())
	p.Notes = append(a.pumpNotes(), a.lateNote()...)
	p.Notes = append(p.Notes, a.saidAll(a.f.Pump.Notes)...)
	return p
}

// clogRate says a rate of clogs in a sentence: "3 times in 100 yd³".
func (a *author) clogRate() measure {
	return measure{factor: a.units.clogs.factor, unit: " times in 100" + a.units.volume.unit, digits: round}
}

// pumpAnswer: "The pump line plugs 3 times in 100 yd³ (between 2 and 4) and each
// clog costs about 25 minutes; no outfit is shown to be better than another."
func (a *author) pumpAnswer() string {
	all := a.f.Pump.All
	yards := a.units.volume.exact(all.PumpedYd).Text + a.units.volume.unit
	if all.Clogs == 0 {
		return "The pump line has not plugged in " + yards + " over " + plural(all.Placements, "placement") + ", which leaves room for up to " + a.clogRate().at(all.ClogsPer100.High) + "."
	}
	s := "The pump line plugs " + a.clogRate().long(all.ClogsPer100) + ", " + plural(all.Clogs, "clog") + " so far"
	if each := a.f.Pump.PerClog; each.Known() {
		s += ", and each clog costs about " + minutes.value(each)
	}
	return s + "; " + a.outfitVerdict() + "."
}

var minutes = measure{factor: 1, unit: " minutes", digits: round}

// outfitVerdict says whether one outfit is to be preferred.
func (a *author) outfitVerdict() string {
	p := a.f.Pump
	if !p.SameRate.Known() {
		return "there is too little to tell one outfit from another"
	}
	named := slices.DeleteFunc(slices.Clone(p.Outfits), func(o work.PumpOutfit) bool { return o.Outfit == "unknown" || !o.Pooled.Known() })
	if p.SameRate.Value > 0.10 || len(named) < 2 {
		return "no outfit is shown to be better than another"
	}
	byRate := func(x, y work.PumpOutfit) int {
		if x.Pooled.Value < y.Pooled.Value {
			return -1
		}
		return 1
	}
	best, worst := slices.MinFunc(named, byRate), slices.MaxFunc(named, byRate)
	return clean(best.Outfit, labelName) + " plugs least and " + clean(worst.Outfit, labelName) + " most"
}

func (a *author) pumpNotes() []string {
	var notes []string
	if same := a.f.Pump.SameRate; same.Known() {
		notes = append(notes, "Differences between outfits as large as these come by chance "+sureText(same.Value)+" times in 100.")
	}
	return append(notes, "Outfits differ by mix, hose and job too: a high rate is a reason to look, not a verdict.")
}

// outfitRow is a group's record, or that of all of them.
type outfitRow struct {
	work.PumpOutfit
	name string
}

// pumpColumns show groups of pumped placements.
func (a *author) pumpColumns(head string) []column[outfitRow] {
	m := measure{factor: a.units.clogs.factor, digits: tenths}
	return []column[outfitRow]{
		wordsIn(head, func(o outfitRow) string { return o.name }),
		numbers("Clogs"+a.units.clogs.unit, func(o outfitRow) Cell { return m.cell(o.ClogsPer100) }),
		{head: "Expect", number: true, ahead: true, cell: func(o outfitRow) Cell { return pooledCell(m, o, o.Pooled) }},
		numbers("Clogs", func(o outfitRow) Cell { return whole(o.Clogs) }),
		numbers("Pumped,"+a.units.volume.unit, func(o outfitRow) Cell { return a.units.volume.exact(o.PumpedYd) }),
		numbers("Placements", func(o outfitRow) Cell { return whole(o.Placements) }),
		{head: "A clog on the next " + a.yards(10) + ", in 100", number: true, ahead: true, cell: func(o outfitRow) Cell { return pooledCell(ofHundred, o, o.NextClog) }},
	}
}

// pooledCell is blank for all together, which are not pooled with themselves.
func pooledCell(m measure, o outfitRow, f figure.Figure) Cell {
	if o.name == "all" {
		return blank()
	}
	return m.cell(f)
}

// byOutfit compares the outfits, with the limits of chance.
func (a *author) byOutfit() Exhibit {
	outfits := most(a.f.Pump.Outfits, func(o work.PumpOutfit) int { return o.Placements })
	var rows []outfitRow
	if len(outfits) > 1 {
		rows = append(rows, outfitRow{a.f.Pump.All, "all"})
	}
	for _, o := range outfits {
		rows = append(rows, outfitRow{o, clean(o.Outfit, shortName)})
	}
	return Exhibit{Title: "By pump outfit", Chart: a.funnel(outfits), Table: tableOf("Clogs by pump outfit", rows, a.pumpColumns("Outfit")...),
		Says: "An outfit between the dashed lines differs from the rest by no more than luck could make it."}
}

// funnel draws the outfits' rates by how much each has pumped.
func (a *author) funnel(outfits []work.PumpOutfit) *Chart {
	m, rate := a.units.volume, a.f.Pump.All.ClogsPer100.Value
	plot := funnelPlot{id: "chart-pump", basis: "pumped," + m.unit, rate: "clogs" + a.units.clogs.unit, all: "all outfits", center: rate * a.units.clogs.factor,
		says: "A point for each pump outfit: how much it has pumped across, its clogs per 100 of that upward, with the line of all outfits and the limits within which luck keeps them. The table holds the same figures."}
	widest := 0.0
	for _, o := range outfits {
		widest = max(widest, o.PumpedYd)
	}
	const steps = 40
	for i := 1; i <= steps; i++ {
		yd := 1.05 * widest * float64(i) / steps
		for _, l := range []struct {
			level float64
			to    *[]reach
		}{{0.95, &plot.inner}, {0.998, &plot.outer}} {
			low, high := chanceCounts(rate*yd/100, l.level)
			*l.to = append(*l.to, reach{yd * m.factor, low / yd * 100 * a.units.clogs.factor, high / yd * 100 * a.units.clogs.factor})
		}
	}
	for _, o := range outfits[:min(len(outfits), mostKinds)] {
		low, high := chanceCounts(rate*o.PumpedYd/100, 0.95)
		f := o.ClogsPer100
		plot.points = append(plot.points, funnelPoint{
			spot: spot{o.PumpedYd * m.factor, f.Value * a.units.clogs.factor, clean(o.Outfit, shortName) + ": " + plural(o.Clogs, "clog") + ", " + a.units.clogs.long(f) + ", from " + plural(o.Placements, "placement")},
			name: clean(o.Outfit, labelName), outside: float64(o.Clogs) < low || float64(o.Clogs) > high})
	}
	return plot.chart()
}

// byMix shows the clogs by mix, by hose and by aggregate.
func (a *author) byMix() []Exhibit {
	var rows []outfitRow
	for _, by := range []struct {
		groups []work.PumpOutfit
		name   func(string) string
	}{
		{a.f.Pump.Mixes, func(s string) string { return "mix " + clean(s, labelName) }},
		{a.f.Pump.Hoses, func(s string) string { return "hose " + a.inches(s) }},
		{a.f.Pump.Aggregates, func(s string) string { return "stone " + a.inches(s) }},
	} {
		if len(by.groups) == 1 && by.groups[0].Outfit == "unknown" {
			continue
		}
		for _, g := range by.groups {
			rows = append(rows, outfitRow{g, by.name(g.Outfit)})
		}
	}
	if len(rows) == 0 {
		return nil
	}
	m := measure{factor: a.units.clogs.factor}
	return []Exhibit{{Title: "By mix, hose and stone", Table: tableOf("Clogs by mix, by inside diameter of the hose and by largest stone", rows, a.pumpColumns("Group")...),
		Says: "Each looked at by itself: the small stone also goes through the small hose, so this does not say which of them it is. The largest stone belongs in a line at least three times as wide, four times to be safe (ACI 304).",
		Chart: &Chart{ID: "chart-mixes", Height: sidewaysHeight(min(len(rows), mostKinds)),
			Says: "A point for each mix, hose and size of stone: its clogs per 100 pumped, with the exact range. The table holds the same figures.",
			draw: func() *board {
				shown := rows[:min(len(rows), mostKinds)]
				labels, points := make([]string, len(shown)), make([]shownFigure, len(shown))
				for i, o := range shown {
					labels[i] = clean(o.name, labelName)
					points[i] = shownFigure{o.ClogsPer100, o.name + ": " + plural(o.Clogs, "clog") + ", " + a.units.clogs.long(o.ClogsPer100)}
				}
				b := sideways(labels, "clogs"+a.units.clogs.unit)
				b.marks("rate", "circle", m, points)
				b.errorBars("rate", m, points)
				return b
			}}}}
}

// inches is a diameter of the records in an owner's words: "3/8 in".
func (a *author) inches(s string) string {
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case err != nil:
		return clean(s, labelName)
	case a.units.si:
		return grouped(25.4*v, 0) + " mm"
	}
	eighths := int(v*8 + 0.5)
	if v <= 0 || v >= 12 || float64(eighths) != v*8 {
		return s + " in"
	}
	top, bottom := eighths%8, 8
	for top > 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	switch {
	case top == 0:
		return strconv.Itoa(eighths/8) + " in"
	case eighths < 8:
		return fmt.Sprintf("%d/%d in", top, bottom)
	}
	return fmt.Sprintf("%d %d/%d in", eighths/8, top, bottom)
}

// clogTime is the time that clogs and other delays take.
func (a *author) clogTime() []Exhibit {
	type row struct {
		says string
		f    figure.Figure
	}
	p := a.f.Pump
	var rows []row
	for _, r := range []row{{"Minutes lost to clogs, in all", p.MinutesLost}, {"Minutes a clog costs", p.PerClog}, {"Minutes a pumped placement loses to all delays", p.DelayPerJob}} {
		if r.f.Known() {
			rows = append(rows, r)
		}
	}
	if len(rows) == 0 {
		return nil
	}
	says := ""
	if cost := p.ClogCost; cost.Known() {
		says = "While the line was plugged, the crews' wait came to " + a.cash().at(cost.Value) + " at the labor rate, over " + plural(cost.N, "pumped placement") + "."
	}
	return []Exhibit{{Title: "The time it takes", Says: says, Table: tableOf("Minutes lost on pumped placements", rows,
		wordsIn("What", func(r row) string { return r.says }),
		numbers("Minutes", func(r row) Cell { return wholes.cell(r.f) }),
		counts("From", func(r row) int { return r.f.N }))}}
}
