package interval

import (
	"fmt"
	"math"
	"slices"

	"pourback/analysis/stat"
)

// Quantiles returns the type-7 quantiles of xs at the probabilities ps, in
// the order of ps. With the values in order x₀ … x₍ₙ₋₁₎ and h = (n−1)p,
//
//	q = x₍⌊h⌋₎ + (h − ⌊h⌋)·(x₍⌊h⌋₊₁₎ − x₍⌊h⌋₎)
//
// Only the order statistics asked for are found, by selection in linear time;
// the answer is that of a full sort, bit for bit. xs is not changed.
//
// No values give [stat.ErrNoData], NaN or infinity [stat.ErrNotFinite], and a
// probability outside [0, 1] [stat.ErrDomain].
//
// Source: definition 7 of Hyndman & Fan (1996), The American Statistician
// 50:361; the default of R's quantile.
func Quantiles(xs []float64, ps ...float64) ([]float64, error) {
	return QuantilesInPlace(slices.Clone(xs), ps...)
}

// QuantilesInPlace are [Quantiles] of a sample that it may put in another order, which
// saves a copy of it.
func QuantilesInPlace(xs []float64, ps ...float64) ([]float64, error) {
	if err := firstOf(checkSample(xs), checkProbabilities(ps)); err != nil {
		return nil, err
	}
	out := make([]float64, len(ps))
	quantilesInPlace(out, xs, ps, ranksOf(nil, len(xs), ps))
	return out, nil
}

// SortedQuantiles are [Quantiles] of a sample in ascending order, which is not changed.
func SortedQuantiles(xs []float64, ps ...float64) ([]float64, error) {
	if err := firstOf(checkSample(xs), checkProbabilities(ps)); err != nil {
		return nil, err
	}
	out := make([]float64, len(ps))
	takeQuantiles(out, xs, ps)
	return out, nil
}

// ranksOf appends to ranks those that the type-7 quantiles at ps need in a
// sample of n, and returns all in ascending order, each once.
func ranksOf(ranks []int, n int, ps []float64) []int {
	for _, p := range ps {
		lo, h := type7(n, p)
		ranks = append(ranks, lo)
		if h > 0 {
			ranks = append(ranks, lo+1)
		}
	}
	return ascending(ranks)
}

// quantilesInPlace writes the quantiles of xs, which it reorders, to out.
func quantilesInPlace(out, xs, ps []float64, ranks []int) {
	selectRanks(xs, ranks)
	takeQuantiles(out, xs, ps)
}

// takeQuantiles takes them from where the ranks that they need are in their places.
func takeQuantiles(out, xs, ps []float64) {
	for i, p := range ps {
		lo, h := type7(len(xs), p)
		out[i] = xs[lo]
		if h > 0 {
			out[i] = between(xs[lo], xs[lo+1], h)
		}
	}
}

// type7 splits (n−1)p into the lower rank and the way to the next.
func type7(n int, p float64) (rank int, h float64) {
	whole, h := math.Modf(float64(n-1) * p)
	return int(whole), h
}

// between is a + h(b−a), never outside [a, b] nor overflowing within.
func between(a, b, h float64) float64 {
	if d := b - a; !math.IsInf(d, 0) {
		return min(a+h*d, b)
	}
	return (1-h)*a + h*b
}

func checkSample(xs []float64) error {
	if len(xs) == 0 {
		return fmt.Errorf("no values: %w", stat.ErrNoData)
	}
	return stat.Finite("value", xs...)
}

func checkProbabilities(ps []float64) error {
	for _, p := range ps {
		if !(p >= 0 && p <= 1) {
			return fmt.Errorf("probability %v is not in 0 to 1: %w", p, stat.ErrDomain)
		}
	}
	return nil
}
