package report

import (
	"fmt"
	"strings"

	"pourback/analysis"
)

// cracks says how many slabs crack, and how long they have been watched.
func (a *author) cracks() Page {
	p := Page{Slug: "cracks", Title: "Cracks", Method: []string{
		"A slab counts from its pour to its first crack, or else to the end of its follow-up: a slab poured last week has proved nothing. Placement-years are that time added up.",
		"Risk within a year is one less the Kaplan-Meier estimate at 365 days (Kaplan and Meier 1958), which takes young slabs for as long as they have been watched. Its range is by Greenwood's variance on the log-log scale.",
		"“Of slabs a year old” leaves the young ones out: those that cracked within their first year, with Wilson's range (1927).",
		"A joint spacing band includes its lower end.",
	}, Cautions: []Caution{silicaDust, noDesign}}
	const takes = "callbacks with their dates and kinds, or visits to finished slabs, and the reinforcement and joint spacing of each placement"
	if a.empty() {
		return a.begin(p, "how many slabs crack within a year, by reinforcement and joint spacing", takes)
	}
	c := a.f.Cracks
	p.Basis = a.basis(c.All.Placements, "placement")
	p.Answer = a.told(c.Answer, cracksAnswer(c)+".")
	if unknown := spacingUnknown(c); unknown != "" {
		p.Answer += " " + capital(strings.TrimLeft(unknown, "; ")) + "."
	}
	p.Exhibits = []Exhibit{a.byReinforcement(c), a.crackCells(c)}
	if c.All.Callbacks > 0 {
		p.Exhibits = append(p.Exhibits, a.crackCurves(c))
	}
	p.Notes = cleaned(c.Notes)
	if c.Event == analysis.EventSeen {
		p.Notes = append(p.Notes, "A visit finds a crack that may be much older. Where slabs were first looked at after more than a year, no crack within a year means that nobody looked, not that nothing cracked.")
	}
	p.Notes = append(p.Notes, "These are plain fractions: slabs of one make may have had the hotter days, the poorer soil or the wider joints.")
	return p
}

func years(y float64) string { return grouped(y, 0) + " placement-years" }

// event is what the page calls a crack event of one slab, and happens what
// several do.
func event(c *analysis.Cracks) (one, happens string) {
	if c.Event == analysis.EventSeen {
		return "slab was seen with a crack", "are seen with a crack"
	}
	return "slab brought a callback for a crack", "bring a callback for a crack"
}

func cracksAnswer(c *analysis.Cracks) string {
	all, risk := c.All, c.All.Risk1Yr
	one, happens := event(c)
	watched := years(all.PlacementYears)
	early := all.Callbacks > 0 && all.Curve != nil && all.Curve.EventsBy(365) > 0
	soFar := "; " + count(all.Callbacks) + " of " + count(all.Placements) + " have so far, in " + watched + " of follow-up"
	switch {
	case all.Callbacks == 0 && risk.Known() && risk.Bounded:
		return "No " + one + " in " + watched + " of follow-up on " + plural(all.Placements, "placement") + ", which leaves room for up to " + inHundred.at(risk.High) + " slabs within a year"
	case all.Callbacks == 0:
		return "No " + one + " in " + watched + " of follow-up, too short a time to say how many crack within a year"
	case !risk.Known():
		return count(all.Callbacks) + " of " + plural(all.Placements, "slab") + " cracked in " + watched + " of follow-up, too short a time to say how many crack within a year"
	case !early:
		return count(all.Callbacks) + " of " + plural(all.Placements, "slab") + " cracked in " + watched + " of follow-up, none that was found within its first year"
	}
	return "Within a year of the pour " + share(risk).of("slabs").long(risk) + " " + happens + soFar
}

// spacingUnknown adds to the answer what the records cannot tell apart.
func spacingUnknown(c *analysis.Cracks) string {
	switch n := c.SpacingUnknown; {
	case n == c.All.Placements:
		return fmt.Sprintf("; joint spacing is unknown for all %s, so the records cannot tell steel from spacing", count(n))
	case 2*n > c.All.Placements:
		return fmt.Sprintf("; joint spacing is unknown for %s, so the records can hardly tell steel from spacing", count(n))
	}
	return ""
}

type cell = analysis.CrackCell

func (a *author) cellName(c cell) string {
	return clean(c.Reinforcement, labelName) + ", " + a.bandText(c)
}

// bandText is a joint spacing band: "6 to 8 ft".
func (a *author) bandText(c cell) string {
	m := a.units.spacing
	ft := func(v float64) string {
		if a.units.si {
			return grouped(v*m.factor, 1)
		}
		return grouped(v, 0)
	}
	switch {
	case !c.From.OK:
		return "spacing unknown"
	case !c.To.OK:
		return ft(c.From.V) + m.unit + " and over"
	case c.From.V == 0:
		return "under " + ft(c.To.V) + m.unit
	}
	return ft(c.From.V) + " to " + ft(c.To.V) + m.unit
}

func crackColumns(c *analysis.Cracks, head string, name func(cell) string) []column[cell] {
	events := "Callbacks"
	if c.Event == analysis.EventSeen {
		events = "Cracked"
	}
	return []column[cell]{
		{head: head, cell: func(c cell) Cell { return Cell{Text: name(c)} }},
		{head: "Risk within a year, in 100", number: true, cell: func(c cell) Cell { return ofHundred.cell(c.Risk1Yr) }},
		{head: events, number: true, cell: func(c cell) Cell { return whole(c.Callbacks) }},
		{head: "Placements", number: true, cell: func(c cell) Cell { return whole(c.Placements) }},
		{head: "Placement years", number: true, cell: func(c cell) Cell { return plain.exact(c.PlacementYears) }},
		{head: "Of slabs a year old, in 100", number: true, cell: func(c cell) Cell { return ofHundred.cell(c.FullYear) }},
	}
}

func (a *author) crackCells(c *analysis.Cracks) Exhibit {
	table := tableOf("Cracks by reinforcement and joint spacing", c.Cells, crackColumns(c, "Reinforcement, spacing", a.cellName)...)
	return Exhibit{"By reinforcement and joint spacing", a.riskChart("chart-cells", c.Cells, a.cellName), table}
}

// riskChart draws the one-year risks of cells that can say something; there is
// no chart where none has had a crack within a year.
func (a *author) riskChart(id string, cells []cell, name func(cell) string) *Chart {
	const most, least = 24, 5 // rows on the chart; placements of a row
	var drawn []cell
	some := false
	for _, c := range cells {
		if c.Risk1Yr.Known() && c.Placements >= least && len(drawn) < most {
			drawn = append(drawn, c)
			some = some || c.Risk1Yr.Value > 0
		}
	}
	if !some {
		return nil
	}
	return &Chart{ID: id, Height: sidewaysHeight(len(drawn)),
		Says: "A point for each kind of slab with at least 5 placements: how many in 100 crack within a year, with the range. The table holds the same figures.",
		draw: func() *board {
			labels, rows := make([]string, len(drawn)), make([]shownFigure, len(drawn))
			for i, c := range drawn {
				labels[i] = name(c)
				rows[i] = shownFigure{c.Risk1Yr, name(c) + ": " + share(c.Risk1Yr).long(c.Risk1Yr) + ", from " + plural(c.Placements, "placement")}
			}
			b := sideways(labels, "cracks within a year, in 100 slabs")
			b.marks("risk", "circle", inHundred, rows)
			b.errorBars("risk", inHundred, rows)
			return b
		}}
}

func madeOf(c cell) string { return clean(c.Reinforcement, labelName) }

func (a *author) byReinforcement(c *analysis.Cracks) Exhibit {
	table := tableOf("Cracks by reinforcement, all joint spacings together", withAll(c), crackColumns(c, "Reinforcement", madeOf)...)
	return Exhibit{"By reinforcement", a.riskChart("chart-made", c.Reinforcements, madeOf), table}
}

// withAll puts the record of all slabs before those of each reinforcement,
// where there are several.
func withAll(c *analysis.Cracks) []cell {
	if len(c.Reinforcements) < 2 {
		return c.Reinforcements
	}
	return append([]cell{c.All}, c.Reinforcements...)
}
