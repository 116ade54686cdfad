package survival

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
)

// Limits names the scale on which the confidence limits of a survival are
// symmetric.
type Limits int

const (
	LogLog Limits = iota // S^exp(±zσ/ln S), always inside (0, 1); the default
	Log                  // S·exp(±zσ), cut at 1
	Plain                // S ± zSσ, cut at 0 and 1
)

func (l Limits) String() string {
	return [...]string{"log-log", "log", "plain"}[l]
}

// normalQuantile is z for two-sided limits at a confidence level.
func normalQuantile(level float64) float64 {
	return distuv.UnitNormal.Quantile(1 - (1-level)/2)
}

// interval gives the limits of a survival strictly between 0 and 1, whose
// logarithm has the standard error sigma.
func (l Limits) interval(s, sigma, z float64) (low, high float64) {
	switch l {
	case Log:
		return s * math.Exp(-z*sigma), math.Min(1, s*math.Exp(z*sigma))
	case Plain:
		return math.Max(0, s-z*s*sigma), math.Min(1, s+z*s*sigma)
	default:
		f := z * sigma / math.Log(s)
		return math.Pow(s, math.Exp(-f)), math.Pow(s, math.Exp(f))
	}
}

// SurvivalAt estimates S(t), the share without the event up to and including
// t, with Greenwood's variance (1926, Reports on Public Health 33) on the
// chosen scale (log-log: Kalbfleisch & Prentice 1980, §1.3). N is the number
// at risk at t. Where those limits do not exist the ones given are named in
// Method:
//
//   - no event by t: 1, with the Clopper-Pearson lower limit of no event among
//     the N at risk at t;
//   - S(t) = 0: 0, with the upper limit just before the last events, or where
//     there was no earlier event the Clopper-Pearson limit of all n;
//   - nobody followed to t: the last known survival as an upper bound, with
//     Low 0.
//
// Errors: [stat.ErrNotFinite], and [stat.ErrDomain] for t < 0, the level or
// the scale.
func (k *KM) SurvivalAt(t, level float64, scale Limits) (stat.Estimate, error) {
	if err := k.checkAsk(t, level, scale); err != nil {
		return stat.Estimate{}, err
	}
	i := k.at(t)
	est := stat.Estimate{Value: 1, High: 1, Level: level, N: k.AtRiskAt(t)}
	if i >= 0 {
		est.Value = k.Survival[i]
	}
	est.Low, est.High, est.Method = k.limitsAt(i, est.N, level, scale)
	if est.N == 0 && est.Value > 0 && t > k.Last() {
		est.Low = 0
		est.Method = fmt.Sprintf("Kaplan-Meier; nobody was followed to %g, the last to %g: an upper bound of survival", t, k.Last())
	}
	return est, nil
}

func (k *KM) checkAsk(t, level float64, scale Limits) error {
	if err := stat.Finite("horizon", t); err != nil {
		return err
	}
	if t < 0 {
		return fmt.Errorf("horizon %v is below 0: %w", t, stat.ErrDomain)
	}
	if scale < LogLog || scale > Plain {
		return fmt.Errorf("no scale of limits has the number %d: %w", scale, stat.ErrDomain)
	}
	return stat.CheckLevel(level)
}

// limitsAt gives the limits of the survival at index i (−1: before the first
// time) and what they are called.
func (k *KM) limitsAt(i, atRisk int, level float64, scale Limits) (low, high float64, method string) {
	switch {
	case i < 0 || k.Survival[i] == 1:
		return exactAllOrNone(atRisk, level), 1,
			fmt.Sprintf("Kaplan-Meier; no events, Clopper-Pearson limit on the %d at risk", atRisk)
	case k.Survival[i] > 0:
		low, high = scale.interval(k.Survival[i], math.Sqrt(k.Greenwood[i]), normalQuantile(level))
		return low, high, "Kaplan-Meier, Greenwood, " + scale.String() + " limits"
	}
	for i > 0 && k.Survival[i-1] == 0 { // back to the events that ended it
		i--
	}
	if i == 0 || k.Survival[i-1] == 1 {
		n := k.AtRisk[i]
		return 0, 1 - exactAllOrNone(n, level),
			fmt.Sprintf("Kaplan-Meier; all %d had the event, Clopper-Pearson limit", n)
	}
	_, high = scale.interval(k.Survival[i-1], math.Sqrt(k.Greenwood[i-1]), normalQuantile(level))
	return 0, high, "Kaplan-Meier; none survive, upper " + scale.String() + " limit from before the last events"
}

// exactAllOrNone is the lower Clopper-Pearson limit of n successes in n
// trials, (α/2)^(1/n): 0 when n is 0 (Clopper & Pearson 1934, Biometrika 26).
func exactAllOrNone(n int, level float64) float64 {
	if n == 0 {
		return 0
	}
	return math.Pow((1-level)/2, 1/float64(n))
}

// Risk estimates the probability 1 − S(horizon) of the event up to and
// including the horizon, with log-log limits. N is the number at risk at the
// horizon; when it is 0 because nobody was followed that far, the value is a
// lower bound, High is 1 and Method says so. See [KM.SurvivalAt] for the limits
// when there is no event, or nothing but events.
func (k *KM) Risk(horizon, level float64) (stat.Estimate, error) {
	s, err := k.SurvivalAt(horizon, level, LogLog)
	if err != nil {
		return stat.Estimate{}, fmt.Errorf("risk: %w", err)
	}
	risk := s
	risk.Value, risk.Low, risk.High = 1-s.Value, 1-s.High, 1-s.Low
	return risk, nil
}

// StdErr is Greenwood's standard error of S(t): S√Σ d/(n(n−d)), and its limit
// 0 where S is 0 or 1.
func (k *KM) StdErr(t float64) float64 {
	i := k.at(t)
	if i < 0 || k.Survival[i] == 0 {
		return 0
	}
	return k.Survival[i] * math.Sqrt(k.Greenwood[i])
}
