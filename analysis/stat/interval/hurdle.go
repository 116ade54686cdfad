package interval

import (
	"fmt"
	"math"

	gstat "gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
)

// FewPositive is the number of values above 0 under which the plain mean is
// the safer one: the lognormal mean leans on the tail of a shape that so few
// cannot show.
const FewPositive = 20

// Hurdle describes values many of which are exactly 0, such as minutes of
// delay: whether there is any, and how much when there is.
type Hurdle struct {
	PAny           float64       // part of the values above 0
	MeanLog, SDLog float64       // of the logarithms of those
	Mean           float64       // PAny·exp(MeanLog + SDLog²/2)
	PlainMean      float64       // of all values
	PositiveMean   stat.Estimate // exp(MeanLog + SDLog²/2) with Cox's interval
	SELog          float64       // standard error of the logarithm of PositiveMean
	N, Positive    int
	Warnings       []string
}

// HurdleLognormal fits a lognormal to the m values of xs above 0. The mean of
// those is exp(μ + s²/2), μ and s the mean and standard deviation of their
// logarithms, with Cox's interval exp(μ + s²/2 ± z√(s²/m + s⁴/2(m−1))).
//
// Values below 0 give [stat.ErrDomain], fewer than two above 0
// [stat.ErrTooFew] (none, [stat.ErrNoData]), those all alike [stat.ErrNoVariation]; no values, NaN and
// infinity as in [Quantiles].
//
// Source: Aitchison (1955), J. Am. Stat. Assoc. 50:901, for the hurdle; Zhou &
// Gao (1997), Stat. Med. 16:783, for Cox's interval.
func HurdleLognormal(xs []float64, level float64) (Hurdle, error) {
	if err := firstOf(checkSample(xs), checkLevel(level)); err != nil {
		return Hurdle{}, err
	}
	logs, err := logsOfPositive(xs)
	if err != nil {
		return Hurdle{}, err
	}
	mean, sd, err := meanSD("values above 0", logs)
	if err != nil {
		return Hurdle{}, err
	}
	if noSpread(sd, mean) {
		return Hurdle{}, fmt.Errorf("all %d values above 0 are %v: %w", len(logs), math.Exp(mean), stat.ErrNoVariation)
	}
	h := Hurdle{
		PAny:    float64(len(logs)) / float64(len(xs)),
		MeanLog: mean, SDLog: sd, PlainMean: gstat.Mean(xs, nil),
		N: len(xs), Positive: len(logs),
	}
	if err := h.fill(level); err != nil {
		return Hurdle{}, err
	}
	return h, nil
}

// fill computes what follows from the moments of the logarithms.
func (h *Hurdle) fill(level float64) error {
	m, v := float64(h.Positive), h.SDLog*h.SDLog
	h.SELog = math.Sqrt(v/m + v*v/(2*(m-1)))
	logMean, half := h.MeanLog+v/2, zTwoSided(level)*h.SELog
	var err error
	h.PositiveMean, err = finite(stat.Estimate{
		Value: math.Exp(logMean), Low: math.Exp(logMean - half), High: math.Exp(logMean + half),
		Level: level, N: h.Positive, Method: "lognormal mean, Cox interval",
	})
	h.Mean = h.PAny * h.PositiveMean.Value
	if h.Positive < FewPositive {
		h.Warnings = append(h.Warnings, fmt.Sprintf(
			"%d values above 0, under %d: go by the plain mean", h.Positive, FewPositive))
	}
	return firstOf(err, stat.Finite("plain mean", h.PlainMean))
}

// Quantile returns the value that the next one stays under with probability
// 0 < p < 1 by the fitted shape: 0 where p ≤ 1 − PAny.
func (h Hurdle) Quantile(p float64) (float64, error) {
	if err := checkInside(p); err != nil {
		return 0, err
	}
	above := (p - (1 - h.PAny)) / h.PAny
	if !(above > 0) {
		return 0, nil
	}
	q := math.Exp(h.MeanLog + h.SDLog*distuv.UnitNormal.Quantile(above))
	if err := stat.Finite("quantile", q); err != nil {
		return 0, err
	}
	return q, nil
}

func logsOfPositive(xs []float64) ([]float64, error) {
	var logs []float64
	for i, x := range xs {
		if x < 0 {
			return nil, fmt.Errorf("value[%d] is %v, want 0 or more: %w", i, x, stat.ErrDomain)
		}
		if x > 0 {
			logs = append(logs, math.Log(x))
		}
	}
	return logs, nil
}
