package money

import (
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/resample"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// Step is a step of the bridge from the margin that bids meant to earn to the
// margin that was earned.
type Step int

// The steps in the order in which they are shown.
const (
	StepPrice           Step = iota // what materials cost against the bid
	StepChangeOrders                // work added after signing, or taken off
	StepVolume                      // slabs thicker or thinner than drawn
	StepUsage                       // concrete beyond the plan, thickness aside
	StepLaborRate                   // what an hour cost against the bid
	StepLaborEfficiency             // hours against those of an average crew
	StepDelay
	StepCallback
	StepOther // what no step before it explains
	steps
)

// Effects are a job's steps of the bridge in exact cents, positive where better
// than the bid. They add up to the cost in the bid less the actual cost, and the
// change orders.
type Effects [steps]record.Cents

// Sum is actual margin less the margin in the bid.
func (e *Effects) Sum() record.Cents {
	var sum record.Cents
	for _, c := range e {
		sum += c
	}
	return sum
}

// deviation is what the rows of one job tell of how it went, in yards and hours.
//
//	thicker  Σ neat·(measured/thickness − 1), over probed placements
//	beyond   Σ (delivered − planned), less what was thicker on those placements
//	standard Σ hours of an average crew, over placements with hours
//	worked   Σ hours on those placements, of which waited in delays
//	delayed  Σ delay hours, delay minutes/60 × crew size
type deviation struct {
	thicker, beyond            float64
	standard, worked, waited   float64
	delayed                    float64
	callback                   record.Cents
	last                       record.Date
	use                        string  // of the largest placement
	area, largest              float64 // ft²
	probed, ordered, timed     bool
	delaysKnown, callbackKnown bool
}

// add takes one placement into its job's deviation.
func (d *deviation) add(p record.PlacementRow, model *work.HoursModel) {
	d.last = max(d.last, p.PlacedOn())
	if area := p.AreaSqft().Or(0); area > d.largest || d.use == "" {
		d.largest, d.use = area, figure.OrUnknown(p.Use())
	}
	d.area += p.AreaSqft().Or(0)
	thicker := 0.0
	if neat := p.Neat(); neat.OK && p.MeasuredThicknessIn().OK && p.ThicknessIn().Or(0) > 0 {
		thicker = neat.V * (p.MeasuredThicknessIn().V/p.ThicknessIn().V - 1)
		d.thicker += thicker
		d.probed = true
	}
	if p.DeliveredYd().OK && p.PlannedYd().OK {
		d.beyond += p.DeliveredYd().V - p.PlannedYd().V - thicker
		d.ordered = true
	}
	delayed := 0.0
	if p.DelayMin().OK && p.CrewSize().OK {
		delayed = float64(p.DelayMin().V) / 60 * float64(p.CrewSize().V)
		d.delayed += delayed
		d.delaysKnown = true
	}
	if model != nil && work.Timed(p) {
		d.standard += model.StandardHours(work.JobOf(p))
		d.worked += p.LaborHours().V
		d.waited += delayed
		d.timed = true
	}
	if p.CallbackOn() != 0 && p.CallbackCost().OK {
		d.callback += p.CallbackCost().V
		d.callbackKnown = true
	}
}

// deviations are those of all jobs, and the share of hours that was work and
// not waiting. Jobs are shared out to the cores in blocks whose sums are added
// in order, so any number of cores gives the same.
func deviations(h *record.History, model *work.HoursModel) (of []deviation, working float64) {
	of = make([]deviation, h.Jobs.Len())
	blocks := (h.Jobs.Len() + resample.BlockSize - 1) / resample.BlockSize
	worked, waited := make([]float64, blocks), make([]float64, blocks)
	resample.Blocks(h.Jobs.Len(), func() func(block, lo, hi int) {
		return func(block, lo, hi int) {
			i, _ := h.PlacementsOf(lo)
			for ; i < h.Placements.Len() && h.JobIndex(i) < hi; i++ {
				of[h.JobIndex(i)].add(h.Placements.At(i), model)
			}
			for j := lo; j < hi; j++ {
				worked[block] += of[j].worked
				waited[block] += of[j].waited
			}
		}
	})
	if hours := figure.SumOf(worked); hours > 0 {
		return of, min(1, max(0, 1-figure.SumOf(waited)/hours))
	}
	return of, 1
}

// effects turns a job's deviation into money at the standard rates; other is
// what remains of the whole, so that all adds up to the cent. Change orders are
// what the customer pays for them: what they cost stands in the steps of cost. Hours expected of
// a crew hold its usual waiting: that share is taken off, since waiting is a
// step of its own.
func (d *deviation) effects(rates setting.StandardRates, working float64, changed record.Money, whole record.Cents) (e Effects, known [steps]bool) {
	p, r := float64(rates.ConcretePerYd), float64(rates.LaborPerHour)
	e[StepChangeOrders], known[StepChangeOrders] = changed.V, changed.OK
	e[StepVolume], known[StepVolume] = figure.RoundCents(-p*d.thicker), d.probed
	e[StepUsage], known[StepUsage] = figure.RoundCents(-p*d.beyond), d.ordered
	e[StepLaborEfficiency], known[StepLaborEfficiency] = figure.RoundCents(r*(working*d.standard-(d.worked-d.waited))), d.timed
	e[StepDelay], known[StepDelay] = figure.RoundCents(-r*d.delayed), d.delaysKnown
	e[StepCallback], known[StepCallback] = -d.callback, d.callbackKnown
	e[StepOther], known[StepOther] = whole-e.Sum(), true
	known[StepPrice], known[StepLaborRate] = true, true
	return e, known
}
