package interval

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
)

// QuantileEstimate is a quantile between two order statistics. A rank of 0
// means that the low limit is −Inf, n+1 that the high one is +Inf: the sample
// is too small to bound that side.
type QuantileEstimate struct {
	stat.Estimate         // Level is that asked for
	LowRank, HighRank int // 1 is the smallest value
	Coverage          float64
}

// QuantileInterval returns the type-7 quantile of xs at 0 < p < 1 with an
// interval that holds whatever the continuous distribution:
//
//	x₍l₎ to x₍u₎,  l = B⁻¹(α/2),  u = B⁻¹(1−α/2) + 1,  B ~ Binomial(n, p)
//
// Its exact coverage P(l ≤ B < u), no less than level, comes with it. Errors
// are those of [Quantiles].
//
// Source: Conover (1999), Practical Nonparametric Statistics, 3rd ed., §3.2.
func QuantileInterval(xs []float64, p, level float64) (QuantileEstimate, error) {
	if err := firstOf(checkSample(xs), checkInside(p), checkLevel(level)); err != nil {
		return QuantileEstimate{}, err
	}
	n := len(xs)
	b := distuv.Binomial{N: float64(n), P: p}
	l, u := binomialQuantile(b, (1-level)/2), binomialQuantile(b, (1+level)/2)+1
	coverage := b.CDF(float64(u - 1))
	if l > 0 {
		coverage -= b.CDF(float64(l - 1))
	}
	value, low, high := quantileAndRanks(xs, p, l, u)
	return QuantileEstimate{
		Estimate: stat.Estimate{
			Value: value, Low: low, High: high,
			Level: level, N: n, Method: "quantile, order-statistic interval",
		},
		LowRank: l, HighRank: u, Coverage: coverage,
	}, nil
}

// quantileAndRanks selects the quantile and the values of ranks l and u, the
// latter infinite where the sample has no such rank.
func quantileAndRanks(xs []float64, p float64, l, u int) (value, low, high float64) {
	var ranks []int
	low, high = math.Inf(-1), math.Inf(1)
	if l >= 1 {
		ranks = append(ranks, l-1)
	}
	if u <= len(xs) {
		ranks = append(ranks, u-1)
	}
	scratch, out := append([]float64(nil), xs...), []float64{0}
	quantilesInPlace(out, scratch, []float64{p}, ranksOf(ranks, len(xs), []float64{p}))
	if l >= 1 {
		low = scratch[l-1]
	}
	if u <= len(xs) {
		high = scratch[u-1]
	}
	return out[0], low, high
}

// binomialQuantile is the smallest k with P(B ≤ k) ≥ q.
func binomialQuantile(b distuv.Binomial, q float64) int {
	return sort.Search(int(b.N), func(k int) bool { return b.CDF(float64(k)) >= q })
}

func checkInside(p float64) error {
	if !(p > 0 && p < 1) {
		return fmt.Errorf("probability %v is not between 0 and 1: %w", p, stat.ErrDomain)
	}
	return nil
}
