package page

import (
	"fmt"
	"slices"
	"strings"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/report/chart"
	"pourback/report/say"
)

const crackTakes = "callbacks with their dates and kinds, or visits to finished slabs, and the reinforcement and joint spacing of each placement"

// cracks says how many slabs crack, which ones, and what is still to come.
func (a *Author) cracks() Page {
	p := Page{Slug: cracksSlug, Title: "Cracks", Method: []string{
		"A slab counts from its pour to its first crack, or else to the end of its follow-up: a slab poured last week has proved nothing.",
		"Risk within a year, and within the warranty, is one less the Kaplan-Meier estimate (Kaplan and Meier 1958), which takes young slabs for as long as they have been watched. Its range is by Greenwood's variance on the log-log scale. “Cracks a year” is cracks over the years watched, with exact limits (Garwood 1936).",
		"“Of slabs a year old” leaves the young ones out: those that cracked within their first year, with Wilson's range (1927).",
		"Whether groups differ is a log-rank test; with several tables looked at, those that chance would throw up among so many are not called different (Benjamini and Hochberg 1995).",
		"What goes with cracks all at once is a regression of Cox, with Firth's correction where cracks are few (Heinze and Schemper 2001) and checked for ratios that change with age (Grambsch and Therneau 1994). Slabs of one job count together.",
		"What is still to come adds up, over the slabs in warranty, the share of those of their age that cracked later. A joint spacing band includes its lower end.",
	}, Cautions: []Caution{SilicaDust, noDesign}}
	if a.empty() {
		return a.begin(p, "how many slabs crack within a year, by reinforcement and joint spacing", crackTakes)
	}
	c := a.f.Cracks
	p.Basis = a.basis(c.All.Placements, "placement")
	p.Reading = a.Said(c.EventSays) + " " + a.reading()
	p.Answer = a.cracksAnswer(c) + spacingUnknown(c) + "."
	p.Exhibits = []Exhibit{a.crackMatrix(c), a.byReinforcement(c)}
	if c.All.Callbacks > 0 {
		if curves := a.crackCurves(c); len(curves.Table.Columns) > 2 { // with an age to read them at
			p.Exhibits = append(p.Exhibits, curves)
		}
		p.Exhibits = append(p.Exhibits, a.atRisk(c))
	}
	tables, alone := a.oneWays(c)
	p.Exhibits = append(p.Exhibits, tables...)
	p.Exhibits = slices.Concat(p.Exhibits, a.allAtOnce(c), a.stillToCome(c), []Exhibit{a.crackCells(c)})
	p.Notes = append(a.crackNotes(c), alone...)
	for _, s := range c.Assumptions {
		p.Method = append(p.Method, a.assumed(s))
	}
	return p
}

// crackNotes are what the analysis adds to its answer, and the reservations.
func (a *Author) crackNotes(c *cracks.Cracks) []string {
	var notes []string
	for i, s := range say.Sentences(a.Said(c.Answer)) {
		if i > 0 && !strings.HasPrefix(s, "Of ") { // what is still to come has a place of its own
			notes = append(notes, s)
		}
	}
	for _, n := range c.Notes {
		if n != c.EventSays { // said at the head of the page
			notes = append(notes, a.Said(n))
		}
	}
	if c.Event == setting.EventSeen {
		notes = append(notes, "Where slabs were first looked at after more than a year, no crack within a year means that nobody looked, not that nothing cracked.")
	}
	if lr := c.LogRank; lr.Known() {
		notes = append(notes, "Differences between kinds of reinforcement as large as these come by chance "+sureText(lr.Value)+" times in 100.")
	}
	return append(notes, "These are plain fractions: slabs of one make may have had the hotter days, the poorer soil or the wider joints.")
}

// assumed is a number that the records do not give.
func (a *Author) assumed(s figure.Assumption) string {
	value := say.Grouped(s.Value, decimalsOf(s.Value))
	if of, money := strings.CutPrefix(s.Unit, "$"); money {
		value = "$" + value + of
	} else {
		value = strings.TrimSpace(value + " " + s.Unit)
	}
	return a.Said(say.Capital(s.Name) + ": " + value + " (" + s.From + ").")
}

// decimalsOf keeps two decimals of small numbers.
func decimalsOf(v float64) int {
	if v < 10 && v != float64(int(v)) {
		return 2
	}
	return 0
}

// event is what the page calls a crack event of one slab, and happens what
// several do.
func event(c *cracks.Cracks) (one, happens string) {
	if c.Event == setting.EventSeen {
		return "slab was seen with a crack", "are seen with a crack"
	}
	return "slab brought a callback for a crack", "bring a callback for a crack"
}

// cracksAnswer: "Within a year of the pour 5 in 100 slabs (between 4 and 7)
// bring a callback for a crack; 29 of 599 have so far".
func (a *Author) cracksAnswer(c *cracks.Cracks) string {
	all, risk := c.All, c.All.Risk1Yr
	one, happens := event(c)
	watched := "watched for " + yearsEach(all) + " on average"
	early := all.Callbacks > 0 && all.Curve != nil && all.Curve.EventsBy(365) > 0
	switch {
	case all.Callbacks == 0 && risk.Known() && risk.Bounded:
		return "No " + one + " among " + say.Plural(all.Placements, "slab") + " " + watched + ", which leaves room for up to " + a.AtMost(risk.High) + " within a year"
	case all.Callbacks == 0:
		return "No " + one + " among " + say.Plural(all.Placements, "slab") + " " + watched + ", too short a time to say how many crack within a year"
	case !risk.Known():
		return say.Count(all.Callbacks) + " of " + say.Plural(all.Placements, "slab") + " cracked, " + watched + ", too short a time to say how many crack within a year"
	case !early:
		return say.Count(all.Callbacks) + " of " + say.Plural(all.Placements, "slab") + " cracked, " + watched + ", none that was found within its first year"
	}
	return "Within a year of the pour " + a.Long(say.ShareOf(risk, "{value} in 100 slabs", "{value} in 1,000 slabs"), risk) + " " + happens + "; " + say.Count(all.Callbacks) + " of " + say.Count(all.Placements) + " have so far"
}

// yearsEach is how long the slabs have been watched on average.
func yearsEach(c cell) string {
	years := c.PlacementYears / float64(max(1, c.Placements))
	if years < 0.95 {
		return say.Plural(int(12*years+0.5), "month")
	}
	return say.Grouped(years, 1) + " years"
}

// spacingUnknown adds to the answer what the records cannot tell apart.
func spacingUnknown(c *cracks.Cracks) string {
	switch n := c.SpacingUnknown; {
	case n == c.All.Placements:
		return fmt.Sprintf("; joint spacing is unknown for all %s, so the records cannot tell steel from spacing", say.Count(n))
	case 2*n > c.All.Placements:
		return fmt.Sprintf("; joint spacing is unknown for %s, so the records can hardly tell steel from spacing", say.Count(n))
	}
	return ""
}

type cell = cracks.Cell

func (a *Author) cellName(c cell) string {
	return say.Clean(c.Reinforcement, say.LabelName) + ", " + a.bandText(c)
}

// bandText is a joint spacing band: "6 to 8 ft".
func (a *Author) bandText(c cell) string {
	m := a.Units.Spacing
	ft := func(v float64) string {
		if a.Units.Si {
			return say.Grouped(v*m.Factor, 1)
		}
		return say.Grouped(v, 0)
	}
	switch {
	case !c.From.OK:
		return "spacing unknown"
	case !c.To.OK:
		return ft(c.From.V) + m.Unit + " and over"
	case c.From.V == 0:
		return "under " + ft(c.To.V) + m.Unit
	}
	return ft(c.From.V) + " to " + ft(c.To.V) + m.Unit
}

func (a *Author) crackColumns(c *cracks.Cracks, head string, name func(cell) string) []ColumnOf[cell] {
	events := "Callbacks"
	if c.Event == setting.EventSeen {
		events = "Cracked"
	}
	return []ColumnOf[cell]{
		{Head: head, Cell: func(c cell) say.Cell { return say.Cell{Text: name(c)} }},
		numbers("Risk within a year, in 100", func(c cell) say.Cell { return a.riskCell(c, c.Risk1Yr) }),
		counts(events, func(c cell) int { return c.Callbacks }),
		counts("Placements", func(c cell) int { return c.Placements }),
		numbers("Years watched, in all", func(c cell) say.Cell { return a.Exact(say.Plain, c.PlacementYears) }),
		numbers("Of slabs a year old, in 100", func(c cell) say.Cell { return a.riskCell(c, c.FullYear) }),
	}
}

// fewestSlabs is how many slabs it takes to speak of a rate.
const fewestSlabs = 5

// riskCell shows a risk out of 100, or that there are too few slabs for one.
func (a *Author) riskCell(c cell, f figure.Figure) say.Cell {
	if c.Placements < fewestSlabs {
		return say.Cell{Text: "too few", Why: fmt.Sprintf("fewer than %d slabs of the kind", fewestSlabs), Unknown: true}
	}
	return a.Cell(say.OfHundred, f)
}

func (a *Author) crackCells(c *cracks.Cracks) Exhibit {
	table := TableOf("Cracks by reinforcement and joint spacing", c.Cells, a.crackColumns(c, "Reinforcement, spacing", a.cellName)...)
	return Exhibit{Title: "By reinforcement and joint spacing, with what each rests on", Table: table}
}

// riskChart draws the one-year risks of cells that can say something; there is
// no chart where none has had a crack within a year.
func (a *Author) riskChart(id string, cells []cell, name func(cell) string) *chart.Chart {
	const most = 24 // rows on the chart
	var drawn []cell
	some := false
	for _, c := range cells {
		if c.Risk1Yr.Known() && c.Placements >= fewestSlabs && len(drawn) < most {
			drawn = append(drawn, c)
			some = some || c.Risk1Yr.Value > 0
		}
	}
	if !some {
		return nil
	}
	return &chart.Chart{ID: id, Height: chart.SidewaysHeight(len(drawn)),
		Says: "A point for each kind of slab with at least 5 placements: how many in 100 crack within a year, with the range. The table holds the same figures.",
		Draw: func() *chart.Board {
			labels, rows := make([]string, len(drawn)), make([]chart.ShownFigure, len(drawn))
			for i, c := range drawn {
				labels[i] = name(c)
				rows[i] = chart.ShownFigure{Figure: c.Risk1Yr, Tip: name(c) + ": " + a.Long(say.Share(c.Risk1Yr), c.Risk1Yr) + ", from " + say.Plural(c.Placements, "placement")}
			}
			return riskBoard(labels, rows)
		}}
}

// riskBoard draws risks within a year as points with their ranges.
func riskBoard(labels []string, rows []chart.ShownFigure) *chart.Board {
	b := chart.Sideways(labels, "cracks within a year, in 100 slabs")
	b.Marks("risk", "circle", say.InHundred, rows)
	b.ErrorBars("risk", say.InHundred, rows)
	return b
}

func madeOf(c cell) string { return say.Clean(c.Reinforcement, say.LabelName) }

func (a *Author) byReinforcement(c *cracks.Cracks) Exhibit {
	table := TableOf("Cracks by reinforcement, all joint spacings together", withAll(c), a.crackColumns(c, "Reinforcement", madeOf)...)
	return Exhibit{Title: "By reinforcement", Chart: a.riskChart("chart-made", c.Reinforcements, madeOf), Table: table}
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
func (a *Author) crackMatrix(c *cracks.Cracks) Exhibit {
	var bands []cell // one of each spacing, in order
	for _, x := range c.Cells {
		if !slices.ContainsFunc(bands, func(b cell) bool { return b.From == x.From }) {
			bands = append(bands, x)
		}
	}
	slices.SortStableFunc(bands, compareBands)
	worst := 0.0
	for _, x := range c.Cells {
		if x.Placements >= fewestSlabs && x.Risk1Yr.Known() {
			worst = max(worst, x.Risk1Yr.Value)
		}
	}
	return Exhibit{Title: "Reinforcement by joint spacing",
		Says: "In each box: how many in 100 crack within a year with the range, and the slabs behind it. Where ranges overlap, the boxes are not shown to differ.",
		Table: Matrix("Cracks within a year, in 100 slabs, by reinforcement and joint spacing", "Reinforcement", c.Reinforcements, bands, madeOf,
			func(band cell) string { return say.Capital(a.bandText(band)) },
			func(row, band cell) say.Cell {
				i := slices.IndexFunc(c.Cells, func(x cell) bool { return x.Reinforcement == row.Reinforcement && x.From == band.From })
				if i < 0 {
					return say.Blank()
				}
				return a.matrixCell(c.Cells[i], worst)
			})}
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

// matrixCell is a risk above the slabs that it rests on.
func (a *Author) matrixCell(c cell, worst float64) say.Cell {
	if c.Placements < fewestSlabs || !c.Risk1Yr.Known() {
		return say.Cell{Text: "too few", Below: "of " + say.Count(c.Placements), Unknown: true}
	}
	out := say.Valued(a.Short(say.OfHundred, c.Risk1Yr), c.Risk1Yr.Value)
	out.Below = "of " + say.Count(c.Placements)
	return Shaded(out, c.Risk1Yr.Value, worst)
}
