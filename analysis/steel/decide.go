package steel

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/figure"
	"pourback/analysis/stat/decide"
)

// Money is mesh against rebar in money.
type Money struct {
	Advice      string        `json:"advice"` // mesh or rebar: the one that is expected to cost less, settled or not
	BiasSD      figure.Figure `json:"bias_sd"`
	MeshCheaper figure.Figure `json:"probability_mesh_cheaper"`
	CostMesh    figure.Figure `json:"cost_per_sqft_mesh"` // material, labor and expected callbacks
	CostRebar   figure.Figure `json:"cost_per_sqft_rebar"`
	ExtraRebar  figure.Figure `json:"extra_cost_of_rebar_per_placement"` // before callbacks
	RebarGain   figure.Figure `json:"gain_of_rebar_per_placement"`       // after them
	WrongMesh   figure.Figure `json:"cost_if_mesh_is_wrong"`             // a placement, where rebar is the better
	WrongRebar  figure.Figure `json:"cost_if_rebar_is_wrong"`            // and where mesh is
	BreakEven   figure.Figure `json:"break_even_ratio"`                  // hazard ratio of mesh to rebar above which rebar pays
	TurningCost figure.Figure `json:"callback_cost_at_which_it_turns"`
	Needed
	ValueOfKnowing figure.Figure  `json:"value_of_knowing"`
	ValueOfAYear   figure.Figure  `json:"value_of_one_more_year"`
	ValueOfTurns   figure.Figure  `json:"value_of_one_more_year_alternated"` // where mesh and rebar take turns in it
	TurnedBy       []figure.Lever `json:"turned_by"`                         // the two inputs that turn it most easily; what it comes to is the gain of rebar

	Mesh    Parts `json:"-"` // of the cost of a ft² with mesh
	Rebar   Parts `json:"-"` // and with rebar
	ByPrice bool  `json:"-"` // callbacks alone would not answer it so: the price of the steel does
}

// Parts are what the cost of a ft² is made up of, in the currency's unit.
type Parts struct{ Material, Labor, Callbacks float64 }

// figures are all of them.
func (m *Money) figures() []*figure.Figure {
	return append([]*figure.Figure{&m.BiasSD, &m.MeshCheaper, &m.CostMesh, &m.CostRebar, &m.ExtraRebar, &m.RebarGain, &m.WrongMesh, &m.WrongRebar, &m.BreakEven, &m.TurningCost,
		&m.ValueOfKnowing, &m.ValueOfAYear, &m.ValueOfTurns}, m.Needed.figures()...)
}

// seenIsNoMoney refuses money where cracks were seen at visits: nobody calls
// about most of them.
func seenIsNoMoney() (m Money) {
	for _, f := range m.figures() {
		*f = figure.Unknown(SeenIsNoMoney{})
	}
	return m
}

// choice is what the money rests on besides the effect.
type choice struct {
	costs  placed
	area   float64 // mean ft² of a placement with mesh or rebar
	pace   float64 // such placements a year
	share  float64 // of them with mesh
	risk   float64 // of a crack within a year, both together; 0 where unknown
	level  float64
	n      int
	events int
}

// extra is what rebar costs more than mesh on a placement, before callbacks,
// with its standard error.
func (c choice) extra() (cost, se float64) {
	cost, se = c.costs.extra()
	return cost * c.area, se * c.area
}

// deviate is half the width of a normal range in standard deviations.
func (c choice) deviate() float64 { return distuv.UnitNormal.Quantile((1 + c.level) / 2) }

// steel is the decision about an effect.
func (c choice) steel(e effect) decide.Steel {
	s := decide.Steel{LogRatio: e.b, Variance: e.variance, BiasSD: e.bias, PriorSD: c.costs.PriorSD, Risk: e.risk.Value, AtStake: c.pace * c.costs.Years}
	s.CallbackCost, s.CallbackSD = c.costs.aCallback()
	s.ExtraCost, s.ExtraSD = c.extra()
	return s
}

// decide puts the effect in money.
func (c choice) decide(e effect) Money {
	rest := func(v float64, method string) figure.Figure { return figure.Total(v, c.n, method) }
	s := c.steel(e)
	a, err := s.Decide()
	m := Money{BreakEven: c.breakEven(e.risk.Value), BiasSD: rest(e.bias, e.biasMethod())}
	m.Needed = c.needed(e, m.BreakEven)
	if err != nil || c.area == 0 {
		why := figure.Reason(NoArea{})
		if err != nil {
			why = figure.ReasonOf(err)
		}
		for _, f := range m.figures() {
			if !f.Known() && f.Why == nil {
				*f = figure.Unknown(why)
			}
		}
		m.Advice = c.cheaperToPlace()
		return m
	}
	m.Advice = better(a.Gain)
	m.MeshCheaper = rest(a.MeshCheaper, "hazard ratio with a prior and a bias, held against break-even at costs with their errors")
	m.RebarGain = c.gain(e, a)
	m.WrongMesh, m.WrongRebar = figure.Unknown(HardlyWrong{}), figure.Unknown(HardlyWrong{})
	if 1-a.MeshCheaper >= hardly {
		m.WrongMesh = rest(a.WrongMesh, "expected gain of rebar where it gains")
	}
	if a.MeshCheaper >= hardly {
		m.WrongRebar = rest(a.WrongRebar, "expected loss with rebar where it loses")
	}
	m.CostMesh, m.CostRebar = c.perSqft(e, a)
	m.Mesh = parts(m.CostMesh, c.costs.mesh.material.Value, c.costs.labor(c.costs.mesh))
	m.Rebar = parts(m.CostRebar, c.costs.rebar.material.Value, c.costs.labor(c.costs.rebar))
	m.TurningCost = c.turning(e, a)
	m.ValueOfKnowing = rest(a.EVPI, fmt.Sprintf("expected value of knowing the ratio, over %.0f placements", s.AtStake))
	year := decide.Sample{Events: c.risk * c.pace, Share: c.share}
	m.ValueOfAYear = c.worth(s, year, "expected value of one more year's callbacks")
	m.ValueOfTurns = c.worth(s, decide.Sample{Events: year.Events, Share: 0.5, Alternated: true}, "expected value of one more year's callbacks, mesh and rebar taking turns")
	m.TurnedBy = c.turnedBy(e, a)
	s.ExtraCost, s.ExtraSD = 0, 0
	if bare, err := s.Decide(); err == nil {
		m.ByPrice = settledBy(bare.MeshCheaper) != settledBy(a.MeshCheaper) || better(bare.Gain) != m.Advice
	}
	return m
}

// hardly is how likely something must be to ask what it would cost.
const hardly = 0.001

// better is the one that a gain of rebar speaks for.
func better(rebarGain float64) string {
	if rebarGain > 0 {
		return "rebar"
	}
	return "mesh"
}

// cheaperToPlace is the one of mesh and rebar that costs less before callbacks,
// which is all there is to go by where callbacks say nothing.
func (c choice) cheaperToPlace() string {
	extra, _ := c.costs.extra()
	return better(-extra)
}

func (c choice) worth(s decide.Steel, more decide.Sample, method string) figure.Figure {
	worth, err := s.EVSI(more)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	return figure.Total(worth, c.n, method)
}

// gain is what rebar brings on a placement after callbacks. Its limits are those
// of the ratio as believed, of the risk and of the costs, taken for independent:
// approximate.
func (c choice) gain(e effect, a decide.SteelAnswer) figure.Figure {
	s, z := c.steel(e), c.deviate()
	at := func(logRatio float64) float64 { return 2*s.CallbackCost*s.Risk*math.Sinh(logRatio/2) - s.ExtraCost }
	saved := a.Gain + s.ExtraCost
	others := math.Hypot(z*s.ExtraSD, saved*math.Hypot(z*s.CallbackSD/s.CallbackCost, e.riskSpread()*z))
	low, high := at(a.Mean-z*a.SD), at(a.Mean+z*a.SD)
	return figure.Figure{Value: a.Gain, Low: a.Gain - math.Hypot(max(0, a.Gain-low), others), High: a.Gain + math.Hypot(max(0, high-a.Gain), others), Level: c.level, N: c.n,
		Method: "expected callbacks saved less extra cost; range: of the ratio as believed, the risk and the costs, approximate", Bounded: true, OK: true}
}

// perSqft are the costs of a ft² with callbacks: those with mesh at the mean
// risk times the root of the ratio as believed, those with rebar at the mean
// risk over it. The limits take the risk, the ratio and the costs for
// independent: approximate.
func (c choice) perSqft(e effect, a decide.SteelAnswer) (mesh, rebar figure.Figure) {
	return c.perSqftOf(c.costs.mesh, e, a, 1), c.perSqftOf(c.costs.rebar, e, a, -1)
}

func (c choice) perSqftOf(w way, e effect, a decide.SteelAnswer, sign float64) figure.Figure {
	z := c.deviate()
	callback, callbackSE := c.costs.aCallback()
	middle := e.risk.Value * math.Exp(sign*a.Mean/2)
	risk := middle * math.Exp(a.SD*a.SD/8)
	half := z * math.Hypot(math.Hypot(a.SD/2, e.riskSpread()), callbackSE/callback)
	each, other := callback/c.area, z*c.costs.sqftSE(w)
	value := c.costs.sqft(w) + each*min(1, risk)
	down, up := each*max(0, risk-middle*math.Exp(-half)), each*max(0, min(1, middle*math.Exp(half))-min(1, risk))
	return figure.Figure{Value: value, Low: value - math.Hypot(down, other), High: value + math.Hypot(up, other), Level: c.level, N: c.n,
		Method: "material, labor and expected callbacks within a year, approximate", Bounded: true, OK: true}
}

// parts splits the cost of a ft²: what is not material or labor is callbacks.
func parts(all figure.Figure, material, labor float64) Parts {
	return Parts{material, labor, all.Value - material - labor}
}

// mostSpread is how many times the low end the high end of a range may be for
// the cost at which the choice turns to mean anything.
const mostSpread = 10

// turning is the cost of a callback at which mesh and rebar cost the same,
// where the ratio as believed bounds it.
func (c choice) turning(e effect, a decide.SteelAnswer) figure.Figure {
	extra, _ := c.extra()
	z := c.deviate()
	at := func(logRatio, spread float64) float64 {
		return extra / (2 * e.risk.Value * spread * math.Sinh(logRatio/2))
	}
	cost := at(a.Mean, math.Exp(a.SD*a.SD/8))
	one, other := at(a.Mean-z*a.SD, 1), at(a.Mean+z*a.SD, 1)
	low, high := min(one, other), max(one, other)
	switch {
	case high <= 0 || math.IsNaN(cost):
		return figure.Unknown(NothingTurns{})
	case !(low > 0) || high > mostSpread*low:
		return figure.Unknown(TurnsAnywhere{})
	}
	return figure.Figure{Value: cost, Low: min(cost, low), High: max(cost, high), Level: c.level, N: c.n, Method: "extra cost over callbacks saved; range: of the ratio as believed", Bounded: true, OK: true}
}

// breakEven is the ratio at which rebar just pays.
func (c choice) breakEven(risk float64) figure.Figure {
	if risk <= 0 {
		return figure.Unknown(RiskUnknown{})
	}
	callback, _ := c.costs.aCallback()
	extra, _ := c.extra()
	even, err := decide.BreakEvenRatio(risk, callback, extra)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	return figure.Total(even, c.n, "ratio of callbacks at which rebar saves its extra cost, at the mean risk of both")
}
