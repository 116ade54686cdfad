package visits

import (
	"cmp"
	"slices"

	"pourback/analysis/figure"
	"pourback/ingest/record"
)

// Trip is what is due, overdue or open on one job.
type Trip struct {
	JobNo      string        `json:"job_no"`
	Site       string        `json:"site,omitempty"`
	Placements []string      `json:"placements"`
	Worth      figure.Figure `json:"worth"`
	Open       bool          `json:"open_callback"`
	Stop       Stop          `json:"-"` // the worthiest
}

// PassBy are the jobs at one site whose visits do not pay for a drive: to be made
// when somebody passes by.
type PassBy struct {
	Site  string        `json:"site,omitempty"`
	Jobs  []Trip        `json:"jobs"`
	Worth figure.Figure `json:"worth"`
}

// Stop is why to go to a slab: an open callback, or a planned visit.
type Stop struct {
	Call    *OpenCallback // nil for a planned visit
	Visit   PlanPoint
	Overdue bool
	Why     []Why
}

// LongOpenDays is the age from which an open callback is more likely one that
// nobody closed on paper than one that waits for a visit.
const LongOpenDays = 180

// stop is one reason to go to a slab.
type stop struct {
	Stop
	job, placement, site string
	worth                figure.Figure
}

// plan tells the jobs that are worth a drive from those to look at when somebody
// passes by. One drive serves all jobs at a site, so what they have at stake
// together has to come up to it; an open callback is gone to anyhow.
func (a *after) plan(v *Visits) {
	v.Trips, v.PassBy = []Trip{}, []PassBy{}
	v.DriveCost = a.drive
	trips := a.trips(v)
	site := a.siteOfJob()
	by := figure.GroupBy(len(trips), func(i int) (string, bool) { return site(trips[i].JobNo), true })
	var pass []PassBy
	var sites []siteWorth
	stops := 0
	for _, at := range by.Sorted(cmp.Compare) {
		p := PassBy{Jobs: []Trip{}, Worth: figure.Total(0, 0, tripWorth)}
		open := false
		for _, i := range by.Rows[at] {
			p.Site, p.Jobs = trips[i].Site, append(p.Jobs, trips[i])
			addWorth(&p.Worth, trips[i].Worth, trips[i].Worth.N)
			open = open || trips[i].Open
		}
		sites = append(sites, siteWorth{p.Worth, open})
		if !open {
			stops += p.Worth.N
		}
		if open || p.Worth.Value >= v.DriveCost {
			v.Trips = append(v.Trips, p.Jobs...)
			continue
		}
		pass = append(pass, p)
	}
	worthiestTrips(v.Trips)
	slices.SortStableFunc(pass, func(x, y PassBy) int {
		return cmp.Or(cmp.Compare(y.Worth.Value, x.Worth.Value), cmp.Compare(x.Jobs[0].JobNo, y.Jobs[0].JobNo))
	})
	v.PassBy = append(v.PassBy, pass...)
	v.TurnedBy = a.turnedBy(sites, stops)
}

// siteOfJob gives a job its site, in any letter case, or itself where it has none.
func (a *after) siteOfJob() func(job string) string {
	site := map[string]string{}
	for i := range a.h.Jobs.Len() {
		site[a.h.Jobs.At(i).JobNo()] = record.Fold(a.h.Jobs.At(i).Site())
	}
	return func(job string) string {
		if s := site[job]; s != "" {
			return "site " + s
		}
		return "job " + job
	}
}

func worthiestTrips(trips []Trip) {
	slices.SortStableFunc(trips, func(x, y Trip) int {
		return cmp.Or(cmp.Compare(y.Worth.Value, x.Worth.Value), cmp.Compare(x.JobNo, y.JobNo))
	})
}

// trips gathers the stops by job, the worthiest first. A callback that is open
// is certain, so it is worth what a callback costs.
func (a *after) trips(v *Visits) []Trip {
	var stops []stop
	certain := figure.Total(a.cost.Value, 1, "an open callback, at the mean cost of a crack callback")
	for i := range v.Callbacks.Open {
		if c := &v.Callbacks.Open[i]; c.AgeDays <= LongOpenDays {
			stops = append(stops, stop{Stop{Call: c}, c.JobNo, c.Placement, c.Site, certain})
		}
	}
	add := func(visits []DueVisit, overdue bool) {
		for _, d := range visits {
			stops = append(stops, stop{Stop{Visit: d.Visit, Overdue: overdue, Why: d.Why}, d.JobNo, d.Placement, d.Site, d.Worth})
		}
	}
	add(v.Overdue, true)
	add(v.Due, false)
	by := figure.GroupBy(len(stops), func(i int) (string, bool) { return stops[i].job, true })
	trips := []Trip{}
	for _, job := range by.Sorted(cmp.Compare) {
		trips = append(trips, tripOf(stops, by.Rows[job]))
	}
	worthiestTrips(trips)
	return trips
}

// tripOf adds up the slabs of one job: each once, at its worthiest stop. The
// ends of the ranges are added up too: slabs of a job go together.
func tripOf(stops []stop, at []int) Trip {
	best := map[string]stop{}
	for _, i := range at {
		if was, met := best[stops[i].placement]; !met || stops[i].worth.Value > was.worth.Value {
			best[stops[i].placement] = stops[i]
		}
	}
	first := stops[at[0]]
	t := Trip{JobNo: first.job, Site: first.site, Placements: []string{}, Worth: figure.Total(0, 0, tripWorth)}
	top := stop{worth: figure.Total(-1, 0, "")}
	for p, s := range best {
		t.Placements = append(t.Placements, p)
		t.Open = t.Open || s.Call != nil
		if s.worth.Value > top.worth.Value || s.worth.Value == top.worth.Value && p < top.placement {
			top = s
		}
	}
	slices.Sort(t.Placements)
	for _, p := range t.Placements {
		addWorth(&t.Worth, best[p].worth, 1)
	}
	t.Stop = top.Stop
	return t
}

const tripWorth = "what the stops are worth, added up"

// addWorth adds what so many stops are worth to a sum.
func addWorth(sum *figure.Figure, w figure.Figure, stops int) {
	if !w.Bounded {
		w.Low, w.High = w.Value, w.Value
	} else {
		sum.Bounded, sum.Level = true, w.Level
	}
	sum.Value, sum.Low, sum.High, sum.N = sum.Value+w.Value, sum.Low+w.Low, sum.High+w.High, sum.N+stops
}
