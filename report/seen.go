package report

import (
	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/analysis/figure"
	"pourback/analysis/visits"
	"pourback/ingest/record"
)

// seen sets the cracks that visits saw beside those that customers called about.
func (a *author) seen() Page {
	p := Page{Slug: "seen", Title: "Seen and called about", Method: []string{
		"Called about, and seen: one less the Kaplan-Meier estimate (1958) of slabs without a crack, dated to the call or to the visit that found it, with limits on the log-log scale.",
		"Between two looks: Turnbull's estimate (1976), which knows only that a crack arose after the last look without it and by the visit that found it. Where in that stretch the records cannot tell: “at least” counts the cracks that surely arose by the age, “at most” those that may have, and the figure is the middle. A customer's call is timed by the crack, which a look may not be, so a crack that was called about is taken to have arisen by the planned look after the call. Its range comes from drawing whole jobs again and again; it is approximate.",
		"Widths stand beside the width that ACI 224R-01 (Table 4.1) calls reasonable for reinforced structural concrete in soil and moist air: a general guide, and no warranty line. " + a.said("Where de-icing salt is used its guide is 0.007 in."),
	}, Cautions: []Caution{noDesign}}
	const takes = "visits to finished slabs, planned ones among them, with what was found"
	if a.empty() {
		return a.begin(p, "how many cracks visits see that nobody calls about", takes)
	}
	v := a.f.Visits
	s := v.Seen
	p.Answer = a.said(s.Answer)
	p.Basis = plural(s.Looked, "placement") + " of " + count(a.f.Placements) + " looked at without being called, poured " + dayText(a.f.First) + " to " + dayText(a.f.Last) + "."
	if s.Looked == 0 {
		p.Basis, p.Notes = a.basis(a.f.Placements, "placement"), []string{"It takes " + takes + ".", s.Says}
		return p
	}
	p.Exhibits = a.some(a.seenAges(s), a.found(v.Findings), a.crackKinds(v.Findings), a.growing(v.Findings))
	p.Notes = append([]string{a.said(s.Says), a.said(v.Findings.GrowthSays)}, a.guideNotes(v.Findings)...)
	p.Notes = append(p.Notes, a.saidAll(s.Notes)...)
	return p
}

func (a *author) guideNotes(f visits.CracksSeen) []string {
	var notes []string
	if f.OverGuide.Known() {
		notes = append(notes, "Of cracks measured, "+inHundred.long(f.OverGuide)+" were wider than"+a.width().exactIn(f.GuideIn)+" when last seen. That is a general guide, and no warranty line.")
	}
	if f.AtJoint.Known() {
		notes = append(notes, "Of cracks whose place is on record, "+inHundred.long(f.AtJoint)+" ran in a joint, where they belong.")
	}
	return notes
}

// exactIn is a width with its unit, after a space.
func (m measure) exactIn(in float64) string { return " " + grouped(in*m.factor, 3) + m.unit }

func (a *author) seenAges(s visits.SeenCracks) Exhibit {
	type age = visits.SeenAt
	table := visitsTable("Slabs with a crack by age, in 100", s.Ages,
		column[age]{head: "By day", number: true, cell: func(t age) Cell { return whole(t.AgeDays) }},
		column[age]{head: "Called about", number: true, cell: func(t age) Cell { return ofHundred.cell(t.Called) }},
		column[age]{head: "Seen, dated to the visit", number: true, cell: func(t age) Cell { return ofHundred.cell(t.Seen) }},
		column[age]{head: "Between two looks", number: true, cell: func(t age) Cell { return ofHundred.cell(t.Between) }},
		column[age]{head: "At least", number: true, cell: func(t age) Cell { return ofHundred.cell(t.AtLeast) }},
		column[age]{head: "At most", number: true, cell: func(t age) Cell { return ofHundred.cell(t.AtMost) }})
	e := Exhibit{Title: "By age", Table: table}
	if s.SeenSlabs > 0 && len(s.Curves) > 0 {
		e.Chart = &Chart{ID: "chart-seen", Height: 340,
			Says: "Three stepped lines: how many in 100 slabs have cracked by each age, counted by the customer's call, by the visit that found the crack, and between two looks. The table reads them at round ages.",
			draw: func() *board { return seenChart(s.Curves) }}
	}
	return e
}

func seenChart(lines []visits.SeenLine) *board {
	b := newBoard(opts.XAxis{Type: "value", Name: "years since the pour", NameLocation: "middle", NameGap: 28, Min: 0},
		opts.YAxis{Type: "value", Name: "cracked, in 100", NameLocation: "end", Min: 0, AxisLabel: &opts.AxisLabel{}})
	for i, l := range lines {
		b.add(charts.SingleSeries{Name: l.Name, Type: types.ChartLine, Step: "end", Symbol: "none",
			LineStyle: &opts.LineStyle{Type: dashes[i], Width: 2}, Data: seenSteps(l)})
	}
	return b
}

// seenSteps are the steps of a line that the eye can tell apart.
func seenSteps(l visits.SeenLine) []opts.LineData {
	const apart = 0.002
	var data []opts.LineData
	last := -1.0
	for i, risk := range l.Risk {
		if risk-last > apart || i == len(l.Risk)-1 {
			data = append(data, opts.LineData{Value: []any{finite(l.Age[i] / daysPerYear), finite(100 * risk)},
				Name: l.Name + ": " + grouped(100*risk, 0) + " in 100 by day " + grouped(l.Age[i], 0)})
			last = risk
		}
	}
	return data
}

func (a *author) found(f visits.CracksSeen) Exhibit {
	type row = visits.FindingKind
	return Exhibit{Title: "What visits found", Table: visitsTable("Visits by what they found", f.Found,
		column[row]{head: "Found", cell: func(r row) Cell { return word(r.Finding) }},
		column[row]{head: "Planned visits", number: true, cell: func(r row) Cell { return whole(r.Planned) }},
		column[row]{head: "Callbacks", number: true, cell: func(r row) Cell { return whole(r.Called) }})}
}

func (a *author) crackKinds(f visits.CracksSeen) Exhibit {
	type row = visits.CrackKind
	w := a.width()
	return Exhibit{Title: "Kinds of crack", Table: visitsTable("Cracks by kind, as first described", f.Kinds,
		column[row]{head: "Kind", cell: func(r row) Cell { return word(r.Kind) }},
		column[row]{head: "Slabs", number: true, cell: func(r row) Cell { return whole(r.Slabs) }},
		column[row]{head: "Median width," + w.unit, number: true, cell: func(r row) Cell { return w.thousandths(r.Width) }},
		column[row]{head: "Median length," + a.units.spacing.unit, number: true, cell: func(r row) Cell { return a.units.spacing.bare(r.Length) }})}
}

// thousandths shows small lengths to the last digit that a crack gauge has.
func (m measure) thousandths(f figure.Figure) Cell {
	if !f.Known() {
		return Cell{Text: "–"}
	}
	c := measure{factor: m.factor}.known(f)
	c.Text = grouped(f.Value*m.factor, 3)
	return c
}

func (a *author) growing(f visits.CracksSeen) Exhibit {
	type row = visits.Growth
	w := a.width()
	width := func(in float64) Cell { return a.lengthCell(record.Some(in)) }
	shown := f.Growing[:min(len(f.Growing), mostKinds)]
	t := visitsTable("Unrepaired cracks measured more than once, the fastest first", shown,
		column[row]{head: "Slab", cell: func(r row) Cell { return a.placed(r.JobNo, r.JobNo+" "+r.Placement) }},
		column[row]{head: "Was," + w.unit, number: true, cell: func(r row) Cell { return width(r.WasIn) }},
		column[row]{head: "On", cell: func(r row) Cell { return day(r.From) }},
		column[row]{head: "Is," + w.unit, number: true, cell: func(r row) Cell { return width(r.IsIn) }},
		column[row]{head: "On", cell: func(r row) Cell { return day(r.To) }},
		column[row]{head: "Opens in a year," + w.unit, number: true, cell: func(r row) Cell { return width(r.PerYear) }},
		column[row]{head: "Beside the guide", cell: func(r row) Cell { return Cell{Text: map[bool]string{true: "wider", false: "within"}[r.OverGuide]} }})
	if n := len(f.Growing) - len(shown); n > 0 {
		t.More = "And " + count(n) + " more; `pourback factors visits --json` has them all."
	}
	return Exhibit{Title: "Growth", Table: t}
}
