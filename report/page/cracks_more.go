package page

import (
	"slices"
	"strings"

	"pourback/analysis/cracks"
	"pourback/report/chart"
	"pourback/report/say"
)

// oneWays looks at cracks by one thing at a time, and names those of which there
// is too little to look at.
func (a *Author) oneWays(w say.Cracks, c *cracks.Cracks) (tables []Exhibit, lacking []cracks.Factor) {
	for i := range c.OneWay {
		t := &c.OneWay[i]
		if len(t.Rows) < 2 {
			lacking = append(lacking, t.Factor)
			continue
		}
		tables = append(tables, a.oneWay(t, "chart-cracks-", w.FactorTitle(t.Factor)))
	}
	return tables, lacking
}

// oneWay looks at cracks by one thing.
func (a *Author) oneWay(t *cracks.Table, chart, title string) Exhibit {
	type row = cracks.Row
	w := say.Cracks{Voice: a.Voice}
	e := Exhibit{Title: title, Says: w.TableSays(t)}
	level := func(r row) string { return w.Level(t, r.Level) }
	e.Table = TableOf(w.FactorCaption(t.Factor), t.Rows,
		wordsIn(w.FactorHead(t.Factor), level),
		numbers(w.RiskHead(), w.RowRisk),
		numbers(w.RateHead(), func(r row) say.Cell { return a.Cell(say.Wholes, r.Rate) }),
		counts(w.CracksHead(), func(r row) int { return r.Callbacks }),
		counts(w.PlacementsHead(), func(r row) int { return r.Placements }),
		numbers(w.YearsHead(), func(r row) say.Cell { return a.Exact(say.Plain, r.PlacementYears) }))
	if t.NotRecorded > 0 {
		e.Table.More = w.NotRecorded(t.NotRecorded)
	}
	e.Chart = oneWayChart(w, t, chart+strings.ReplaceAll(string(t.Factor), " ", "-"), level)
	return e
}

// oneWayChart draws the risks of the rows, or nothing where none cracked within
// a year.
func oneWayChart(w say.Cracks, t *cracks.Table, id string, level func(cracks.Row) string) *chart.Chart {
	rows := slices.DeleteFunc(slices.Clone(t.Rows), func(r cracks.Row) bool { return !r.Risk1Yr.Known() || !r.Told })
	if len(rows) < 2 || !slices.ContainsFunc(rows, func(r cracks.Row) bool { return r.Risk1Yr.Value > 0 }) {
		return nil
	}
	rows = rows[:min(len(rows), chart.MostKinds)]
	plot := riskPlot(w, id, w.RowsChart())
	for _, r := range rows {
		risk := chart.Of(r.Risk1Yr, 100, w.RiskTip(level(r), r.Risk1Yr, r.Placements)).With(w.Value(say.OfHundred, r.Risk1Yr))
		plot.Rows = append(plot.Rows, chart.Row{Label: say.Clean(level(r), say.ShortName), Amounts: []chart.Amount{risk}})
	}
	return plot.Chart()
}

// allAtOnce is what goes with cracks, each thing with the others held alike.
func (a *Author) allAtOnce(w say.Cracks, c *cracks.Cracks) []Exhibit {
	type term = cracks.CoxTerm
	if len(c.Cox) == 0 {
		return nil
	}
	plot := chart.ForestPlot{ID: "chart-together", Scale: w.TogetherAxis(), None: w.NoDifference(), Says: w.TogetherChart()}
	for _, t := range c.Cox {
		name := w.Term(t.Term)
		plot.Rows = append(plot.Rows, chart.ForestRow{Label: name, Ratio: t.HazardRatio, Tip: w.TimesTip(name, t.HazardRatio)})
	}
	return []Exhibit{{Title: w.TogetherTitle(), Chart: a.forest(plot), Says: w.TogetherSays(c),
		Table: TableOf(w.TogetherCaption(), c.Cox,
			wordsIn(w.WhatHead(), func(t term) string { return w.Term(t.Term) }),
			numbers(w.TimesHead(), func(t term) say.Cell { return a.Cell(say.Ratios, t.HazardRatio) }),
			numbers(w.LuckHead(), func(t term) say.Cell { return w.ChanceCell(t.P) }))}}
}

// stillToCome is what sound slabs may still bring within the warranty.
func stillToCome(w say.Cracks, c *cracks.Cracks) []Exhibit {
	type at = cracks.AgeRisk
	l := c.Later
	if !l.Callbacks.Known() || len(l.ByAge) == 0 {
		return nil
	}
	return []Exhibit{{Title: w.LaterTitle(), Says: w.LaterSays(l),
		Table: TableOf(w.LaterCaption(c.WarrantyDays), l.ByAge,
			wordsIn(w.AgeHead(), func(r at) string { return w.Age(r.AgeDays) }),
			numbers(w.StillCrackHead(), func(r at) say.Cell { return w.Cell(say.OfHundred, r.Risk) }))}}
}

// atRisk is how many slabs of each make are still watched at round ages, and
// what of them crack within the warranty.
func atRisk(w say.Cracks, c *cracks.Cracks) Exhibit {
	columns := []ColumnOf[cell]{wordsIn(w.ReinforcementHead(), func(x cell) string { return w.Made(x.Reinforcement) })}
	for _, days := range []int{0, 90, 180, 365, 730, 1095} {
		columns = append(columns, ColumnOf[cell]{Head: w.Age(days), Number: true, Ahead: true, Cell: func(x cell) say.Cell {
			watched := x.Curve.Watched(float64(days))
			if watched == 0 {
				return say.Blank()
			}
			return say.Whole(watched)
		}})
	}
	columns = append(columns,
		numbers(w.WarrantyHead(), func(x cell) say.Cell { return w.RiskCell(x, float64(c.WarrantyDays), x.RiskWarranty) }),
		numbers(w.RateHead(), w.RateCell))
	return Exhibit{Title: w.WatchedTitle(), Says: w.WatchedSays(), Table: TableOf(w.WatchedCaption(), withAll(c), columns...)}
}
