package page

import (
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/work"
	"pourback/report/chart"
	"pourback/report/say"
)

// The small pictures of the overview, each read without a scale. None is drawn
// where there is too little: the tile's words say so.

// mostGlanced is how many rows a small picture holds.
const mostGlanced = 4

// monthGlance is what a year of months kept, with the bids behind it.
func (a *Author) monthGlance(w say.Tiles) *chart.Chart {
	m := a.f.Margin
	at := m.At(a.month)
	if at < 0 {
		return nil
	}
	shown := m.Months[max(0, at-12) : at+1]
	last := &shown[len(shown)-1]
	if len(shown) < 3 || !last.MarginPct.Known() {
		return nil
	}
	kept := chart.Series{Name: w.KeptAt(last.MarginPct.Value), Hue: chart.Own, Last: true}
	bids := chart.Series{Name: w.BidAt(last.BidMarginPct.Value), Hue: chart.Bid}
	for i := range shown {
		if f := shown[i].MarginPct; f.Known() {
			kept.At = append(kept.At, chart.Spot{X: float64(i), Y: f.Value})
		}
		if f := shown[i].BidMarginPct; f.Known() && last.BidMarginPct.Known() {
			bids.At = append(bids.At, chart.Spot{X: float64(i), Y: f.Value})
		}
	}
	return chart.LinePlot{ID: "tile-month", Says: w.MonthSays(a.Month(shown[0].Month), a.Month(last.Month)), Small: true, And: a.List,
		Across: chart.Axis{Marks: []chart.Rule{{Name: a.ShortMonth(shown[0].Month), At: 0}, {Name: a.ShortMonth(last.Month), At: float64(len(shown) - 1)}}},
		Lines:  []chart.Series{bids, kept}}.Chart()
}

// orderGlance is what to add by the size of the job, for the commonest ways of
// placing.
func (a *Author) orderGlance(w say.Tiles) *chart.Chart {
	plot := chart.LinePlot{ID: "tile-orders", Says: w.OrderSays(), Small: true, And: a.List}
	high, low := 0.0, 1.0
	rows := a.sizeRows()
	for _, r := range a.byMethod(rows) {
		if !r.anyUse() || len(plot.Lines) == 3 || r.at[0].Method == "unknown" {
			continue
		}
		line := chart.Series{Name: say.Clean(w.Word(r.at[0].Method), say.LabelName), Hue: chart.HueOf(r.at[0].Method)}
		for _, s := range r.at {
			if s.OrderYd.Known() {
				share := s.OrderYd.Value/s.NeatYd - 1
				line.At = append(line.At, chart.Spot{X: s.NeatYd, Y: 100 * share})
				high, low = max(high, share), min(low, share)
			}
		}
		plot.Lines = append(plot.Lines, line)
	}
	if len(plot.Lines) == 0 || high <= low {
		return nil
	}
	sizes := rows[0].at
	for _, s := range []int{0, len(sizes) - 1} {
		plot.Across.Marks = append(plot.Across.Marks, chart.Rule{Name: a.Yards(sizes[s].NeatYd), At: sizes[s].NeatYd})
	}
	plot.Up.Marks = []chart.Rule{{Name: a.Percent(high), At: 100 * high}, {Name: a.Percent(low), At: 100 * low}}
	return plot.Chart()
}

// byMethod puts the ways of placing that most pours went by first.
func (a *Author) byMethod(rows []sizeRow) []sizeRow {
	n := map[string]int{}
	for _, g := range a.f.Overage.Groups {
		n[g.Method] += g.N
	}
	return most(rows, func(r sizeRow) int { return n[r.at[0].Method] })
}

// oneSeries is a row plot's only series.
func oneSeries(bar bool) []chart.RowSeries { return []chart.RowSeries{{Hue: chart.Own, Bar: bar}} }

// steelGlance is what mesh and rebar cost, callbacks counted.
func (a *Author) steelGlance(w say.Tiles) *chart.Chart {
	steel := say.Steel{Voice: a.Voice}
	plot := chart.RowPlot{ID: "tile-steel", Says: w.SteelSays(), Small: true, Zero: true, Series: oneSeries(true), Ends: [2]string{w.SteelScale(), ""}}
	for _, r := range steelCostRows(steel, &a.f.Reinforcement.MeshVsRebar.Money) {
		plot.Rows = append(plot.Rows, chart.Row{Label: r.way, Amounts: []chart.Amount{chart.Of(r.all, w.PerArea().Factor, "").With(w.AreaCost(r.all.Value)).As(chart.HueOf(r.kind))}})
	}
	return plot.Chart()
}

// crewGlance is each crew's hours against an average one.
func (a *Author) crewGlance(w say.Tiles) *chart.Chart {
	plot := chart.RowPlot{ID: "tile-crews", Says: w.CrewSays(), Small: true, Ratio: true, Series: oneSeries(false), Rule: chart.Rule{Name: say.Crews(w).Average(), At: 1}, Sides: [2]string{w.Faster(), w.Slower()}}
	crews := a.comparedCrews()
	if len(crews) < 2 {
		return nil
	}
	for _, c := range crews[:min(len(crews), mostGlanced)] {
		plot.Rows = append(plot.Rows, chart.Row{Label: say.Clean(c.Crew, say.LabelName), Amounts: []chart.Amount{chart.Of(c.HoursVsAverage, 1, "").As(a.crewHue(c.Crew))}})
	}
	return plot.Chart()
}

// pumpGlance is how often each outfit's line plugs.
func (a *Author) pumpGlance(w say.Tiles) *chart.Chart {
	up, high := a.Units.Clogs.Factor, 0.0
	plot := chart.RowPlot{ID: "tile-pump", Says: w.PumpSays(), Small: true, Zero: true, Series: oneSeries(false)}
	outfits := slices.DeleteFunc(most(a.f.Pump.Outfits, func(o work.PumpOutfit) int { return o.Placements }), func(o work.PumpOutfit) bool { return !o.Pooled.Known() || o.Outfit == "unknown" })
	for _, o := range outfits[:min(len(outfits), mostGlanced)] {
		plot.Rows = append(plot.Rows, chart.Row{Label: say.Clean(a.Named(o.Outfit), say.LabelName), Amounts: []chart.Amount{chart.Of(o.Pooled, up, "")}})
		high = max(high, o.Pooled.High*up)
	}
	if len(plot.Rows) < 2 {
		return nil
	}
	plot.Ends = [2]string{"0", w.RateEnd(high)}
	return plot.Chart()
}

// crackGlance is the share of slabs without a crack over the first years.
func (a *Author) crackGlance(w say.Tiles) *chart.Chart {
	c := a.f.Cracks
	if c.All.Callbacks < cracks.FewestWatched || c.All.Curve == nil {
		return nil
	}
	const years = 2
	line, least := chart.Series{Name: w.WithoutCall(c.Event), Hue: chart.Own, Step: true, At: []chart.Spot{{X: 0, Y: 100}}}, 100.0
	end := min(years, c.All.Curve.End()/chart.DaysPerYear)
	for _, s := range c.All.Curve.Steps() {
		if age := s.Day / chart.DaysPerYear; age <= end {
			least = 100 * (1 - s.Cracked.Value)
			line.At = append(line.At, chart.Spot{X: age, Y: least})
		}
	}
	if least == 100 {
		return nil
	}
	line.At = append(line.At, chart.Spot{X: end, Y: least})
	plot := chart.LinePlot{ID: "tile-cracks", Says: w.CrackSays(c.Event, say.Grouped(least, 0), end), Small: true, Lines: []chart.Series{line},
		Up: chart.Axis{Marks: []chart.Rule{{Name: "100", At: 100}, {Name: say.Grouped(least, 0), At: least}}, To: chart.At(100)}}
	for year := 1; float64(year) <= end; year++ {
		plot.Across.Marks = append(plot.Across.Marks, chart.Rule{Name: w.Years(year), At: float64(year)})
	}
	return plot.Chart()
}

// worthGlance are the facts worth most, in money a year.
func (a *Author) worthGlance(w say.Tiles) *chart.Chart {
	plot := chart.RowPlot{ID: "tile-worth", Says: w.WorthSays(), Small: true, Zero: true, Series: oneSeries(true)}
	for _, f := range a.worth() {
		if len(plot.Rows) < 3 {
			plot.Rows = append(plot.Rows, chart.Row{Label: w.Fact(f.Told), Amounts: []chart.Amount{chart.Of(f.Dollars, 1, "").With(a.Dollars(f.Dollars.Value))}})
		}
	}
	return plot.Chart()
}
