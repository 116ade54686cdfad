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
	Term        Covariate     `json:"term"`
	HazardRatio figure.Figure `json:"hazard_ratio"`
	P           figure.Figure `json:"p"`
	Unexplained bool          `json:"unexplained"` // it goes against what is known of concrete
}

// clear says whether the ratio's range lies on one side of no difference.
func (t *CoxTerm) clear() bool {
	r := t.HazardRatio
	return r.Known() && (r.Low > 1 || r.High < 1)
}

// worthSaying is how far a ratio lies from none, either way, before which side it
// lies on is worth a word.
const worthSaying = 1.25

// unexplained says whether the ratio lies well on the side where what is known
// of concrete would not have it.
func (t *CoxTerm) unexplained() bool {
	r := t.HazardRatio
	if !r.Known() {
		return false
	}
	return Against(t.Term.What, r.Value > 1) && (t.clear() || r.Value > worthSaying || r.Value < 1/worthSaying)
}

// Against says whether more cracks with more of a thing, or with less of it, goes
// against what is known of concrete: heat, wide joints, fast drying and a late
// saw make cracks, and curing keeps them away (ACI 224R-01, ACI 305R, ACI 308R,
// from memory).
func Against(what Thing, more bool) bool {
	switch what {
	case AirTemperature, JointSpacing, FastDrying, SawDelay:
		return !more
	case Cured:
		return more
	}
	return false
}

// PropHazards says whether one hazard ratio for all ages will do.
type PropHazards struct {
	P      figure.Figure `json:"p"`
	Ratios Steadiness    `json:"-"`
	Most   Covariate     `json:"-"` // what changes most, where they change
}

// Steadiness says whether ratios hold over a slab's whole age.
type Steadiness string

// Whether ratios hold.
const (
	TooFewToCheck Steadiness = "too few cracks"
	NoRatios      Steadiness = "no hazard model"
	NotChecked    Steadiness = "not checked"
	Steady        Steadiness = "steady"
	Changing      Steadiness = "changing"
)

// LogRank is the test that groups share one hazard: as a figure its p.
type LogRank struct {
	figure.Figure
	ChiSq  float64
	DF     int
	Groups int
	Across Across // what the groups differ in, where that is not said beside it

	label              []int // codes of the groups
	observed, expected []float64
}

// Across is what the groups of a test differ in.
type Across string

// What tests are across.
const (
	AcrossSpacing       Across = "joint spacing within reinforcement"
	AcrossReinforcement Across = "reinforcement"
)

// MarshalJSON adds chi_square, df, groups and p to the figure.
func (l LogRank) MarshalJSON() ([]byte, error) {
	b, err := l.Figure.MarshalJSON()
	if err != nil {
		return nil, err
	}
	return l.beside(b), nil
}

// AppendJSON writes the same with the reason, where there is one, in words.
func (l LogRank) AppendJSON(b []byte, why string) []byte {
	return l.beside(l.Figure.AppendJSON(b, why))
}

// beside adds the test's own members to an object that ends b.
func (l LogRank) beside(b []byte) []byte {
	b = figure.AppendNumber(append(b[:len(b)-1], `,"p":`...), l.Value, l.Known())
	b = figure.AppendNumber(append(b, `,"chi_square":`...), l.ChiSq, l.Known())
	b = strconv.AppendInt(append(b, `,"df":`...), int64(l.DF), 10)
	b = strconv.AppendInt(append(b, `,"groups":`...), int64(l.Groups), 10)
	if l.Across != "" {
		b = figure.AppendString(append(b, `,"across":`...), string(l.Across))
	}
	return append(b, '}')
}

func newLogRank(times []float64, event []bool, group, stratum []int) LogRank {
	t, err := survival.LogRankTest(times, event, group, stratum)
	if err != nil {
		return LogRank{Figure: figure.Unknown(figure.ReasonOf(err))}
	}
	return LogRank{Figure: figure.Total(t.P, len(times), "log-rank test, p"), ChiSq: t.ChiSq, DF: t.DF, Groups: t.DF + 1,
		label: t.Label, observed: t.Observed, expected: t.Expected}
}

func coxTerm(fit *survival.Cox, f *Frame, j int, level float64, profile bool) CoxTerm {
	return f.term(j, figure.Estimated(HazardRatio(fit, j, level, profile)))
}

// term is a column's ratio with the p that goes with it.
func (f *Frame) term(j int, ratio figure.Figure) CoxTerm {
	t := CoxTerm{Term: f.Terms[j].Covariate, HazardRatio: ratio}
	switch {
	case !ratio.Known():
		t.P = ratio
	case f.Events <= EventsForFirth:
		t.P = figure.Unknown(LeansOnBelief{})
	default:
		t.P = figure.Total(pOf(t.HazardRatio), f.Events, "from the limits of the hazard ratio")
	}
	t.Unexplained = t.unexplained()
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
	return PropHazards{P: figure.Unknown(figure.ReasonOf(err)), Ratios: NotChecked}
}

// changing says what the test says; a term is named only where all of them
// together, and they themselves, change.
func (f *Frame) changing(test *survival.PropHaz) PropHazards {
	const small = 0.05
	p := PropHazards{P: figure.Total(test.Global.P, f.Events, "score test of proportional hazards (Grambsch & Therneau 1994), p"),
		Ratios: Steady}
	if test.Global.P >= small {
		return p
	}
	worst := 0
	for j, t := range test.Term {
		if t.P < test.Term[worst].P {
			worst = j
		}
	}
	p.Ratios, p.Most = Changing, f.Terms[worst].Covariate
	return p
}
