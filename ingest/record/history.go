package record

import (
	"cmp"
	"slices"
)

// Set is rows of the seven tables as they were handed in.
type Set struct {
	Jobs       []Job
	Placements []Placement
	Loads      []Load
	Delays     []Delay
	Labor      []Labor
	Costs      []Cost
	Visits     []Visit
}

// History is what is known as of a date: every placement poured by then, with
// its summaries resolved from its events, in the order of job and placement.
type History struct {
	AsOf Date
	Set
	Checks []Problem // events and summaries that disagree, events that name nothing

	jobOf                         []int32 // for each placement, its job
	loads, delays, labors, visits []span  // for each placement, its events
	costs                         []span  // for each job, its costs
}

// span is the range [from, to) of a slice.
type span struct{ from, to int32 }

// NewHistory resolves the rows of s that are known as of the date. It takes s
// over: its slices are sorted and changed in place.
//
// Summaries that events give win over those written on the placement. Rows
// dated after asOf are left out, as are jobs with no placement poured by then.
func NewHistory(asOf Date, s Set) *History {
	h := &History{AsOf: asOf, Set: s}
	h.cut()
	h.sort()
	h.joinJobs()
	h.placeEvents()
	h.resolvePlacements()
	h.resolveJobs()
	h.leaveOut()
	return h
}

// JobOf is the job of placement i.
func (h *History) JobOf(i int) *Job { return &h.Jobs[h.jobOf[i]] }

// JobIndex is the place among Jobs of placement i's job.
func (h *History) JobIndex(i int) int { return int(h.jobOf[i]) }

// LoadsOf are the loads of placement i, by ticket.
func (h *History) LoadsOf(i int) []Load { return slice(h.Loads, h.loads, i) }

// DelaysOf are the delays of placement i, by number.
func (h *History) DelaysOf(i int) []Delay { return slice(h.Delays, h.delays, i) }

// LaborOf are the hours of placement i, by day.
func (h *History) LaborOf(i int) []Labor { return slice(h.Labor, h.labors, i) }

// VisitsOf are the visits to placement i, by day.
func (h *History) VisitsOf(i int) []Visit { return slice(h.Visits, h.visits, i) }

// CostsOf are the costs of job j.
func (h *History) CostsOf(j int) []Cost { return slice(h.Costs, h.costs, j) }

func slice[T any](all []T, spans []span, i int) []T {
	if spans == nil {
		return nil
	}
	return all[spans[i].from:spans[i].to]
}

// cut leaves out what was not yet known.
func (h *History) cut() {
	h.cutEventsToCome()
	h.Placements = slices.DeleteFunc(h.Placements, func(p Placement) bool { return p.PlacedOn > h.AsOf })
	h.Labor = slices.DeleteFunc(h.Labor, func(l Labor) bool { return l.WorkedOn > h.AsOf })
	h.Visits = slices.DeleteFunc(h.Visits, func(v Visit) bool { return v.SeenOn > h.AsOf })
	for i := range h.Placements {
		if p := &h.Placements[i]; p.CallbackOn > h.AsOf {
			p.CallbackOn, p.CallbackKind, p.CallbackCost = 0, "", Money{}
		}
	}
	for i := range h.Visits {
		if v := &h.Visits[i]; v.ResolvedOn > h.AsOf {
			v.ResolvedOn = 0
		}
	}
}

// cutEventsToCome leaves out the events of placements poured after the date,
// which would name nothing.
func (h *History) cutEventsToCome() {
	toCome := map[[2]string]bool{}
	for i := range h.Placements {
		if p := &h.Placements[i]; p.PlacedOn > h.AsOf {
			toCome[[2]string{p.JobNo, p.Placement}] = true
			toCome[[2]string{p.JobNo, ""}] = true
		}
	}
	if len(toCome) == 0 {
		return
	}
	for i := range h.Placements {
		if p := &h.Placements[i]; p.PlacedOn <= h.AsOf {
			delete(toCome, [2]string{p.JobNo, ""}) // an event that names no placement may be this one's
		}
	}
	h.Loads = without(h.Loads, toCome)
	h.Delays = without(h.Delays, toCome)
	h.Labor = without(h.Labor, toCome)
}

// without leaves out the events of some places.
func without[T any, E interface {
	*T
	Event
}](rows []T, places map[[2]string]bool) []T {
	kept := rows[:0]
	for i := range rows {
		if job, placement := E(&rows[i]).Place(); !places[[2]string{*job, *placement}] {
			kept = append(kept, rows[i])
		}
	}
	clear(rows[len(kept):])
	return kept
}

// sort brings every table into the order of its keys, whatever the order and
// the collation of the store.
func (h *History) sort() {
	order(h.Jobs, func(a, b *Job) int { return cmp.Compare(a.JobNo, b.JobNo) })
	order(h.Placements, func(a, b *Placement) int {
		return cmp.Or(cmp.Compare(a.JobNo, b.JobNo), cmp.Compare(a.Placement, b.Placement))
	})
	order(h.Costs, func(a, b *Cost) int { return cmp.Or(cmp.Compare(a.JobNo, b.JobNo), cmp.Compare(a.Item, b.Item)) })
}

// order sorts only what is not in order: the store mostly hands rows out sorted.
func order[T any](rows []T, compare func(a, b *T) int) {
	for i := 1; i < len(rows); i++ {
		if compare(&rows[i-1], &rows[i]) > 0 {
			slices.SortStableFunc(rows, func(a, b T) int { return compare(&a, &b) })
			return
		}
	}
}

// joinJobs gives every placement its job, making one where no row of jobs names
// it, and leaves out jobs with nothing poured.
func (h *History) joinJobs() {
	given := h.Jobs
	begins := func(i int) bool { return i == 0 || h.Placements[i].JobNo != h.Placements[i-1].JobNo }
	count := 0
	for i := range h.Placements {
		if begins(i) {
			count++
		}
	}
	jobs := make([]Job, 0, count) // at once: growing would touch thrice the memory
	h.jobOf = make([]int32, len(h.Placements))
	for i := range h.Placements {
		if no := h.Placements[i].JobNo; begins(i) {
			for len(given) > 0 && given[0].JobNo < no {
				given = given[1:]
			}
			if len(given) > 0 && given[0].JobNo == no {
				jobs = append(jobs, given[0])
			} else {
				jobs = append(jobs, Job{JobNo: no})
			}
		}
		h.jobOf[i] = int32(len(jobs) - 1)
	}
	h.Jobs = jobs
}

// PlacementsOf is the range [from, to) of job j's placements.
func (h *History) PlacementsOf(j int) (from, to int) {
	from, _ = slices.BinarySearch(h.jobOf, int32(j))
	to = from
	for to < len(h.jobOf) && h.jobOf[to] == int32(j) {
		to++
	}
	return from, to
}

// Rows are the set's rows of one table.
func (s *Set) Rows(t *Table) []Record {
	switch t {
	case Jobs:
		return rowsOf[Job](s.Jobs)
	case Placements:
		return rowsOf[Placement](s.Placements)
	case Loads:
		return rowsOf[Load](s.Loads)
	case Delays:
		return rowsOf[Delay](s.Delays)
	case Labors:
		return rowsOf[Labor](s.Labor)
	case Costs:
		return rowsOf[Cost](s.Costs)
	case Visits:
		return rowsOf[Visit](s.Visits)
	}
	return nil
}

func rowsOf[T any, R interface {
	*T
	Record
}](rows []T) []Record {
	out := make([]Record, len(rows))
	for i := range rows {
		out[i] = R(&rows[i])
	}
	return out
}
