package page

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/analysis/figure"
	"pourback/analysis/trade"
	"pourback/analysis/work"
	"pourback/report/chart"
	"pourback/report/say"
)

// weather says how fast the air dried each pour's fresh surface, and what heat
// and cold did to the work.
func (a *Author) weather() Page {
	p := Page{Slug: "weather", Title: "Weather", Method: []string{
		"The rate at which water leaves the surface is that of Uno (1998, ACI Materials Journal 95-M34), from the temperatures of concrete and air, the humidity and the wind at placing. Below zero it counts as zero. The estimate itself is good to about 40% either way (Hover 2020, ACI SP-338).",
		"The limit at which precautions against plastic cracking begin is that of ACI 305R and FHWA-HRT-05-038, chapter 5. ACI 306R calls weather cold below 40 °F (4 °C).",
		"The formula wants the wind half a meter above the slab. A weather station's wind, at ten meters, is about twice as strong.",
		"Hours on drying days are held against the hours that the model of the page on crews expects of the same job in cool air; the pace of setting is that of ASTM C1074 (Arrhenius, activation energy over the gas constant 5000 K, against 68 °F or 20 °C).",
	}, Cautions: []Caution{heatIllness, causticConcrete}}
	const takes = "the temperatures of concrete and air, the humidity and the wind at placing"
	if a.empty() {
		return a.begin(p, "how many pours dried faster than is safe, and when", takes)
	}
	w := a.f.Weather
	p.Basis = a.basis(w.Known, "placement")
	if w.Known == 0 {
		p.Answer = "The records cannot say how fast the air dried the slabs: no placement has all of its weather."
		p.Exhibits = a.whatHeatDid()
		p.Notes = []string{"It takes " + takes + "."}
		return p
	}
	known := slices.DeleteFunc(slices.Clone(w.Placements), func(e work.Evaporation) bool { return !e.Rate.OK })
	months := byMonthOfYear(known)
	p.Answer = a.weatherAnswer(months)
	p.Reading = "A drying rate is an estimate, good to about 40% either way; counts are exact."
	p.Exhibits = append([]Exhibit{a.evaporationExhibit(known, months)}, a.whatHeatDid()...)
	if w.HotCount > 0 {
		p.Exhibits = append(p.Exhibits, a.hottestPours(known))
	}
	p.Notes = []string{"A pour just under the limit is not safe, and one just over it is not lost: the rate tells which days want care, not whether a slab will crack.",
		"On such days have fog or wind breaks, an evaporation retarder and an earlier start ready before the truck, and cure as soon as the surface takes it."}
	if n := a.f.Placements - w.Known; n > 0 {
		p.Notes = append(p.Notes, say.Plural(n, "placement")+" lack"+verbS(n)+" a temperature, the humidity or the wind: "+say.Listed(lacking(w.Placements))+".")
	}
	return p
}

// lacking says how many pours lack each column, the one that most lack first.
func lacking(pours []work.Evaporation) []string {
	n := map[string]int{}
	for _, e := range pours {
		for _, column := range e.Lacks {
			n[column]++
		}
	}
	columns := most(slices.Sorted(maps.Keys(n)), func(c string) int { return n[c] })
	columns = columns[:min(len(columns), 4)]
	for i, c := range columns {
		columns[i] = say.Clean(c, say.ShortName) + " " + say.Count(n[c])
	}
	return columns
}

// whatHeatDid is what heat and cold did to hours, setting and callbacks.
func (a *Author) whatHeatDid() []Exhibit {
	w := a.f.Weather
	type row struct {
		what string
		f    figure.Figure
		m    say.Measure
	}
	var rows []row
	for _, r := range []row{
		{"Hours on fast-drying pours, times those of the same job on other days", w.HotHours, say.Times},
		{"Pace of setting on them, times that at " + a.Said("68 °F"), w.SetPace, say.Times},
	} {
		if r.f.Known() {
			rows = append(rows, r)
		}
	}
	var out []Exhibit
	if len(rows) > 0 {
		out = append(out, Exhibit{Title: "What fast drying did to the work", Says: a.hotHoursSay(),
			Table: TableOf("Pours that dried at "+a.Units.Limit+" and faster", rows,
				wordsIn("What", func(r row) string { return r.what }),
				numbers("Times", func(r row) say.Cell { return a.Cell(say.Measure{Factor: 1}, r.f) }),
				counts("Pours", func(r row) int { return r.f.N }))})
	}
	if a.f.Cracks == nil {
		return out
	}
	for _, t := range a.f.Cracks.OneWay {
		if (t.Factor == "evaporation" || t.Factor == "air temperature") && len(t.Rows) > 1 {
			e := a.oneWay(&t, "", "Cracks by "+factorName(t.Factor))
			e.Chart = nil // it is drawn on the page on cracks
			out = append(out, e)
		}
	}
	return out
}

// hotHoursSay says what heat did to the hours.
func (a *Author) hotHoursSay() string {
	switch f := a.f.Weather.HotHours; {
	case !f.Known():
		return "Too few fast-drying pours record their hours to say what they cost."
	case f.Low > 1:
		return "The same job took " + say.Grouped(100*(f.Value-1), 0) + "% more hours on such days (between " + say.Grouped(100*(f.Low-1), 0) + " and " + say.Grouped(100*(f.High-1), 0) + ")."
	case f.High < 1:
		return "The same job took " + say.Grouped(100*(1-f.Value), 0) + "% fewer hours on such days (between " + say.Grouped(100*(1-f.High), 0) + " and " + say.Grouped(100*(1-f.Low), 0) + ")."
	}
	return "The same job took no more hours on such days than on others, as far as the records can tell."
}

// hotIn counts the pours of a month that dried fast enough for precautions,
// among those with their weather on record.
func (a *Author) hotIn(month string) (hot, known int) {
	if a.f.Weather == nil {
		return 0, 0
	}
	for _, e := range a.f.Weather.Placements {
		if e.Rate.OK && e.PlacedOn.Month() == month {
			known++
			if overLimit(e) {
				hot++
			}
		}
	}
	return hot, known
}

// monthOfYear is what the pours of one month had, over all years.
type monthOfYear struct {
	month      time.Month
	pours, hot int
	fastest    float64
}

func byMonthOfYear(known []work.Evaporation) []monthOfYear {
	var all [13]monthOfYear
	for _, e := range known {
		m := &all[e.PlacedOn.Time().Month()]
		m.pours++
		m.fastest = max(m.fastest, e.Rate.V)
		if overLimit(e) {
			m.hot++
		}
	}
	var months []monthOfYear
	for i, m := range all {
		if m.month = time.Month(i); m.pours > 0 {
			months = append(months, m)
		}
	}
	return months
}

func overLimit(e work.Evaporation) bool { return e.Rate.V >= trade.PrecautionLbFt2 }

// weatherAnswer: "80 of 561 pours dried fast enough for precautions (0.2
// lb/ft²/h and more), most of them in June; 35 of 594 were placed in air under
// 40 °F."
func (a *Author) weatherAnswer(months []monthOfYear) string {
	w := a.f.Weather
	s := "None of " + say.Plural(w.Known, "pour") + " with weather on record dried fast enough for precautions (" + a.Units.Limit + " and more)"
	if w.HotCount > 0 {
		s = say.Count(w.HotCount) + " of " + say.Plural(w.Known, "pour") + " with weather on record dried fast enough for precautions (" + a.Units.Limit + " and more)"
		worst := slices.MaxFunc(months, func(x, y monthOfYear) int { return cmp.Compare(x.hot, y.hot) })
		if len(months) > 1 && worst.hot > 1 {
			s += ", most often in " + worst.month.String()
		}
	}
	switch {
	case w.HasAir > 0 && w.ColdCount == 0:
		s += "; none was placed in air under " + a.Said("40 °F")
	case w.HasAir > 0:
		s += "; " + say.Count(w.ColdCount) + " of " + say.Count(w.HasAir) + " " + say.Were(w.ColdCount) + " placed in air under " + a.Said("40 °F")
	}
	return s + "."
}

func (a *Author) evaporationExhibit(known []work.Evaporation, months []monthOfYear) Exhibit {
	m := a.Units.Evaporation
	table := TableOf("Pours by month of the year, all years together", months,
		ColumnOf[monthOfYear]{Head: "Month", Cell: func(r monthOfYear) say.Cell { return say.Word(r.month.String()) }},
		ColumnOf[monthOfYear]{Head: "Pours", Number: true, Cell: func(r monthOfYear) say.Cell { return say.Whole(r.pours) }},
		ColumnOf[monthOfYear]{Head: "Over " + a.Units.Limit, Number: true, Cell: func(r monthOfYear) say.Cell { return say.Whole(r.hot) }},
		ColumnOf[monthOfYear]{Head: "Fastest," + m.Unit, Number: true, Cell: func(r monthOfYear) say.Cell { return a.rate(r.fastest) }})
	shown, each := thinned(known)
	return Exhibit{Title: "Drying rate over time", Chart: &chart.Chart{ID: "chart-weather", Height: 340,
		Says: "A dot for " + each + ": the date across, the rate at which water left the surface upward, and a line at " + a.Units.Limit + ". Pours over the line are triangles. The table counts them by month.",
		Draw: func() *chart.Board { return a.evaporationChart(shown) }}, Table: table}
}

// rate shows an evaporation rate, which is known to two digits at best.
func (a *Author) rate(v float64) say.Cell {
	m := a.Units.Evaporation
	c := a.Exact(m, v)
	c.Text = say.Grouped(v*m.Factor, 2)
	return c
}

// hottestPours lists the latest pours over the limit.
func (a *Author) hottestPours(known []work.Evaporation) Exhibit {
	type pour = work.Evaporation
	const latest = 15
	var hot []pour
	for _, e := range known {
		if overLimit(e) {
			hot = append(hot, e)
		}
	}
	slices.SortStableFunc(hot, func(x, y pour) int { return cmp.Compare(y.PlacedOn, x.PlacedOn) })
	n := len(hot)
	table := TableOf("The latest pours over "+a.Units.Limit, hot[:min(n, latest)],
		ColumnOf[pour]{Head: "Job", Cell: func(e pour) say.Cell { return a.placed(e.JobNo, e.JobNo+" "+e.Placement) }},
		ColumnOf[pour]{Head: "Poured", Cell: func(e pour) say.Cell { return say.Cell{Text: say.DayText(e.PlacedOn)} }},
		ColumnOf[pour]{Head: "Rate," + a.Units.Evaporation.Unit, Number: true, Cell: func(e pour) say.Cell { return a.rate(e.Rate.V) }})
	if n > latest {
		table.More = "And " + say.Count(n-latest) + " earlier; `pourback factors weather --json` has them all."
	}
	return Exhibit{Title: "Pours over the limit", Table: table}
}

// mostDots keeps a page small.
const mostDots = 800

// thinned keeps the fastest pour of each day, week or month where there are
// too many to draw, and says what a dot then is.
func thinned(known []work.Evaporation) (shown []work.Evaporation, each string) {
	sorted := slices.Clone(known)
	slices.SortStableFunc(sorted, func(x, y work.Evaporation) int { return cmp.Compare(x.PlacedOn, y.PlacedOn) })
	shown, each = sorted, "each pour"
	for _, period := range []struct {
		days int
		each string
	}{{1, "the fastest pour of each day"}, {7, "the fastest pour of each week"}, {30, "the fastest pour of every 30 days"}, {365, "the fastest pour of every 365 days"}} {
		if len(shown) <= mostDots {
			break
		}
		shown, each = nil, period.each
		for i, e := range sorted {
			same := i > 0 && int(e.PlacedOn)/period.days == int(sorted[i-1].PlacedOn)/period.days
			switch last := len(shown) - 1; {
			case !same:
				shown = append(shown, e)
			case e.Rate.V > shown[last].Rate.V:
				shown[last] = e
			}
		}
	}
	return shown, each
}

func (a *Author) evaporationChart(shown []work.Evaporation) *chart.Board {
	m := a.Units.Evaporation
	b := chart.NewBoard(opts.XAxis{Type: "time"}, opts.YAxis{Type: "value", Name: m.Unit[1:], NameLocation: "end", Min: 0, AxisLabel: &opts.AxisLabel{}})
	under, over := []opts.ScatterData{}, []opts.ScatterData{}
	for _, e := range shown {
		d := opts.ScatterData{
			Name:  fmt.Sprintf("%s, %s: %s%s", say.Clean(e.JobNo+" "+e.Placement, say.ShortName), say.DayText(e.PlacedOn), a.rate(e.Rate.V).Text, m.Unit),
			Value: []any{e.PlacedOn.String(), chart.Finite(e.Rate.V * m.Factor)}}
		if overLimit(e) {
			over = append(over, d)
		} else {
			under = append(under, d)
		}
	}
	limit := &opts.MarkLines{
		Data: []any{opts.MarkLineNameYAxisItem{Name: "the limit, " + a.Units.Limit, YAxis: trade.PrecautionLbFt2 * m.Factor}},
		MarkLineStyle: opts.MarkLineStyle{Symbol: []string{"none", "none"}, LineStyle: &opts.LineStyle{Type: "dashed", Width: 2},
			Label: &opts.Label{Show: opts.Bool(true), Position: "insideEndTop", Formatter: "{b}"}}}
	b.Add(charts.SingleSeries{Name: "within the limit", Type: types.ChartScatter, Symbol: "circle", SymbolSize: 6,
		ItemStyle: &opts.ItemStyle{Opacity: opts.Float(0.6)}, Data: under, MarkLines: limit})
	b.Add(charts.SingleSeries{Name: "over the limit", Type: types.ChartScatter, Symbol: "triangle", SymbolSize: 9, Data: over})
	return b
}
