package analysis

import (
	"fmt"
	"math"
	"sync"

	"pourback/analysis/stat/decide"
	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

// Reinforcement compares slabs with mesh and slabs with rebar, and both in
// short with slabs of fiber or none.
type Reinforcement struct {
	Answer      string       `json:"answer"`
	MeshVsRebar MeshVsRebar  `json:"mesh_vs_rebar"`
	InShort     []SteelPair  `json:"in_short"`
	Assumptions []Assumption `json:"assumptions"`
	Notes       []string     `json:"notes"`

	// Paid is the money by the company's own lines of cost and hours, where it
	// keeps them; nil where it does not. Both forms of a history give the same
	// JSON, and a job log has no such lines, so it is for pages only.
	Paid            *SteelMoney  `json:"-"`
	PaidAssumptions []Assumption `json:"-"`

	event string
}

// MeshVsRebar is the comparison in risk and in money. Differences are mesh less
// rebar, ratios mesh over rebar, risks within a year of the pour.
type MeshVsRebar struct {
	Verdict            string `json:"verdict"`  // mesh, rebar, not settled or cannot tell
	Evidence           string `json:"evidence"` // what so many cracks can and cannot show
	Mesh               int    `json:"mesh_placements"`
	Rebar              int    `json:"rebar_placements"`
	Events             int    `json:"events"` // cracks among them
	MeshRate           Figure `json:"mesh_rate_per_100_placement_years"`
	RebarRate          Figure `json:"rebar_rate_per_100_placement_years"`
	RawDifference      Figure `json:"raw_difference"`
	AdjustedMesh       Figure `json:"adjusted_risk_mesh"`
	AdjustedRebar      Figure `json:"adjusted_risk_rebar"`
	AdjustedDifference Figure `json:"adjusted_difference"`
	HazardRatio        Figure `json:"hazard_ratio"`
	MadeAlike          string `json:"made_alike"` // in what, and how
	Detectable         Figure `json:"detectable_ratio"`
	EValue             Figure `json:"e_value"`
	EValueLimit        Figure `json:"e_value_limit"`
	SteelMoney
	Sensitivity []SteelCheck `json:"sensitivity"`
}

// reinforced are the slabs as the comparison of reinforcement sees them.
type reinforced struct{ *slabs }

func reinforcement(h *record.History, watched *slabs, opt Options) *Reinforcement {
	s := reinforced{watched}
	mesh, rebar := s.steel.find("mesh"), s.steel.find("rebar")
	p := s.pair(mesh, rebar)
	c := s.choice(p, opt)
	m := MeshVsRebar{Mesh: p.n[0], Rebar: p.n[1], Events: c.events, Sensitivity: []SteelCheck{}}
	m.MeshRate, m.RebarRate = s.rateOf(mesh, opt.Level), s.rateOf(rebar, opt.Level)
	r := &Reinforcement{event: opt.Event, Assumptions: s.assumptions(c.costs, nil), Notes: steelNotes()}
	var side sync.WaitGroup
	side.Go(func() { r.InShort = s.inShort(opt.Level) })
	why := s.cannotTell(mesh, rebar, "mesh", "rebar")
	var e effect
	if why == "" {
		e, why = s.compare(p, &m, c, opt)
	}
	switch {
	case why == "" && opt.Event == EventSeen: // the risks alone
	case why == "":
		m.SteelMoney = c.decide(e)
		m.Sensitivity = s.sensitivity(p, e, c)
		m.Verdict = verdict(m.SteelMoney, m.Sensitivity)
		r.paid(h, s, c, e)
	case m.Verdict == "":
		m.Verdict = cannotTell
	}
	if opt.Event == EventSeen && m.Verdict != cannotTell {
		m.SteelMoney = seenIsNoMoney()
	}
	if c.area > 0 {
		m.ExtraRebar = total(c.extra(), c.n, "material and labor, mean area")
	}
	m.refuse(why)
	m.Evidence = m.evidence()
	side.Wait()
	r.MeshVsRebar = m
	r.Answer = r.answer(why)
	return r
}

// compare estimates the effect, or says why there is none to estimate.
func (s reinforced) compare(p pair, m *MeshVsRebar, c choice, opt Options) (e effect, why string) {
	f := s.steelFrame(p)
	m.Verdict = notSettled
	m.Detectable = detectable(f.events, c)
	if f.events < eventsForAny {
		m.SteelMoney = c.needed(c.risk)
		return e, tooFew(f.events)
	}
	if !compares(f) {
		return e, "only one of mesh and rebar has slabs whose heat and spacing are recorded"
	}
	m.RawDifference = s.rawDifference(p, opt.Level)
	e, err := s.fairly(f, opt)
	if err != nil {
		return e, reason(err)
	}
	m.AdjustedMesh, m.AdjustedRebar, m.AdjustedDifference, m.HazardRatio = e.mesh, e.rebar, e.diff, e.ratio
	m.MadeAlike = e.how
	m.EValue, m.EValueLimit = eValue(e.ratio)
	return e, ""
}

// refuse says why of every figure that is still missing.
func (m *MeshVsRebar) refuse(why string) {
	say := func(why string, figures ...*Figure) {
		for _, f := range figures {
			if !f.Known() && f.Why == "" {
				*f = unknown("%s", why)
			}
		}
	}
	say(why, &m.RawDifference, &m.AdjustedMesh, &m.AdjustedRebar, &m.AdjustedDifference, &m.HazardRatio, &m.MeshCheaper, &m.PlacementsNeeded)
	say("no fair comparison to rest it on", append(m.figures(), &m.Detectable, &m.EValue, &m.EValueLimit)...)
}

// choice gathers what the decision rests on besides the effect.
func (s reinforced) choice(p pair, opt Options) choice {
	c := choice{costs: placed{opt.Steel, opt.Rates.LaborPerHour.Dollars()}, level: opt.Level, n: p.n[0] + p.n[1], share: 0.5, events: s.eventsOf(p)}
	c.callback = s.callbackCost(opt.Steel).Value + opt.Steel.Goodwill
	area, measured, oldest := 0.0, 0, 0.0
	for i, k := range p.kind {
		if k < 0 {
			continue
		}
		if !math.IsNaN(s.area[i]) {
			area += s.area[i]
			measured++
		}
		oldest = max(oldest, s.age[i])
		if s.age[i] < oneYear {
			c.pace++
		}
	}
	c.area = area / max(1, float64(measured))
	if oldest < oneYear {
		c.pace *= oneYear / max(30, oldest)
	}
	if p.n[0] > 0 && p.n[1] > 0 {
		c.share = float64(p.n[0]) / float64(c.n)
	}
	c.risk = s.riskOf(p, opt.Level)
	return c
}

// riskOf is the one-year risk of the two kinds together, 0 where it is unknown.
func (s reinforced) riskOf(p pair, level float64) float64 {
	group := make([]int, s.n())
	for i, k := range p.kind {
		group[i] = int(min(k, 0))
	}
	codes, curves, err := survival.KaplanMeierBy(s.alone, s.first, group)
	if err != nil || codes[len(codes)-1] != 0 {
		return 0
	}
	return riskAt(curves[len(curves)-1], oneYear, level).Value
}

// rateOf is the rate of one kind, with exact limits.
func (s reinforced) rateOf(code int, level float64) Figure {
	n, events, days := 0, 0, 0.0
	for i, c := range s.steel.code {
		if c == code {
			n++
			days += s.days[i]
			events += int(indicator(s.cracked[i]))
		}
	}
	if n < leastForRate || days == 0 {
		return unknown("%s of this kind: too few for a rate", countOf(n, "placement"))
	}
	return garwood(events, days, level)
}

// detectable is the smallest ratio that so many cracks could have shown.
func detectable(events int, c choice) Figure {
	ratio, err := decide.DetectableRatio(float64(events), c.share, decide.Test{Alpha: 1 - c.level, Power: c.costs.Power})
	if err != nil {
		return unknown("%s", reason(err))
	}
	return total(ratio, events, fmt.Sprintf("Schoenfeld 1983, power %g", c.costs.Power))
}

// assumptions are those of the money, in the order in which they are used.
func (s reinforced) assumptions(c placed, from map[string]string) []Assumption {
	return append([]Assumption{s.callbackCost(c.SteelCosts)}, c.assumptions(from)...)
}

// paid adds the money by the company's own lines.
func (r *Reinforcement) paid(h *record.History, s reinforced, c choice, e effect) {
	costs, from := c.costs.paid(h)
	if len(from) == 0 {
		return
	}
	c.costs = costs
	m := c.decide(e)
	r.Paid, r.PaidAssumptions = &m, s.assumptions(costs, from)
}
