package invented

import (
	"math"
	"testing"
)

// followed is a slab as a survival analysis sees it.
type followed struct {
	days  float64
	event float64 // 1 for the event
	Covariates
}

// callsOf follows every slab to its first crack callback, which another kind of
// callback or the last day cuts off.
func callsOf(h history) []followed {
	all := make([]followed, h.Placements.Len())
	for i := range h.Placements.Len() {
		p := h.Placements.Row(i)
		f := followed{days: float64(h.AsOf - p.PlacedOn), Covariates: h.truth.Slabs[i].Covariates}
		if p.CallbackOn != 0 {
			f.days = float64(p.CallbackOn - p.PlacedOn)
		}
		if p.CallbackKind == "crack" {
			f.event = 1
		}
		all[i] = f
	}
	return all
}

// cracksOf follows every slab to its first crack, seen or not.
func cracksOf(h history) []followed {
	all := make([]followed, h.Placements.Len())
	for i := range h.Placements.Len() {
		s := &h.truth.Slabs[i]
		f := followed{days: float64(h.AsOf - h.Placements.Row(i).PlacedOn), Covariates: s.Covariates}
		if s.FirstCrackDays > 0 {
			f.days, f.event = s.FirstCrackDays, 1
		}
		all[i] = f
	}
	return all
}

// scores holds a truth to what was followed: for each covariate the sum of
// x·(event − cumulative hazard), in its standard errors. At the truth these are
// standard normal (the score test of a counting process; Andersen, Borgan, Gill
// & Keiding 1993, from memory).
func scores(all []followed, truth *Truth, baseline func(days float64) float64) map[string]float64 {
	score, information := map[string]float64{}, map[string]float64{}
	for _, f := range all {
		hazard := baseline(f.days) * math.Exp(truth.LogHazard(f.Covariates))
		for name, x := range termsOf(f.Covariates) {
			score[name] += x * (f.event - hazard)
			information[name] += x * x * hazard
		}
	}
	for name := range score {
		score[name] /= math.Sqrt(information[name])
	}
	return score
}

func termsOf(x Covariates) map[string]float64 {
	yes := func(b bool) float64 {
		if b {
			return 1
		}
		return 0
	}
	return map[string]float64{
		"level":   1,
		"mesh":    yes(x.Reinforcement == "mesh"),
		"rebar":   yes(x.Reinforcement == "rebar"),
		"fiber":   yes(x.Reinforcement == "fiber"),
		"spacing": x.SpacingFt/x.ThicknessIn - 2.5,
		"heat":    (x.AirTempF - 70) / 10,
		"drying":  yes(evaporation(x.ConcreteTempF, x.AirTempF, x.HumidityPct, x.WindMPH) >= 0.2),
		"sawing":  max(0, x.SawHours-12),
		"cured":   yes(x.Cured),
	}
}

// callsByDay is the baseline of callbacks, worked out once a day.
func callsByDay(c *Crack) func(days float64) float64 {
	var byDay []float64
	return func(days float64) float64 {
		for len(byDay) <= int(days) {
			byDay = append(byDay, c.callsBy(float64(len(byDay))))
		}
		return byDay[int(days)]
	}
}

// TestHazardLaw: every log hazard ratio, and the level, of callbacks and of
// cracks themselves.
func TestHazardLaw(t *testing.T) {
	h := large()
	for what, scored := range map[string]map[string]float64{
		"callbacks": scores(callsOf(h), &h.truth, callsByDay(&h.truth.Crack)),
		"cracks":    scores(cracksOf(h), &h.truth, h.truth.Crack.cracksBy),
	} {
		for name, z := range scored {
			if !(math.Abs(z) < allowed) {
				t.Errorf("%s, %s: %.1f standard errors from the truth", what, name, z)
			}
		}
	}
}

// TestHazardLawCanFail: a truth without heat, or with steel that does nothing,
// is found out.
func TestHazardLawCanFail(t *testing.T) {
	h := large()
	calls := callsOf(h)
	noHeat, noSteel := usualTruth(0, 0), usualTruth(0, 0)
	noHeat.Crack.Per10F, noSteel.Crack.ByReinforcement = 0, nil
	for name, wrong := range map[string]*Truth{"heat": &noHeat, "rebar": &noSteel} {
		if z := scores(calls, wrong, callsByDay(&wrong.Crack))[name]; math.Abs(z) < 6 {
			t.Errorf("no %s in the truth, and it is only %.1f standard errors off", name, z)
		}
	}
}

// spans are stretches of a slab's life, in days.
var spans = []struct {
	name     string
	from, to float64
}{{"first day", 0, 1}, {"first week", 1, 7}, {"first month", 7, 30}, {"half a year", 30, 180}, {"to the bunch", 180, 335},
	{"the bunch", 335, 365}, {"after the warranty", 365, 2000}}

// inSpans is events less their expected number, by span.
func inSpans(all []followed, truth *Truth, baseline func(days float64) float64) sums {
	off := sums{}
	for _, f := range all {
		ratio := math.Exp(truth.LogHazard(f.Covariates))
		for _, s := range spans {
			if f.days <= s.from {
				continue
			}
			hazard := (baseline(min(f.days, s.to)) - baseline(s.from)) * ratio
			event := 0.0
			if f.days <= s.to {
				event = f.event
			}
			off.add(s.name, event-hazard, hazard)
		}
	}
	return off
}

// TestShapeInTime: cracks and callbacks fall into each stretch of a slab's life
// as the truth says, the bunch of calls at the end of the warranty with them.
func TestShapeInTime(t *testing.T) {
	h := large()
	inSpans(cracksOf(h), &h.truth, h.truth.Crack.cracksBy).check(t, "cracks")
	calls := inSpans(callsOf(h), &h.truth, callsByDay(&h.truth.Crack))
	calls.check(t, "callbacks")
	if bunch := calls["the bunch"].variance / 30; bunch < 1.5*calls["to the bunch"].variance/155 {
		t.Errorf("no bunch before the warranty ends: %v a day", bunch)
	}
}

// TestOneYearRiskByArm: the product-limit risk at a year (Kaplan & Meier 1958)
// of the slabs with mesh and of those with rebar is the mean of their true risks.
func TestOneYearRiskByArm(t *testing.T) {
	h := large()
	for _, arm := range []string{"mesh", "rebar"} {
		var mine []Slab
		var all []followed
		for i, f := range callsOf(h) {
			if f.Reinforcement == arm {
				all, mine = append(all, f), append(mine, h.truth.Slabs[i])
			}
		}
		risk, se := productLimit(all)
		near(t, arm, risk, h.truth.MeanRisk1Yr(mine, ""), allowed*se)
	}
}

// productLimit is 1 − S(365) and its Greenwood standard error.
func productLimit(all []followed) (risk, se float64) {
	const year = 365
	var events, left [year + 2]float64
	for _, f := range all {
		day := int(min(f.days, year+1))
		left[day]++
		if day <= year {
			events[day] += f.event
		}
	}
	survival, atRisk, greenwood := 1.0, float64(len(all)), 0.0
	for day := range year + 1 {
		if d := events[day]; d > 0 {
			survival *= 1 - d/atRisk
			greenwood += d / (atRisk * (atRisk - d))
		}
		atRisk -= left[day]
	}
	return 1 - survival, survival * math.Sqrt(greenwood)
}

// TestNaiveComparisonMisleads: the raw difference between mesh and rebar is
// several times the true one, and is about the true one where steel is chosen
// by a coin.
func TestNaiveComparisonMisleads(t *testing.T) {
	raw := func(h history) (difference, se float64) {
		arms := map[string][]followed{}
		for _, f := range callsOf(h) {
			arms[f.Reinforcement] = append(arms[f.Reinforcement], f)
		}
		mesh, seMesh := productLimit(arms["mesh"])
		rebar, seRebar := productLimit(arms["rebar"])
		return mesh - rebar, math.Hypot(seMesh, seRebar)
	}
	h := large()
	truth := h.truth.MeshLessRebar(h.truth.Slabs)
	if d, se := raw(h); d < 3*truth || d-2*truth < allowed*se {
		t.Errorf("raw %.4f ± %.4f, true %.4f", d, se, truth)
	}
	fair := invent(Options{Jobs: 20_000, Seed: 4, Until: until, Adjust: func(t *Truth) { t.Choice.MeshPerF = 0 }})
	d, se := raw(fair)
	near(t, "by a coin", d, fair.truth.MeshLessRebar(fair.truth.Slabs), allowed*se)
}

// TestOtherDefects: the rate of other callbacks per placement-year, settlement
// more often on native soil.
func TestOtherDefects(t *testing.T) {
	h := large()
	count, expected := map[string]float64{}, map[string]float64{}
	for i, f := range callsOf(h) {
		p := h.Placements.Row(i)
		native := p.Base == "native"
		if p.CallbackKind != "" {
			count[p.CallbackKind+" "+map[bool]string{true: "on native"}[native]]++
		}
		for _, o := range h.truth.Other {
			rate, where := o.PerYear, ""
			if native {
				rate, where = rate*o.NativeTimes, "on native"
			}
			expected[o.Kind+" "+where] += rate * f.days / 365.25
		}
	}
	for kind, want := range expected {
		near(t, kind, count[kind], want, allowed*math.Sqrt(want))
	}
}
