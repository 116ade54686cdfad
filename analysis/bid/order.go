package bid

import (
	"math"
	"slices"

	"pourback/analysis/clock"
	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/pool"
	"pourback/analysis/trade"
)

// bidDay is what is poured on one day.
type bidDay struct {
	out    *Day
	costs  setting.OrderCosts
	pumped bool
	slabs  []int // among the bid's
	used   pool.Mixture
	belief concrete.PourBelief
}

// orders makes the order of each placement alone and of each day together. The
// law of a day's yards is exact in the model: placements share what is not known
// of it, and their own scatter adds up.
func (w *bidWork) orders() error {
	jobs := make([]concrete.Job, len(w.slabs))
	for i, s := range w.slabs {
		jobs[i] = s.overage
		next, err := w.overage.Next(s.overage)
		if err != nil {
			return err
		}
		s.part.UsedYd = w.usedSpread(next.Used())
		if s.part.Alone, err = w.order(next.Used(), s.neatYd, w.costsOf(s.Method == "pump")); err != nil {
			return err
		}
	}
	joint, err := w.overage.Together(jobs)
	if err != nil {
		return err
	}
	w.draws.yards = joint
	w.b.UsedYd = w.usedSpread(w.used(joint, func(int) bool { return true }))
	w.byDay()
	for _, d := range w.days {
		if err := w.orderDay(d, joint); err != nil {
			return err
		}
	}
	return nil
}

// byDay gathers the placements of each day, in the order of the days.
func (w *bidWork) byDay() {
	by := figure.GroupBy(len(w.slabs), func(i int) (int, bool) { return w.slabs[i].Day, true })
	days := by.Sorted(func(a, b int) int { return a - b })
	w.b.Days = make([]Day, len(days))
	for k, day := range days {
		d := &bidDay{out: &w.b.Days[k], slabs: by.Rows[day]}
		d.out.Day = day
		for _, i := range d.slabs {
			d.out.Placements = append(d.out.Placements, w.slabs[i].Name)
			d.out.NeatYd += w.slabs[i].neatYd
			d.pumped = d.pumped || w.slabs[i].Method == "pump"
		}
		d.costs, d.out.RunningShort = w.costsOf(d.pumped), w.runningShort(d.pumped)
		w.days = append(w.days, d)
	}
}

func (w *bidWork) orderDay(d *bidDay, joint pool.Joint) error {
	jobs := []concrete.Job{}
	for _, i := range d.slabs {
		jobs = append(jobs, w.slabs[i].overage)
	}
	d.used = w.used(joint, func(i int) bool { return w.slabs[i].Day == d.out.Day })
	if len(jobs) == 1 {
		next, err := w.overage.Next(jobs[0])
		if err != nil {
			return err
		}
		d.used = next.Used()
	}
	d.out.UsedYd = w.usedSpread(d.used)
	var err error
	if d.belief, err = w.overage.Belief(d.used, jobs...); err != nil {
		return err
	}
	d.out.Asked = w.asked(d)
	if err := w.orderBy(d); err != nil {
		return err
	}
	if yd := tooSlow(d.out.Clock); yd >= d.costs.ShortLoadYd && yd > 0 {
		d.costs.TruckYd = yd
		if err := w.orderBy(d); err != nil {
			return err
		}
		d.out.Clock.Notes = append(d.out.Clock.Notes, clock.Note{Kind: clock.SmallLoads, Yd: yd, Limit: d.out.Clock.Going.LimitMin})
	}
	return nil
}

// tooSlow is the load that a day's trucks may carry where a larger one is not empty
// in time, 0 where all are or none would be.
func tooSlow(d *clock.Day) float64 {
	for _, n := range d.Notes {
		if n.Kind == clock.TooSlow {
			return n.Yd
		}
	}
	return 0
}

// orderBy orders what a day takes, by trucks of its size, and puts it on the clock.
func (w *bidWork) orderBy(d *bidDay) (err error) {
	if d.out.Order, err = w.order(d.used, d.out.NeatYd, d.costs); err != nil {
		return err
	}
	if d.out.Safer, err = w.safer(d.used, d.out.NeatYd, d.out.Order, d.costs); err != nil {
		return err
	}
	d.out.Hold = w.hold(d)
	w.onTheClock(d)
	return nil
}

// used is the law of the yards of some of the placements together.
func (w *bidWork) used(joint pool.Joint, some func(i int) bool) pool.Mixture {
	times, neat := make([]float64, len(w.slabs)), 0.0
	for i, s := range w.slabs {
		if some(i) {
			times[i] = s.neatYd
			neat += s.neatYd
		}
	}
	return joint.Sum(times).Affine(neat, 1)
}

func (w *bidWork) usedSpread(used pool.Mixture) Spread {
	return Spread{Mean: used.Mean(), P10: used.Quantile(.1), P50: used.Quantile(.5), P80: used.Quantile(.8), P90: used.Quantile(.9), Unit: "yd", Basis: w.volumeBasis()}
}

func (w *bidWork) volumeBasis() Basis {
	return basis(w.b.Records.Volumes, OfVolumes, 0)
}

// order is the order of least expected cost for a need. Where needs are too
// unsure for one it is neat and the most that is published to add.
func (w *bidWork) order(used pool.Mixture, neatYd float64, costs setting.OrderCosts) (Order, error) {
	need := concrete.Predictive{NeatYd: neatYd, Ratio: used.Affine(-1, 1/neatYd)}
	b, method := w.volumeBasis(), concrete.ByLeastCost
	o, err := concrete.OrderFor(need, costs)
	if err != nil {
		step := costs.IncrementYd
		o, err = concrete.OrderAt(need, costs, math.Ceil(neatYd*(1+trade.OrderAllowanceHigh)/step-1e-9)*step)
		b, method = Basis{From: FromPractice, N: b.N, Of: OfVolumes, By: ByNeatAndTenth}, "published allowance"
		if err != nil {
			return Order{}, err
		}
	}
	loads := loadsOf(o.Yd, costs.TruckYd)
	return Order{Yd: o.Yd, Allowance: o.Allowance, ChanceShort: number(o.ChanceShort, "chance", b, method), BalanceYd: o.ExtraYd, LeftoverYd: o.LeftoverYd,
		Cost: o.Cost, CapCosts: o.CapCosts, Loads: loads, ShortFee: costs.Money().Trucks.Charge(o.Yd), ShortestYd: slices.Min(append(loads, o.Yd))}, nil
}

// loadsOf are full trucks first, and the rest in one more, as the short-load fee
// is reckoned.
func loadsOf(yd, truckYd float64) []float64 {
	loads := []float64{}
	for yd > 1e-9 {
		loads = append(loads, min(yd, truckYd))
		yd -= truckYd
	}
	return loads
}

// hold is the order in two steps. Where the search finds none the order stands.
func (w *bidWork) hold(d *bidDay) Hold {
	crew, pump := w.waitPerMin(d.pumped)
	s, err := d.belief.InStages(d.costs, w.trucksOn(d).lastTruck(w.placeMin(d), crew+pump))
	if err != nil || s.CallAtYd == 0 {
		return Hold{Loads: []float64{}, FirstYd: s.FirstYd, Not: s.Not, WouldSave: s.WouldSave}
	}
	return Hold{Worth: s.Saves() > 0, WaitMin: s.WaitMin, FirstYd: s.FirstYd, Loads: loadsOf(s.FirstYd, d.costs.TruckYd), HoldYd: s.HoldYd, CallAtYd: s.CallAtYd, CallAt: s.CallAt, Short: s.Short, Saves: s.Saves()}
}

// saferChances of running short are those that an owner may rather pay for.
var saferChances = []float64{.2, .1, .05, .02}

// safer are the least orders that run short so seldom, and what they cost beside
// the order of least expected cost: nothing where that runs as seldom.
func (w *bidWork) safer(used pool.Mixture, neatYd float64, best Order, costs setting.OrderCosts) ([]SaferOrder, error) {
	all, last := []SaferOrder{}, best.Yd
	need := concrete.Predictive{NeatYd: neatYd, Ratio: used.Affine(-1, 1/neatYd)}
	for _, chance := range saferChances {
		step := costs.IncrementYd
		yd := math.Ceil(used.Quantile(1-chance)/step-1e-9) * step
		if yd <= last {
			continue
		}
		o, err := concrete.OrderAt(need, costs, yd)
		if err != nil {
			return nil, err
		}
		all, last = append(all, SaferOrder{o.Yd, o.ChanceShort, o.LeftoverYd, o.Cost - best.Cost}), yd
	}
	return all, nil
}

// TwoSteps says whether a day is better ordered in two steps, with a last load
// worth speaking of.
func (d *Day) TwoSteps() bool {
	const leastHeldYd = 0.5
	return d.Hold.Worth && d.Hold.HoldYd >= leastHeldYd
}
