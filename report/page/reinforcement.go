package page

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/steel"
	"pourback/report/chart"
	"pourback/report/say"
)

// reinforcement is the choice between mesh and rebar on one page.
func (a *Author) reinforcement() Page {
	p := Page{Slug: steelSlug, Title: "Mesh or rebar", Method: []string{
		"Raw fractions do not compare like with like where the choice of steel followed the season, the soil or the customer. The fair comparison asks what all slabs would do with mesh and with rebar, by a hazard model that holds heat, spacing and the like alike, with ranges from 999 draws by job (Cox 1972; Firth 1993; approximate). Where joint spacing is unknown for more than a fifth of the slabs, or the two never met the same weather, it is not made at all.",
		"The chance that mesh is the cheaper weighs what the records show against a belief, held before them, that neither is likely to crack much more than the other, and holds the result against the ratio at which rebar just pays (Raiffa and Schlaifer 1961).",
		"How many placements it takes: Schoenfeld (1983), to show the ratio at which rebar just pays, never the one that was seen (Hoenig and Heisey 2001). How strong something unrecorded would have to be: VanderWeele and Ding (2017).",
	}, Cautions: []Caution{noDesign}}
	const takes = "placements with mesh and placements with rebar, their joint spacing and air temperature, and callbacks with their dates and kinds"
	if a.empty() {
		return a.begin(p, "whether mesh or rebar costs less once callbacks are counted", takes)
	}
	r := a.f.Reinforcement
	m := &r.MeshVsRebar
	p.Basis = a.basis(m.Mesh+m.Rebar, "placement")
	if n := m.Mesh + m.Rebar; n > 0 {
		p.Basis = strings.TrimSuffix(p.Basis, ".") + ": " + say.Count(m.Mesh) + " with mesh and " + say.Count(m.Rebar) + " with rebar."
	}
	p.Answer = a.steelAnswer(m)
	p.Exhibits = slices.Concat(a.steelCosts(), a.steelRisks(m), a.steelDecision(m), a.steelChecks(m), a.steelPaid(), a.otherSteel())
	p.Notes = append([]string{meanwhile(m), a.Said(m.Evidence)}, a.SaidAll(r.Notes)...)
	if m.MadeAlike != "" {
		p.Notes = append(p.Notes, "The slabs were made "+strings.ReplaceAll(say.Clean(m.MadeAlike, say.LongText), "with a prior", "with the belief above")+".")
	}
	for _, s := range r.Assumptions {
		p.Method = append(p.Method, a.assumed(s))
	}
	for _, s := range r.PaidAssumptions {
		if s.From != "setting" {
			p.Method = append(p.Method, "At your own costs, "+say.Lower(a.assumed(s)))
		}
	}
	return p
}

// steelAnswer: "Carry mesh: it is the cheaper choice over 99 times in 100, at
// $0.76 a ft² against $1.39 for rebar, callbacks counted."
func (a *Author) steelAnswer(m *steel.MeshVsRebar) string {
	costs := ""
	if m.CostMesh.Known() && m.CostRebar.Known() {
		costs = a.Value(a.PerArea(), m.CostMesh) + " per" + a.Units.Area.Unit + " with mesh against " + a.Value(a.PerArea(), m.CostRebar) + " with rebar, callbacks counted"
	}
	switch {
	case m.Verdict == "mesh" && costs != "":
		return "Mesh is the cheaper choice, " + sureText(m.MeshCheaper.Value) + " times in 100: " + costs + ", where codes and the engineer leave the choice."
	case m.Verdict == "rebar" && costs != "":
		return "Rebar is the cheaper choice, " + sureText(1-m.MeshCheaper.Value) + " times in 100: " + costs + "."
	case m.Verdict == "not settled" && costs != "":
		return "Not settled: mesh is the cheaper " + sureText(m.MeshCheaper.Value) + " times in 100 (" + costs + "), but that turns with how one looks at it; until it is settled use the one that is cheaper to place."
	}
	first := say.Sentences(a.Said(a.f.Reinforcement.Answer))
	if len(first) == 0 {
		return "The records cannot say whether mesh or rebar is better."
	}
	return first[0]
}

// meanwhile says what to do until more is known.
func meanwhile(m *steel.MeshVsRebar) string {
	cheaper := "mesh"
	if m.ExtraRebar.Known() && m.ExtraRebar.Value < 0 {
		cheaper = "rebar"
	}
	switch m.Verdict {
	case "mesh", "rebar":
		return "What to do: use " + m.Verdict + " where the choice is yours, and the other where an engineer or a code asks for it; look again when the price of steel or of a callback changes."
	}
	return "What to do until it is settled: use what is cheaper to place, which is " + cheaper + ", where codes leave the choice; alternate mesh and rebar within each season, and write down joint spacing and air temperature at every pour. That settles it soonest, since then nothing but the steel differs."
}

// steelCost is one way's cost of an area, split.
type steelCost struct {
	way                        string
	material, labor, callbacks float64
	all                        figure.Figure
}

// steelCostRows split the cost of each way into what the settings say of
// placing it and the callbacks to expect; nothing where either is unknown.
func steelCostRows(m *steel.Money, assumed []figure.Assumption) []steelCost {
	value := func(name string) (float64, bool) {
		i := slices.IndexFunc(assumed, func(s figure.Assumption) bool { return s.Name == name })
		if i < 0 {
			return 0, false
		}
		return assumed[i].Value, true
	}
	wage, okWage := value("wage with its burden")
	var rows []steelCost
	for _, w := range []struct {
		way string
		all figure.Figure
	}{{"mesh", m.CostMesh}, {"rebar", m.CostRebar}} {
		material, ok1 := value(w.way + ", material")
		hours, ok2 := value(w.way + ", placing")
		if !ok1 || !ok2 || !okWage || !w.all.Known() {
			return nil
		}
		labor := hours / 100 * wage
		rows = append(rows, steelCost{w.way, material, labor, w.all.Value - material - labor, w.all})
	}
	return rows
}

// steelCosts is what each way costs, callbacks counted.
func (a *Author) steelCosts() []Exhibit {
	r := a.f.Reinforcement
	rows := steelCostRows(&r.MeshVsRebar.Money, r.Assumptions)
	if rows == nil {
		return nil
	}
	return []Exhibit{{Title: "What each costs", Chart: a.steelCostChart(rows), Table: a.steelCostTable("Cost per"+a.Units.Area.Unit+" in the ground, callbacks counted", rows),
		Says: "Material and labor come from the settings, callbacks from the records."}}
}

func (a *Author) steelCostTable(caption string, rows []steelCost) *Table {
	m := a.PerArea()
	part := func(v float64) say.Cell { return say.Valued(a.Number(m, v, 2), v) }
	return TableOf(caption, rows,
		wordsIn("With", func(r steelCost) string { return r.way }),
		numbers("Material", func(r steelCost) say.Cell { return part(r.material) }),
		numbers("Labor", func(r steelCost) say.Cell { return part(r.labor) }),
		numbers("Expected callbacks", func(r steelCost) say.Cell { return part(r.callbacks) }),
		numbers("In all", func(r steelCost) say.Cell { return a.Cell(m, r.all) }))
}

func (a *Author) steelCostChart(rows []steelCost) *chart.Chart {
	m := a.PerArea()
	return &chart.Chart{ID: "chart-steel-costs", Height: chart.SidewaysHeight(len(rows)),
		Says: "A bar for mesh and one for rebar: the cost of an area with callbacks counted, and its range. The table splits the same figures.",
		Draw: func() *chart.Board {
			labels, figures := make([]string, len(rows)), make([]chart.ShownFigure, len(rows))
			for i, r := range rows {
				labels[i], figures[i] = r.way, chart.ShownFigure{Figure: r.all, Tip: r.way + ": " + a.Long(m, r.all)}
			}
			b := chart.Sideways(labels, a.Currency+" per"+a.Units.Area.Unit)
			b.Bars("cost", m, figures)
			b.ErrorBars("cost", m, figures)
			return b
		}}
}

// steelRisks sets the raw comparison beside the fair one.
func (a *Author) steelRisks(m *steel.MeshVsRebar) []Exhibit {
	type row struct {
		says, label string
		f           figure.Figure
	}
	var rows []row
	for _, r := range []row{
		{"Mesh, like for like", "mesh", m.AdjustedMesh},
		{"Rebar, like for like", "rebar", m.AdjustedRebar},
		{"Mesh more than rebar, like for like", "more, like for like", m.AdjustedDifference},
		{"Mesh more than rebar, raw (slabs a year old)", "more, raw", m.RawDifference},
	} {
		if r.f.Known() {
			rows = append(rows, r)
		}
	}
	var out []Exhibit
	if len(rows) > 0 {
		out = append(out, Exhibit{Title: "Cracks with each, fairly compared", Says: rawAgainstFair(m),
			Table: TableOf("Callbacks for cracks within a year, in 100 slabs", rows,
				wordsIn("Slabs", func(r row) string { return r.says }),
				numbers("In 100", func(r row) say.Cell { return a.Cell(say.OfHundred, r.f) }),
				counts("Placements", func(r row) int { return r.f.N })),
			Chart: &chart.Chart{ID: "chart-mesh-rebar", Height: chart.SidewaysHeight(len(rows)),
				Says: "A point for each row of the table with its range: the raw difference, and what is left of it once the slabs are made alike.",
				Draw: func() *chart.Board {
					labels, marks := make([]string, len(rows)), make([]chart.ShownFigure, len(rows))
					for i, r := range rows {
						labels[i], marks[i] = r.label, chart.ShownFigure{Figure: r.f, Tip: r.says + ": " + a.Long(say.OfHundred, r.f) + " in 100"}
					}
					b := chart.Sideways(labels, "in 100 slabs")
					b.Marks("risk", "circle", say.InHundred, marks)
					b.ErrorBars("risk", say.InHundred, marks)
					return b
				}}})
	}
	if steel := a.meshAndRebar(); len(steel) > 0 {
		out = append(out, Exhibit{Title: "The raw figures", Says: "As they stand, whatever the season, the soil and the spacing were.",
			Table: TableOf("Cracks with mesh and with rebar, raw", steel, a.crackColumns(a.f.Cracks, "Reinforcement", madeOf)...)})
	}
	return out
}

// rawAgainstFair says what making the slabs alike did to the difference.
func rawAgainstFair(m *steel.MeshVsRebar) string {
	raw, fair := m.RawDifference, m.AdjustedDifference
	if !raw.Known() || !fair.Known() {
		return ""
	}
	s := "Raw, mesh brings " + pointsMore(raw.Value) + " in 100 than rebar; made alike, " + pointsMore(fair.Value) + "."
	if fair.Bounded && fair.Low <= 0 && fair.High >= 0 {
		s += " The records allow that there is no difference at all."
	}
	return s
}

func pointsMore(v float64) string {
	n := math.Round(100 * math.Abs(v))
	switch {
	case n == 0:
		return "no more"
	case v < 0:
		return say.Grouped(n, 0) + " fewer"
	}
	return say.Grouped(n, 0) + " more"
}

// meshAndRebar are the raw records of the two, mesh first, where the cracks
// were asked for too.
func (a *Author) meshAndRebar() []cell {
	if a.f.Cracks == nil {
		return nil
	}
	var rows []cell
	for _, steel := range []string{"mesh", "rebar"} {
		if i := slices.IndexFunc(a.f.Cracks.Reinforcements, func(c cell) bool { return c.Reinforcement == steel }); i >= 0 {
			rows = append(rows, a.f.Cracks.Reinforcements[i])
		}
	}
	return rows
}

// question is a figure with what it answers.
type question struct {
	asks   string
	answer figure.Figure
	shown  func(figure.Figure) say.Cell
}

// steelDecision lists what the choice rests on.
func (a *Author) steelDecision(m *steel.MeshVsRebar) []Exhibit {
	known := a.steelQuestions(m)
	if len(known) == 0 {
		return nil
	}
	return []Exhibit{{Title: "The decision", Says: a.decisionSays(m), Table: TableOf("Mesh against rebar", known,
		wordsIn("Question", func(q question) string { return q.asks }),
		numbers("Answer", func(q question) say.Cell { return q.shown(q.answer) }))}}
}

func (a *Author) steelQuestions(m *steel.MeshVsRebar) []question {
	sure := func(f figure.Figure) say.Cell { return say.Valued(sureText(f.Value)+" in 100", f.Value) }
	money := func(f figure.Figure) say.Cell { return a.Cell(a.About(), f) }
	ratio := func(f figure.Figure) say.Cell { return a.Cell(say.Times, f) }
	number := func(f figure.Figure) say.Cell { return a.Cell(say.Wholes, f) }
	var known []question
	for _, q := range []question{
		{"Chance that mesh is the cheaper", m.MeshCheaper, sure},
		{"Chance that rebar is the cheaper", oneLess(m.MeshCheaper), sure},
		{"What rebar costs more to place, a placement", m.ExtraRebar, money},
		{"What rebar gains after callbacks, a placement", m.RebarGain, money},
		{"Cost of a callback at which the choice turns", m.TurningCost, money},
		{"Mesh called about this often for rebar to pay, against rebar", m.BreakEven, ratio},
		{"Mesh called about, against rebar, like for like", m.HazardRatio, ratio},
		{"Least difference so few callbacks can show", m.Detectable, ratio},
		{"Callbacks a year on 100 slabs with mesh", m.MeshRate, number},
		{"Callbacks a year on 100 slabs with rebar", m.RebarRate, number},
		{"Placements that would settle it", m.PlacementsNeeded, number},
		{"Years that takes at the present pace", m.YearsNeeded, number},
		{"Most that knowing for certain is worth", m.ValueOfKnowing, money},
		{"What one more year of callbacks is worth", m.ValueOfAYear, money},
		{"Something unrecorded would have to go with both steel and cracks to make the difference", m.EValue, ratio},
		{"and to make the nearest end of its range", m.EValueLimit, ratio},
	} {
		if q.answer.Known() {
			known = append(known, q)
		}
	}
	return known
}

// oneLess is the probability that a thing is not so.
func oneLess(f figure.Figure) figure.Figure {
	f.Value = 1 - f.Value
	return f
}

// decisionSays puts the turning point and what would settle it in a sentence.
func (a *Author) decisionSays(m *steel.MeshVsRebar) string {
	var said []string
	if m.TurningCost.Known() {
		said = append(said, "The choice turns where a callback costs "+a.Estimate(m.TurningCost.Value)+" or more.")
	}
	if n := m.PlacementsNeeded; n.Known() {
		switch more, years, enough := m.Missing(); {
		case enough:
			said = append(said, "There are callbacks enough to show a difference that would just pay for rebar.")
		case more == 0:
			said = append(said, "To show a difference that would just pay for rebar takes no more slabs: these will have brought callbacks enough once they are older.")
		default:
			s := "To show a difference that would just pay for rebar takes about " + a.placements(n.Value) + ", " + a.placements(more) + " more than there are"
			if m.YearsNeeded.Known() {
				s += ": " + say.Plural(int(min(1e6, math.Ceil(years))), "year") + " at the present pace"
			}
			said = append(said, s+".")
		}
	}
	return strings.Join(said, " ")
}

func (a *Author) placements(v float64) string {
	return say.Plural(int(min(1e9, math.Ceil(v))), "placement")
}

// steelChecks shows how the answer moves with the way of looking at it.
func (a *Author) steelChecks(m *steel.MeshVsRebar) []Exhibit {
	type check = steel.Check
	if len(m.Sensitivity) == 0 {
		return nil
	}
	plot := chart.ForestPlot{Id: "chart-steel-checks", Scale: "cracks with mesh, times those with rebar", None: "alike",
		Says: "A mark for each way of looking at it: how many times as often mesh is called about as rebar, with the range. The table holds the same figures."}
	for _, c := range m.Sensitivity {
		name := a.Said(c.Assumption)
		plot.Rows = append(plot.Rows, chart.ForestRow{Label: say.Clean(name, say.LabelName), Ratio: c.Ratio, Tip: name + ": " + a.Long(say.Times, c.Ratio)})
	}
	return []Exhibit{{Title: "Looked at in other ways", Chart: plot.Chart(),
		Says: "If the answer moved from one of these to the next, it would not be settled.",
		Table: TableOf("Mesh against rebar under other assumptions", m.Sensitivity,
			wordsIn("Assumption", func(c check) string { return a.Said(say.Capital(c.Assumption)) + heeded(c) }),
			numbers("Mesh called about, against rebar", func(c check) say.Cell { return a.Cell(say.Times, c.Ratio) }),
			numbers("Mesh is the cheaper, in 100", func(c check) say.Cell { return a.chanceCell(c.MeshCheaper) }))}}
}

// heeded marks a way of looking that is only shown.
func heeded(c steel.Check) string {
	if c.Heeded {
		return ""
	}
	return " (shown, not heeded)"
}

// steelPaid is the same decision by the company's own lines of cost.
func (a *Author) steelPaid() []Exhibit {
	r := a.f.Reinforcement
	if r.Paid == nil {
		return nil
	}
	rows := steelCostRows(r.Paid, r.PaidAssumptions)
	if rows == nil {
		return nil
	}
	says := "By the company's own lines of cost and hours mesh is the cheaper " + sureText(r.Paid.MeshCheaper.Value) + " times in 100"
	if r.Paid.TurningCost.Known() {
		says += ", and that turns at " + a.Estimate(r.Paid.TurningCost.Value) + " a callback"
	}
	return []Exhibit{{Title: "At your own costs", Says: says + ".", Table: a.steelCostTable("Cost per"+a.Units.Area.Unit+" by the company's own lines of cost", rows)}}
}

// otherSteel compares both in short with slabs of fiber or none.
func (a *Author) otherSteel() []Exhibit {
	type pair = steel.Compared
	pairs := slices.DeleteFunc(slices.Clone(a.f.Reinforcement.InShort), func(p pair) bool { return !p.Ratio.Known() && !p.RawDifference.Known() })
	if len(pairs) == 0 {
		return nil
	}
	return []Exhibit{{Title: "Against fiber, and against no reinforcement",
		Says: "In short, on days alike in temperature: a ratio whose range holds 1 shows no difference.",
		Table: TableOf("Cracks with mesh and with rebar against others", pairs,
			wordsIn("Compared", func(p pair) string { return say.Clean(fmt.Sprintf("%s against %s", p.Of, p.Against), say.ShortName) }),
			numbers("Times as many cracks", func(p pair) say.Cell { return a.Cell(say.Ratios, p.Ratio) }),
			numbers("Raw difference, in 100", func(p pair) say.Cell { return a.Cell(say.OfHundred, p.RawDifference) }),
			counts("Placements", func(p pair) int { return p.OfPlacements + p.AgainstPlacements }))}}
}
