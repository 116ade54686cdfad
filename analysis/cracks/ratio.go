package cracks

import (
	"math"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/figure"
	"pourback/analysis/stat"
	"pourback/analysis/stat/survival"
)

// CoxTerm is one covariate of the hazard model.
type CoxTerm struct {
	Term        string        `json:"term"`
	HazardRatio figure.Figure `json:"hazard_ratio"`
	P           figure.Figure `json:"p"`
}

// PropHazards says whether one hazard ratio for all ages will do.
type PropHazards struct {
	P    figure.Figure `json:"p"`
	Says string        `json:"says"`
}

// LogRank is the test that groups share one hazard: as a figure its p.
type LogRank struct {
	figure.Figure
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
	b = figure.AppendNumber(append(b[:len(b)-1], `,"p":`...), l.Value, l.Known())
	b = figure.AppendNumber(append(b, `,"chi_square":`...), l.ChiSq, l.Known())
	b = strconv.AppendInt(append(b, `,"df":`...), int64(l.DF), 10)
	b = strconv.AppendInt(append(b, `,"groups":`...), int64(l.Groups), 10)
	return append(b, '}'), nil
}

func newLogRank(times []float64, event []bool, group, stratum []int) LogRank {
	t, err := survival.LogRankTest(times, event, group, stratum)
	if err != nil {
		return LogRank{Figure: figure.Unknown(figure.ReasonOf(err))}
	}
	return LogRank{Figure: figure.Total(t.P, len(times), "log-rank test, p"), ChiSq: t.ChiSq, DF: t.DF, Groups: t.DF + 1}
}

func coxTerm(fit *survival.Cox, f *Frame, j int, level float64, profile bool) CoxTerm {
	t := CoxTerm{Term: f.Terms[j].Name}
	ratio, err := HazardRatio(fit, j, level, profile)
	t.HazardRatio = figure.Estimated(ratio, err)
	switch {
	case err != nil:
		t.P = t.HazardRatio
	case f.Events <= EventsForFirth:
		t.P = figure.UnknownFor("with so few cracks the ratio leans on a belief held before, and a p-value does not go with that")
	default:
		t.P = figure.Total(pOf(t.HazardRatio), f.Events, "from the limits of the hazard ratio")
	}
	return t
}

// HazardRatio is a column's ratio with limits that fit the number of events:
// by profile where Firth's penalty is on. Slabs of one job go together: where
// that makes the error greater, the limits are widened by as much.
func HazardRatio(fit *survival.Cox, j int, level float64, profile bool) (stat.Estimate, error) {
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
func pOf(ratio figure.Figure) float64 {
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
func (f *Frame) proportional() PropHazards {
	fit, err := f.Cox(survival.CoxOptions{})
	if err == nil {
		var test *survival.PropHaz
		if test, err = fit.PropHazTest(nil); err == nil {
			return f.changing(test)
		}
	}
	return PropHazards{P: figure.Unknown(figure.ReasonOf(err)), Says: "Whether these ratios hold over a slab's whole age could not be checked."}
}

// changing puts the test in words; terms are named only where all of them
// together, and they themselves, change.
func (f *Frame) changing(test *survival.PropHaz) PropHazards {
	const small = 0.05
	p := PropHazards{P: figure.Total(test.Global.P, f.Events, "score test of proportional hazards (Grambsch & Therneau 1994), p"),
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
	p.Says += " It shows most in " + f.Terms[worst].Name + "."
	return p
}
