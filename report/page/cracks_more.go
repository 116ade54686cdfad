package page

import (
	"fmt"
	"slices"
	"strings"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/report/chart"
	"pourback/report/say"
)

// factorName is a thing that slabs differ in, in an owner's words.
func factorName(s string) string {
	switch s {
	case "evaporation":
		return "drying rate"
	case "joint spacing over thickness":
		return "joint spacing, in slab thicknesses"
	case "joint cut":
		return "way of cutting the joints"
	case "saw delay":
		return "hours from finishing to the saw"
	}
	return s
}

// oneWays looks at cracks by one thing at a time, and says of which things there
// is too little to look at.
func (a *Author) oneWays(c *cracks.Cracks) (tables []Exhibit, alone []string) {
	var lacking []string
	for i := range c.OneWay {
		t := &c.OneWay[i]
		if len(t.Rows) < 2 {
			lacking = append(lacking, factorName(t.Factor))
			continue
		}
		tables = append(tables, a.oneWay(t, "chart-cracks-", "By "+factorName(t.Factor)))
	}
	if len(lacking) > 0 {
		alone = []string{"Too little is on record to look at cracks by " + say.Listed(lacking) + "."}
	}
	return tables, alone
}

// oneWay looks at cracks by one thing.
func (a *Author) oneWay(t *cracks.Table, chart, title string) Exhibit {
	type row = cracks.CrackRow
	e := Exhibit{Title: title, Says: oneWaySays(t)}
	level := func(r row) string { return a.levelText(t, r.Level) }
	e.Table = TableOf("Cracks by "+factorName(t.Factor), t.Rows,
		wordsIn(say.Capital(strings.TrimPrefix(factorName(t.Factor), "way of ")), level),
		numbers("Risk within a year, in 100", func(r row) say.Cell { return a.Cell(say.OfHundred, r.Risk1Yr) }),
		numbers("Cracks a year, on 100 slabs", func(r row) say.Cell { return a.Cell(say.Wholes, r.Rate) }),
		counts("Cracks", func(r row) int { return r.Callbacks }),
		counts("Placements", func(r row) int { return r.Placements }),
		numbers("Years watched, in all", func(r row) say.Cell { return a.Exact(say.Plain, r.PlacementYears) }))
	if t.NotRecorded > 0 {
		e.Table.More = "Not recorded for " + say.Plural(t.NotRecorded, "placement") + "."
	}
	e.Chart = a.oneWayChart(t, chart+strings.ReplaceAll(t.Factor, " ", "-"), level)
	return e
}

// oneWaySays says whether the rows differ, and what chance has to do with it.
func oneWaySays(t *cracks.Table) string {
	s := say.Clean(t.Says, say.LongText)
	if t.LogRank.Known() {
		s += " Differences as large as these come by chance " + sureText(t.LogRank.Value) + " times in 100."
	}
	return s
}

// levelText is the level of a row in the units that are read.
func (a *Author) levelText(t *cracks.Table, level string) string {
	s := say.Clean(level, say.ShortName)
	if t.Unit == "°F" || t.Unit == "lb/ft²/h" {
		if a.Units.Si && strings.ContainsAny(s, "0123456789") {
			s = metricLevel(s, t.Unit)
		} else if strings.ContainsAny(s, "0123456789") {
			s += " " + t.Unit
		}
	}
	return s
}

// metricLevel turns the numbers of a level into metric ones: "over 40 to 60"
// of °F becomes "over 4 to 16 °C".
func metricLevel(s, unit string) string {
	words := strings.Fields(s)
	for i, w := range words {
		if _, err := say.ParseAmount(w); err != nil {
			continue
		}
		said := say.InMetric(w + " " + unit)
		number, _, _ := strings.Cut(said, " ")
		if v, err := say.ParseAmount(number); err == nil && unit == "°F" {
			number = say.Grouped(v, 0)
		}
		words[i] = number
	}
	metric := "°C"
	if unit != "°F" {
		metric = "kg/m²/h"
	}
	return strings.Join(words, " ") + " " + metric
}

// oneWayChart draws the risks of the rows, or nothing where none cracked within
// a year.
func (a *Author) oneWayChart(t *cracks.Table, id string, level func(cracks.CrackRow) string) *chart.Chart {
	rows := slices.DeleteFunc(slices.Clone(t.Rows), func(r cracks.CrackRow) bool { return !r.Risk1Yr.Known() })
	if len(rows) < 2 || !slices.ContainsFunc(rows, func(r cracks.CrackRow) bool { return r.Risk1Yr.Value > 0 }) {
		return nil
	}
	rows = rows[:min(len(rows), chart.MostKinds)]
	return &chart.Chart{ID: id, Height: chart.SidewaysHeight(len(rows)),
		Says: "A point for each row of the table: how many in 100 crack within a year, with the range.",
		Draw: func() *chart.Board {
			labels, marks := make([]string, len(rows)), make([]chart.ShownFigure, len(rows))
			for i, r := range rows {
				labels[i] = say.Clean(level(r), say.LabelName)
				marks[i] = chart.ShownFigure{Figure: r.Risk1Yr, Tip: level(r) + ": " + a.Long(say.Share(r.Risk1Yr), r.Risk1Yr) + ", from " + say.Plural(r.Placements, "placement")}
			}
			return riskBoard(labels, marks)
		}}
}

// allAtOnce is what goes with cracks, each thing with the others held alike.
func (a *Author) allAtOnce(c *cracks.Cracks) []Exhibit {
	type term = cracks.CoxTerm
	if len(c.Cox) == 0 {
		return nil
	}
	plot := chart.ForestPlot{Id: "chart-together", Scale: "cracks, times as many", None: "no difference",
		Says: "A mark for each thing that may go with cracks: how many times as many cracks go with it, the others held alike, with the range. A range that crosses the line shows nothing. The table holds the same figures."}
	for _, t := range c.Cox {
		name := a.termText(t.Term)
		plot.Rows = append(plot.Rows, chart.ForestRow{Label: say.Clean(name, say.LabelName), Ratio: t.HazardRatio, Tip: name + ": " + a.Long(say.Times, t.HazardRatio) + " as many cracks"})
	}
	return []Exhibit{{Title: "All of it at once", Chart: plot.Chart(),
		Says: "How many times as many cracks go with each, the others held alike, from " + say.Plural(c.ModelEvents, "crack") + " of " + say.Count(c.Events) + ". 1 is no difference. " + say.Clean(c.PropHazards.Says, say.LongText),
		Table: TableOf("What goes with cracks, the others held alike", c.Cox,
			wordsIn("What", func(t term) string { return a.termText(t.Term) }),
			numbers("Times as many cracks", func(t term) say.Cell { return a.Cell(say.Ratios, t.HazardRatio) }),
			numbers("By chance alone, in 100", func(t term) say.Cell { return a.chanceCell(t.P) }))}}
}

// termText is a term of the model in the units that are read.
func (a *Author) termText(s string) string { return a.Said(s) }

// chanceCell shows how often chance alone would make a difference as large.
func (a *Author) chanceCell(p figure.Figure) say.Cell {
	if !p.Known() {
		return say.Unsaid(a.Reason(p.Why))
	}
	return say.Valued(sureText(p.Value), p.Value)
}

// stillToCome is what sound slabs may still bring within the warranty.
func (a *Author) stillToCome(c *cracks.Cracks) []Exhibit {
	l := c.Later
	if !l.Callbacks.Known() {
		return nil
	}
	says := fmt.Sprintf("%s in warranty %s sound today.", say.Capital(say.Plural(l.Slabs, "slab")), isAre(l.Slabs))
	if l.Slabs > 0 {
		says = fmt.Sprintf("Of %s still in warranty %s may yet bring a callback for a crack", say.Plural(l.Slabs, "sound slab"), a.Long(say.Wholes, l.Callbacks))
		if l.Cost.Known() {
			says += ", which would cost " + a.Long(a.About(), l.Cost)
		}
		says += "."
	}
	if len(l.ByAge) == 0 {
		return nil
	}
	type at = cracks.AgeRisk
	return []Exhibit{{Title: "Still to come", Says: says,
		Table: TableOf("How many in 100 sound slabs still crack within the warranty of "+say.Plural(c.WarrantyDays, "day"), l.ByAge,
			wordsIn("Age of the slab", func(r at) string { return ageText(r.AgeDays) }),
			numbers("Still crack, in 100", func(r at) say.Cell { return a.Cell(say.OfHundred, r.Risk) }))}}
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

func ageText(days int) string {
	if days == 0 {
		return "just poured"
	}
	return say.Plural(days, "day")
}

// atRisk is how many slabs of each make are still watched at round ages, and
// what of them crack within the warranty.
func (a *Author) atRisk(c *cracks.Cracks) Exhibit {
	columns := []ColumnOf[cell]{wordsIn("Reinforcement", madeOf)}
	for _, days := range []int{0, 90, 180, 365, 730, 1095} {
		columns = append(columns, ColumnOf[cell]{Head: ageText(days), Number: true, Ahead: true, Cell: func(x cell) say.Cell {
			if x.Curve == nil || x.Curve.AtRiskAt(float64(days)) == 0 {
				return say.Blank()
			}
			return say.Whole(x.Curve.AtRiskAt(float64(days)))
		}})
	}
	columns = append(columns,
		numbers("Crack within the warranty, in 100", func(x cell) say.Cell { return a.riskCell(x, x.RiskWarranty) }),
		numbers("Cracks a year, on 100 slabs", func(x cell) say.Cell {
			if x.Placements < fewestSlabs {
				return a.riskCell(x, x.Rate)
			}
			return a.Cell(say.Wholes, x.Rate)
		}))
	return Exhibit{Title: "How many are still watched", Says: "The farther right, the fewer slabs are old enough to tell.",
		Table: TableOf("Slabs still watched and free of cracks at an age", withAll(c), columns...)}
}
