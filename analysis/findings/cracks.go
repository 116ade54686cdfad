package findings

import (
	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/pool"
	"pourback/analysis/steel"
)

// callbackFindings say what callbacks cost, by kind: cracks, and all others.
func callbackFindings(y *lastYear) []candidate {
	crack, other := yearly{year: y}, yearly{year: y}
	for _, i := range y.called {
		p := y.h.Placements.At(i)
		if !p.CallbackCost().OK {
			continue
		}
		to := &other
		if p.CallbackKind() == "crack" {
			to = &crack
		}
		to.add(p.CallbackCost().V.Dollars())
	}
	var out []candidate
	for _, c := range []struct {
		of     yearly
		topic  string
		cracks bool
	}{{crack, "cracks", true}, {other, "callbacks", false}} {
		c.of.n = max(c.of.n, len(y.rows)) // every slab might have been called about
		if worth := c.of.dollars(1); worth.Known() {
			out = append(out, y.asBooked(sum(c.topic, "callbacks "+c.topic, worth, Callbacks{c.cracks, c.of.events})))
		}
	}
	return out
}

// crackFindings look through what slabs differ in (heat, drying, spacing,
// curing …) for the level that cracks more than the others. Reinforcement is
// not among it: it follows the season, and has a topic of its own. Cracks that
// were only seen at visits cost nobody a callback.
func crackFindings(y *lastYear) []candidate {
	if y.f.Cracks == nil || y.f.Cracks.Event != setting.EventCallback || !y.f.Cracks.All.Risk1Yr.Known() || !y.f.Cracks.All.TellsBy(cracks.OneYear) || y.f.Placements == 0 {
		return nil
	}
	cost := 0.0
	for _, a := range y.f.Cracks.Assumptions {
		if a.What == cracks.CallbackCost {
			cost = a.Value
		}
	}
	var out []candidate
	for i := range y.f.Cracks.OneWay {
		if c, ok := y.crackFinding(&y.f.Cracks.OneWay[i], cost); ok {
			out = append(out, c)
		}
	}
	return out
}

// crackFinding puts the worst level of a table in money: the excess of its
// pooled rate over that of the other levels, in callbacks of a year's slabs. A
// level that rests on a callback or two is none, nor one that goes against what
// is known of concrete.
func (y *lastYear) crackFinding(t *cracks.Table, cost float64) (candidate, bool) {
	events, years := make([]float64, len(t.Rows)), make([]float64, len(t.Rows))
	var all, exposure float64
	for i, r := range t.Rows {
		events[i], years[i] = float64(r.Callbacks), r.PlacementYears
		all, exposure = all+events[i], exposure+years[i]
	}
	grid, err := pool.GammaPoissonGrid(events, years, pool.DefaultRatePrior())
	if !t.LogRank.Known() || all < figure.LeastEvents || err != nil {
		return candidate{}, false
	}
	worst, most := -1, 0.0
	var law pool.GammaMixture
	for i, r := range t.Rows {
		if l, err := grid.Outfit(i); err == nil && r.Placements >= figure.LeastForRate && l.Mean() > most && exposure > years[i] {
			worst, most, law = i, l.Mean(), l
		}
	}
	if worst < 0 || t.Rows[worst].Callbacks < figure.LeastEvents || t.Against(worst) {
		return candidate{}, false
	}
	row := &t.Rows[worst]
	rest := (all - events[worst]) / (exposure - years[worst])
	slabs := float64(len(y.rows)) * y.scale * float64(row.Placements) / float64(y.f.Placements)
	dollars := func(rate float64) float64 {
		return (rate - rest) / (all / exposure) * y.f.Cracks.All.Risk1Yr.Value * slabs * cost
	}
	worth := figure.Figure{Value: dollars(most), Low: dollars(law.Quantile((1 - y.level) / 2)), High: dollars(law.Quantile((1 + y.level) / 2)), Level: y.level, N: row.Placements,
		Method: "pooled rate of crack callbacks less that of the other levels × one-year risk × slabs of a year × cost of a callback", Bounded: true, OK: true}
	told := CrackLevel{Table: t, Row: worst, Times: most / rest, Callbacks: row.Callbacks, Slabs: row.Placements}
	if !(told.Times <= mostTimes) {
		told.Times = 0
	}
	return compared(gain("cracks", "cracks by "+string(t.Factor), worth, told), 1-law.CDF(rest), t.LogRank.Value), true
}

// mostTimes is from where one rate is so many times another that the number says
// nothing.
const mostTimes = 99

// steelFindings tell what the better reinforcement would save where the topic
// has settled which one that is.
func steelFindings(y *lastYear) []candidate {
	if y.f.Reinforcement == nil {
		return nil
	}
	m := &y.f.Reinforcement.MeshVsRebar
	better, worse, sure, sign := "mesh", "rebar", m.MeshCheaper.Value, -1.0
	if m.Verdict == steel.ForRebar {
		better, worse, sure, sign = "rebar", "mesh", 1-m.MeshCheaper.Value, 1
	}
	if m.Verdict != steel.ForMesh && m.Verdict != steel.ForRebar || !m.MeshCheaper.Known() || !m.RebarGain.Known() {
		return nil
	}
	n := 0
	for _, i := range y.rows {
		if y.h.Placements.At(i).Reinforcement() == worse {
			n++
		}
	}
	if n < figure.LeastForRate {
		return nil
	}
	worth := per(m.RebarGain, func(each float64) float64 { return sign * each * float64(n) * y.scale },
		"expected cost of "+worse+" less that of "+better+", callbacks included × placements of the last twelve months with "+worse)
	c := gain("reinforcement", "reinforcement", worth, Steel{better == "mesh", n, len(y.f.Reinforcement.DecidingPrices()) > 0})
	c.sure = sure
	return []candidate{c}
}
