package visits

import (
	"cmp"
	"fmt"
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/survival"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// Callbacks are the customers' calls: open and closed, what they cost, how long
// they take to close, and what comes back.
type Callbacks struct {
	Answer      string          `json:"answer"`
	Calls       int             `json:"calls"`
	Slabs       int             `json:"slabs_called_about"`
	Cost        figure.Figure   `json:"cost"`                 // of all calls whose cost is recorded
	Open        []OpenCallback  `json:"open"`                 // the oldest first
	Undated     int             `json:"closing_not_recorded"` // calls of a job log, which does not say
	Groups      []CallbackGroup `json:"groups"`
	Months      []CallbackMonth `json:"months"`
	Control     CallControl     `json:"control"`
	DaysToClose figure.Figure   `json:"days_to_close"` // median
	Closed30    figure.Figure   `json:"closed_in_30_days"`
	Again       figure.Figure   `json:"called_again"` // share of slabs called about once more after a repair
	Returned    []Returned      `json:"returned"`
	Curve       *survival.KM    `json:"-"` // days to close
}

// OpenCallback is a callback that nobody has closed.
type OpenCallback struct {
	JobNo     string        `json:"job_no"`
	Placement string        `json:"placement"`
	Site      string        `json:"site,omitempty"`
	Kind      string        `json:"kind"`
	Opened    figure.Day    `json:"opened"`
	AgeDays   int           `json:"age_days"`
	Call      int           `json:"call"`     // of the calls about this slab, from 1
	WidthIn   figure.Figure `json:"width_in"` // of the crack, when seen
	InForce   bool          `json:"under_warranty"`
}

// CallbackGroup is the calls by one thing: their kind, or who and what stood
// behind the pour.
type CallbackGroup struct {
	By    string        `json:"by"`
	Rows  []CallbackRow `json:"rows"`
	Alike figure.Figure `json:"alike"` // p of a test that the rows share one rate
	Says  string        `json:"says"`
}

// CallbackRow is the calls of one group.
type CallbackRow struct {
	Name       string        `json:"name"`
	Placements int           `json:"placements"` // of which the group is made; all of them for a kind
	Calls      int           `json:"calls"`
	Rate       figure.Figure `json:"rate_per_100_placement_years"`
	Cost       figure.Figure `json:"cost"`      // sum
	CostEach   figure.Figure `json:"cost_each"` // mean
}

// CallbackMonth is the calls of one calendar month.
type CallbackMonth struct {
	Month string        `json:"month"`
	Calls int           `json:"calls"`
	Open  int           `json:"still_open"`
	Cost  figure.Figure `json:"cost"`
}

// Returned is what was called about again after a repair.
type Returned struct {
	JobNo     string        `json:"job_no"`
	Placement string        `json:"placement"`
	First     string        `json:"first_kind"`
	Closed    figure.Day    `json:"closed"`
	Again     string        `json:"again_kind"`
	On        figure.Day    `json:"again_on"`
	Cost      figure.Figure `json:"cost"` // of all its calls
}

func (a *after) callbacks() Callbacks {
	c := Callbacks{Open: []OpenCallback{}, Groups: []CallbackGroup{}, Months: []CallbackMonth{}, Returned: []Returned{}, Calls: len(a.calls)}
	for i := range a.calls {
		call := &a.calls[i]
		if call.nth <= 1 {
			c.Slabs++
		}
		if call.logged {
			c.Undated++
		}
		if call.open() {
			c.Open = append(c.Open, a.openCallback(call))
		}
	}
	slices.SortStableFunc(c.Open, func(x, y OpenCallback) int {
		return cmp.Or(cmp.Compare(y.AgeDays, x.AgeDays), cmp.Compare(x.JobNo, y.JobNo), cmp.Compare(x.Placement, y.Placement))
	})
	c.Cost = costOf(a.calls)
	c.Groups = a.callGroups()
	c.Months = a.callMonths()
	c.Control = a.callControl()
	c.closing(a)
	c.returned(a)
	c.Answer = c.answer()
	return c
}

func (a *after) openCallback(c *call) OpenCallback {
	p := &a.h.Placements[c.slab]
	o := OpenCallback{JobNo: p.JobNo, Placement: p.Placement, Site: a.site(c.slab), Kind: c.kind, Opened: figure.Day{Date: c.on},
		AgeDays: int(a.h.AsOf - c.on), Call: max(1, c.nth), InForce: a.slab[c.slab].warrantyEnd >= a.h.AsOf, WidthIn: figure.UnknownFor("not measured")}
	if c.width.OK {
		o.WidthIn = figure.Total(c.width.V, 1, "as measured")
	}
	return o
}

// costOf adds up what calls cost, exact to the cent.
func costOf(calls []call) figure.Figure {
	var sum record.Cents
	n := 0
	for i := range calls {
		if calls[i].cost.OK {
			sum += calls[i].cost.V
			n++
		}
	}
	if n == 0 {
		return figure.UnknownFor("no callback records its cost")
	}
	return figure.Total(sum.Dollars(), n, "sum")
}

// closing is the time from a call to its closing, open calls being followed to
// the data date.
func (c *Callbacks) closing(a *after) {
	var days []float64
	var closed []bool
	for i := range a.calls {
		call := &a.calls[i]
		if call.logged {
			continue
		}
		end := call.closed
		if call.open() {
			end = a.h.AsOf
		}
		days, closed = append(days, float64(max(0, end-call.on))), append(closed, !call.open())
	}
	why := "no callback has a visit on record, and a job log does not say when one was closed"
	if len(days) > 0 {
		why = fmt.Sprintf("%s: too few to say", figure.CountOf(len(days), "callback"))
	}
	c.DaysToClose, c.Closed30 = figure.UnknownFor("%s", why), figure.UnknownFor("%s", why)
	if len(days) < figure.LeastForRate {
		return
	}
	km, err := survival.KaplanMeier(days, closed)
	if err != nil {
		return
	}
	c.Curve = km
	median, err := km.Median(a.level, survival.LogLog)
	c.DaysToClose = figure.Estimated(median, err)
	c.Closed30 = cracks.RiskAt(km, 30, a.level)
}

// returned lists the slabs called about again after a repair.
func (c *Callbacks) returned(a *after) {
	once, again := 0, 0
	for i := range a.slab {
		calls := a.callsOf(i)
		if len(calls) == 0 || calls[0].logged || calls[0].closed == 0 {
			continue
		}
		once++
		at := slices.IndexFunc(calls, func(l call) bool { return l.nth > 1 && l.on > calls[0].closed })
		if at < 0 {
			continue
		}
		again++
		p := &a.h.Placements[i]
		c.Returned = append(c.Returned, Returned{JobNo: p.JobNo, Placement: p.Placement, First: calls[0].kind, Closed: figure.Day{Date: calls[0].closed},
			Again: calls[at].kind, On: figure.Day{Date: calls[at].on}, Cost: costOf(calls)})
	}
	slices.SortStableFunc(c.Returned, func(x, y Returned) int { return cmp.Compare(y.On.Date, x.On.Date) })
	if c.Again = figure.UnknownFor("%s repaired: too few to say how many come back", figure.CountOf(once, "slab")); once >= figure.LeastForRate {
		c.Again = figure.Estimated(interval.Wilson(again, once, a.level))
	}
}

// noneOpen says that no callback is open, as far as the records can tell.
func (c *Callbacks) noneOpen() string {
	if c.Undated > 0 {
		return "No callback is known to be open, but a job log does not say when one was closed"
	}
	return "No callback is open"
}

func (c *Callbacks) answer() string {
	if c.Calls == 0 {
		return "No customer has called about a slab yet."
	}
	s := c.noneOpen()
	if n := len(c.Open); n > 0 {
		o := c.Open[0]
		be := "are"
		if n == 1 {
			be = "is"
		}
		s = fmt.Sprintf("%s %s open, the oldest for %s (%s %s, %s)", figure.CountOf(n, "callback"), be, figure.CountOf(o.AgeDays, "day"), o.JobNo, o.Placement, o.Kind)
	}
	s += fmt.Sprintf("; customers called %s about %s so far", work.Times(c.Calls), figure.CountOf(c.Slabs, "slab"))
	if c.Cost.Known() {
		s += fmt.Sprintf(", which cost %s", figure.DollarWords(c.Cost.Value))
	}
	if c.DaysToClose.Known() {
		s += fmt.Sprintf(", and half were closed within %s", figure.CountOf(int(c.DaysToClose.Value), "day"))
	}
	return s + "."
}
