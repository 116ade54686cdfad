package report

import (
	"slices"

	"pourback/analysis"
)

// reinforcement sets mesh against rebar, as far as the records can.
func (a *author) reinforcement() Page {
	p := Page{Slug: "reinforcement", Title: "Mesh or rebar", Method: []string{
		"Risk within a year is that of the page on cracks: one less the Kaplan-Meier estimate at 365 days.",
		"Two raw fractions do not compare like with like where the choice of steel followed the season, the soil or the customer. A fair comparison sets like beside like; where joint spacing is unknown for more than a fifth of the slabs it is not made at all.",
	}, Cautions: []Caution{noDesign}}
	const takes = "placements with mesh and placements with rebar, their joint spacing, and callbacks with their dates and kinds"
	if a.empty() {
		return a.begin(p, "whether mesh or rebar costs less once callbacks are counted", takes)
	}
	m := a.f.Reinforcement.MeshVsRebar
	p.Basis = a.basis(m.Mesh+m.Rebar, "placement")
	p.Answer = a.told(a.f.Reinforcement.Answer, a.meshAnswer(m))
	rows := a.meshAndRebar()
	if len(rows) > 0 {
		table := tableOf("Cracks with mesh and with rebar, raw", rows, crackColumns(a.f.Cracks, "Reinforcement", madeOf)...)
		p.Exhibits = append(p.Exhibits, Exhibit{"The raw figures", a.riskChart("chart-mesh-rebar", rows, madeOf), table})
	}
	if table := a.meshFigures(m); table != nil {
		p.Exhibits = append(p.Exhibits, Exhibit{"The comparison", nil, table})
	}
	p.Notes = append(cleaned(a.f.Reinforcement.Notes), "One company's callbacks rarely settle this. Until they do, the cheaper steel that codes allow is a fair choice, and alternating mesh and rebar within a season would settle it soonest.")
	return p
}

func (a *author) meshAnswer(m analysis.MeshVsRebar) string {
	if d := m.AdjustedDifference; d.Known() {
		return "Like for like, mesh against rebar changes the risk of a crack within a year by " + inHundred.long(d) + "."
	}
	if m.Mesh == 0 || m.Rebar == 0 {
		return "Not settled: the records have " + plural(m.Mesh, "placement") + " with mesh and " + count(m.Rebar) + " with rebar, and a comparison takes both."
	}
	rows := a.meshAndRebar()
	if len(rows) < 2 || !rows[0].Risk1Yr.Known() || !rows[1].Risk1Yr.Known() {
		return "Not settled: " + m.AdjustedDifference.Why + "."
	}
	mesh, rebar := rows[0].Risk1Yr, rows[1].Risk1Yr
	_, happens := event(a.f.Cracks)
	return "Not settled: within a year " + share(mesh).of("slabs with mesh").long(mesh) + " and " + share(rebar).of("with rebar").long(rebar) +
		" " + happens + ", but these raw figures do not compare like with like."
}

// meshAndRebar are the raw records of the two, mesh first, where the cracks
// were asked for too.
func (a *author) meshAndRebar() []cell {
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

// meshFigures lists what the comparison found, or nothing where none was made.
func (a *author) meshFigures(m analysis.MeshVsRebar) *Table {
	type question struct {
		asks   string
		answer analysis.Figure
		shown  measure
	}
	perArea := measure{factor: 1 / a.units.area.factor}
	var known []question
	for _, q := range []question{
		{"Raw difference in risk", m.RawDifference, inHundred},
		{"Risk within a year with mesh, like for like", m.AdjustedMesh, inHundred},
		{"Risk within a year with rebar, like for like", m.AdjustedRebar, inHundred},
		{"Difference, like for like", m.AdjustedDifference, inHundred},
		{"Chance that mesh is the cheaper", m.MeshCheaper, inHundred},
		{"Cost of mesh, " + a.currency + " per" + a.units.area.unit, m.CostMesh, perArea},
		{"Cost of rebar, " + a.currency + " per" + a.units.area.unit, m.CostRebar, perArea},
		{"Placements that would settle it", m.PlacementsNeeded, plain},
	} {
		if q.answer.Known() {
			known = append(known, q)
		}
	}
	if len(known) == 0 {
		return nil
	}
	return tableOf("Mesh against rebar", known,
		column[question]{head: "Question", cell: func(q question) Cell { return Cell{Text: q.asks} }},
		column[question]{head: "Answer", number: true, cell: func(q question) Cell { return q.shown.cell(q.answer) }},
		column[question]{head: "Placements", number: true, cell: func(q question) Cell { return whole(q.answer.N) }})
}
