package visits

import (
	"math"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// after is what is known of all slabs since their pours.
type after struct {
	h      *record.History
	slabs  *cracks.Slabs // by callbacks
	visits setting.VisitPlan
	drive  float64     // what one costs, there and back; $
	since  record.Date // no visit was planned before
	level  float64
	seed   uint64
	bare   bool              // name no site and nobody
	cost   figure.Assumption // of a crack callback
	usual  float64           // callbacks a placement-year, where the records say nothing
	months int               // of warranty, where a job states none
	slab   []followed
	calls  []call // by slab and day
	risk   *callRisk
}

// state is what a slab was like when it was last heard of.
type state int8

const (
	quiet    state = iota // no crack seen, nobody called
	cracked               // a crack was seen on a visit, and nobody has called
	repaired              // called about, and closed, if only in the field
	open                  // called about of late, and not closed
)

// followed is one slab since its pour. Days without a date are 0.
type followed struct {
	state       state
	hot         bool
	look        record.Date // the first look that nobody called for
	clean       record.Date // the last such look before the first crack
	from, to    int32       // its calls
	crackOn     record.Date // the first look that saw a crack
	last        record.Date // the last look of all
	warrantyEnd record.Date
}

// call is one callback.
type call struct {
	slab   int
	on     record.Date
	closed record.Date // 0 while it is open
	kind   string
	cost   record.Money
	nth    int  // of the calls about its slab, from 1
	logged bool // known from a job log, which does not say when it was closed
	width  record.Number
}

func (c *call) open() bool { return c.closed == 0 && !c.logged }

func newAfter(h *record.History, s *cracks.Slabs, opt setting.Options) *after {
	months, _ := cracks.WarrantyMonths(h)
	a := &after{h: h, slabs: s, visits: opt.Visits.Plan, drive: opt.Visits.Plan.DriveCost(opt.Rates.LaborPerHour), level: opt.Level, seed: opt.Seed, bare: opt.Visits.NoSites, cost: s.CallbackCost(opt.Steel), usual: opt.Bid.CallbacksPerYear, months: months,
		slab: make([]followed, h.Placements.Len())}
	for i := range h.Placements.Len() {
		a.follow(i)
	}
	a.risk = a.callRisk()
	a.since = a.plannedSince()
	return a
}

// plannedSince is when the plan of visits began: with the first planned look on
// record, or now. A first import of old records has nothing overdue.
func (a *after) plannedSince() record.Date {
	since := a.h.AsOf
	for i := range a.slab {
		if look := a.slab[i].look; look != 0 {
			since = min(since, look)
		}
	}
	return since
}

// job is the job of slab i.
func (a *after) job(i int) record.JobRow { return a.h.JobOf(i) }

// site is where slab i lies, "" where that is not to be named.
func (a *after) site(i int) string {
	if a.bare {
		return ""
	}
	return a.job(i).Site()
}

// follow reads the visits to slab i.
func (a *after) follow(i int) {
	p, f := a.h.Placements.At(i), &a.slab[i]
	f.hot = a.hotPour(i)
	f.warrantyEnd = p.PlacedOn() + warrantyDays(a.job(i), a.months)
	f.from = int32(len(a.calls))
	visits := a.h.VisitsOf(i)
	lastCrack := false
	for k := range visits {
		v := &visits[k]
		if v.SeenOn < p.PlacedOn() {
			continue
		}
		f.last, lastCrack = v.SeenOn, v.Finding == "crack"
		if f.look == 0 && !v.Callback() {
			f.look = v.SeenOn
		}
		switch {
		case lastCrack && f.crackOn == 0:
			f.crackOn = v.SeenOn
		case f.crackOn == 0 && !v.Callback():
			f.clean = v.SeenOn
		}
		if v.Callback() {
			a.calls = append(a.calls, call{slab: i, on: v.SeenOn, closed: v.ResolvedOn, kind: callKind(v.Finding), cost: v.Cost, width: v.WidthIn})
		}
	}
	if int(f.from) == len(a.calls) && p.CallbackOn() != 0 {
		a.calls = append(a.calls, call{slab: i, on: p.CallbackOn(), kind: callKind(p.CallbackKind()), cost: p.CallbackCost(), logged: true})
		if p.CallbackKind() == "crack" && (f.crackOn == 0 || p.CallbackOn() < f.crackOn) {
			f.crackOn = p.CallbackOn()
		}
	}
	f.to = int32(len(a.calls))
	f.state = a.settle(i, lastCrack)
}

// settle closes the calls that the records show to be closed, and says how the
// slab stands.
func (a *after) settle(i int, lastCrack bool) state {
	f := &a.slab[i]
	calls := a.callsOf(i)
	s := quiet
	if lastCrack {
		s = cracked
	}
	for k := len(calls) - 1; k >= 0; k-- {
		c := &calls[k]
		c.nth = k + 1
		if c.closed == 0 && !c.logged {
			c.closed = a.closedLater(i, c, calls[k+1:])
		}
		if c.open() && int(a.h.AsOf-c.on) <= LongOpenDays {
			s = open
		}
	}
	if len(calls) > 0 && s != open {
		s = repaired
	}
	if f.crackOn != 0 && f.clean >= f.crackOn { // two visits of one day that disagree
		f.clean = 0
	}
	return s
}

// closedLater finds when a call without a closing date was closed: with a later
// call of its kind, or by a visit that found the slab sound.
func (a *after) closedLater(i int, c *call, later []call) record.Date {
	for k := range later {
		if l := &later[k]; l.kind == c.kind && l.closed != 0 {
			return l.closed
		}
	}
	for _, v := range a.h.VisitsOf(i) {
		if v.SeenOn > c.on && v.Finding == "sound" && !v.Callback() {
			return v.SeenOn
		}
	}
	return 0
}

func (a *after) callsOf(i int) []call { return a.calls[a.slab[i].from:a.slab[i].to] }

// callKind is what a call was about: one that found nothing, or whose kind was
// not written, is counted with the other.
func callKind(finding string) string {
	if finding == "" || finding == "sound" {
		return "other"
	}
	return finding
}

// warrantyDays is a job's warranty in days: 12 months are 365.
func warrantyDays(j record.JobRow, usual int) record.Date {
	months := j.WarrantyMonths().Or(int64(usual))
	return record.Date(math.Round(float64(months) * cracks.DaysPerMonth))
}

// hotPour says whether slab i dried fast enough for precautions, or was placed
// in air that the plan calls hot.
func (a *after) hotPour(i int) bool {
	return a.slabs.Drying[i] >= trade.PrecautionLbFt2 || a.slabs.Air[i] >= a.visits.HotAirF
}

// latest is the slab's last call, or nil.
func (a *after) latest(i int) *call {
	calls := a.callsOf(i)
	if len(calls) == 0 {
		return nil
	}
	return &calls[len(calls)-1]
}

// nearest is the slab whose name takes the fewest changes to reach.
func (a *after) nearest(asked string) string {
	names := make([]string, a.h.Placements.Len())
	for i := range names {
		names[i] = slabName(a.h.Placements.At(i))
	}
	near, _ := record.Nearest(asked, names)
	return near
}

// slabName is JOB/PLACEMENT. Either may hold a slash itself.
func slabName(p record.PlacementRow) string { return p.JobNo() + "/" + p.Placement() }

// find is the slab so named, in any letter case, or −1.
func (a *after) find(name string) int {
	name = record.Fold(name)
	for i := range a.h.Placements.Len() {
		if record.Fold(slabName(a.h.Placements.At(i))) == name {
			return i
		}
	}
	return -1
}
