package steel

import (
	"math"
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// placed are the costs that go with mesh and with rebar, each with how far it
// may be off.
type placed struct {
	setting.SteelCosts // years, belief and power
	mesh, rebar        way
	wage               figure.Assumption // an hour
	callback, goodwill figure.Assumption // of one callback
}

// way is what one of the two takes.
type way struct {
	material figure.Assumption // by ft²
	hours    figure.Assumption // of a person, by 100 ft²
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

// entered are the costs that the settings give, the wage an hour's.
func entered(c setting.SteelCosts, wage float64) placed {
	price := func(what figure.Assumed, unit figure.Unit, v float64) figure.Assumption {
		return figure.Entered(what, unit, v, c.PriceRange)
	}
	return placed{SteelCosts: c,
		mesh:     way{price(MeshMaterial, figure.DollarsPerSqft, c.MeshPerSqft), price(MeshPlacing, figure.HoursPer100, c.MeshHours)},
		rebar:    way{price(RebarMaterial, figure.DollarsPerSqft, c.RebarPerSqft), price(RebarPlacing, figure.HoursPer100, c.RebarHours)},
		wage:     price(BurdenedWage, figure.DollarsAnHour, wage),
		callback: price(cracks.CallbackCost, figure.Dollar, c.Callback),
		goodwill: price(Goodwill, figure.Dollar, c.Goodwill)}
}

// paid replaces costs by what the company's own lines of cost and hours say:
// the mean of jobs that have one kind of reinforcement throughout, where there
// are five of them. Only a full history has such lines; without them the
// settings stand, and the answer says so where they decide it.
func (c placed) paid(h *record.History) placed {
	c.mesh.material = c.mesh.material.Or(MaterialRates(h, "mesh"), figure.MeanOfJobs)
	c.rebar.material = c.rebar.material.Or(MaterialRates(h, "rebar"), figure.MeanOfJobs)
	c.mesh.hours = c.mesh.hours.Or(PlacingHours(h, "mesh"), figure.MeanOfPlacements)
	c.rebar.hours = c.rebar.hours.Or(PlacingHours(h, "rebar"), figure.MeanOfPlacements)
	var wages []float64
	for i := range h.Labor {
		if r := h.Labor[i].Rate; r.OK && r.V > 0 {
			wages = append(wages, r.V.Dollars())
		}
	}
	c.wage = c.wage.Or(wages, figure.MeanOfLabor)
	return c
}

// labor is the placing of a ft², and sqft all of it in the ground.
func (c placed) labor(w way) float64 { return w.hours.Value / 100 * c.wage.Value }
func (c placed) sqft(w way) float64  { return w.material.Value + c.labor(w) }

// sqftSE is the standard error of a ft² of one of the two.
func (c placed) sqftSE(w way) float64 {
	return math.Hypot(c.placingSE(w), c.wage.SE()*w.hours.Value/100)
}

// placingSE is the same but for the wage, which both share.
func (c placed) placingSE(w way) float64 {
	return math.Hypot(w.material.SE(), w.hours.SE()/100*c.wage.Value)
}

// extra is what a ft² of rebar costs more than one of mesh, with its standard
// error.
func (c placed) extra() (cost, se float64) {
	wage := c.wage.SE() * (c.rebar.hours.Value - c.mesh.hours.Value) / 100
	return c.sqft(c.rebar) - c.sqft(c.mesh), math.Hypot(math.Hypot(c.placingSE(c.mesh), c.placingSE(c.rebar)), wage)
}

// aCallback is the cost of one with goodwill, and its standard error.
func (c placed) aCallback() (cost, se float64) {
	return c.callback.Value + c.goodwill.Value, math.Hypot(c.callback.SE(), c.goodwill.SE())
}

// prices are the costs of a ft².
func (c *placed) prices() []*figure.Assumption {
	return []*figure.Assumption{&c.mesh.material, &c.rebar.material, &c.mesh.hours, &c.rebar.hours, &c.wage}
}

// assumptions lists all that the money assumes, in the order in which it is
// used.
func (c placed) assumptions() []figure.Assumption {
	of := func(what figure.Assumed, v float64, unit figure.Unit) figure.Assumption {
		return figure.Assumption{What: what, Value: v, Unit: unit, From: figure.Setting()}
	}
	out := []figure.Assumption{c.callback}
	for _, p := range c.prices() {
		out = append(out, *p)
	}
	return append(out, c.goodwill,
		of(ChoiceYears, c.Years, figure.Years),
		of(RatioBelief, math.Exp(c.PriorSD), figure.TimesOneSD),
		of(BreakEvenPower, c.Power, figure.NoUnit))
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
			p := h.Placements.At(i)
			alone = alone && p.Reinforcement() == kind && p.AreaSqft().OK
			area += p.AreaSqft().V
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
