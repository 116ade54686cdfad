package findings

import (
	"fmt"
	"math"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/pool"
	"pourback/analysis/steel"
	"pourback/analysis/work"
)

// callbackFindings say what callbacks cost, by kind: cracks, and all others.
func callbackFindings(y *lastYear) []candidate {
	crack, other := yearly{year: y}, yearly{year: y}
	for _, i := range y.called {
		p := &y.h.Placements[i]
		if !p.CallbackCost.OK {
			continue
		}
		to := &other
		if p.CallbackKind == "crack" {
			to = &crack
		}
		to.add(p.CallbackCost.V.Dollars())
	}
	var out []candidate
	for _, c := range []struct {
		of                yearly
		topic, what, next string
	}{
		{crack, "cracks", "about cracks", "see the cracks page for what goes with them, and carry a reserve in each bid"},
		{other, "callbacks", "about other things than cracks", "read what they were about, and see whether one cause comes up again"},
	} {
		c.of.n = max(c.of.n, len(y.rows)) // every slab might have been called about
		worth := c.of.dollars(1)
		if worth.Known() {
			out = append(out, sum(c.topic, "callbacks "+c.topic, worth, fmt.Sprintf("Customers called %s %s in the last twelve months: %s; %s.",
				work.Times(c.of.events), c.what, y.aYear(worth), c.next)))
		}
	}
	return out
}

// crackFindings look through what slabs differ in (heat, drying, spacing,
// curing …) for the level that cracks more than the others. Reinforcement is
// not among it: it follows the season, and has a topic of its own. Cracks that
// were only seen at visits cost nobody a callback.
func crackFindings(y *lastYear) []candidate {
	if y.f.Cracks == nil || y.f.Cracks.Event != setting.EventCallback || !y.f.Cracks.All.Risk1Yr.Known() || y.f.Placements == 0 {
		return nil
	}
	cost := 0.0
	for _, a := range y.f.Cracks.Assumptions {
		if a.Name == "cost of a crack callback" {
			cost = a.Value
		}
	}
	var out []candidate
	for _, t := range y.f.Cracks.OneWay {
		if c, ok := y.crackFinding(&t, cost); ok {
			out = append(out, c)
		}
	}
	return out
}

// crackFinding puts the worst level of a table in money: the excess of its
// pooled rate over that of the other levels, in callbacks of a year's slabs.
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
	if worst < 0 {
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
	unit := t.Unit
	if unit != "" {
		unit = " " + unit
	}
	return compared(gain("cracks", "cracks by "+t.Factor, worth, fmt.Sprintf("Slabs with %s %s%s bring %s times the crack callbacks of the others, %d on %s: %s; something else may go with it, so change it on some jobs of each kind before trusting it.",
		t.Factor, row.Level, unit, ratioWords(most/rest), row.Callbacks, figure.CountOf(row.Placements, "slab"), y.aYear(worth))), 1-law.CDF(rest), t.LogRank.Value), true
}

func ratioWords(r float64) string {
	if math.IsInf(r, 0) || r > 99 {
		return "many"
	}
	return fmt.Sprintf("%.1f", r)
}

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
		if y.h.Placements[i].Reinforcement == worse {
			n++
		}
	}
	if n < figure.LeastForRate {
		return nil
	}
	worth := per(m.RebarGain, func(each float64) float64 { return sign * each * float64(n) * y.scale },
		"expected cost of "+worse+" less that of "+better+", callbacks included × placements of the last twelve months with "+worse)
	c := gain("reinforcement", "reinforcement", worth, fmt.Sprintf("%s costs less than %s once callbacks are counted (%s): %s over the %d placements that had %s; where an engineer or a code asks for one, that decides.",
		figure.Capital(better), worse, steel.Chances(100*sure), y.aYear(worth), n, worse))
	c.sure = sure
	return []candidate{c}
}
