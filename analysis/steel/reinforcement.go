package steel

import (
	"fmt"
	"math"
	"sync"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/decide"
	"pourback/ingest/record"
)

// Reinforcement compares slabs with mesh and slabs with rebar, and both in
// short with slabs of fiber or none.
type Reinforcement struct {
	MeshVsRebar MeshVsRebar         `json:"mesh_vs_rebar"`
	InShort     []Compared          `json:"in_short"`
	Assumptions []figure.Assumption `json:"assumptions"`

	Event string        `json:"-"` // what counts as a crack
	Why   figure.Reason `json:"-"` // why there is no comparison; nil where there is one
}

// MeshVsRebar is the comparison in risk and in money. Differences are mesh less
// rebar, ratios mesh over rebar, risks within a year of the pour.
type MeshVsRebar struct {
	Verdict            Verdict       `json:"verdict"`
	Mesh               int           `json:"mesh_placements"`
	Rebar              int           `json:"rebar_placements"`
	Events             int           `json:"events"` // cracks among them
	MeshRate           figure.Figure `json:"mesh_rate_per_100_placement_years"`
	RebarRate          figure.Figure `json:"rebar_rate_per_100_placement_years"`
	RawDifference      figure.Figure `json:"raw_difference"`
	AdjustedMesh       figure.Figure `json:"adjusted_risk_mesh"`
	AdjustedRebar      figure.Figure `json:"adjusted_risk_rebar"`
	AdjustedDifference figure.Figure `json:"adjusted_difference"`
	HazardRatio        figure.Figure `json:"hazard_ratio"`
	Luck               figure.Figure `json:"p"` // chance of such a difference between looks if both crack alike, by permutation of jobs
	Alternated         bool          `json:"-"` // the owner says that mesh and rebar took turns
	MadeAlike          Alike         `json:"-"` // what the fair comparison holds alike; nothing where there is none
	Detectable         figure.Figure `json:"detectable_ratio"`
	EValue             figure.Figure `json:"e_value"`
	EValueLimit        figure.Figure `json:"e_value_limit"`
	Money
	Sensitivity []Check `json:"sensitivity"`
	ByUse       []Use   `json:"by_use"`
}

// reinforced are the slabs as the comparison of reinforcement sees them.
type reinforced struct{ *cracks.Slabs }

// Of compares from what is known of each slab.
func Of(h *record.History, watched *cracks.Slabs, opt setting.Options) *Reinforcement {
	s := reinforced{watched}
	mesh, rebar := s.Steel.Find("mesh"), s.Steel.Find("rebar")
	p := s.Pair(mesh, rebar)
	c := s.choice(h, p, opt)
	m := MeshVsRebar{Mesh: p.N[0], Rebar: p.N[1], Events: c.events, Alternated: opt.Steel.Alternated, Sensitivity: []Check{}, ByUse: []Use{}}
	m.MeshRate, m.RebarRate = s.rateOf(mesh, opt.Level), s.rateOf(rebar, opt.Level)
	m.Luck = figure.Unknown(ByProbability{})
	r := &Reinforcement{Event: opt.Event, Assumptions: c.costs.assumptions()}
	var side sync.WaitGroup
	side.Go(func() { r.InShort = s.inShort(opt) })
	why := s.CannotTell(mesh, rebar, "mesh", "rebar")
	var e effect
	if why == nil {
		e, why = s.compare(p, &m, c, opt)
	}
	switch {
	case why == nil && opt.Event == setting.EventSeen: // the comparison alone
	case why == nil:
		m.Money = c.decide(e)
		m.Sensitivity = s.sensitivity(p, e, c)
		if m.Verdict = verdict(m.Money, m.Sensitivity); m.Verdict != NotSettled {
			m.leftOut(IsSettled{})
		}
		m.ByUse = s.byUse(h, p, e, c)
	case m.Verdict == "":
		m.Verdict = CannotTell
	}
	if opt.Event == setting.EventSeen && m.Verdict != CannotTell {
		m.Money = seenIsNoMoney()
	}
	if c.area > 0 {
		m.ExtraRebar = c.extraFigure()
	}
	if m.Advice == "" {
		m.Advice = c.cheaperToPlace()
	}
	if m.TurnedBy == nil {
		m.TurnedBy = []figure.Lever{}
	}
	m.refuse(why)
	side.Wait()
	r.MeshVsRebar, r.Why = m, why
	return r
}

// compare estimates the effect, or says why there is none to estimate.
func (s reinforced) compare(p cracks.Pair, m *MeshVsRebar, c choice, opt setting.Options) (e effect, why figure.Reason) {
	f := s.steelFrame(p)
	m.Verdict = NotSettled
	e.alternated = opt.Steel.Alternated
	if !e.alternated {
		e.bias = leastBias
	}
	m.Detectable = detectable(f.Events, c, e.bias)
	if f.Events < cracks.EventsForAny {
		m.BreakEven = c.breakEven(c.risk)
		m.Needed = c.needed(e, m.BreakEven)
		return e, tooFew(f.Events)
	}
	if !compares(f) {
		return e, OneKindRecorded{}
	}
	if opt.Event == setting.EventSeen {
		return e, s.looks(p, f, m, opt)
	}
	m.RawDifference = s.rawDifference(p, opt.Level)
	if e, why = s.fairly(f, opt); why != nil {
		return e, why
	}
	e.alternated, e.bias = opt.Steel.Alternated, s.biasOf(p, e, opt)
	m.Detectable = detectable(f.Events, c, e.bias)
	m.AdjustedMesh, m.AdjustedRebar, m.AdjustedDifference, m.HazardRatio = e.mesh, e.rebar, e.diff, e.ratio
	m.MadeAlike = e.how
	m.EValue, m.EValueLimit = eValue(e.ratio)
	return e, nil
}

// refuse says why of every figure that is still missing.
func (m *MeshVsRebar) refuse(why figure.Reason) {
	say := func(why figure.Reason, figures ...*figure.Figure) {
		for _, f := range figures {
			if !f.Known() && f.Why == nil {
				*f = figure.Unknown(why)
			}
		}
	}
	say(why, &m.RawDifference, &m.AdjustedMesh, &m.AdjustedRebar, &m.AdjustedDifference, &m.HazardRatio, &m.MeshCheaper, &m.PlacementsNeeded)
	say(NoFairComparison{}, append(m.figures(), &m.Detectable, &m.EValue, &m.EValueLimit)...)
}

// choice gathers what the decision rests on besides the effect.
func (s reinforced) choice(h *record.History, p cracks.Pair, opt setting.Options) choice {
	c := choice{costs: entered(opt.Steel, opt.Rates.LaborPerHour.Dollars()).paid(h), level: opt.Level, n: p.N[0] + p.N[1], share: 0.5, events: s.eventsOf(p)}
	c.costs.callback = s.CallbackCost(opt.Steel)
	oldest := 0.0
	for i, k := range p.Kind {
		if k < 0 {
			continue
		}
		oldest = max(oldest, s.Age[i])
		if s.Age[i] < cracks.OneYear {
			c.pace++
		}
	}
	c.area = s.meanArea(p)
	if oldest < cracks.OneYear {
		c.pace *= cracks.OneYear / max(30, oldest)
	}
	if p.N[0] > 0 && p.N[1] > 0 {
		c.share = float64(p.N[0]) / float64(c.n)
	}
	c.risk = s.risksBy(p, figure.Labels{Of: make([]int, s.N())}, opt.Level)[0].Value
	return c
}

// meanArea is that of the placements of a pair, 0 where none records it.
func (s reinforced) meanArea(p cracks.Pair) float64 {
	area, measured := 0.0, 0
	for i, k := range p.Kind {
		if k >= 0 && !math.IsNaN(s.Area[i]) {
			area += s.Area[i]
			measured++
		}
	}
	return area / max(1, float64(measured))
}

// rateOf is the rate of one kind, with exact limits.
func (s reinforced) rateOf(code int, level float64) figure.Figure {
	if s.Event == setting.EventSeen {
		_, rate := s.OfLooks(func(i int) bool { return s.Steel.Code[i] == code }, level)
		return rate
	}
	n, events, days := 0, 0, 0.0
	for i, c := range s.Steel.Code {
		if c == code {
			n++
			days += s.Days[i]
			events += int(cracks.Indicator(s.Cracked[i]))
		}
	}
	if n < figure.LeastForRate || days == 0 {
		return figure.Unknown(cracks.TooFewPlacements{N: n})
	}
	return cracks.Garwood(events, days, level)
}

// detectable is the smallest ratio that so many cracks could have shown against
// such a bias.
func detectable(events int, c choice, bias float64) figure.Figure {
	ratio, err := decide.DetectableRatio(float64(events), c.share, decide.Test{Alpha: 1 - c.level, Power: c.costs.Power, BiasSD: bias})
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	return figure.Total(ratio, events, fmt.Sprintf("Schoenfeld 1983, power %g", c.costs.Power))
}

// extraFigure is what rebar costs more on a placement before callbacks.
func (c choice) extraFigure() figure.Figure {
	extra, se := c.extra()
	half := c.deviate() * se
	return figure.Figure{Value: extra, Low: extra - half, High: extra + half, Level: c.level, N: c.n, Method: "material and labor, mean area", Bounded: true, OK: true}
}
