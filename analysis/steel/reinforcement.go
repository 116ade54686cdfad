package steel

import (
	"fmt"
	"math"
	"sync"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/decide"
	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

// Reinforcement compares slabs with mesh and slabs with rebar, and both in
// short with slabs of fiber or none.
type Reinforcement struct {
	Answer      string              `json:"answer"`
	MeshVsRebar MeshVsRebar         `json:"mesh_vs_rebar"`
	InShort     []Compared          `json:"in_short"`
	Assumptions []figure.Assumption `json:"assumptions"`
	Notes       []string            `json:"notes"`

	// Paid is the money by the company's own lines of cost and hours, where it
	// keeps them; nil where it does not. Both forms of a history give the same
	// JSON, and a job log has no such lines, so it is for pages only.
	Paid            *Money              `json:"-"`
	PaidAssumptions []figure.Assumption `json:"-"`

	event string
}

// MeshVsRebar is the comparison in risk and in money. Differences are mesh less
// rebar, ratios mesh over rebar, risks within a year of the pour.
type MeshVsRebar struct {
	Verdict            string        `json:"verdict"`  // mesh, rebar, not settled or cannot tell
	Evidence           string        `json:"evidence"` // what so many cracks can and cannot show
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
	MadeAlike          string        `json:"made_alike"` // in what, and how
	Detectable         figure.Figure `json:"detectable_ratio"`
	EValue             figure.Figure `json:"e_value"`
	EValueLimit        figure.Figure `json:"e_value_limit"`
	Money
	Sensitivity []Check `json:"sensitivity"`
}

// reinforced are the slabs as the comparison of reinforcement sees them.
type reinforced struct{ *cracks.Slabs }

func Of(h *record.History, watched *cracks.Slabs, opt setting.Options) *Reinforcement {
	s := reinforced{watched}
	mesh, rebar := s.Steel.Find("mesh"), s.Steel.Find("rebar")
	p := s.Pair(mesh, rebar)
	c := s.choice(p, opt)
	m := MeshVsRebar{Mesh: p.N[0], Rebar: p.N[1], Events: c.events, Sensitivity: []Check{}}
	m.MeshRate, m.RebarRate = s.rateOf(mesh, opt.Level), s.rateOf(rebar, opt.Level)
	r := &Reinforcement{event: opt.Event, Assumptions: s.assumptions(c.costs, nil), Notes: steelNotes()}
	var side sync.WaitGroup
	side.Go(func() { r.InShort = s.inShort(opt.Level) })
	why := s.CannotTell(mesh, rebar, "mesh", "rebar")
	var e effect
	if why == "" {
		e, why = s.compare(p, &m, c, opt)
	}
	switch {
	case why == "" && opt.Event == setting.EventSeen: // the risks alone
	case why == "":
		m.Money = c.decide(e)
		m.Sensitivity = s.sensitivity(p, e, c)
		m.Verdict = verdict(m.Money, m.Sensitivity)
		r.paid(h, s, c, e)
	case m.Verdict == "":
		m.Verdict = cannotTell
	}
	if opt.Event == setting.EventSeen && m.Verdict != cannotTell {
		m.Money = seenIsNoMoney()
	}
	if c.area > 0 {
		m.ExtraRebar = figure.Total(c.extra(), c.n, "material and labor, mean area")
	}
	m.refuse(why)
	m.Evidence = m.evidence()
	side.Wait()
	r.MeshVsRebar = m
	r.Answer = r.answer(why)
	return r
}

// compare estimates the effect, or says why there is none to estimate.
func (s reinforced) compare(p cracks.Pair, m *MeshVsRebar, c choice, opt setting.Options) (e effect, why string) {
	f := s.steelFrame(p)
	m.Verdict = NotSettled
	m.Detectable = detectable(f.Events, c)
	if f.Events < cracks.EventsForAny {
		m.Money = c.needed(c.risk)
		return e, tooFew(f.Events)
	}
	if !compares(f) {
		return e, "only one of mesh and rebar has slabs whose heat and spacing are recorded"
	}
	m.RawDifference = s.rawDifference(p, opt.Level)
	e, err := s.fairly(f, opt)
	if err != nil {
		return e, figure.Text(figure.ReasonOf(err))
	}
	m.AdjustedMesh, m.AdjustedRebar, m.AdjustedDifference, m.HazardRatio = e.mesh, e.rebar, e.diff, e.ratio
	m.MadeAlike = e.how
	m.EValue, m.EValueLimit = eValue(e.ratio)
	return e, ""
}

// refuse says why of every figure that is still missing.
func (m *MeshVsRebar) refuse(why string) {
	say := func(why string, figures ...*figure.Figure) {
		for _, f := range figures {
			if !f.Known() && f.Why == nil {
				*f = figure.UnknownFor("%s", why)
			}
		}
	}
	say(why, &m.RawDifference, &m.AdjustedMesh, &m.AdjustedRebar, &m.AdjustedDifference, &m.HazardRatio, &m.MeshCheaper, &m.PlacementsNeeded)
	say("no fair comparison to rest it on", append(m.figures(), &m.Detectable, &m.EValue, &m.EValueLimit)...)
}

// choice gathers what the decision rests on besides the effect.
func (s reinforced) choice(p cracks.Pair, opt setting.Options) choice {
	c := choice{costs: placed{opt.Steel, opt.Rates.LaborPerHour.Dollars()}, level: opt.Level, n: p.N[0] + p.N[1], share: 0.5, events: s.eventsOf(p)}
	c.callback = s.CallbackCost(opt.Steel).Value + opt.Steel.Goodwill
	area, measured, oldest := 0.0, 0, 0.0
	for i, k := range p.Kind {
		if k < 0 {
			continue
		}
		if !math.IsNaN(s.Area[i]) {
			area += s.Area[i]
			measured++
		}
		oldest = max(oldest, s.Age[i])
		if s.Age[i] < cracks.OneYear {
			c.pace++
		}
	}
	c.area = area / max(1, float64(measured))
	if oldest < cracks.OneYear {
		c.pace *= cracks.OneYear / max(30, oldest)
	}
	if p.N[0] > 0 && p.N[1] > 0 {
		c.share = float64(p.N[0]) / float64(c.n)
	}
	c.risk = s.riskOf(p, opt.Level)
	return c
}

// riskOf is the one-year risk of the two kinds together, 0 where it is unknown.
func (s reinforced) riskOf(p cracks.Pair, level float64) float64 {
	group := make([]int, s.N())
	for i, k := range p.Kind {
		group[i] = int(min(k, 0))
	}
	codes, curves, err := survival.KaplanMeierBy(s.Alone, s.First, group)
	if err != nil || codes[len(codes)-1] != 0 {
		return 0
	}
	return cracks.RiskAt(curves[len(curves)-1], cracks.OneYear, level).Value
}

// rateOf is the rate of one kind, with exact limits.
func (s reinforced) rateOf(code int, level float64) figure.Figure {
	n, events, days := 0, 0, 0.0
	for i, c := range s.Steel.Code {
		if c == code {
			n++
			days += s.Days[i]
			events += int(cracks.Indicator(s.Cracked[i]))
		}
	}
	if n < figure.LeastForRate || days == 0 {
		return figure.UnknownFor("%s of this kind: too few for a rate", figure.CountOf(n, "placement"))
	}
	return cracks.Garwood(events, days, level)
}

// detectable is the smallest ratio that so many cracks could have shown.
func detectable(events int, c choice) figure.Figure {
	ratio, err := decide.DetectableRatio(float64(events), c.share, decide.Test{Alpha: 1 - c.level, Power: c.costs.Power})
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	return figure.Total(ratio, events, fmt.Sprintf("Schoenfeld 1983, power %g", c.costs.Power))
}

// assumptions are those of the money, in the order in which they are used.
func (s reinforced) assumptions(c placed, from map[string]string) []figure.Assumption {
	return append([]figure.Assumption{s.CallbackCost(c.SteelCosts)}, c.assumptions(from)...)
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
