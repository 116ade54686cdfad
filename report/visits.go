package report

import (
	"slices"
	"strings"

	"pourback/analysis"
	"pourback/analysis/figure"
	"pourback/analysis/visits"
	"pourback/ingest/record"
)

// visits says where to drive.
func (a *author) visits() Page {
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
	p.Answer = a.said(v.Answer)
	p.Basis = a.basis(a.f.Placements, "placement") + " Plan up to " + asOfText(v.DueBy) + "."
	p.Exhibits = a.some(a.trips(v), a.openCallbacks(v), a.dueVisits("Overdue", "Visits that are overdue, the one most at stake first", v.Overdue),
		a.dueVisits("Due", "Visits due by "+asOfText(v.DueBy)+", the one most at stake first", v.Due), a.doneVisits(v))
	if v.Kept.Share.Known() {
		p.Notes = append(p.Notes, "Of the visits planned so far "+inHundred.long(v.Kept.Share)+" were made ("+count(v.Kept.Made)+" of "+count(v.Kept.Planned)+").")
	}
	p.Notes = append(p.Notes, a.saidAll(v.Notes)...)
	return p
}

// some are the exhibits that hold a row.
func (a *author) some(all ...Exhibit) []Exhibit {
	var kept []Exhibit
	for _, e := range all {
		if e.Table != nil && len(e.Table.Rows) > 0 {
			kept = append(kept, e)
		}
	}
	return kept
}

// visitsTable is a table whose rest stands in the JSON of the visits.
func visitsTable[T any](caption string, rows []T, columns ...column[T]) *Table {
	t := tableOf(caption, rows, columns...)
	t.More = strings.ReplaceAll(t.More, "factors --json", "factors visits --json")
	return t
}

// day is a cell of a date.
func day(d figure.Day) Cell {
	if d.Date == 0 {
		return Cell{Text: "never"}
	}
	return Cell{Text: d.String()}
}

func (a *author) trips(v *visits.Visits) Exhibit {
	type trip = visits.Trip
	return Exhibit{Title: "Trips", Table: visitsTable("Jobs to drive to, the one most at stake first", v.Trips,
		column[trip]{head: "Job", cell: func(t trip) Cell { return word(t.JobNo) }},
		column[trip]{head: "Slabs", cell: func(t trip) Cell { return word(strings.Join(t.Placements, ", ")) }},
		column[trip]{head: "Site", ahead: true, cell: func(t trip) Cell { return siteCell(t.Site) }},
		column[trip]{head: "At stake", number: true, cell: func(t trip) Cell { return a.about().cell(t.Worth) }},
		column[trip]{head: "Why", cell: func(t trip) Cell { return Cell{Text: a.said(capital(t.Why))} }})}
}

func (a *author) doneVisits(v *visits.Visits) Exhibit {
	type visit = visits.DoneVisit
	return Exhibit{Title: "Done", Table: visitsTable("Planned visits made in the last 30 days, the latest first", v.Done,
		column[visit]{head: "Slab", cell: func(v visit) Cell { return word(v.JobNo + " " + v.Placement) }},
		column[visit]{head: "Visit", cell: func(v visit) Cell { return Cell{Text: v.Visit} }},
		column[visit]{head: "Planned", cell: func(v visit) Cell { return day(v.PlannedOn) }},
		column[visit]{head: "Made", cell: func(v visit) Cell { return day(v.SeenOn) }},
		column[visit]{head: "Found", cell: func(v visit) Cell { return word(v.Finding) }})}
}

func (a *author) dueVisits(title, caption string, due []visits.DueVisit) Exhibit {
	type visit = visits.DueVisit
	return Exhibit{Title: title, Table: visitsTable(caption, due,
		column[visit]{head: "Slab", cell: func(v visit) Cell { return a.placed(v.JobNo, v.JobNo+" "+v.Placement) }},
		column[visit]{head: "Visit", cell: func(v visit) Cell { return Cell{Text: v.Visit} }},
		column[visit]{head: "Planned", cell: func(v visit) Cell { return day(v.PlannedOn) }},
		column[visit]{head: "Last seen", cell: func(v visit) Cell { return day(v.LastSeenOn) }},
		column[visit]{head: "Callback soon, in 100", number: true, cell: func(v visit) Cell { return ofHundred.cell(v.Chance) }},
		column[visit]{head: "At stake", number: true, cell: func(v visit) Cell { return a.about().cell(v.Worth) }},
		column[visit]{head: "Why", cell: func(v visit) Cell { return Cell{Text: a.said(capital(v.Why))} }})}
}

func (a *author) openCallbacks(v *visits.Visits) Exhibit {
	type call = visits.OpenCallback
	return Exhibit{Title: "Open callbacks", Table: visitsTable("Callbacks that nobody has closed, the oldest first", v.Callbacks.Open,
		column[call]{head: "Slab", cell: func(c call) Cell { return word(c.JobNo + " " + c.Placement) }},
		column[call]{head: "Site", ahead: true, cell: func(c call) Cell { return siteCell(c.Site) }},
		column[call]{head: "About", cell: func(c call) Cell { return word(c.Kind) }},
		column[call]{head: "Opened", cell: func(c call) Cell { return day(c.Opened) }},
		column[call]{head: "Days", number: true, cell: func(c call) Cell { return whole(c.AgeDays) }},
		column[call]{head: "Call no.", number: true, cell: func(c call) Cell { return whole(c.Call) }},
		column[call]{head: "Crack," + a.width().unit, number: true, cell: func(c call) Cell { return a.width().bare(c.WidthIn) }},
		column[call]{head: "Warranty", cell: func(c call) Cell { return Cell{Text: map[bool]string{true: "in force", false: "ended"}[c.InForce]} }})}
}

// width shows the widths of cracks, in inches or millimetres.
func (a *author) width() measure { return shown(record.Inch, a.units.si) }

// siteCell is a site where it may be named.
func siteCell(site string) Cell {
	if site == "" {
		return Cell{unknown: true}
	}
	return word(site)
}

// bare is a figure's cell without its unit, which the head bears.
func (m measure) bare(f figure.Figure) Cell {
	if !f.Known() {
		return Cell{Text: "–"}
	}
	m.unit = ""
	return m.cell(f)
}

// VisitPages are the pages of the visits alone, as a terminal shows them: where
// to drive, what is open and which new pours to worry about, or the story of
// the one slab that was asked about.
func VisitPages(f *analysis.Factors, opt Options) []Page {
	a := newAuthor(f, opt)
	if f.Visits.StoryAsked != "" {
		return []Page{a.slabStories()}
	}
	p := a.visits()
	if !a.empty() {
		p.Exhibits = shortened(append(p.Exhibits, a.some(a.earlyPours(f.Visits))...))
		p.Notes = append(p.Notes, a.said(f.Visits.Early.Answer), a.said(f.Visits.Warranty.Answer), "A slab's whole story: `pourback visits --slab JOB/PLACEMENT`; all of this at leisure: `pourback report`.")
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
			t.More = "And " + count(len(t.Rows)-most) + " more below them; `pourback visits --json` and the report have more."
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
