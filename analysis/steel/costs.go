package steel

import (
	"math"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// placed are the costs with the wage that goes with them, in the currency's unit
// an hour.
type placed struct {
	setting.SteelCosts
	wage float64
}

// mesh and rebar are the costs of a ft² in the ground.
func (c placed) mesh() float64  { return c.MeshPerSqft + c.MeshHours/100*c.wage }
func (c placed) rebar() float64 { return c.RebarPerSqft + c.RebarHours/100*c.wage }

// assumptions lists the costs; from says where those of placing come from.
func (c placed) assumptions(from map[figure.Assumed]figure.Source) []figure.Assumption {
	of := func(what figure.Assumed, v float64, unit figure.Unit) figure.Assumption {
		source, paid := from[what]
		if !paid {
			source = figure.Setting()
		}
		return figure.Assumption{What: what, Value: v, Unit: unit, From: source}
	}
	return []figure.Assumption{
		of(MeshMaterial, c.MeshPerSqft, figure.DollarsPerSqft),
		of(RebarMaterial, c.RebarPerSqft, figure.DollarsPerSqft),
		of(MeshPlacing, c.MeshHours, figure.HoursPer100),
		of(RebarPlacing, c.RebarHours, figure.HoursPer100),
		of(BurdenedWage, c.wage, figure.DollarsAnHour),
		of(Goodwill, c.Goodwill, figure.Dollar),
		of(ChoiceYears, c.Years, figure.Years),
		of(RatioBelief, math.Exp(c.PriorSD), figure.TimesOneSD),
		of(BreakEvenPower, c.Power, figure.NoUnit),
	}
}

// What the choice assumes, besides the cost of a callback.
const (
	MeshMaterial   figure.Assumed = "mesh material"
	RebarMaterial  figure.Assumed = "rebar material"
	MeshPlacing    figure.Assumed = "mesh placing"
	RebarPlacing   figure.Assumed = "rebar placing"
	BurdenedWage   figure.Assumed = "wage"
	Goodwill       figure.Assumed = "goodwill"
	ChoiceYears    figure.Assumed = "years of the choice"
	RatioBelief    figure.Assumed = "belief about mesh against rebar"
	BreakEvenPower figure.Assumed = "power at break-even"
)

// paid replaces costs by what the company's own lines of cost and hours say:
// the median of jobs that have one kind of reinforcement throughout, where
// there are five of them. Only a full history has such lines, so these are for
// the pages and not among the figures that both forms of a history share.
func (c placed) paid(h *record.History) (placed, map[figure.Assumed]figure.Source) {
	from := map[figure.Assumed]figure.Source{}
	use := func(to *float64, what figure.Assumed, of figure.SourceKind, rates []float64) {
		if len(rates) >= figure.LeastForRate {
			if q, err := interval.Quantiles(rates, 0.5); err == nil {
				*to = q[0]
				from[what] = figure.Source{Kind: of, N: len(rates)}
			}
		}
	}
	use(&c.MeshPerSqft, MeshMaterial, figure.MedianOfJobs, MaterialRates(h, "mesh"))
	use(&c.RebarPerSqft, RebarMaterial, figure.MedianOfJobs, MaterialRates(h, "rebar"))
	use(&c.MeshHours, MeshPlacing, figure.MedianOfPlacements, PlacingHours(h, "mesh"))
	use(&c.RebarHours, RebarPlacing, figure.MedianOfPlacements, PlacingHours(h, "rebar"))
	var wages []float64
	for i := range h.Labor {
		if r := h.Labor[i].Rate; r.OK && r.V > 0 {
			wages = append(wages, r.V.Dollars())
		}
	}
	use(&c.wage, BurdenedWage, figure.MedianOfLabor, wages)
	return c, from
}

// MaterialRates are what jobs with this reinforcement alone paid for it by ft².
func MaterialRates(h *record.History, kind string) (rates []float64) {
	for j := range h.Jobs.Len() {
		costs := h.CostsOf(j)
		at := slices.IndexFunc(costs, func(c record.Cost) bool { return c.Item == "reinforcement" })
		if at < 0 || !costs[at].Actual().OK {
			continue
		}
		area, alone := 0.0, true
		from, to := h.PlacementsOf(j)
		for i := from; i < to; i++ {
			alone = alone && h.Placements.At(i).Reinforcement() == kind && h.Placements.At(i).AreaSqft().OK
			area += h.Placements.At(i).AreaSqft().V
		}
		if alone && area > 0 {
			rates = append(rates, costs[at].Actual().V.Dollars()/area)
		}
	}
	return rates
}

// PlacingHours are the person-hours per 100 ft² that placements with this
// reinforcement booked under the task reinforce.
func PlacingHours(h *record.History, kind string) (rates []float64) {
	if len(h.Labor) == 0 {
		return nil
	}
	for i := range h.Placements.Len() {
		p := h.Placements.At(i)
		if p.Reinforcement() != kind || !p.AreaSqft().OK || p.AreaSqft().V <= 0 {
			continue
		}
		hours := 0.0
		for _, l := range h.LaborOf(i) {
			if l.Task == "reinforce" {
				hours += l.Hours.V
			}
		}
		if hours > 0 {
			rates = append(rates, 100*hours/p.AreaSqft().V)
		}
	}
	return rates
}
