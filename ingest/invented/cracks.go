package invented

import (
	"cmp"
	"math"
	"slices"

	"pourback/ingest/record"
)

// crack is one crack of a slab; days are counted from the pour.
type crack struct {
	arose    float64
	called   float64 // when the customer would call about it; 0 for never
	kind     string
	atJoint  record.Flag
	widthIn  float64 // at first
	lengthFt float64
}

// call is a callback: the day the customer called and somebody went.
type call struct {
	day      int
	kind     string
	cost     record.Money // missing while the callback is open
	hours    record.Number
	resolved record.Date // 0 while open
}

const mostCalls = 3 // about one placement

// crackUp draws the cracks of a slab by the last day: a Poisson process in the
// cumulative intensity.
func (c *company) crackUp(d *dice, p *pour) []crack {
	t := &c.truth.Crack
	ratio := math.Exp(c.truth.LogHazard(p.slab.Covariates))
	known := float64(c.last - p.PlacedOn)
	var cracks []crack
	for h := d.ExpFloat64(); ; h += d.ExpFloat64() {
		arose := 365 * math.Pow(h/(t.Base*ratio), 1/t.Shape)
		if !(arose <= known) {
			return cracks
		}
		k := crack{arose: arose, called: c.called(d, arose)}
		k.look(d, p)
		cracks = append(cracks, k)
	}
}

// called draws when the customer calls about a crack; 0 for never.
func (c *company) called(d *dice, arose float64) float64 {
	t := &c.truth.Crack
	reports, bunched, after := d.chance(t.Reported), d.chance(t.Bunched), d.chance(t.AfterWarranty)
	on := arose + t.LagDays*d.ExpFloat64()
	if late := t.WarrantyDays - t.BunchDays*d.Float64(); bunched && late > arose {
		on = late
	}
	if !reports || on > t.WarrantyDays && !after {
		return 0
	}
	return on
}

// look draws what a crack looks like. A crack of the first days is a plastic
// one, more so where the surface dried fast.
func (k *crack) look(d *dice, p *pour) {
	plastic := 0.0
	if k.arose < 2 {
		plastic = within(0.3+2*p.slab.EvaporationLb, 0, 0.9)
	}
	k.kind = choose(d, []option[string]{{"drying", 0.70}, {"corner", 0.12}, {"settlement", 0.07}, {"structural", 0.03}, {"unknown", 0.08}})
	if d.chance(plastic) {
		k.kind = "plastic"
	}
	k.atJoint = record.No
	if d.chance(0.3) {
		k.atJoint = record.Yes
	}
	k.widthIn = within(0.010*d.spread(0.5), 0.002, 0.08)
	k.lengthFt = within(round(5*d.spread(0.6), 2), 0.5, 30)
}

// widthOn is the crack's width so many days after the pour: it opens slowly,
// less where steel holds it.
func (k *crack) widthOn(day int, steel bool) record.Number {
	opening := 0.35
	if steel {
		opening = 0.15
	}
	age := max(0, float64(day)-k.arose)
	return record.Some(max(0.001, round(min(0.25, k.widthIn*(1+opening*math.Log1p(age/30))), 1000)))
}

// ring is a customer's call about something that arose before.
type ring struct{ at, arose float64 }

// calls draws the callbacks of a slab. The first kind of callback that befalls
// it is the only one it gets.
func (c *company) calls(d *dice, p *pour, cracks []crack) []call {
	var due []ring
	for _, k := range cracks {
		if k.called > 0 {
			due = append(due, ring{k.called, k.arose})
		}
	}
	slices.SortFunc(due, func(a, b ring) int { return cmp.Compare(a.at, b.at) })
	kind, price := "crack", c.truth.Crack.CallCost
	defect, on := c.defect(d, p)
	if defect != nil && (len(due) == 0 || on < due[0].at) {
		kind, price = defect.Kind, defect.CallCost
		due = append(due[:0], ring{on, on})
		if d.chance(0.1) { // it comes back after the repair
			again := on + 20 + 60*d.Float64()
			due = append(due, ring{again, again})
		}
	}
	return c.answer(d, p, due, kind, price)
}

// defect draws the first defect other than a crack, and its day.
func (c *company) defect(d *dice, p *pour) (first *Defect, on float64) {
	for i := range c.truth.Other {
		o := &c.truth.Other[i]
		rate := o.PerYear
		if p.Base == "native" {
			rate *= o.NativeTimes
		}
		if at := 365.25 * d.ExpFloat64() / rate; first == nil || at < on {
			first, on = o, at
		}
	}
	return first, on
}

// answer turns calls into callbacks. Somebody sees to everything there is on
// the day; a call about what an earlier callback saw to, or while one is open,
// makes no other.
func (c *company) answer(d *dice, p *pour, due []ring, kind string, price Price) []call {
	var calls []call
	for _, r := range due {
		if len(calls) == mostCalls || r.at > float64(c.last-p.PlacedOn) {
			break
		}
		k := call{day: int(math.Ceil(r.at)), kind: kind}
		on := p.PlacedOn + record.Date(k.day)
		if n := len(calls); n > 0 {
			before := &calls[n-1]
			if before.resolved == 0 || on <= before.resolved || r.arose <= float64(before.day) {
				continue
			}
		}
		cost := record.Cents(max(60_00, round(d.about(float64(price.Mean), price.SD), 0.01)))
		if done := on + record.Date(math.Ceil(18*d.spread(0.9))); done <= c.last {
			k.resolved, k.cost = done, record.Some(cost)
			k.hours = record.Some(max(0.5, round(0.4*cost.Dollars()/c.truth.Money.BidWage.Dollars(), 4)))
		}
		calls = append(calls, k)
	}
	return calls
}

// firstCrack is when the first crack arose; 0 for none.
func firstCrack(cracks []crack) float64 {
	if len(cracks) == 0 {
		return 0
	}
	return slices.MinFunc(cracks, func(a, b crack) int { return cmp.Compare(a.arose, b.arose) }).arose
}
