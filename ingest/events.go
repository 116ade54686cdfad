package ingest

import (
	"context"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// seen is what one call has read so far: the pours, which a dry run does not
// keep, and the jobs to which something happened.
type seen struct {
	dry    bool
	poured map[[2]string]record.Date // of a dry run
	jobs   map[string]bool
}

func newSeen(dry bool) *seen {
	return &seen{dry: dry, poured: map[[2]string]record.Date{}, jobs: map[string]bool{}}
}

// mostJobs bounds what is remembered; beyond it every job counts as touched.
const mostJobs = 100_000

func (s *seen) note(t *record.Table, rows []store.Row) {
	for _, r := range rows {
		if p, ok := r.Record.(*record.Placement); ok && s.dry {
			s.poured[[2]string{p.JobNo, p.Placement}] = p.PlacedOn
		}
		if len(s.jobs) <= mostJobs {
			s.jobs[*r.Fields[0].(*string)] = true // every table begins with its job_no
		}
	}
}

// touched says whether the call has read a row of the job.
func (s *seen) touched(job string) bool { return len(s.jobs) > mostJobs || s.jobs[job] }

// checkEvents holds a block's events against the placements they name: one
// that is not known is worth a warning, for it may be handed in later, and a
// visit before its pour is an error.
func (t *taker) checkEvents(ctx context.Context, block []*sheet.Row) error {
	var jobs []string
	for _, r := range block {
		if job := jobOf(r.Record); job != "" && (len(jobs) == 0 || jobs[len(jobs)-1] != job) {
			jobs = append(jobs, job)
		}
	}
	if len(jobs) == 0 {
		return nil
	}
	poured, err := t.tx.PlacedOn(ctx, jobs)
	if err != nil {
		return err
	}
	for place, on := range t.seen.poured {
		poured[place] = on
	}
	known := map[string][]string{}
	for place := range poured {
		known[place[0]] = append(known[place[0]], place[1])
	}
	for _, r := range block {
		if job := jobOf(r.Record); job != "" {
			t.checkEvent(r, job, known[job], poured)
		}
	}
	return nil
}

// jobOf is the job that a row of an event or a cost names, or "".
func jobOf(r record.Record) string {
	switch e := r.(type) {
	case record.Event:
		job, _ := e.Place()
		return *job
	case *record.Cost:
		return e.JobNo
	}
	return ""
}

func (t *taker) checkEvent(r *sheet.Row, job string, placements []string, poured map[[2]string]record.Date) {
	for _, p := range eventProblems(r.Record, job, placements, poured) {
		t.problemAt(r, p)
	}
}

// countsNowhere stands behind what is wrong with a row of which the placement may be
// handed in later.
const countsNowhere = ", so the row counts nowhere yet"

const codeUnknownJob = "unknown-job"

// eventProblems are what is wrong with what an event or a cost says of where and
// when it was, given the placements of its job.
func eventProblems(r record.Record, job string, placements []string, poured map[[2]string]record.Date) (found []record.Problem) {
	if len(placements) == 0 {
		return []record.Problem{{Code: codeUnknownJob, Column: "job_no", Value: job,
			Wrong: "no placement of this job is on record" + countsNowhere, Right: "hand in its placements, or mend the job_no"}}
	}
	event, ok := r.(record.Event)
	if !ok {
		return nil
	}
	_, placement := event.Place()
	name := *placement
	if name == "" && len(placements) == 1 {
		name = placements[0]
	}
	on := poured[[2]string{job, name}]
	if on == 0 && name != "" {
		near, _ := record.Nearest(name, placements)
		found = append(found, record.Problem{Code: "unknown-placement", Column: "placement", Value: name,
			Wrong: "the job has no such placement on record" + countsNowhere, Right: "did you mean " + near + "?"})
	}
	if v, ok := event.(*record.Visit); ok && on != 0 && v.SeenOn != 0 && v.SeenOn < on {
		found = append(found, record.Problem{Severity: record.Error, Code: "visit-before-pour", Column: "seen_on", Value: v.SeenOn.String(),
			Wrong: "before the pour on " + on.String(), Right: "a later day"})
	}
	return found
}

// differences are the summaries of the jobs read in this call that their events
// contradict. Without any event in the store there are none.
func differences(ctx context.Context, st *store.Store, s *seen, today record.Date) ([]record.Problem, error) {
	if s.dry || len(s.jobs) == 0 {
		return nil, nil
	}
	any, err := hasEvents(ctx, st)
	if err != nil || !any {
		return nil, err
	}
	h, err := st.History(ctx, today)
	if err != nil {
		return nil, err
	}
	var found []record.Problem
	for _, p := range h.Checks {
		if p.Code == record.UnlikeEvents && s.touched(p.Job) {
			found = append(found, p)
		}
	}
	return found, nil
}

func hasEvents(ctx context.Context, st *store.Store) (bool, error) {
	any := false
	for _, t := range []*record.Table{record.Loads, record.Delays, record.Labors, record.Visits, record.Costs} {
		err := st.Records(ctx, t, func(record.Record) error { any = true; return errStop })
		if err != nil && err != errStop {
			return false, err
		}
	}
	return any, nil
}
