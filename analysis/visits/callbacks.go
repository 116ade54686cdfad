package visits

import (
	"cmp"
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

// Callbacks are the customers' calls: open and closed, what they cost, how long
// they take to close, and what comes back.
type Callbacks struct {
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
	By    GroupKind     `json:"by"`
	Rows  []CallbackRow `json:"rows"`
	Alike figure.Figure `json:"alike"` // p of a test that the rows share one rate

	Stands GroupStand `json:"-"`
	Column string     `json:"-"` // of the records, that names its rows
}

// GroupKind is what calls are grouped by.
type GroupKind string

// What calls are grouped by.
const (
	ByCallKind GroupKind = "kind"
	ByCrew     GroupKind = "crew"
	ByOutfit   GroupKind = "pump outfit"
	ByMix      GroupKind = "plant and mix"
	ByUse      GroupKind = "use"
)

// GroupStand is what a table of calls comes to.
type GroupStand string

// What a table of calls can come to.
const (
	GroupMost       GroupStand = "most"         // the first row has the most calls
	GroupNoCalls    GroupStand = "no calls"     // nobody has called yet
	GroupUnrecorded GroupStand = "not recorded" // no placement records its column
	GroupUntold     GroupStand = "untold"       // the rows cannot be compared: the reason is that of Alike
	GroupByChance   GroupStand = "by chance"    // chance may make such a difference
	GroupDiffers    GroupStand = "differs"      // by more than chance
)

// NotPumped names the placements that no pump outfit placed.
const NotPumped = "not pumped"

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
	return c
}

func (a *after) openCallback(c *call) OpenCallback {
	p := a.h.Placements.At(c.slab)
	o := OpenCallback{JobNo: p.JobNo(), Placement: p.Placement(), Site: a.site(c.slab), Kind: c.kind, Opened: figure.Day{Date: c.on},
		AgeDays: int(a.h.AsOf - c.on), Call: max(1, c.nth), InForce: a.slab[c.slab].warrantyEnd >= a.h.AsOf, WidthIn: figure.Unknown(NotMeasured{})}
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
		return figure.Unknown(NoCosts{})
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
	var why figure.Reason = NoClosingDays{}
	if len(days) > 0 {
		why = FewToClose{N: len(days)}
	}
	c.DaysToClose, c.Closed30 = figure.Unknown(why), figure.Unknown(why)
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
		p := a.h.Placements.At(i)
		c.Returned = append(c.Returned, Returned{JobNo: p.JobNo(), Placement: p.Placement(), First: calls[0].kind, Closed: figure.Day{Date: calls[0].closed},
			Again: calls[at].kind, On: figure.Day{Date: calls[at].on}, Cost: costOf(calls)})
	}
	slices.SortStableFunc(c.Returned, func(x, y Returned) int { return cmp.Compare(y.On.Date, x.On.Date) })
	if c.Again = figure.Unknown(FewRepaired{N: once}); once >= figure.LeastForRate {
		c.Again = figure.Estimated(interval.Wilson(again, once, a.level))
	}
}
