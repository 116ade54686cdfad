package steel

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

// Use is the choice for one use: its own area and callbacks at the ratio that
// all uses share, since one company's callbacks tell no ratio of each use.
type Use struct {
	Use         string        `json:"use"`
	Mesh        int           `json:"mesh_placements"`
	Rebar       int           `json:"rebar_placements"`
	Events      int           `json:"events"` // cracks among them
	Risk1Yr     figure.Figure `json:"risk_1yr"`
	Ratio       figure.Figure `json:"rate_ratio"` // mesh over rebar, within bands of temperature; shown only
	MeshCheaper figure.Figure `json:"probability_mesh_cheaper"`
	RebarGain   figure.Figure `json:"gain_of_rebar_per_placement"`
	Advice      string        `json:"advice"`
}

// byUse are the uses with placements of both kinds enough for a rate, and
// cracks enough to compare, in the order of the words.
func (s reinforced) byUse(h *record.History, p cracks.Pair, e effect, c choice) []Use {
	uses := figure.LabelsOf(s.N(), func(i int) string {
		p := h.Placements.At(i)
		return p.Use()
	})
	risks := s.risksBy(p, uses, c.level)
	out := []Use{}
	for k, name := range uses.Names {
		of := only(p, func(i int) bool { return uses.Of[i] == k })
		mine := c
		mine.n, mine.events = of.N[0]+of.N[1], s.eventsOf(of)
		if min(of.N[0], of.N[1]) < figure.LeastForRate || mine.events < cracks.EventsForAny {
			continue
		}
		mine.area = s.meanArea(of)
		u := Use{Use: name, Mesh: of.N[0], Rebar: of.N[1], Events: mine.events, Risk1Yr: risks[k], Advice: mine.cheaperToPlace()}
		ratio, err := s.rateRatio(of, tens, c.level)
		u.Ratio = figure.Estimated(ratio.Estimate, err)
		u.decide(e, mine)
		out = append(out, u)
	}
	return out
}

// risksBy is the one-year risk of the slabs of a pair by a label, mesh and
// rebar together.
func (s reinforced) risksBy(p cracks.Pair, by figure.Labels, level float64) map[int]figure.Figure {
	group := make([]int, s.N())
	for i, k := range p.Kind {
		if group[i] = by.Of[i]; k < 0 {
			group[i] = -1
		}
	}
	risks := map[int]figure.Figure{}
	labels, curves, err := survival.KaplanMeierBy(s.Alone, s.First, group)
	if err != nil {
		return risks
	}
	for i, label := range labels {
		risks[label] = cracks.RiskAt(curves[i], cracks.OneYear, level)
	}
	return risks
}

// decide puts the shared ratio at the use's own risk in money.
func (u *Use) decide(e effect, c choice) {
	u.MeshCheaper, u.RebarGain = figure.Unknown(RiskUnknown{}), figure.Unknown(RiskUnknown{})
	if !u.Risk1Yr.Bounded || u.Risk1Yr.Low <= 0 {
		return
	}
	e.risk = u.Risk1Yr
	half := distuv.UnitNormal.Quantile(0.9) * math.Log(e.risk.High/e.risk.Low) / (2 * c.deviate())
	e.riskLow, e.riskHigh = e.risk.Value*math.Exp(-half), e.risk.Value*math.Exp(half)
	a, err := c.steel(e).Decide()
	if err != nil || c.area == 0 {
		u.MeshCheaper, u.RebarGain = figure.Unknown(NoArea{}), figure.Unknown(NoArea{})
		return
	}
	u.MeshCheaper = figure.Total(a.MeshCheaper, c.n, "the shared hazard ratio, held against the use's own break-even")
	u.RebarGain = c.gain(e, a)
	u.Advice = better(a.Gain)
}

// only is the slabs of a pair that are kept.
func only(p cracks.Pair, keep func(i int) bool) cracks.Pair {
	out := cracks.Pair{Kind: make([]int8, len(p.Kind))}
	for i, k := range p.Kind {
		if k < 0 || !keep(i) {
			out.Kind[i] = -1
			continue
		}
		out.Kind[i] = k
		out.N[k]++
	}
	return out
}
