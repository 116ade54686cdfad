package steel

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/figure"
	"pourback/analysis/stat/decide"
)

// SteelMoney is mesh against rebar in money.
type Money struct {
	MeshCheaper      figure.Figure `json:"probability_mesh_cheaper"`
	CostMesh         figure.Figure `json:"cost_per_sqft_mesh"` // material, labor and expected callbacks
	CostRebar        figure.Figure `json:"cost_per_sqft_rebar"`
	ExtraRebar       figure.Figure `json:"extra_cost_of_rebar_per_placement"` // before callbacks
	RebarGain        figure.Figure `json:"gain_of_rebar_per_placement"`       // after them
	BreakEven        figure.Figure `json:"break_even_ratio"`                  // hazard ratio of mesh to rebar above which rebar pays
	TurningCost      figure.Figure `json:"callback_cost_at_which_it_turns"`
	PlacementsNeeded figure.Figure `json:"placements_needed"`
	YearsNeeded      figure.Figure `json:"years_needed"` // at the present pace
	ValueOfKnowing   figure.Figure `json:"value_of_knowing"`
	ValueOfAYear     figure.Figure `json:"value_of_one_more_year"`
}

// figures are all of them.
func (m *Money) figures() []*figure.Figure {
	return []*figure.Figure{&m.MeshCheaper, &m.CostMesh, &m.CostRebar, &m.ExtraRebar, &m.RebarGain, &m.BreakEven, &m.TurningCost,
		&m.PlacementsNeeded, &m.YearsNeeded, &m.ValueOfKnowing, &m.ValueOfAYear}
}

// seenIsNoMoney refuses money where cracks were seen at visits: nobody calls
// about most of them.
func seenIsNoMoney() (m Money) {
	for _, f := range m.figures() {
		*f = figure.UnknownFor("money is reckoned from callbacks, and these are cracks seen at visits")
	}
	return m
}

// choice is what the money rests on besides the effect.
type choice struct {
	costs    placed
	callback float64 // with goodwill
	area     float64 // mean ft² of a placement with mesh or rebar
	pace     float64 // such placements a year
	share    float64 // of them with mesh
	risk     float64 // of a crack within a year, both together; 0 where unknown
	level    float64
	n        int
	events   int
}

// extra is what rebar costs more than mesh on a placement, before callbacks.
func (c choice) extra() float64 { return (c.costs.rebar() - c.costs.mesh()) * c.area }

// steel is the decision with a rebar risk and a belief of a spread.
func (c choice) steel(e effect, risk, priorSD float64) decide.Steel {
	return decide.Steel{LogRatio: e.b, Variance: e.variance, PriorSD: priorSD, RebarRisk: risk,
		CallbackCost: c.callback, ExtraCost: c.extra(), AtStake: c.pace * c.costs.Years}
}

// decide puts the effect in money.
func (c choice) decide(e effect) Money {
	m := c.needed(e.rebar.Value)
	s := c.steel(e, e.rebar.Value, c.costs.PriorSD)
	a, err := s.Decide()
	if err != nil || c.area == 0 {
		why := "no placement with mesh or rebar records its area"
		if err != nil {
			why = figure.Text(figure.ReasonOf(err))
		}
		for _, f := range m.figures() {
			if !f.Known() {
				*f = figure.UnknownFor("%s", why)
			}
		}
		return m
	}
	rest := func(v float64, method string) figure.Figure { return figure.Total(v, c.n, method) }
	m.MeshCheaper = rest(a.MeshCheaper, "hazard ratio with a prior, held against break-even")
	m.ExtraRebar = rest(c.extra(), "material and labor, mean area")
	m.RebarGain = c.gain(e, a)
	m.CostMesh, m.CostRebar = c.perSqft(e, a)
	m.TurningCost = c.turning(e, a)
	m.ValueOfKnowing = rest(a.EVPI, fmt.Sprintf("expected value of knowing the ratio, over %.0f placements", s.AtStake))
	if worth, err := s.EVSI(c.risk*c.pace, c.share); err != nil {
		m.ValueOfAYear = figure.Unknown(figure.ReasonOf(err))
	} else {
		m.ValueOfAYear = rest(worth, "expected value of one more year's callbacks")
	}
	return m
}

// gain is what rebar brings on a placement after callbacks. Its limits are those
// of the ratio as believed; the risk with rebar and the costs are taken as known.
func (c choice) gain(e effect, a decide.SteelAnswer) figure.Figure {
	half := distuv.UnitNormal.Quantile((1+c.level)/2) * a.SD
	at := func(logRatio float64) float64 { return c.callback*e.rebar.Value*math.Expm1(logRatio) - c.extra() }
	return figure.Figure{Value: a.Gain, Low: min(a.Gain, at(a.Mean-half)), High: max(a.Gain, at(a.Mean+half)), Level: c.level, N: c.n,
		Method: "expected callbacks saved less extra cost; range: of the ratio as believed", Bounded: true, OK: true}
}

// perSqft are the costs of a ft² with callbacks, those with mesh at rebar's
// risk times the ratio as believed. The limits take the risk and the ratio for
// independent and lognormal, and costs as known: approximate.
func (c choice) perSqft(e effect, a decide.SteelAnswer) (mesh, rebar figure.Figure) {
	const method = "material, labor and expected callbacks within a year, approximate"
	ranged := func(base, risk, low, high float64) figure.Figure {
		at := func(risk float64) float64 { return base + c.callback/c.area*min(1, risk) }
		return figure.Figure{Value: at(risk), Low: at(low), High: at(high), Level: c.level, N: c.n, Method: method, Bounded: true, OK: true}
	}
	rebar = ranged(c.costs.rebar(), e.rebar.Value, e.rebar.Low, e.rebar.High)
	risk := e.rebar.Value * math.Exp(a.Mean+a.SD*a.SD/2)
	if e.rebarLow <= 0 {
		return figure.Total(ranged(c.costs.mesh(), risk, 0, 0).Value, c.n, method), rebar
	}
	spread := math.Log(e.rebarHigh/e.rebarLow) / (2 * distuv.UnitNormal.Quantile(0.9))
	half := distuv.UnitNormal.Quantile((1+c.level)/2) * math.Hypot(a.SD, spread)
	middle := e.rebar.Value * math.Exp(a.Mean)
	mesh = ranged(c.costs.mesh(), risk, min(risk, middle*math.Exp(-half)), max(risk, middle*math.Exp(half)))
	return mesh, rebar
}

// turning is the cost of a callback at which mesh and rebar cost the same.
func (c choice) turning(e effect, a decide.SteelAnswer) figure.Figure {
	saved := e.rebar.Value * math.Expm1(a.Mean+a.SD*a.SD/2) // callbacks a placement that rebar saves
	cost := c.extra() / saved
	if !(cost > 0) || math.IsInf(cost, 0) {
		return figure.UnknownFor("no cost of a callback turns it: the one that is dearer to place does not save callbacks either")
	}
	return figure.Total(cost, c.n, "extra cost over callbacks saved")
}

// needed says how many placements would show a ratio at which rebar just pays,
// and how long that takes.
func (c choice) needed(rebarRisk float64) Money {
	var m Money
	if rebarRisk <= 0 {
		m.BreakEven = figure.UnknownFor("how often slabs crack within a year is not known yet")
		m.PlacementsNeeded, m.YearsNeeded = m.BreakEven, m.BreakEven
		return m
	}
	even, err := decide.BreakEvenRatio(rebarRisk, c.callback, c.extra())
	if err != nil {
		m.BreakEven = figure.Unknown(figure.ReasonOf(err))
		m.PlacementsNeeded, m.YearsNeeded = m.BreakEven, m.BreakEven
		return m
	}
	m.BreakEven = figure.Total(even, c.n, "1 + extra cost / (callback cost × risk with rebar)")
	events, err := decide.SchoenfeldEvents(even, c.share, decide.Test{Alpha: 1 - c.level, Power: c.costs.Power})
	if err == nil {
		var placements float64
		if placements, err = decide.PlacementsFor(events, c.risk); err == nil {
			m.PlacementsNeeded = figure.Total(math.Ceil(placements), c.events, fmt.Sprintf("Schoenfeld 1983, to show break-even with power %g", c.costs.Power))
			m.YearsNeeded = figure.Total(placements/c.pace, c.events, "placements needed at the present pace")
		}
	}
	if err != nil {
		m.PlacementsNeeded = figure.Unknown(figure.ReasonOf(err))
		m.YearsNeeded = m.PlacementsNeeded
	}
	if c.pace == 0 {
		m.YearsNeeded = figure.UnknownFor("no slab with mesh or rebar in the last year")
	}
	return m
}
