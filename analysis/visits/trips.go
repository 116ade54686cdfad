package visits

import (
	"cmp"
	"slices"
	"strings"

	"pourback/analysis/figure"
)

// Trip is one drive: to all that is due, overdue or open on one job.
type Trip struct {
	JobNo      string        `json:"job_no"`
	Site       string        `json:"site,omitempty"`
	Placements []string      `json:"placements"`
	Worth      figure.Figure `json:"worth"`
	Why        string        `json:"why"` // of the worthiest stop
	Open       bool          `json:"open_callback"`
}

// longOpen is the age in days from which an open callback is more likely one
// that nobody closed on paper than one that waits for a visit.
const longOpen = 180

// stop is one reason to drive to a slab.
type stop struct {
	job, placement, site, why string
	worth                     figure.Figure
	open                      bool
}

// trips gathers the stops by job, the worthiest first. A callback that is open
// is certain, so it is worth what a callback costs.
func (a *after) trips(v *Visits) []Trip {
	var stops []stop
	certain := figure.Total(a.cost.Value, 1, "an open callback, at the mean cost of a crack callback")
	for _, c := range v.Callbacks.Open {
		if c.AgeDays <= longOpen {
			stops = append(stops, stop{c.JobNo, c.Placement, c.Site, "open " + c.Kind + " callback, " + figure.CountOf(c.AgeDays, "day") + " old", certain, true})
		}
	}
	add := func(visits []DueVisit, late string) {
		for _, d := range visits {
			stops = append(stops, stop{d.JobNo, d.Placement, d.Site, d.Visit + late + ": " + d.Why, d.Worth, false})
		}
	}
	add(v.Overdue, " (overdue)")
	add(v.Due, "")
	by := figure.GroupBy(len(stops), func(i int) (string, bool) { return stops[i].job, true })
	trips := []Trip{}
	for _, job := range by.Sorted(cmp.Compare) {
		trips = append(trips, tripOf(stops, by.Rows[job]))
	}
	slices.SortStableFunc(trips, func(x, y Trip) int {
		return cmp.Or(cmp.Compare(y.Worth.Value, x.Worth.Value), cmp.Compare(x.JobNo, y.JobNo))
	})
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
	t := Trip{JobNo: first.job, Site: first.site, Placements: []string{}, Worth: figure.Total(0, 0, "what the stops are worth, added up")}
	top := stop{worth: figure.Total(-1, 0, "")}
	for p, s := range best {
		t.Placements = append(t.Placements, p)
		t.Open = t.Open || s.open
		if s.worth.Value > top.worth.Value || s.worth.Value == top.worth.Value && p < top.placement {
			top = s
		}
	}
	slices.Sort(t.Placements)
	for _, p := range t.Placements {
		w := best[p].worth
		if !w.Bounded {
			w.Low, w.High = w.Value, w.Value
		} else {
			t.Worth.Bounded, t.Worth.Level = true, w.Level
		}
		t.Worth.Value, t.Worth.Low, t.Worth.High, t.Worth.N = t.Worth.Value+w.Value, t.Worth.Low+w.Low, t.Worth.High+w.High, t.Worth.N+1
	}
	t.Why = top.why
	return t
}

// label is a trip as a sentence names it: "SF-1429 A and B (Lot 3, Red Gate Road)".
func (t *Trip) label() string {
	s := t.JobNo + " " + listWords(t.Placements)
	if t.Site != "" {
		s += " (" + t.Site + ")"
	}
	return strings.TrimSpace(s)
}
