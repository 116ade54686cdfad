package analysis

import (
	"math"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
	"pourback/analysis/stat/survival"
)

// CoxTerm is one covariate of the hazard model.
type CoxTerm struct {
	Term        string `json:"term"`
	HazardRatio Figure `json:"hazard_ratio"`
	P           Figure `json:"p"`
}

// PropHazards says whether one hazard ratio for all ages will do.
type PropHazards struct {
	P    Figure `json:"p"`
	Says string `json:"says"`
}

// LogRank is the test that groups share one hazard: as a figure its p.
type LogRank struct {
	Figure
	ChiSq  float64
	DF     int
	Groups int
}

// MarshalJSON adds chi_square, df, groups and p to the figure.
func (l LogRank) MarshalJSON() ([]byte, error) {
	b, err := l.Figure.MarshalJSON()
	if err != nil {
		return nil, err
	}
	b = appendNumber(append(b[:len(b)-1], `,"p":`...), l.Value, l.Known())
	b = appendNumber(append(b, `,"chi_square":`...), l.ChiSq, l.Known())
	b = strconv.AppendInt(append(b, `,"df":`...), int64(l.DF), 10)
	b = strconv.AppendInt(append(b, `,"groups":`...), int64(l.Groups), 10)
	return append(b, '}'), nil
}

func newLogRank(times []float64, event []bool, group, stratum []int) LogRank {
	t, err := survival.LogRankTest(times, event, group, stratum)
	if err != nil {
		return LogRank{Figure: unknown("%s", reason(err))}
	}
	return LogRank{Figure: total(t.P, len(times), "log-rank test, p"), ChiSq: t.ChiSq, DF: t.DF, Groups: t.DF + 1}
}

func coxTerm(fit *survival.Cox, f *frame, j int, level float64, profile bool) CoxTerm {
	t := CoxTerm{Term: f.terms[j].name}
	ratio, err := hazardRatio(fit, j, level, profile)
	t.HazardRatio = estimated(ratio, err)
	switch {
	case err != nil:
		t.P = t.HazardRatio
	case f.events <= eventsForFirth:
		t.P = unknown("with so few cracks the ratio leans on a belief held before, and a p-value does not go with that")
	default:
		t.P = total(pOf(t.HazardRatio), f.events, "from the limits of the hazard ratio")
	}
	return t
}

// hazardRatio is a column's ratio with limits that fit the number of events:
// by profile where Firth's penalty is on. Slabs of one job go together: where
// that makes the error greater, the limits are widened by as much.
func hazardRatio(fit *survival.Cox, j int, level float64, profile bool) (stat.Estimate, error) {
	widen := math.Max(1, math.Sqrt(fit.Robust.At(j, j)/fit.Cov.At(j, j)))
	z := distuv.UnitNormal.Quantile((1 + level) / 2)
	ratio, err := fit.Wald(j, level)
	if err != nil {
		return ratio, err
	}
	b, half := fit.Coef[j], z*math.Sqrt(fit.Cov.At(j, j))
	low, high := b-half, b+half
	if profile {
		if ratio, err = fit.Profile(j, level); err != nil {
			return ratio, err
		}
		low, high = math.Log(ratio.Low), math.Log(ratio.High)
	}
	ratio.Low, ratio.High = math.Exp(b-widen*(b-low)), math.Exp(b+widen*(high-b))
	ratio.Method += ", by job"
	return ratio, nil
}

// pOf is the p of a ratio of 1 that goes with a ratio's limits.
func pOf(ratio Figure) float64 {
	b, near := math.Log(ratio.Value), math.Log(ratio.Low)
	if b < 0 {
		near = math.Log(ratio.High)
	}
	if b == 0 || math.IsInf(near, 0) {
		return 1
	}
	z := distuv.UnitNormal.Quantile((1+ratio.Level)/2) * math.Abs(b/(b-near))
	return 2 * distuv.UnitNormal.Survival(z)
}

// proportional tests, without penalties, whether the ratios hold at all ages.
func (f *frame) proportional() PropHazards {
	fit, err := f.cox(survival.CoxOptions{})
	if err == nil {
		var test *survival.PropHaz
		if test, err = fit.PropHazTest(nil); err == nil {
			return f.changing(test)
		}
	}
	return PropHazards{P: unknown("%s", reason(err)), Says: "Whether these ratios hold over a slab's whole age could not be checked."}
}

// changing puts the test in words; terms are named only where all of them
// together, and they themselves, change.
func (f *frame) changing(test *survival.PropHaz) PropHazards {
	const small = 0.05
	p := PropHazards{P: total(test.Global.P, f.events, "score test of proportional hazards (Grambsch & Therneau 1994), p"),
		Says: "Nothing says that these ratios change as slabs grow older."}
	if test.Global.P >= small {
		return p
	}
	p.Says = "These ratios change as slabs grow older: read them as an average over the time watched."
	worst := 0
	for j, t := range test.Term {
		if t.P < test.Term[worst].P {
			worst = j
		}
	}
	p.Says += " It shows most in " + f.terms[worst].name + "."
	return p
}
