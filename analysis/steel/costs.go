package steel

import (
	"cmp"
	"fmt"
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
func (c placed) assumptions(from map[string]string) []figure.Assumption {
	of := func(name string) string { return cmp.Or(from[name], "setting") }
	return []figure.Assumption{
		{Name: "mesh, material", Value: c.MeshPerSqft, Unit: "$/ft²", From: of("mesh")},
		{Name: "rebar, material", Value: c.RebarPerSqft, Unit: "$/ft²", From: of("rebar")},
		{Name: "mesh, placing", Value: c.MeshHours, Unit: "person-hours per 100 ft²", From: of("mesh hours")},
		{Name: "rebar, placing", Value: c.RebarHours, Unit: "person-hours per 100 ft²", From: of("rebar hours")},
		{Name: "wage with its burden", Value: c.wage, Unit: "$ an hour", From: of("wage")},
		{Name: "goodwill lost by a callback", Value: c.Goodwill, Unit: "$", From: "setting"},
		{Name: "years the choice is for", Value: c.Years, Unit: "years", From: "setting"},
		{Name: "belief about the hazard ratio before the records", Value: math.Exp(c.PriorSD), Unit: "times, one standard deviation", From: "setting"},
		{Name: "chance to show a difference at break-even", Value: c.Power, Unit: "", From: "setting"},
	}
}

// paid replaces costs by what the company's own lines of cost and hours say:
// the median of jobs that have one kind of reinforcement throughout, where
// there are five of them. Only a full history has such lines, so these are for
// the pages and not among the figures that both forms of a history share.
func (c placed) paid(h *record.History) (placed, map[string]string) {
	from := map[string]string{}
	use := func(to *float64, name, what string, rates []float64) {
		if len(rates) >= figure.LeastForRate {
			if q, err := interval.Quantiles(rates, 0.5); err == nil {
				*to = q[0]
				from[name] = fmt.Sprintf("median of %d %s in the records", len(rates), what)
			}
		}
	}
	use(&c.MeshPerSqft, "mesh", "jobs", MaterialRates(h, "mesh"))
	use(&c.RebarPerSqft, "rebar", "jobs", MaterialRates(h, "rebar"))
	use(&c.MeshHours, "mesh hours", "placements", PlacingHours(h, "mesh"))
	use(&c.RebarHours, "rebar hours", "placements", PlacingHours(h, "rebar"))
	var wages []float64
	for i := range h.Labor {
		if r := h.Labor[i].Rate; r.OK && r.V > 0 {
			wages = append(wages, r.V.Dollars())
		}
	}
	use(&c.wage, "wage", "entries of labor", wages)
	return c, from
}

// MaterialRates are what jobs with this reinforcement alone paid for it by ft².
func MaterialRates(h *record.History, kind string) (rates []float64) {
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

// PlacingHours are the person-hours per 100 ft² that placements with this
// reinforcement booked under the task reinforce.
func PlacingHours(h *record.History, kind string) (rates []float64) {
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
