package record

import (
	"cmp"
	"slices"
	"sort"
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

// Records are the rows of the seven tables as a history keeps them: jobs and
// placements, which every question walks through, by columns.
type Records struct {
	Jobs       JobColumns
	Placements PlacementColumns
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
	Records
	Checks []Problem // events and summaries that disagree, events that name nothing

	jobOf                         []int32 // for each placement, its job
	loads, delays, labors, visits []span  // for each placement, its events
	costs                         []span  // for each job, its costs
}

// span is the range [from, to) of a slice.
type span struct{ from, to int32 }

// NewHistory resolves the rows of s that are known as of the date. It takes the
// slices of events over: they are sorted and changed in place.
func NewHistory(asOf Date, s Set) *History { return HistoryOf(asOf, s.records()) }

// records are the rows of the set as a history keeps them.
func (s *Set) records() Records {
	t := Records{Loads: s.Loads, Delays: s.Delays, Labor: s.Labor, Costs: s.Costs, Visits: s.Visits}
	addAll(t.Jobs.Columns(), s.Jobs)
	addAll(t.Placements.Columns(), s.Placements)
	return t
}

func addAll[T any, R interface {
	*T
	Record
}](c Columns, rows []T) {
	c.Reserve(len(rows))
	for i := range rows {
		c.Add(R(&rows[i]))
	}
}

// HistoryOf resolves the rows that are known as of the date. It takes r over.
//
// Summaries that events give win over those written on the placement. Rows
// dated after asOf are left out, as are jobs with no placement poured by then.
func HistoryOf(asOf Date, r Records) *History {
	h := &History{AsOf: asOf, Records: r}
	h.cut()
	h.sort()
	given := h.joinJobs()
	h.placeEvents()
	h.resolvePlacements()
	h.resolveJobs(given)
	h.leaveOut()
	return h
}

// JobOf is the job of placement i.
func (h *History) JobOf(i int) JobRow { return h.Jobs.At(int(h.jobOf[i])) }

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
	h.Labor = slices.DeleteFunc(h.Labor, func(l Labor) bool { return l.WorkedOn > h.AsOf })
	h.Visits = slices.DeleteFunc(h.Visits, func(v Visit) bool { return v.SeenOn > h.AsOf })
	for i, c := 0, &h.Placements; i < c.Len(); i++ {
		if c.CallbackOn.At(i) > h.AsOf {
			c.CallbackOn.Set(i, 0)
			c.CallbackKind.Set(i, "")
			c.CallbackCost.Set(i, Money{})
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
	for i := range h.Placements.Len() {
		if p := h.Placements.At(i); p.PlacedOn() > h.AsOf {
			toCome[[2]string{p.JobNo(), p.Placement()}] = true
			toCome[[2]string{p.JobNo(), ""}] = true
		}
	}
	if len(toCome) == 0 {
		return
	}
	for i := range h.Placements.Len() {
		if p := h.Placements.At(i); p.PlacedOn() <= h.AsOf {
			delete(toCome, [2]string{p.JobNo(), ""}) // an event that names no placement may be this one's
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
// the collation of the store, and leaves out placements poured after the date.
func (h *History) sort() {
	c := &h.Placements
	rows := make([]int32, 0, c.Len())
	for i := range c.Len() {
		if c.PlacedOn.At(i) <= h.AsOf {
			rows = append(rows, int32(i))
		}
	}
	byKey := func(a, b int32) int {
		return cmp.Or(cmp.Compare(c.JobNo.At(int(a)), c.JobNo.At(int(b))), cmp.Compare(c.Placement.At(int(a)), c.Placement.At(int(b))))
	}
	if sorted := slices.IsSortedFunc(rows, byKey); !sorted || len(rows) < c.Len() {
		slices.SortStableFunc(rows, byKey)
		c.Columns().gather(rows)
	}
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

// joinJobs gives every placement its job: for each job with anything poured
// it returns the place of its row among those of jobs, or -1 where it has none.
func (h *History) joinJobs() (given []int32) {
	rows := make([]int32, h.Jobs.Len())
	for j := range rows {
		rows[j] = int32(j)
	}
	no := func(row int32) string { return h.Jobs.JobNo.At(int(row)) }
	slices.SortStableFunc(rows, func(a, b int32) int { return cmp.Compare(no(a), no(b)) })
	h.jobOf = make([]int32, h.Placements.Len())
	last := ""
	for i := range h.jobOf {
		if this := h.Placements.JobNo.At(i); i == 0 || this != last {
			for len(rows) > 0 && no(rows[0]) < this {
				rows = rows[1:]
			}
			row := int32(-1)
			if len(rows) > 0 && no(rows[0]) == this {
				row = rows[0]
			}
			given, last = append(given, row), this
		}
		h.jobOf[i] = int32(len(given) - 1)
	}
	return given
}

// FindJob is the place among Jobs of the job with that number; it is false
// where nothing of it was poured.
func (h *History) FindJob(no string) (j int, ok bool) {
	return sort.Find(h.Jobs.Len(), func(j int) int { return cmp.Compare(no, h.Jobs.JobNo.At(j)) })
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
