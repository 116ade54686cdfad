package page

import (
	"pourback/analysis/work"
	"pourback/report/chart"
	"pourback/report/say"
)

// drySide are the pours on one side of the limit.
type drySide struct {
	name           string
	pours, cracked int
}

// weatherMap sets how fast pours dried beside how warm the air was, and which of
// them customers called about.
func (a *Author) weatherMap(w say.Weather, known []work.Evaporation) Exhibit {
	sides := []drySide{{name: w.Within()}, {name: w.Over()}}
	for i := range known {
		s := &sides[0]
		if known[i].Over() {
			s = &sides[1]
		}
		s.pours++
		if known[i].Cracked {
			s.cracked++
		}
	}
	h := w.MapHeads()
	return Exhibit{Title: w.MapTitle(), Says: w.MapSays(), Chart: weatherMapChart(w, known),
		Table: TableOf(w.MapCaption(), sides,
			wordsIn(h.Side, func(s drySide) string { return say.Capital(s.name) }),
			counts(h.Pours, func(s drySide) int { return s.pours }),
			counts(h.Cracked, func(s drySide) int { return s.cracked }))}
}

// mostDots keeps a page small.
const mostDots = 800

// weatherMapChart draws all pours, or evenly so many of them as keep a page small.
func weatherMapChart(w say.Weather, known []work.Evaporation) *chart.Chart {
	const beyond = 1e3 // any scale
	m, shown := w.Units.Evaporation, chart.Thin(known, mostDots)
	at := w.LimitAt()
	plot := chart.ScatterPlot{ID: "chart-weather-map", Says: w.Map(len(shown), len(known)), Others: w.Sound(), Those: w.CalledAbout(),
		Across: chart.Axis{Name: w.AirAxis()}, Up: chart.Axis{Name: w.RateAxis(), From: chart.At(0)},
		Region: chart.Region{Name: w.TooFast(), Ring: []chart.Spot{{X: -beyond, Y: at}, {X: beyond, Y: at}, {X: beyond, Y: beyond}, {X: -beyond, Y: beyond}}}}
	for i := range shown {
		e := &shown[i]
		plot.Points = append(plot.Points, chart.ScatterPoint{
			Spot:   chart.Spot{X: w.Air(e.AirF), Y: e.Rate.V * m.Factor, Tip: w.PourTip(e)},
			Marked: e.Cracked})
	}
	return plot.Chart()
}
