package page

import (
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/steel"
	"pourback/report/chart"
	"pourback/report/say"
)

// reinforcement is the choice between mesh and rebar on one page.
func (a *Author) reinforcement() Page {
	w, r := say.Steel{Voice: a.Voice}, a.f.Reinforcement
	p := Page{Slug: steelSlug, Title: w.Title(), Cautions: a.beware(say.NoDesign)}
	if a.empty() {
		p.Method = w.Method(nil)
		return a.begin(p, w.Will(), w.Takes())
	}
	m := &r.MeshVsRebar
	p.Method = w.Method(r)
	p.Basis = a.basis(m.Mesh+m.Rebar, a.Placements)
	if m.Mesh+m.Rebar > 0 {
		p.Basis += " " + w.With(m)
	}
	p.Answer = w.Answer(r)
	p.Exhibits = slices.Concat(steelCosts(w, r), a.steelRisks(w, r), steelDecision(w, m, r.Event), steelLevers(w, m), steelUses(w, m), a.steelLooks(w, m), otherSteel(w, r))
	p.Do, p.Notes = []string{w.Meanwhile(m)}, w.Notes(r)
	return p
}

// steelCost is one way's cost of an area, split.
type steelCost struct {
	kind  string // mesh or rebar
	way   string // its name
	parts steel.Parts
	all   figure.Figure
}

// steelCostRows are the costs of both ways; none where either is unknown.
func steelCostRows(w say.Steel, m *steel.Money) []steelCost {
	if !m.CostMesh.Known() || !m.CostRebar.Known() {
		return nil
	}
	return []steelCost{{"mesh", w.Made("mesh"), m.Mesh, m.CostMesh}, {"rebar", w.Made("rebar"), m.Rebar, m.CostRebar}}
}

// steelCosts is what each way costs, callbacks counted.
func steelCosts(w say.Steel, r *steel.Reinforcement) []Exhibit {
	rows := steelCostRows(w, &r.MeshVsRebar.Money)
	if rows == nil {
		return nil
	}
	return []Exhibit{{Title: w.CostsTitle(), Says: w.CostsSays(r), Chart: steelCostChart(w, rows), Table: steelCostTable(w, w.CostsCaption(), rows)}}
}

func steelCostTable(w say.Steel, caption string, rows []steelCost) *Table {
	m := w.PerArea()
	part := func(v float64) say.Cell { return w.In(m, say.Valued(w.Number(m, v, 2), v)) }
	return TableOf(caption, rows,
		wordsIn(w.WithHead(), func(r steelCost) string { return r.way }),
		numbers(w.MaterialHead(), func(r steelCost) say.Cell { return part(r.parts.Material) }),
		numbers(w.LaborHead(), func(r steelCost) say.Cell { return part(r.parts.Labor) }),
		numbers(w.CallbacksHead(), func(r steelCost) say.Cell { return part(r.parts.Callbacks) }),
		numbers(w.InAllHead(), func(r steelCost) say.Cell { return w.Cell(m, r.all) }))
}

func steelCostChart(w say.Steel, rows []steelCost) *chart.Chart {
	m := w.PerArea()
	plot := chart.RowPlot{ID: "chart-steel-costs", Says: w.CostsChart(), Scale: w.CostsAxis(), Series: []chart.RowSeries{{Bar: true}}}
	for _, r := range rows {
		cost := chart.Of(r.all, m.Factor, w.CostTip(r.way, r.all)).With(w.Value(m, r.all)).As(chart.HueOf(r.kind))
		plot.Rows = append(plot.Rows, chart.Row{Label: r.way, Amounts: []chart.Amount{cost}})
	}
	return plot.Chart()
}

// steelRisk is a risk with each, or what mesh has more of it.
type steelRisk struct {
	says, label string
	f           figure.Figure
	hue         chart.Hue
}

// steelRisks sets the raw comparison beside the fair one.
func (a *Author) steelRisks(w say.Steel, r *steel.Reinforcement) []Exhibit {
	m := &r.MeshVsRebar
	var rows []steelRisk
	for _, k := range []struct {
		f    figure.Figure
		says func() (row, label string)
		hue  chart.Hue
	}{{m.AdjustedMesh, w.FairMesh, chart.Mesh}, {m.AdjustedRebar, w.FairRebar, chart.Rebar}, {m.AdjustedDifference, w.FairMore, chart.Plain}, {m.RawDifference, func() (string, string) { return w.RawMore(r.Event) }, chart.Plain}} {
		if k.f.Known() {
			says, label := k.says()
			rows = append(rows, steelRisk{says, label, k.f, k.hue})
		}
	}
	var out []Exhibit
	if len(rows) > 0 {
		out = append(out, Exhibit{Title: w.FairTitle(), Says: w.FairSays(m), Chart: steelRiskChart(w, rows),
			Table: TableOf(w.FairCaption(r.Event), rows,
				wordsIn(w.SlabsHead(), func(r steelRisk) string { return r.says }),
				numbers(w.InHundredHead(), func(r steelRisk) say.Cell { return w.Cell(say.OfHundred, r.f) }),
				counts(w.PlacementsHead(), func(r steelRisk) int { return r.f.N }))})
	}
	if both := a.meshAndRebar(); len(both) > 0 {
		c := say.Cracks{Voice: a.Voice}
		out = append(out, Exhibit{Title: w.RawTitle(), Says: w.RawSays(), Table: TableOf(w.RawCaption(), both,
			crackColumns(c, a.f.Cracks.Event, c.ReinforcementHead(), func(x cell) string { return w.Made(x.Reinforcement) })...)})
	}
	return out
}

func steelRiskChart(w say.Steel, rows []steelRisk) *chart.Chart {
	plot := chart.RowPlot{ID: "chart-mesh-rebar", Says: w.FairChart(), Scale: w.FairAxis(), Zero: true, Series: []chart.RowSeries{{Hue: chart.Own}}}
	for _, r := range rows {
		risk := chart.Of(r.f, 100, w.RiskTip(r.says, r.f)).With(w.Value(say.OfHundred, r.f)).As(r.hue)
		plot.Rows = append(plot.Rows, chart.Row{Label: r.label, Amounts: []chart.Amount{risk}})
	}
	return plot.Chart()
}

// meshAndRebar are the raw records of the two, mesh first, where the cracks
// were asked for too.
func (a *Author) meshAndRebar() []cell {
	if a.f.Cracks == nil {
		return nil
	}
	var rows []cell
	for _, kind := range []string{"mesh", "rebar"} {
		if i := slices.IndexFunc(a.f.Cracks.Reinforcements, func(c cell) bool { return c.Reinforcement == kind }); i >= 0 {
			rows = append(rows, a.f.Cracks.Reinforcements[i])
		}
	}
	return rows
}

// steelDecision lists what the choice rests on.
func steelDecision(w say.Steel, m *steel.MeshVsRebar, event string) []Exhibit {
	type question = say.Question
	known := w.Questions(m, event)
	if len(known) == 0 {
		return nil
	}
	return []Exhibit{{Title: w.DecisionTitle(), Says: w.Turns(&m.Money), Table: TableOf(w.DecisionCaption(), known,
		wordsIn(w.QuestionHead(), func(q question) string { return q.Asks }),
		numbers(w.AnswerHead(), func(q question) say.Cell { return q.Cell }))}}
}

// steelLooks shows how the answer moves with the way of looking at it.
func (a *Author) steelLooks(w say.Steel, m *steel.MeshVsRebar) []Exhibit {
	type check = steel.Check
	if len(m.Sensitivity) == 0 {
		return nil
	}
	plot := chart.ForestPlot{ID: "chart-steel-checks", Scale: w.LooksAxis(), None: w.Alike(), Says: w.LooksChart()}
	for _, c := range m.Sensitivity {
		name := w.LookName(c.Assumption)
		plot.Rows = append(plot.Rows, chart.ForestRow{Label: name, Ratio: c.Ratio, Tip: w.RatioTip(name, c.Ratio)})
	}
	return []Exhibit{{Title: w.LooksTitle(), Chart: a.forest(plot), Says: w.LooksSays(),
		Table: TableOf(w.LooksCaption(), m.Sensitivity,
			wordsIn(w.LookHead(), w.Look),
			numbers(w.RatioHead(), func(c check) say.Cell { return w.Cell(say.Times, c.Ratio) }),
			numbers(w.CheaperHead(), func(c check) say.Cell { return w.ChanceCell(c.MeshCheaper) }))}}
}

// steelLevers are the inputs that turn the answer most easily.
func steelLevers(w say.Steel, m *steel.MeshVsRebar) []Exhibit {
	return leversOf(w.Voice, decision{id: "chart-steel-turns", says: say.Levers(w).Say(m.TurnedBy), caption: w.LeversCaption(), head: w.GainsHead(), comes: w.Exactly,
		turns: turnsOf("", m.TurnedBy), scale: w.GainsAxis(), factor: 1, between: true})
}

// steelUses is the choice by use, where there are counts enough.
func steelUses(w say.Steel, m *steel.MeshVsRebar) []Exhibit {
	type use = steel.Use
	if len(m.ByUse) == 0 {
		return nil
	}
	return []Exhibit{{Title: w.UsesTitle(), Says: w.UsesSays(), Table: TableOf(w.UsesCaption(), m.ByUse,
		wordsIn(w.UseHead(), func(u use) string { return w.Word(u.Use) }),
		wordsIn(w.BothHead(), w.BothSlabs),
		counts(w.CalledHead(), func(u use) int { return u.Events }),
		numbers(w.YearHead(), func(u use) say.Cell { return w.Cell(say.OfHundred, u.Risk1Yr) }),
		numbers(w.RatioHead(), func(u use) say.Cell { return w.Cell(say.Times, u.Ratio) }),
		numbers(w.CheaperHead(), func(u use) say.Cell { return w.ChanceCell(u.MeshCheaper) }),
		numbers(w.SavesHead(), func(u use) say.Cell { return w.Cell(w.About(), u.RebarGain) }),
		wordsIn(w.BetHead(), func(u use) string { return w.Made(u.Advice) }))}}
}

// otherSteel compares both in short with slabs of fiber or none.
func otherSteel(w say.Steel, r *steel.Reinforcement) []Exhibit {
	type pair = steel.Compared
	pairs := slices.DeleteFunc(slices.Clone(r.InShort), func(p pair) bool { return !p.Ratio.Known() && !p.RawDifference.Known() })
	if len(pairs) == 0 {
		return nil
	}
	return []Exhibit{{Title: w.OthersTitle(), Says: w.OthersSays(),
		Table: TableOf(w.OthersCaption(), pairs,
			wordsIn(w.ComparedHead(), w.Compared),
			numbers(w.TimesHead(), func(p pair) say.Cell { return w.Cell(say.Ratios, p.Ratio) }),
			numbers(w.RawHead(), func(p pair) say.Cell { return w.Cell(say.OfHundred, p.RawDifference) }),
			counts(w.PlacementsHead(), func(p pair) int { return p.OfPlacements + p.AgainstPlacements }))}}
}
