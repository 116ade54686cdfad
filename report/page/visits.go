package page

import (
	"strings"

	"pourback/analysis"
	"pourback/analysis/figure"
	"pourback/analysis/visits"
	"pourback/report/say"
)

// visits says which finished slabs to go and look at.
func (a *Author) visits() Page {
	w := say.Visits{Voice: a.Voice}
	p := Page{Slug: visitsSlug, Title: w.Title(), Method: w.Method()}
	if a.empty() {
		return a.begin(p, w.WillSay(), w.Takes())
	}
	v := a.f.Visits
	p.Answer = w.Answer(v)
	p.Basis = a.basis(a.f.Placements, a.Placements) + " " + w.Basis(v)
	p.Exhibits = append(inHand(some(a.trips(v))), some(a.passBy(v), a.openCallbacks(v), a.dueVisits(w.OverdueTitle(), w.LateCaption(), v.Overdue),
		a.dueVisits(w.DueTitle(), w.DueCaption(v), v.Due), a.doneVisits(v))...)
	if len(v.Trips) == 0 {
		p.Do = []string{say.Todo{Voice: a.Voice}.NoTrip()}
	}
	p.Exhibits = append(p.Exhibits, some(a.calendar(&v.Calendar))...)
	p.Exhibits = append(p.Exhibits, leversOf(a.Voice, decision{id: "chart-visit-turns", says: w.TurnsSay(v), caption: w.TurnsCaption(), head: w.TurnsHead(), comes: w.SitesCount,
		turns: turnsOf("", v.TurnedBy), scale: w.TurnsHead(), factor: 1})...)
	if kept := w.Kept(&v.Kept); kept != "" {
		p.Notes = append(p.Notes, kept)
	}
	p.Notes = append(p.Notes, w.Notes(v)...)
	return p
}

// some are the exhibits that hold a row.
func some(all ...Exhibit) []Exhibit {
	var kept []Exhibit
	for _, e := range all {
		if e.Table != nil && len(e.Table.Rows) > 0 {
			kept = append(kept, e)
		}
	}
	return kept
}

// visitsTable is a table whose rest stands in the JSON of the visits.
func visitsTable[T any](a *Author, caption string, rows []T, columns ...ColumnOf[T]) *Table {
	return firstRows(a, caption, rows, MostRows, columns...)
}

// firstRows is a table of the first rows, the rest of which stands in the JSON
// of the visits.
func firstRows[T any](a *Author, caption string, rows []T, most int, columns ...ColumnOf[T]) *Table {
	t := firstOf(caption, rows, most, columns...)
	if t.Left > 0 {
		t.More = say.Visits{Voice: a.Voice}.RowsLeft(t.Left)
	}
	return t
}

// day is a cell of a date.
func (a *Author) day(d figure.Day) say.Cell {
	if d.Date == 0 {
		return say.Cell{Text: say.Visits{Voice: a.Voice}.Never()}
	}
	return say.Dated(d.String(), d.Date)
}

func (a *Author) trips(v *visits.Visits) Exhibit {
	type trip = visits.Trip
	w := say.Visits{Voice: a.Voice}
	heads := w.TripHeads()
	return Exhibit{Title: w.TripsTitle(), Table: visitsTable(a, w.TripsCaption(), v.Trips,
		ColumnOf[trip]{Head: heads.Job, Cell: func(t trip) say.Cell { return a.placedAt(t.Site, t.JobNo, t.JobNo) }},
		ColumnOf[trip]{Head: heads.Slabs, Cell: func(t trip) say.Cell { return say.Word(strings.Join(t.Placements, ", ")) }},
		numbers(heads.Stake, func(t trip) say.Cell { return a.Cell(a.About(), t.Worth) }),
		whyColumn(heads.Why, func(t trip) string { return w.Stop(&t.Stop) }))}
}

func (a *Author) passBy(v *visits.Visits) Exhibit {
	type site = visits.PassBy
	w := say.Visits{Voice: a.Voice}
	heads := w.PassByHeads()
	return Exhibit{Title: w.PassByTitle(), Table: visitsTable(a, w.PassByCaption(), v.PassBy,
		ColumnOf[site]{Head: heads.Slabs, Cell: func(p site) say.Cell { return a.placedAt(p.Site, p.Jobs[0].JobNo, w.SlabsOf(&p)) }},
		numbers(heads.Stake, func(p site) say.Cell { return a.Cell(a.About(), p.Worth) }),
		whyColumn(heads.Why, func(p site) string { return w.Stop(&p.Jobs[0].Stop) }))}
}

// whyColumn is a column of reasons, which a terminal shows of the first table
// alone.
func whyColumn[T any](head string, why func(T) string) ColumnOf[T] {
	c := wordsIn(head, why)
	c.Reasons = true
	return c
}

func (a *Author) doneVisits(v *visits.Visits) Exhibit {
	type visit = visits.DoneVisit
	w := say.Visits{Voice: a.Voice}
	heads := w.Heads()
	return Exhibit{Title: w.DoneTitle(), Table: visitsTable(a, w.DoneCaption(), v.Done,
		ColumnOf[visit]{Head: heads.Slab, Cell: func(v visit) say.Cell { return a.placed(v.JobNo, v.JobNo+" "+v.Placement) }},
		wordsIn(heads.Visit, func(v visit) string { return w.Point(v.Visit) }),
		ColumnOf[visit]{Head: heads.Planned, Cell: func(v visit) say.Cell { return a.day(v.PlannedOn) }},
		ColumnOf[visit]{Head: heads.Made, Cell: func(v visit) say.Cell { return a.day(v.SeenOn) }},
		wordsIn(heads.Found, func(v visit) string { return a.Word(v.Finding) }))}
}

func (a *Author) dueVisits(title, caption string, due []visits.DueVisit) Exhibit {
	type visit = visits.DueVisit
	w := say.Visits{Voice: a.Voice}
	heads := w.Heads()
	return Exhibit{Title: title, Table: visitsTable(a, caption, due,
		ColumnOf[visit]{Head: heads.Slab, Cell: func(v visit) say.Cell { return a.placed(v.JobNo, v.JobNo+" "+v.Placement) }},
		wordsIn(heads.Visit, func(v visit) string { return w.Point(v.Visit) }),
		ColumnOf[visit]{Head: heads.Planned, Cell: func(v visit) say.Cell { return a.day(v.PlannedOn) }},
		ColumnOf[visit]{Head: heads.LastSeen, Cell: func(v visit) say.Cell { return a.day(v.LastSeenOn) }},
		numbers(heads.Chance, func(v visit) say.Cell { return a.Cell(say.OfHundred, v.Chance) }),
		numbers(heads.Stake, func(v visit) say.Cell { return a.Cell(a.About(), v.Worth) }),
		whyColumn(heads.Why, func(v visit) string { return w.Why(v.Why) }))}
}

func (a *Author) openCallbacks(v *visits.Visits) Exhibit {
	type call = visits.OpenCallback
	w := say.Visits{Voice: a.Voice}
	heads := w.OpenHeads()
	return Exhibit{Title: w.OpenTitle(), Table: visitsTable(a, w.OpenCaption(), v.Callbacks.Open,
		ColumnOf[call]{Head: heads.Slab, Cell: func(c call) say.Cell { return a.placedAt(c.Site, c.JobNo, c.JobNo+" "+c.Placement) }},
		wordsIn(heads.About, func(c call) string { return a.Word(c.Kind) }),
		ColumnOf[call]{Head: heads.Opened, Cell: func(c call) say.Cell { return a.day(c.Opened) }},
		counts(heads.Days, func(c call) int { return c.AgeDays }),
		counts(heads.Call, func(c call) int { return c.Call }),
		numbers(heads.Width, func(c call) say.Cell { return a.Bare(a.CrackWidths(), c.WidthIn) }),
		wordsIn(heads.Warranty, func(c call) string { return w.InForce(c.InForce) }))}
}

// VisitPages are the pages of the visits alone, as a terminal shows them: where
// to go, what is open and which new pours to look at first, or the story of the
// one slab that was asked about.
func VisitPages(f *analysis.Factors, opt Options) []Page {
	a := NewAuthor(f, opt)
	if f.Visits.StoryAsked != "" {
		p := a.slabStories()
		p.Voice = a.Voice
		return []Page{p}
	}
	p, w := a.visits(), say.Visits{Voice: a.Voice}
	if !a.empty() {
		p.Exhibits = a.shortened(append(p.Exhibits, some(a.earlyPours(f.Visits))...))
		p.Notes = append(p.Notes, say.Early{Voice: a.Voice}.Answer(&f.Visits.Early), say.Warranty{Voice: a.Voice}.Answer(&f.Visits.Warranty), w.More())
	}
	p.Voice, p.LeftOut = a.Voice, leftOut(a.Voice, f.LeftOut, p.Slug)
	return []Page{p}
}

// shortened leaves what a terminal shows at a glance: so many rows of each
// table, and the reasons where they are told first.
func (a *Author) shortened(exhibits []Exhibit) []Exhibit {
	const most = 10
	for i, e := range exhibits {
		if i > 0 {
			e.Table.dropReasons()
		}
		if t := e.Table; len(t.Rows) > most {
			t.More = say.Visits{Voice: a.Voice}.FirstRows(len(t.Rows) - most)
			t.Rows = t.Rows[:most]
		}
	}
	return exhibits
}
