package page

import (
	"slices"
	"strings"

	"pourback/analysis"
	"pourback/analysis/figure"
	"pourback/analysis/visits"
	"pourback/ingest/record"
	"pourback/report/say"
)

// visits says where to drive.
func (a *Author) visits() Page {
	p := Page{Slug: "visits", Title: "Where to drive", Method: []string{
		"The plan is a setting: days after each pour, more of them for hot pours and for slabs whose risk is well above the usual, and the end of each warranty.",
		"The chance of a callback comes from the company's own: a rate of crack callbacks for each stretch of a slab's life, drawn to that of all by the weight of one callback (a gamma prior), and that of all to the usual one, a setting of bids, by one more; times the ratio of a hazard model (Cox 1972) for what the slab is like, where there are callbacks enough for one. Slabs on which a crack was seen, and slabs that were repaired, have a rate of their own.",
		"Ranges of chances take the callbacks for Poisson counts and the ratios for log-normal; they are approximate.",
		"Share of planned visits made: Wilson's range (1927).",
	}}
	const takes = "a table of visits: job_no, placement, seen_on, why (planned or callback) and finding"
	if a.empty() {
		return a.begin(p, "which finished slabs to go and look at", takes)
	}
	v := a.f.Visits
	p.Answer = a.Said(v.Answer)
	p.Basis = a.basis(a.f.Placements, "placement") + " Plan up to " + say.AsOfText(v.DueBy) + "."
	p.Exhibits = a.some(a.trips(v), a.openCallbacks(v), a.dueVisits("Overdue", "Visits that are overdue, the one most at stake first", v.Overdue),
		a.dueVisits("Due", "Visits due by "+say.AsOfText(v.DueBy)+", the one most at stake first", v.Due), a.doneVisits(v))
	if v.Kept.Share.Known() {
		p.Notes = append(p.Notes, "Of the visits planned so far "+a.Long(say.InHundred, v.Kept.Share)+" were made ("+say.Count(v.Kept.Made)+" of "+say.Count(v.Kept.Planned)+").")
	}
	p.Notes = append(p.Notes, a.SaidAll(v.Notes)...)
	return p
}

// some are the exhibits that hold a row.
func (a *Author) some(all ...Exhibit) []Exhibit {
	var kept []Exhibit
	for _, e := range all {
		if e.Table != nil && len(e.Table.Rows) > 0 {
			kept = append(kept, e)
		}
	}
	return kept
}

// visitsTable is a table whose rest stands in the JSON of the visits.
func visitsTable[T any](caption string, rows []T, columns ...ColumnOf[T]) *Table {
	t := TableOf(caption, rows, columns...)
	t.More = strings.ReplaceAll(t.More, "factors --json", "factors visits --json")
	return t
}

// day is a cell of a date.
func day(d figure.Day) say.Cell {
	if d.Date == 0 {
		return say.Cell{Text: "never"}
	}
	return say.Cell{Text: d.String()}
}

func (a *Author) trips(v *visits.Visits) Exhibit {
	type trip = visits.Trip
	return Exhibit{Title: "Trips", Table: visitsTable("Jobs to drive to, the one most at stake first", v.Trips,
		ColumnOf[trip]{Head: "Job", Cell: func(t trip) say.Cell { return say.Word(t.JobNo) }},
		ColumnOf[trip]{Head: "Slabs", Cell: func(t trip) say.Cell { return say.Word(strings.Join(t.Placements, ", ")) }},
		ColumnOf[trip]{Head: "Site", Ahead: true, Cell: func(t trip) say.Cell { return siteCell(t.Site) }},
		ColumnOf[trip]{Head: "At stake", Number: true, Cell: func(t trip) say.Cell { return a.Cell(a.About(), t.Worth) }},
		ColumnOf[trip]{Head: "Why", Cell: func(t trip) say.Cell { return say.Cell{Text: a.Said(say.Capital(t.Why))} }})}
}

func (a *Author) doneVisits(v *visits.Visits) Exhibit {
	type visit = visits.DoneVisit
	return Exhibit{Title: "Done", Table: visitsTable("Planned visits made in the last 30 days, the latest first", v.Done,
		ColumnOf[visit]{Head: "Slab", Cell: func(v visit) say.Cell { return say.Word(v.JobNo + " " + v.Placement) }},
		ColumnOf[visit]{Head: "Visit", Cell: func(v visit) say.Cell { return say.Cell{Text: v.Visit} }},
		ColumnOf[visit]{Head: "Planned", Cell: func(v visit) say.Cell { return day(v.PlannedOn) }},
		ColumnOf[visit]{Head: "Made", Cell: func(v visit) say.Cell { return day(v.SeenOn) }},
		ColumnOf[visit]{Head: "Found", Cell: func(v visit) say.Cell { return say.Word(v.Finding) }})}
}

func (a *Author) dueVisits(title, caption string, due []visits.DueVisit) Exhibit {
	type visit = visits.DueVisit
	return Exhibit{Title: title, Table: visitsTable(caption, due,
		ColumnOf[visit]{Head: "Slab", Cell: func(v visit) say.Cell { return a.placed(v.JobNo, v.JobNo+" "+v.Placement) }},
		ColumnOf[visit]{Head: "Visit", Cell: func(v visit) say.Cell { return say.Cell{Text: v.Visit} }},
		ColumnOf[visit]{Head: "Planned", Cell: func(v visit) say.Cell { return day(v.PlannedOn) }},
		ColumnOf[visit]{Head: "Last seen", Cell: func(v visit) say.Cell { return day(v.LastSeenOn) }},
		ColumnOf[visit]{Head: "Callback soon, in 100", Number: true, Cell: func(v visit) say.Cell { return a.Cell(say.OfHundred, v.Chance) }},
		ColumnOf[visit]{Head: "At stake", Number: true, Cell: func(v visit) say.Cell { return a.Cell(a.About(), v.Worth) }},
		ColumnOf[visit]{Head: "Why", Cell: func(v visit) say.Cell { return say.Cell{Text: a.Said(say.Capital(v.Why))} }})}
}

func (a *Author) openCallbacks(v *visits.Visits) Exhibit {
	type call = visits.OpenCallback
	return Exhibit{Title: "Open callbacks", Table: visitsTable("Callbacks that nobody has closed, the oldest first", v.Callbacks.Open,
		ColumnOf[call]{Head: "Slab", Cell: func(c call) say.Cell { return say.Word(c.JobNo + " " + c.Placement) }},
		ColumnOf[call]{Head: "Site", Ahead: true, Cell: func(c call) say.Cell { return siteCell(c.Site) }},
		ColumnOf[call]{Head: "About", Cell: func(c call) say.Cell { return say.Word(c.Kind) }},
		ColumnOf[call]{Head: "Opened", Cell: func(c call) say.Cell { return day(c.Opened) }},
		ColumnOf[call]{Head: "Days", Number: true, Cell: func(c call) say.Cell { return say.Whole(c.AgeDays) }},
		ColumnOf[call]{Head: "Call no.", Number: true, Cell: func(c call) say.Cell { return say.Whole(c.Call) }},
		ColumnOf[call]{Head: "Crack," + a.width().Unit, Number: true, Cell: func(c call) say.Cell { return a.Bare(a.width(), c.WidthIn) }},
		ColumnOf[call]{Head: "Warranty", Cell: func(c call) say.Cell {
			return say.Cell{Text: map[bool]string{true: "in force", false: "ended"}[c.InForce]}
		}})}
}

// width shows the widths of cracks, in inches or millimetres.
func (a *Author) width() say.Measure { return say.Shown(record.Inch, a.Units.Si) }

// siteCell is a site where it may be named.
func siteCell(site string) say.Cell {
	if site == "" {
		return say.Cell{Unknown: true}
	}
	return say.Word(site)
}

// VisitPages are the pages of the visits alone, as a terminal shows them: where
// to drive, what is open and which new pours to worry about, or the story of
// the one slab that was asked about.
func VisitPages(f *analysis.Factors, opt Options) []Page {
	a := NewAuthor(f, opt)
	if f.Visits.StoryAsked != "" {
		return []Page{a.slabStories()}
	}
	p := a.visits()
	if !a.empty() {
		p.Exhibits = shortened(append(p.Exhibits, a.some(a.earlyPours(f.Visits))...))
		p.Notes = append(p.Notes, a.Said(f.Visits.Early.Answer), a.Said(f.Visits.Warranty.Answer), "A slab's whole story: `pourback visits --slab JOB/PLACEMENT`; all of this at leisure: `pourback report`.")
	}
	return []Page{p}
}

// shortened leaves what a terminal shows at a glance: so many rows of each
// table, and the reasons where they are told first.
func shortened(exhibits []Exhibit) []Exhibit {
	const most = 10
	for i, e := range exhibits {
		if i > 0 {
			e.Table.drop("Why")
		}
		if t := e.Table; len(t.Rows) > most {
			t.More = "And " + say.Count(len(t.Rows)-most) + " more below them; `pourback visits --json` and the report have more."
			t.Rows = t.Rows[:most]
		}
	}
	return exhibits
}

// drop leaves a column out.
func (t *Table) drop(head string) {
	at := slices.IndexFunc(t.Columns, func(c Column) bool { return c.Head == head })
	if at < 0 {
		return
	}
	t.Columns = slices.Delete(t.Columns, at, at+1)
	for i := range t.Rows {
		t.Rows[i] = slices.Delete(t.Rows[i], at, at+1)
	}
}
