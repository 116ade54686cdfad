package analysis

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// SteelCosts are what the choice of reinforcement rests on besides cracks, in
// the currency's unit. The zero value stands for [DefaultSteelCosts].
type SteelCosts struct {
	MeshPerSqft  float64 `mapstructure:"mesh_per_sqft"` // material, per ft²
	RebarPerSqft float64 `mapstructure:"rebar_per_sqft"`
	MeshHours    float64 `mapstructure:"mesh_hours"` // person-hours to place it, per 100 ft²
	RebarHours   float64 `mapstructure:"rebar_hours"`
	Callback     float64 `mapstructure:"callback"` // mean cost of a crack callback, where fewer than 5 are recorded
	Goodwill     float64 `mapstructure:"goodwill"` // what a callback costs beside its repair
	Years        float64 `mapstructure:"years"`    // for which the choice is made
	PriorSD      float64 `mapstructure:"prior_sd"` // of the log hazard ratio before the records: 0.5 is 0.38 to 2.7 times
	Power        float64 `mapstructure:"power"`    // with which a difference at break-even is to be shown
}

// DefaultSteelCosts are assumptions: common practice, no published source.
func DefaultSteelCosts() SteelCosts {
	return SteelCosts{MeshPerSqft: 0.40, RebarPerSqft: 0.80, MeshHours: 0.5, RebarHours: 1.0,
		Callback: 750, Goodwill: 250, Years: 3, PriorSD: priorSD, Power: 0.80}
}

// complete fills in the default and says which setting cannot be.
func (c SteelCosts) complete() (SteelCosts, error) {
	if c == (SteelCosts{}) {
		return DefaultSteelCosts(), nil
	}
	for _, v := range []float64{c.MeshPerSqft, c.RebarPerSqft, c.MeshHours, c.RebarHours, c.Goodwill} {
		if !(v >= 0) || math.IsInf(v, 0) {
			return c, fmt.Errorf("costs of reinforcement %+v: want none below 0", c)
		}
	}
	for _, v := range []float64{c.Callback, c.Years, c.PriorSD} {
		if !(v > 0) || math.IsInf(v, 0) {
			return c, fmt.Errorf("costs of reinforcement %+v: want callback, years and prior above 0", c)
		}
	}
	if !(c.Power > 0.05 && c.Power < 1) {
		return c, fmt.Errorf("power %v: want a chance such as 0.80 to show a difference that is there", c.Power)
	}
	return c, nil
}

// placed are the costs with the wage that goes with them, in the currency's unit
// an hour.
type placed struct {
	SteelCosts
	wage float64
}

// mesh and rebar are the costs of a ft² in the ground.
func (c placed) mesh() float64  { return c.MeshPerSqft + c.MeshHours/100*c.wage }
func (c placed) rebar() float64 { return c.RebarPerSqft + c.RebarHours/100*c.wage }

// callbackCost is the mean cost of a crack callback, from the records where
// there are enough of them.
func (s *slabs) callbackCost(c SteelCosts) Assumption {
	sum, n := 0.0, 0
	for _, d := range s.callbackDollars {
		if !math.IsNaN(d) {
			sum += d
			n++
		}
	}
	if n < leastForRate {
		return Assumption{"cost of a crack callback", c.Callback, "$", "setting"}
	}
	return Assumption{"cost of a crack callback", sum / float64(n), "$", fmt.Sprintf("mean of %d in the records", n)}
}

// assumptions lists the costs; from says where those of placing come from.
func (c placed) assumptions(from map[string]string) []Assumption {
	of := func(name string) string { return cmp.Or(from[name], "setting") }
	return []Assumption{
		{"mesh, material", c.MeshPerSqft, "$/ft²", of("mesh")},
		{"rebar, material", c.RebarPerSqft, "$/ft²", of("rebar")},
		{"mesh, placing", c.MeshHours, "person-hours per 100 ft²", of("mesh hours")},
		{"rebar, placing", c.RebarHours, "person-hours per 100 ft²", of("rebar hours")},
		{"wage with its burden", c.wage, "$ an hour", of("wage")},
		{"goodwill lost by a callback", c.Goodwill, "$", "setting"},
		{"years the choice is for", c.Years, "years", "setting"},
		{"belief about the hazard ratio before the records", math.Exp(c.PriorSD), "times, one standard deviation", "setting"},
		{"chance to show a difference at break-even", c.Power, "", "setting"},
	}
}

// paid replaces costs by what the company's own lines of cost and hours say:
// the median of jobs that have one kind of reinforcement throughout, where
// there are five of them. Only a full history has such lines, so these are for
// the pages and not among the figures that both forms of a history share.
func (c placed) paid(h *record.History) (placed, map[string]string) {
	from := map[string]string{}
	use := func(to *float64, name, what string, rates []float64) {
		if len(rates) >= leastForRate {
			if q, err := interval.Quantiles(rates, 0.5); err == nil {
				*to = q[0]
				from[name] = fmt.Sprintf("median of %d %s in the records", len(rates), what)
			}
		}
	}
	use(&c.MeshPerSqft, "mesh", "jobs", materialRates(h, "mesh"))
	use(&c.RebarPerSqft, "rebar", "jobs", materialRates(h, "rebar"))
	use(&c.MeshHours, "mesh hours", "placements", placingHours(h, "mesh"))
	use(&c.RebarHours, "rebar hours", "placements", placingHours(h, "rebar"))
	var wages []float64
	for i := range h.Labor {
		if r := h.Labor[i].Rate; r.OK && r.V > 0 {
			wages = append(wages, r.V.Dollars())
		}
	}
	use(&c.wage, "wage", "entries of labor", wages)
	return c, from
}

// materialRates are what jobs with this reinforcement alone paid for it by ft².
func materialRates(h *record.History, kind string) (rates []float64) {
	for j := range h.Jobs {
		costs := h.CostsOf(j)
		at := slices.IndexFunc(costs, func(c record.Cost) bool { return c.Item == "reinforcement" })
		if at < 0 || !costs[at].Actual().OK {
			continue
		}
		area, alone := 0.0, true
		from, to := h.PlacementsOf(j)
		for i := from; i < to; i++ {
			alone = alone && h.Placements[i].Reinforcement == kind && h.Placements[i].AreaSqft.OK
			area += h.Placements[i].AreaSqft.V
		}
		if alone && area > 0 {
			rates = append(rates, costs[at].Actual().V.Dollars()/area)
		}
	}
	return rates
}

// placingHours are the person-hours per 100 ft² that placements with this
// reinforcement booked under the task reinforce.
func placingHours(h *record.History, kind string) (rates []float64) {
	if len(h.Labor) == 0 {
		return nil
	}
	for i := range h.Placements {
		p := &h.Placements[i]
		if p.Reinforcement != kind || !p.AreaSqft.OK || p.AreaSqft.V <= 0 {
			continue
		}
		hours := 0.0
		for _, l := range h.LaborOf(i) {
			if l.Task == "reinforce" {
				hours += l.Hours.V
			}
		}
		if hours > 0 {
			rates = append(rates, 100*hours/p.AreaSqft.V)
		}
	}
	return rates
}
