package page

import (
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/setting"
	"pourback/report/chart"
	"pourback/report/say"
)

type cell = cracks.Cell

// cracks says how many slabs crack, which ones, and what is still to come.
func (a *Author) cracks() Page {
	w, c := say.Cracks{Voice: a.Voice}, a.f.Cracks
	p := Page{Slug: cracksSlug, Title: w.Title(), Cautions: a.beware(say.SilicaDust, say.NoDesign)}
	if a.empty() {
		p.Method = w.Method(setting.EventCallback, nil)
		return a.begin(p, w.Will(), w.Takes())
	}
	p.Method = w.Method(c.Event, c.Assumptions)
	p.Basis = a.basis(c.All.Placements, a.Placements)
	p.Reading = w.EventMeans(c.Event) + " " + a.reading()
	p.Answer = w.Answer(c)
	p.Exhibits = []Exhibit{crackMatrix(w, c), byReinforcement(w, c)}
	if c.All.Callbacks > 0 {
		if curves := crackCurves(w, c); len(curves.Table.Columns) > 2 { // with an age to read them at
			p.Exhibits = append(p.Exhibits, led([]Exhibit{curves})...)
		}
		p.Exhibits = append(p.Exhibits, atRisk(w, c))
	}
	tables, lacking := a.oneWays(w, c)
	p.Exhibits = slices.Concat(p.Exhibits, tables, a.allAtOnce(w, c), stillToCome(w, c), []Exhibit{crackCells(w, c)})
	p.Do, p.Notes = w.Todo(c), w.Notes(c)
	if alone := w.TooLittle(lacking); alone != "" {
		p.Notes = append(p.Notes, alone)
	}
	return p
}

// crackColumns show what is on record of kinds of slab.
func crackColumns(w say.Cracks, event, head string, name func(cell) string) []ColumnOf[cell] {
	return []ColumnOf[cell]{
		wordsIn(head, name),
		numbers(w.RiskHead(), func(c cell) say.Cell { return w.RiskCell(c, cracks.OneYear, c.Risk1Yr) }),
		counts(w.EventsHead(event), func(c cell) int { return c.Callbacks }),
		counts(w.PlacementsHead(), func(c cell) int { return c.Placements }),
		numbers(w.YearsHead(), func(c cell) say.Cell { return w.Exact(say.Plain, c.PlacementYears) }),
		numbers(w.FullYearHead(), w.FullYearCell),
	}
}

func crackCells(w say.Cracks, c *cracks.Cracks) Exhibit {
	return Exhibit{Title: w.CellsTitle(), Table: TableOf(w.CellsCaption(), c.Cells, crackColumns(w, c.Event, w.KindHead(), w.CellName)...)}
}

// riskChart draws the one-year risks of cells that can say something; there is
// no chart where none has had a crack within a year.
func riskChart(w say.Cracks, id string, cells []cell, name func(cell) string) *chart.Chart {
	const most = 24 // rows on the chart
	var drawn []cell
	some := false
	for _, c := range cells {
		if c.Risk1Yr.Known() && c.TellsBy(cracks.OneYear) && len(drawn) < most {
			drawn = append(drawn, c)
			some = some || c.Risk1Yr.Value > 0
		}
	}
	if !some {
		return nil
	}
	plot := riskPlot(w, id, w.RiskChart())
	for _, c := range drawn {
		risk := chart.Of(c.Risk1Yr, 100, w.RiskTip(name(c), c.Risk1Yr, c.Placements)).With(w.Value(say.OfHundred, c.Risk1Yr)).As(chart.HueOf(c.Reinforcement))
		plot.Rows = append(plot.Rows, chart.Row{Label: name(c), Amounts: []chart.Amount{risk}})
	}
	return plot.Chart()
}

// riskPlot draws risks within a year as points with their ranges.
func riskPlot(w say.Cracks, id, says string) chart.RowPlot {
	return chart.RowPlot{ID: id, Says: says, Scale: w.RiskAxis(), Zero: true, Series: []chart.RowSeries{{Hue: chart.Own}}}
}

func byReinforcement(w say.Cracks, c *cracks.Cracks) Exhibit {
	made := func(c cell) string { return w.Made(c.Reinforcement) }
	return Exhibit{Title: w.MadeTitle(), Chart: riskChart(w, "chart-made", c.Reinforcements, made),
		Table: TableOf(w.MadeCaption(), withAll(c), crackColumns(w, c.Event, w.ReinforcementHead(), made)...)}
}

// withAll puts the record of all slabs before those of each reinforcement,
// where there are several.
func withAll(c *cracks.Cracks) []cell {
	if len(c.Reinforcements) < 2 {
		return c.Reinforcements
	}
	return append([]cell{c.All}, c.Reinforcements...)
}

// crackMatrix crosses reinforcement with joint spacing: in each cell the risk,
// its range and the slabs it rests on.
func crackMatrix(w say.Cracks, c *cracks.Cracks) Exhibit {
	var bands []cell // one of each spacing, in order
	for _, x := range c.Cells {
		if !slices.ContainsFunc(bands, func(b cell) bool { return b.From == x.From }) {
			bands = append(bands, x)
		}
	}
	slices.SortStableFunc(bands, compareBands)
	worst := 0.0
	for _, x := range c.Cells {
		if x.TellsBy(cracks.OneYear) && x.Risk1Yr.Known() {
			worst = max(worst, x.Risk1Yr.Value)
		}
	}
	return Exhibit{Title: w.MatrixTitle(), Says: w.MatrixSays(), Chart: crackGrid(w, c, bands),
		Table: Matrix(w.MatrixCaption(), w.ReinforcementHead(), c.Reinforcements, bands,
			func(row cell) string { return w.Made(row.Reinforcement) }, w.BandHead,
			func(row, band cell) say.Cell {
				if x := crossed(c, row, band); x != nil {
					return matrixCell(w, *x, worst)
				}
				return say.Blank()
			})}
}

// crossed are the slabs of a reinforcement and a joint spacing; nil for none.
func crossed(c *cracks.Cracks, row, band cell) *cell {
	i := slices.IndexFunc(c.Cells, func(x cell) bool { return x.Reinforcement == row.Reinforcement && x.From == band.From })
	if i < 0 {
		return nil
	}
	return &c.Cells[i]
}

// crackGrid draws how many slabs there are of each, so that what has not been
// tried is seen.
func crackGrid(w say.Cracks, c *cracks.Cracks, bands []cell) *chart.Chart {
	if len(bands) < 2 {
		return nil
	}
	plot := chart.GridPlot{ID: "chart-grid", Says: w.GridChart(), Across: w.SpacingAxis(), Nothing: "–"}
	for _, b := range bands {
		plot.Columns = append(plot.Columns, w.GridHead(b))
	}
	for _, r := range c.Reinforcements {
		row := chart.GridRow{Label: w.Made(r.Reinforcement)}
		for _, b := range bands {
			g := chart.GridCell{}
			if x := crossed(c, r, b); x != nil {
				g = chart.GridCell{Value: float64(x.Placements), Tip: w.GridTip(*x)}
			}
			row.Cells = append(row.Cells, g)
		}
		plot.Rows = append(plot.Rows, row)
	}
	return plot.Chart()
}

// compareBands puts bands in the order of their lower ends, unknown last.
func compareBands(x, y cell) int {
	switch {
	case x.From.OK != y.From.OK && x.From.OK:
		return -1
	case x.From.OK != y.From.OK:
		return 1
	case x.From.V < y.From.V:
		return -1
	case x.From.V > y.From.V:
		return 1
	}
	return 0
}

// matrixCell is a risk above the slabs that it rests on, the darker the higher.
func matrixCell(w say.Cracks, c cell, worst float64) say.Cell {
	out := w.BoxCell(c)
	if out.Unknown {
		return out
	}
	return Shaded(out, c.Risk1Yr.Value, worst)
}
