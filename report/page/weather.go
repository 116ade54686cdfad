package page

import (
	"cmp"
	"math"
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/work"
	"pourback/report/chart"
	"pourback/report/say"
)

// weather says how fast the air dried each pour's fresh surface, and what heat
// and cold did to the work.
func (a *Author) weather() Page {
	w := say.Weather{Voice: a.Voice}
	p := Page{Slug: weatherSlug, Title: w.Title(), Method: w.Method(), Cautions: a.beware(say.HeatIllness, say.CausticConcrete)}
	if a.empty() {
		return a.begin(p, w.Will(), w.Takes())
	}
	x := a.f.Weather
	p.Basis, p.Answer, p.Notes = a.basis(x.Known, a.Placements), w.Answer(x), w.Notes(x)
	if x.Known == 0 {
		p.Exhibits = a.whatHeatDid(w)
		return p
	}
	known := slices.DeleteFunc(slices.Clone(x.Placements), func(e work.Evaporation) bool { return !e.Rate.OK })
	p.Reading = w.Reading()
	p.Exhibits = append([]Exhibit{a.weatherMap(w, known), a.evaporationExhibit(w)}, a.whatHeatDid(w)...)
	p.Do, p.Notes = p.Notes[:1:1], p.Notes[1:]
	if x.ColdCount > 0 {
		p.Do = append(p.Do, say.Todo{Voice: a.Voice}.Cold())
	}
	if x.HotCount > 0 {
		p.Exhibits = append(p.Exhibits, a.hottestPours(w, known))
	}
	if lacking := w.Lacking(a.f.Placements, x); lacking != "" {
		p.Notes = append(p.Notes, lacking)
	}
	return p
}

// whatHeatDid is what heat and cold did to hours, setting and callbacks.
func (a *Author) whatHeatDid(w say.Weather) []Exhibit {
	x, h := a.f.Weather, w.Heads()
	type row struct {
		what string
		f    figure.Figure
	}
	rows := slices.DeleteFunc([]row{{w.HoursRow(), x.HotHours}, {w.PaceRow(), x.SetPace}}, func(r row) bool { return !r.f.Known() })
	var out []Exhibit
	if len(rows) > 0 {
		out = append(out, Exhibit{Title: w.WorkTitle(), Says: w.Hours(x.HotHours),
			Table: TableOf(w.WorkCaption(), rows,
				wordsIn(h.What, func(r row) string { return r.what }),
				numbers(h.Times, func(r row) say.Cell { return a.Cell(say.Plain, r.f) }),
				counts(h.Pours, func(r row) int { return r.f.N }))})
	}
	if a.f.Cracks == nil {
		return out
	}
	titles := map[cracks.Factor]string{cracks.ByEvaporation: w.CracksByDrying(), cracks.ByAir: w.CracksByAir()}
	for _, t := range a.f.Cracks.OneWay {
		if title := titles[t.Factor]; title != "" && len(t.Rows) > 1 {
			e := a.oneWay(&t, "", title)
			e.Chart = nil // it is drawn on the page on cracks
			out = append(out, e)
		}
	}
	return out
}

// hotIn counts the pours of a month that dried fast enough for precautions,
// among those with their weather on record.
func (a *Author) hotIn(month string) (hot, known int) {
	if a.f.Weather == nil {
		return 0, 0
	}
	return a.f.Weather.InMonth(month)
}

// rate is a cell of a drying rate.
func (a *Author) rate(v float64) say.Cell { return say.Weather{Voice: a.Voice}.Rate(v) }

func (a *Author) evaporationExhibit(w say.Weather) Exhibit {
	type month = work.MonthOfYear
	h := w.Heads()
	table := TableOf(w.MonthsCaption(), a.f.Weather.Months,
		wordsIn(h.Month, func(r month) string { return w.MonthName(int(r.Month)) }),
		counts(h.Pours, func(r month) int { return r.Pours }),
		counts(h.OverLimit, func(r month) int { return r.Hot }),
		numbers(h.Fastest, func(r month) say.Cell { return w.Rate(r.Fastest) }))
	return Exhibit{Title: w.MonthsTitle(), Table: table, Chart: hotMonths(w, a.f.Weather)}
}

// hottestPours lists the latest pours over the limit.
func (a *Author) hottestPours(w say.Weather, known []work.Evaporation) Exhibit {
	type pour = work.Evaporation
	const latest = 15
	hot := slices.DeleteFunc(slices.Clone(known), func(e pour) bool { return !e.Over() })
	slices.SortStableFunc(hot, func(x, y pour) int { return cmp.Compare(y.PlacedOn, x.PlacedOn) })
	h := w.Heads()
	table := firstOf(w.HotCaption(), hot, latest,
		ColumnOf[pour]{Head: h.Job, Cell: func(e pour) say.Cell { return a.placed(e.JobNo, e.JobNo+" "+e.Placement) }},
		ColumnOf[pour]{Head: h.Poured, Cell: func(e pour) say.Cell { return say.Dated(w.Day(e.PlacedOn), e.PlacedOn) }},
		numbers(h.Rate, func(e pour) say.Cell { return w.Rate(e.Rate.V) }))
	if table.Left > 0 {
		table.More = w.HotMore(table.Left)
	}
	return Exhibit{Title: w.HotTitle(), Table: table}
}

// hotMonths draws how many pours of each month of the year were over the limit; nil
// where none was.
func hotMonths(w say.Weather, x *work.Weather) *chart.Chart {
	if x.HotCount == 0 {
		return nil
	}
	plot := chart.ColumnPlot{ID: "chart-weather", Says: w.MonthsChart(), Up: w.MonthsAxis(), Counts: true}
	for _, m := range x.Months {
		hot := chart.None()
		hot.Value, hot.Tip = float64(m.Hot), w.MonthTip(m)
		plot.Columns = append(plot.Columns, chart.Column{Label: w.MonthLetters(int(m.Month)), Amount: hot, Usual: math.NaN()})
	}
	return plot.Chart()
}
