package visits

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
)

// RiskModel says how the chance of a coming callback was reckoned.
type RiskModel struct {
	Events  int                `json:"events"`  // crack callbacks
	Terms   []cracks.Covariate `json:"-"`       // what slabs are told apart by
	Cracked figure.Figure      `json:"cracked"` // callbacks in 100 placement-years after a crack was seen
	Quiet   figure.Figure      `json:"quiet"`   // of slabs that nobody has called about
	Again   figure.Figure      `json:"again"`   // after a repair

	Stands RiskStand `json:"-"`
	Usual  float64   `json:"-"` // callbacks a placement-year where nothing is on record
	Apart  []Cause   `json:"-"` // what slabs are told apart by, as causes
}

// RiskStand is what the chances of a callback stand on.
type RiskStand string

// What chances stand on, from the fewest callbacks to enough.
const (
	RiskUsual    RiskStand = "usual"     // no crack callback is on record
	RiskFew      RiskStand = "few"       // too few to tell slabs apart
	RiskUntold   RiskStand = "untold"    // too little else is recorded to tell them apart
	RiskByRecord RiskStand = "by record" // slabs are told apart
)

// Cause is what makes slabs more likely to be called about, or less: a thing
// that is recorded of them, and which way it lies.
type Cause struct {
	Kind  CauseKind
	Steel string // the reinforcement, of CauseSteel
	Above bool   // more of it than slabs have on the average
}

// CauseKind is what a cause is about.
type CauseKind string

// The kinds of causes.
const (
	CauseHeat   CauseKind = "air temperature"
	CauseJoints CauseKind = "joint spacing"
	CauseDrying CauseKind = "evaporation"
	CauseCuring CauseKind = "cured"
	CauseSaw    CauseKind = "saw delay"
	CauseSteel  CauseKind = "reinforcement"
)

// mostFor is what raises slab i's risk the most, nil where nothing does, or
// where its coefficient lies within a standard error of none: then a coin might
// have chosen its sign, and a reason that may be the wrong way round is none.
func (r *callRisk) mostFor(i int) *Cause {
	var cause *Cause
	most := math.Log(1.1)
	for j := range r.terms {
		from, log := r.apart(j, i)
		if log <= most {
			continue
		}
		cause, most = nil, log
		if r.coef[j]*r.coef[j] >= r.cov.At(j, j) && !cracks.Against(r.terms[j].What, r.coef[j] > 0) {
			c := causeOf(r.terms[j], from > 0)
			cause = &c
		}
	}
	return cause
}

// causeOf is a term as a cause that lies above its mean, or below it.
func causeOf(t cracks.Term, above bool) Cause {
	kinds := map[cracks.Thing]CauseKind{cracks.AirTemperature: CauseHeat, cracks.JointSpacing: CauseJoints, cracks.FastDrying: CauseDrying,
		cracks.Cured: CauseCuring, cracks.SawDelay: CauseSaw}
	if k, ok := kinds[t.What]; ok {
		return Cause{Kind: k, Above: above}
	}
	if above {
		return Cause{CauseSteel, t.Of, true}
	}
	return Cause{CauseSteel, t.Against, true}
}

// model describes the risk in figures.
func (r *callRisk) model(level float64) RiskModel {
	m := RiskModel{Events: r.events, Terms: []cracks.Covariate{}, Usual: r.usual}
	for _, t := range r.terms {
		m.Terms = append(m.Terms, t.Covariate)
		m.Apart = append(m.Apart, causeOf(t, true))
	}
	per100 := func(s state, g gammaRate, to string) figure.Figure {
		law := distuv.Gamma{Alpha: g.shape, Beta: g.days / cracks.DaysPerYear / 100}
		return figure.Figure{Value: law.Mean(), Low: law.Quantile((1 - level) / 2), High: law.Quantile((1 + level) / 2), Level: level, N: int(r.counts[s][0]),
			Method: "gamma posterior, prior worth one callback at " + to, Bounded: true, OK: true}
	}
	const all = "the rate of all slabs"
	m.Quiet = per100(quiet, r.overall(), "the usual rate")
	m.Cracked, m.Again = per100(cracked, r.state[cracked], all), per100(repaired, r.state[repaired], all)
	switch {
	case r.events == 0:
		m.Stands = RiskUsual
	case r.events < cracks.EventsForAny:
		m.Stands = RiskFew
	case len(r.terms) == 0:
		m.Stands = RiskUntold
	default:
		m.Stands = RiskByRecord
	}
	return m
}
