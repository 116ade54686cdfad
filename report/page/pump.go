package page

import (
	"pourback/analysis/findings"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/work"
	"pourback/report/chart"
	"pourback/report/say"
)

// pump says how often the pump line clogs, whose, and where the time goes.
func (a *Author) pump() Page {
	w := say.Pump{Voice: a.Voice}
	p := Page{Slug: pumpSlug, Title: w.Title(), Method: w.Method(), Cautions: a.beware(say.PluggedHose)}
	if a.empty() {
		return a.begin(p, w.Will(), w.Takes())
	}
	all := a.f.Pump.All
	p.Answer = w.Answer(a.f.Pump)
	p.Basis = a.basis(all.Placements, w.Counted)
	if all.Placements == 0 {
		p.Exhibits = a.delayExhibits()
		p.Notes = []string{a.itTakes(w.Takes())}
		return p
	}
	p.Exhibits = slices.Concat([]Exhibit{a.byOutfit()}, a.outfitTurns(), a.delayExhibits(), a.clogTime(), a.byMix())
	if p.Do = a.todo(2, findings.KindOutfit, findings.KindWaiting); len(p.Do) == 0 {
		p.Do = []string{say.Todo{Voice: a.Voice}.NoOutfit()}
	}
	if d := a.f.Pump.Delays; d != nil && len(d.Causes) > 0 {
		p.Do = append(p.Do, say.Delays{Voice: a.Voice}.Most(d.Causes))
	}
	p.Notes = w.Notes(a.f.Pump)
	if d := a.f.Pump.Delays; d != nil {
		p.Notes = append(p.Notes, say.Delays{Voice: a.Voice}.Notes(d)...)
	}
	return p
}

// outfitTurns is what would change which outfit to call.
func (a *Author) outfitTurns() []Exhibit {
	w, p := say.Pump{Voice: a.Voice}, a.f.Pump
	return leversOf(a.Voice, decision{id: "chart-outfit-turns", says: w.TurnsSay(p), caption: w.TurnsCaption(p.Rivals), head: w.TurnsHead(), comes: a.Exactly,
		turns: turnsOf("", p.TurnedBy), scale: w.TurnsAxis(p.Rivals), factor: 1, between: true})
}

// outfitRow is a group's record, or that of all of them.
type outfitRow struct {
	work.PumpOutfit
	name string
	all  bool
}

// pumpColumns show groups of pumped placements.
func (a *Author) pumpColumns(head string) []ColumnOf[outfitRow] {
	w := say.Pump{Voice: a.Voice}
	m := say.Measure{Factor: a.Units.Clogs.Factor, Digits: say.Tenths}
	return []ColumnOf[outfitRow]{
		wordsIn(head, func(o outfitRow) string { return o.name }),
		numbers(w.HeadRate(), func(o outfitRow) say.Cell { return a.Cell(m, o.ClogsPer100) }),
		{Head: w.HeadExpect(), Number: true, Ahead: true, Cell: func(o outfitRow) say.Cell { return a.pooledCell(m, o, o.Pooled) }},
		numbers(w.HeadClogs(), func(o outfitRow) say.Cell { return say.Whole(o.Clogs) }),
		numbers(w.HeadPumped(), func(o outfitRow) say.Cell { return a.Exact(a.Units.Volume, o.PumpedYd) }),
		numbers(w.HeadPlaced(), func(o outfitRow) say.Cell { return say.Whole(o.Placements) }),
		{Head: w.HeadNext(10), Number: true, Ahead: true, Cell: func(o outfitRow) say.Cell { return a.pooledCell(say.OfHundred, o, o.NextClog) }},
	}
}

// pooledCell is blank for all together, which are not pooled with themselves.
func (a *Author) pooledCell(m say.Measure, o outfitRow, f figure.Figure) say.Cell {
	if o.all {
		return say.Blank()
	}
	return a.Cell(m, f)
}

// byOutfit compares the outfits, with the limits of chance.
func (a *Author) byOutfit() Exhibit {
	w := say.Pump{Voice: a.Voice}
	outfits := most(a.f.Pump.Outfits, func(o work.PumpOutfit) int { return o.Placements })
	var rows []outfitRow
	if len(outfits) > 1 {
		rows = append(rows, outfitRow{a.f.Pump.All, w.All(), true})
	}
	for _, o := range outfits {
		rows = append(rows, outfitRow{o, a.Named(o.Outfit), false})
	}
	return Exhibit{Title: w.OutfitsTitle(), Chart: a.funnel(outfits), Table: TableOf(w.OutfitsCaption(), rows, a.pumpColumns(w.HeadOutfit())...), Says: w.OutfitsSay()}
}

// funnel draws the outfits' rates by how much each has pumped.
func (a *Author) funnel(outfits []work.PumpOutfit) *chart.Chart {
	w, p := say.Pump{Voice: a.Voice}, a.f.Pump
	across, up := a.Units.Volume.Factor, a.Units.Clogs.Factor
	plot := chart.FunnelPlot{ID: "chart-pump", Basis: w.PumpedAxis(), Rate: w.RateAxis(), All: w.AllOutfits(), Center: p.All.ClogsPer100.Value * up, Says: w.FunnelSays()}
	widest := 0.0
	for _, o := range outfits {
		widest = max(widest, o.PumpedYd)
	}
	const steps = 40
	for i := 1; i <= steps; i++ {
		yd := 1.05 * widest * float64(i) / steps
		for _, l := range []struct {
			level float64
			to    *[]chart.Reach
		}{{0.95, &plot.Inner}, {0.998, &plot.Outer}} {
			low, high := p.Limits(yd, l.level)
			*l.to = append(*l.to, chart.Reach{X: yd * across, Low: low * up, High: high * up})
		}
	}
	for _, o := range outfits[:min(len(outfits), chart.MostKinds)] {
		plot.Points = append(plot.Points, chart.FunnelPoint{
			Spot: chart.Spot{X: o.PumpedYd * across, Y: o.ClogsPer100.Value * up, Tip: w.Tip(a.Named(o.Outfit), o)},
			Name: say.Clean(a.Named(o.Outfit), say.LabelName), Outside: p.Outside(o, 0.95)})
	}
	plot.Words = a.funnelWords()
	return plot.Chart()
}

// byMix shows the clogs by mix, by hose and by aggregate.
func (a *Author) byMix() []Exhibit {
	w := say.Pump{Voice: a.Voice}
	var rows []outfitRow
	for _, by := range []struct {
		groups []work.PumpOutfit
		name   func(string) string
	}{{a.f.Pump.Mixes, w.Mix}, {a.f.Pump.Hoses, w.Hose}, {a.f.Pump.Aggregates, w.Stone}} {
		if len(by.groups) == 1 && by.groups[0].Outfit == "unknown" {
			continue
		}
		for _, g := range by.groups {
			rows = append(rows, outfitRow{g, by.name(g.Outfit), false})
		}
	}
	if len(rows) == 0 {
		return nil
	}
	return []Exhibit{{Title: w.MixesTitle(), Table: TableOf(w.MixesCaption(), rows, a.pumpColumns(w.HeadGroup())...), Says: w.MixesSay(),
		Chart: a.mixesChart(rows[:min(len(rows), chart.MostKinds)])}}
}

func (a *Author) mixesChart(rows []outfitRow) *chart.Chart {
	w, m := say.Pump{Voice: a.Voice}, say.Measure{Factor: a.Units.Clogs.Factor}
	plot := chart.RowPlot{ID: "chart-mixes", Says: w.MixesChart(), Scale: w.RateAxis(), Zero: true, Series: []chart.RowSeries{{Hue: chart.Own}}}
	for _, o := range rows {
		rate := chart.Of(o.ClogsPer100, m.Factor, w.Tip(o.name, o.PumpOutfit)).With(a.Value(m, o.ClogsPer100))
		plot.Rows = append(plot.Rows, chart.Row{Label: say.Clean(o.name, say.ShortName), Amounts: []chart.Amount{rate}})
	}
	return plot.Chart()
}

// clogTime is the time that clogs and other delays take.
func (a *Author) clogTime() []Exhibit {
	type row struct {
		says string
		f    figure.Figure
	}
	w, p := say.Pump{Voice: a.Voice}, a.f.Pump
	rows := slices.DeleteFunc([]row{{w.ClogMinutes(), p.MinutesLost}, {w.PerClog(), p.PerClog}, {w.PerJob(), p.DelayPerJob}}, func(r row) bool { return !r.f.Known() })
	if len(rows) == 0 {
		return nil
	}
	says := ""
	if p.ClogCost.Known() {
		says = w.ClogCost(p.ClogCost)
	}
	return []Exhibit{{Title: w.TimeTitle(), Says: says, Table: TableOf(w.TimeCaption(), rows,
		wordsIn(w.HeadWhat(), func(r row) string { return r.says }),
		numbers(w.HeadMinutes(), func(r row) say.Cell { return a.Cell(say.Wholes, r.f) }),
		counts(w.HeadFrom(), func(r row) int { return r.f.N }))}}
}
