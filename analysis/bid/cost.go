package bid

import (
	"math"
	"math/rand/v2"
	"slices"

	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/stat/pool"
	"pourback/analysis/stat/resample"
)

// usualDraws is how many times a job is drawn for the distribution of its cost.
const usualDraws = 10_000

// bidDraws are the laws drawn from, and the totals of the draws.
type bidDraws struct {
	yards, hours pool.Joint
	total        []float64
}

// bidState is all of a job that is not known beforehand.
type bidState struct {
	yards     []float64 // used by each placement
	hours     float64   // on record's terms, the usual waiting in them
	clogMin   float64
	otherMin  float64
	callbacks float64 // money
	lean      float64 // logarithm of what the job comes to over what is reckoned
}

// The items of cost, in the order of the sheet; those of the spec follow.
const (
	itemConcrete = iota
	itemShort
	itemPump
	itemLabor
	itemDelay
	itemSteel
	itemJoints
	itemBase
	itemCallbacks
	itemLean
	bidItems
)

var bidItemNames = [bidItems]CostName{CostConcrete, CostShortLoads, CostPump, CostLabor, CostDelay, CostSteel, CostJoints, CostBase, CostCallbacks, CostLean}

// costOf is what the job costs by item if it turns out so.
func (w *bidWork) costOf(at bidState) (items [bidItems]float64) {
	for _, d := range w.days {
		used := 0.0
		for _, i := range d.slabs {
			used += at.yards[i]
		}
		// An order that was made has no error left to make.
		came, _ := concrete.CameTo(d.costs.Money(), d.out.Order.Yd, used)
		items[itemConcrete] += came.Cost - came.Charge
		items[itemShort] += came.Charge
	}
	for i, s := range w.slabs {
		if s.Method == "pump" {
			items[itemPump] += w.pumpCost(at, i)
		}
		items[itemSteel] += s.material
		items[itemBase] += w.prices["base "+s.Base].value * s.part.AreaSqft
		if s.JointCut != "none" && s.JointCut != "tooled" {
			items[itemJoints] += w.prices["cut"].value * s.part.Joints.CutFt.Figure.Value
		}
	}
	items[itemLabor] = at.hours * (1 - w.waiting) * w.wage.value
	items[itemDelay] = (at.clogMin + at.otherMin) * w.perMinute()
	items[itemCallbacks] = at.callbacks
	if at.lean != 0 {
		items[itemLean] = (figure.SumOf(items[:]) + w.fixed()) * math.Expm1(at.lean)
	}
	return items
}

// pumpCost is that of a pumped placement: the hire and the yards; where the pump
// goes by the hour also its hours, which wait with the crew, and at least those that
// are charged.
func (w *bidWork) pumpCost(at bidState, i int) float64 {
	cost := w.prices["pump hire"].value + w.prices["pump yard"].value*at.yards[i]
	if hour, byHour := w.prices["pump hour"]; byHour {
		minutes := w.opt.Bid.PlaceMinPerYd*at.yards[i] + at.clogMin + at.otherMin/float64(len(w.slabs))
		cost += hour.value * max(w.prices["pump minimum"].value, minutes/60)
	}
	return cost
}

// fixed is what the lines cost that do not swing, and the spec's own items.
func (w *bidWork) fixed() float64 {
	sum := 0.0
	for _, l := range w.fixedLines {
		sum += l.amount
	}
	for _, item := range w.spec.Items {
		sum += item.Amount
	}
	return sum
}

// cost draws the job, and finds what drives its cost.
func (w *bidWork) cost() error {
	n := w.b.Draws
	w.lines()
	states := make([]bidState, n)
	err := resample.MonteCarlo(n, w.opt.Seed, func(rng *rand.Rand, lo, hi int) {
		// Streams of their own keep one thing's draws the same where another's change.
		waits, calls := rand.New(rand.NewPCG(rng.Uint64(), 1)), rand.New(rand.NewPCG(rng.Uint64(), 2))
		leans, beside := rand.New(rand.NewPCG(w.opt.Seed, uint64(lo)+3)), rand.New(rand.NewPCG(w.opt.Seed, uint64(lo)+4))
		slabs := len(w.slabs)
		hours, yards := make([]float64, slabs), make([]float64, slabs*(hi-lo))
		for i := lo; i < hi; i++ {
			states[i].yards, yards = yards[:slabs:slabs], yards[slabs:]
			w.drawState(&states[i], hours, rng, waits, calls, beside)
			if l := &w.b.Lean; l.sd > 0 {
				states[i].lean = l.mean + l.sd*leans.NormFloat64()
			}
		}
	})
	if err != nil {
		return err
	}
	items := make([][]float64, bidItems)
	w.draws.total = make([]float64, n)
	fixed := w.fixed()
	for k, all := 0, make([]float64, bidItems*n); k < bidItems; k++ {
		items[k] = all[k*n : (k+1)*n]
	}
	for i := range states {
		w.draws.total[i] = fixed
		for k, v := range w.costOf(states[i]) {
			items[k][i] = v
			w.draws.total[i] += v
		}
	}
	return w.spreads(states, items)
}

// drawState draws how a job may turn out; hours have room for one of each placement.
func (w *bidWork) drawState(s *bidState, hours []float64, rng, waits, calls, beside *rand.Rand) {
	w.draws.yards.Draw(rng, s.yards)
	w.draws.hours.Draw(rng, hours)
	years := w.b.Reserve.Months.Figure.Value / 12
	for i, slab := range w.slabs {
		s.yards[i] = slab.neatYd * max(0, 1+s.yards[i])
		s.hours += math.Exp(hours[i])
		if sd := w.opt.Bid.HoursSD; slab.beside > 0 { // of mean 1, as far off as hours are from company to company
			s.hours += slab.beside * math.Exp(sd*beside.NormFloat64()-sd*sd/2)
		}
		clog, other := w.drawDelay(waits, slab, slab.part.UsedYd.Mean)
		s.clogMin, s.otherMin = s.clogMin+clog, s.otherMin+other
		for range slab.calls.draw(calls, years) {
			s.callbacks += w.callback.draw(calls)
		}
	}
}

// spreads fills the distributions.
func (w *bidWork) spreads(states []bidState, items [][]float64) error {
	c := &w.b.Cost
	spread := func(xs []float64, unit string, b Basis) Spread {
		s, _ := spreadOf(xs) // of one draw and more there always is one
		s.Unit, s.Basis = unit, b
		return s
	}
	bases := [bidItems]Basis{w.volumeBasis(), w.volumeBasis(), w.prices["pump hire"].basis, w.hoursBasis(), w.b.Delay.OtherMin.Basis, w.steelBasis(), w.prices["cut"].basis,
		w.baseBasis(), w.b.Reserve.Callbacks.Basis, basis(w.b.Lean.Bids, OfRebid, 0)}
	c.Items = []CostItem{}
	for k, xs := range items {
		if s := spread(xs, "$", bases[k]); s.Mean != 0 || s.P90 != 0 {
			c.Items = append(c.Items, CostItem{Item: bidItemNames[k], Cost: s})
		}
	}
	for _, l := range w.fixedLines {
		a := l.amount
		c.Items = append(c.Items, CostItem{Item: l.name, Cost: Spread{a, a, a, a, a, "$", l.basis}})
	}
	for _, item := range w.spec.Items {
		a := item.Amount
		c.Items = append(c.Items, CostItem{CostName(item.Item), true, Spread{a, a, a, a, a, "$", inSpec}})
	}
	c.Total = spread(w.draws.total, "$", w.weakest())
	w.loaded()
	hours := make([]float64, len(states))
	for i := range states {
		hours[i] = states[i].hours
	}
	w.b.Labor.Hours = spread(hours, "person-hours", w.hoursBasis())
	c.Drivers = w.drivers(states)
	slices.Sort(w.draws.total)
	return nil
}

// loaded puts overhead and contingency on the job's cost.
func (w *bidWork) loaded() {
	c, over, more := &w.b.Cost, w.overhead(), w.contingency()
	c.Overhead = number(over.value*c.Total.Mean, "$", over.basis, "share of the job's cost")
	c.Contingency = number(more.value*c.Total.Mean, "$", more.basis, "share of the job's cost")
	k := w.load()
	c.Loaded = Spread{c.Total.Mean * k, c.Total.P10 * k, c.Total.P50 * k, c.Total.P80 * k, c.Total.P90 * k, "$", c.Total.Basis}
}

// load is what the job's cost is multiplied by to bear overhead and contingency.
func (w *bidWork) load() float64 { return 1 + w.overhead().value + w.contingency().value }

func (w *bidWork) steelBasis() Basis {
	for _, s := range w.slabs {
		for _, way := range s.part.Steel {
			if way.Chosen && way.Material.Figure.Value > 0 {
				return way.Material.Basis
			}
		}
	}
	return drawing
}

func (w *bidWork) baseBasis() Basis {
	for _, s := range w.slabs {
		if p, ok := w.prices["base "+s.Base]; ok {
			return p.basis
		}
	}
	return drawing
}

// weakest is what the total stands on: the company's records only where yards
// and hours both do.
func (w *bidWork) weakest() Basis {
	yards, hours := w.volumeBasis(), w.hoursBasis()
	b := Basis{From: FromRecords, N: min(yards.N, hours.N), Yards: &yards, Hours: &hours}
	if yards.From != FromRecords || hours.From != FromRecords {
		b.From = FromPractice
	}
	return b
}
