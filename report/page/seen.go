package page

import (
	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"pourback/analysis/visits"
	"pourback/ingest/record"
	"pourback/report/chart"
	"pourback/report/say"
)

// seen sets the cracks that visits saw beside those that customers called about.
func (a *Author) seen() Page {
	p := Page{Slug: "seen", Title: "Seen and called about", Method: []string{
		"Called about, and seen: one less the Kaplan-Meier estimate (1958) of slabs without a crack, dated to the call or to the visit that found it, with limits on the log-log scale.",
		"Between two looks: Turnbull's estimate (1976), which knows only that a crack arose after the last look without it and by the visit that found it. Where in that stretch the records cannot tell: “at least” counts the cracks that surely arose by the age, “at most” those that may have, and the figure is the middle. A customer's call is timed by the crack, which a look may not be, so a crack that was called about is taken to have arisen by the planned look after the call. Its range comes from drawing whole jobs again and again; it is approximate.",
		"Widths stand beside the width that ACI 224R-01 (Table 4.1) calls reasonable for reinforced structural concrete in soil and moist air: a general guide, and no warranty line. " + a.Said("Where de-icing salt is used its guide is 0.007 in."),
	}, Cautions: []Caution{noDesign}}
	const takes = "visits to finished slabs, planned ones among them, with what was found"
	if a.empty() {
		return a.begin(p, "how many cracks visits see that nobody calls about", takes)
	}
	v := a.f.Visits
	s := v.Seen
	p.Answer = a.Said(s.Answer)
	p.Basis = say.Plural(s.Looked, "placement") + " of " + say.Count(a.f.Placements) + " looked at without being called, poured " + say.DayText(a.f.First) + " to " + say.DayText(a.f.Last) + "."
	if s.Looked == 0 {
		p.Basis, p.Notes = a.basis(a.f.Placements, "placement"), []string{"It takes " + takes + ".", s.Says}
		return p
	}
	p.Exhibits = a.some(a.seenAges(s), a.found(v.Findings), a.crackKinds(v.Findings), a.growing(v.Findings))
	p.Notes = append([]string{a.Said(s.Says), a.Said(v.Findings.GrowthSays)}, a.guideNotes(v.Findings)...)
	p.Notes = append(p.Notes, a.SaidAll(s.Notes)...)
	return p
}

func (a *Author) guideNotes(f visits.CracksSeen) []string {
	var notes []string
	if f.OverGuide.Known() {
		notes = append(notes, "Of cracks measured, "+a.Long(say.InHundred, f.OverGuide)+" were wider than"+a.ExactIn(a.width(), f.GuideIn)+" when last seen. That is a general guide, and no warranty line.")
	}
	if f.AtJoint.Known() {
		notes = append(notes, "Of cracks whose place is on record, "+a.Long(say.InHundred, f.AtJoint)+" ran in a joint, where they belong.")
	}
	return notes
}

func (a *Author) seenAges(s visits.SeenCracks) Exhibit {
	type age = visits.SeenAt
	table := visitsTable("Slabs with a crack by age, in 100", s.Ages,
		ColumnOf[age]{Head: "By day", Number: true, Cell: func(t age) say.Cell { return say.Whole(t.AgeDays) }},
		ColumnOf[age]{Head: "Called about", Number: true, Cell: func(t age) say.Cell { return a.Cell(say.OfHundred, t.Called) }},
		ColumnOf[age]{Head: "Seen, dated to the visit", Number: true, Cell: func(t age) say.Cell { return a.Cell(say.OfHundred, t.Seen) }},
		ColumnOf[age]{Head: "Between two looks", Number: true, Cell: func(t age) say.Cell { return a.Cell(say.OfHundred, t.Between) }},
		ColumnOf[age]{Head: "At least", Number: true, Cell: func(t age) say.Cell { return a.Cell(say.OfHundred, t.AtLeast) }},
		ColumnOf[age]{Head: "At most", Number: true, Cell: func(t age) say.Cell { return a.Cell(say.OfHundred, t.AtMost) }})
	e := Exhibit{Title: "By age", Table: table}
	if s.SeenSlabs > 0 && len(s.Curves) > 0 {
		e.Chart = &chart.Chart{ID: "chart-seen", Height: 340,
			Says: "Three stepped lines: how many in 100 slabs have cracked by each age, counted by the customer's call, by the visit that found the crack, and between two looks. The table reads them at round ages.",
			Draw: func() *chart.Board { return seenChart(s.Curves) }}
	}
	return e
}

func seenChart(lines []visits.SeenLine) *chart.Board {
	b := chart.NewBoard(opts.XAxis{Type: "value", Name: "years since the pour", NameLocation: "middle", NameGap: 28, Min: 0},
		opts.YAxis{Type: "value", Name: "cracked, in 100", NameLocation: "end", Min: 0, AxisLabel: &opts.AxisLabel{}})
	for i, l := range lines {
		b.Add(charts.SingleSeries{Name: l.Name, Type: types.ChartLine, Step: "end", Symbol: "none",
			LineStyle: &opts.LineStyle{Type: chart.Dashes[i], Width: 2}, Data: seenSteps(l)})
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
			data = append(data, opts.LineData{Value: []any{chart.Finite(l.Age[i] / chart.DaysPerYear), chart.Finite(100 * risk)},
				Name: l.Name + ": " + say.Grouped(100*risk, 0) + " in 100 by day " + say.Grouped(l.Age[i], 0)})
			last = risk
		}
	}
	return data
}

func (a *Author) found(f visits.CracksSeen) Exhibit {
	type row = visits.FindingKind
	return Exhibit{Title: "What visits found", Table: visitsTable("Visits by what they found", f.Found,
		ColumnOf[row]{Head: "Found", Cell: func(r row) say.Cell { return say.Word(r.Finding) }},
		ColumnOf[row]{Head: "Planned visits", Number: true, Cell: func(r row) say.Cell { return say.Whole(r.Planned) }},
		ColumnOf[row]{Head: "Callbacks", Number: true, Cell: func(r row) say.Cell { return say.Whole(r.Called) }})}
}

func (a *Author) crackKinds(f visits.CracksSeen) Exhibit {
	type row = visits.CrackKind
	w := a.width()
	return Exhibit{Title: "Kinds of crack", Table: visitsTable("Cracks by kind, as first described", f.Kinds,
		ColumnOf[row]{Head: "Kind", Cell: func(r row) say.Cell { return say.Word(r.Kind) }},
		ColumnOf[row]{Head: "Slabs", Number: true, Cell: func(r row) say.Cell { return say.Whole(r.Slabs) }},
		ColumnOf[row]{Head: "Median width," + w.Unit, Number: true, Cell: func(r row) say.Cell { return a.Thousandths(w, r.Width) }},
		ColumnOf[row]{Head: "Median length," + a.Units.Spacing.Unit, Number: true, Cell: func(r row) say.Cell { return a.Bare(a.Units.Spacing, r.Length) }})}
}

func (a *Author) growing(f visits.CracksSeen) Exhibit {
	type row = visits.Growth
	w := a.width()
	width := func(in float64) say.Cell { return a.lengthCell(record.Some(in)) }
	shown := f.Growing[:min(len(f.Growing), chart.MostKinds)]
	t := visitsTable("Unrepaired cracks measured more than once, the fastest first", shown,
		ColumnOf[row]{Head: "Slab", Cell: func(r row) say.Cell { return a.placed(r.JobNo, r.JobNo+" "+r.Placement) }},
		ColumnOf[row]{Head: "Was," + w.Unit, Number: true, Cell: func(r row) say.Cell { return width(r.WasIn) }},
		ColumnOf[row]{Head: "On", Cell: func(r row) say.Cell { return day(r.From) }},
		ColumnOf[row]{Head: "Is," + w.Unit, Number: true, Cell: func(r row) say.Cell { return width(r.IsIn) }},
		ColumnOf[row]{Head: "On", Cell: func(r row) say.Cell { return day(r.To) }},
		ColumnOf[row]{Head: "Opens in a year," + w.Unit, Number: true, Cell: func(r row) say.Cell { return width(r.PerYear) }},
		ColumnOf[row]{Head: "Beside the guide", Cell: func(r row) say.Cell {
			return say.Cell{Text: map[bool]string{true: "wider", false: "within"}[r.OverGuide]}
		}})
	if n := len(f.Growing) - len(shown); n > 0 {
		t.More = "And " + say.Count(n) + " more; `pourback factors visits --json` has them all."
	}
	return Exhibit{Title: "Growth", Table: t}
}
