package site

import (
	"cmp"
	"fmt"
	"net/http"
	"slices"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/say"
)

// crewView is the crew's day: what is poured today, what was yesterday and wants its saw
// cut written down, and what comes next.
type crewView struct {
	Says  string
	None  bool // nothing is planned, and who asks may bid
	Lists []crewList
	Moves bool      // the page moves on by itself as entries come in
	Begin *formView // a pour that is not listed; nil for who does not write
}

type crewList struct {
	Title string
	Rows  []crewRow
}

// crewRow is a pour. Without a number its job has no page to write on.
type crewRow struct {
	Name, Href, Says, More string
	ID                     int64    // of its bid; 0 where there is none
	Came                   []string // today, the newest first

	at record.Date
}

// poursPage is where the pours stood before.
func poursPage(a *Ask) error { return a.Go("/crew") }

func crewPage(a *Ask) error {
	return a.madeOfVersion(func() error { return a.showToday(http.StatusOK, nil) })
}

// showToday shows the crew's day, with the form for another pour as it was sent where it
// could not be taken.
func (a *Ask) showToday(status int, again *formView) error {
	plans, err := a.plans()
	if err != nil {
		return err
	}
	today := a.Today()
	placed, err := a.Store().PlacedSince(a.Context(), today-1)
	if err != nil {
		return err
	}
	came, err := a.todaysEntries()
	if err != nil {
		return err
	}
	var now, before, next []crewRow
	jobs := jobsOf(placed)
	records, err := a.Store().RecordsOfJobs(a.Context(), jobs, pouredTables...)
	if err != nil {
		return err
	}
	for _, job := range jobs {
		rows := a.jobRows(job, records[job], planIn(plans, job), today, came)
		now, before = append(now, rows[0]...), append(before, rows[1]...)
	}
	begun, err := a.begunJobs(plans)
	if err != nil {
		return err
	}
	for i := range plans {
		if p := &plans[i]; slices.Contains(begun, p.Job) {
			continue
		} else if row := a.planRow(p); row.at == today {
			now = append(now, row)
		} else {
			next = append(next, row)
		}
	}
	slices.SortStableFunc(next, func(x, y crewRow) int { return cmp.Compare(dated(x.at), dated(y.at)) })
	uncut := 0
	for _, row := range before {
		uncut += min(1, len(row.More))
	}
	v := crewView{Says: a.Say.TodayAnswer(today, len(now), uncut), None: len(plans)+len(placed) == 0 && a.Who.Role == Owner}
	if len(now)+len(before)+len(next) == 0 {
		v.Says = a.Say.NoPours()
	}
	if a.Base() != "" { // its pours are looked at, and not written down
		for _, rows := range [][]crewRow{now, before, next} {
			for i := range rows {
				rows[i].Href = ""
			}
		}
	}
	v.add(a.Say.TodayPours(), now)
	v.add(a.Say.YesterdayPours(), before)
	v.add(a.Say.NextPours(), next[:min(len(next), mostListed)])
	if a.writes() {
		if v.Begin = again; again == nil {
			v.Begin = a.beginForm("")
		}
	}
	if v.Moves = a.Who.Role&Readers != 0 && again == nil; v.Moves {
		a.W.Header().Set("ETag", etagOf(fmt.Append(nil, v.Says, v.Lists)))
	}
	return a.showAs(status, "crew", a.Say.TodayTitle(), v)
}

func (v *crewView) add(title string, rows []crewRow) {
	if len(rows) > 0 {
		v.Lists = append(v.Lists, crewList{title, rows})
	}
}

// dated puts pours without a day behind the others.
func dated(day record.Date) record.Date {
	if day == 0 {
		return 1 << 30
	}
	return day
}

func jobsOf(placed []*record.Placement) (jobs []string) {
	for _, p := range placed {
		if !slices.Contains(jobs, p.JobNo) {
			jobs = append(jobs, p.JobNo)
		}
	}
	return jobs
}

// jobRows are the placements of a job that were placed today, and those of yesterday.
func (a *Ask) jobRows(job string, records []record.Record, by *plan, today record.Date, came []store.Batch) (rows [2][]crewRow) {
	for _, p := range pouringsOf(job, by, records) {
		if p.Is == nil || p.Is.PlacedOn < today-1 || p.Is.PlacedOn > today || !a.sees(p.Is.Crew) {
			continue
		}
		row := crewRow{Name: a.Say.PourName(job, a.Say.Word(p.Is.Use)), Href: partPath(job, p.Name), Says: a.soFar(p), Came: a.came(p, came), at: p.Is.PlacedOn}
		if by != nil {
			row.ID = by.ID
		}
		if p.Is.PlacedOn < today && p.Is.JointCut == "" {
			row.More = a.Say.NoSawCut()
		}
		rows[int(today-p.Is.PlacedOn)] = append(rows[int(today-p.Is.PlacedOn)], row)
	}
	return rows
}

// begunJobs are the jobs of bids of which something is on record.
func (a *Ask) begunJobs(plans []plan) ([]string, error) {
	var jobs []string
	for _, p := range plans {
		if p.Job != "" {
			jobs = append(jobs, p.Job)
		}
	}
	return a.Store().Poured(a.Context(), jobs)
}

// planRow is a pour as its bid has it.
func (a *Ask) planRow(p *plan) crewRow {
	w := a.Say
	row := crewRow{ID: p.ID, Name: w.PourName(p.Job, say.Bid(w).Name(p.Bid)), Says: w.PourOn(p.Bid), More: w.OrderIs(p.Bid), at: p.day()}
	if p.Job != "" {
		row.Href = pourPath(p.Job)
	} else {
		row.More = fmt.Sprint(row.More, " ", w.NoJobNo())
	}
	return row
}
