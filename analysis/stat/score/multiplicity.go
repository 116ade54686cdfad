package score

import (
	"fmt"
	"slices"

	"pourback/analysis/stat"
)

// The methods below adjust p-values of m questions asked at once, in the order
// given; call those at or under a level findings. With pₖ the k-th smallest:
//
//	Bonferroni          m·p
//	Holm                max over j ≤ k of (m−j+1)·pⱼ
//	Hochberg            min over j ≥ k of (m−j+1)·pⱼ
//	Benjamini-Hochberg  min over j ≥ k of (m/j)·pⱼ
//	Benjamini-Yekutieli the same times 1 + 1/2 + … + 1/m
//
// none above 1. The first three bound the chance of one false finding, the
// last two the share of false ones among the findings. Hochberg and
// Benjamini-Hochberg want p-values that are independent or positively
// dependent. No p-values give [stat.ErrNoData], one outside [0, 1]
// [stat.ErrDomain].

// Bonferroni multiplies each by their number.
func Bonferroni(p []float64) ([]float64, error) {
	return adjust(p, func(_, m int) float64 { return float64(m) }, alone)
}

// Holm steps down (Holm 1979, Scand. J. Statistics 6:65).
func Holm(p []float64) ([]float64, error) {
	return adjust(p, func(k, m int) float64 { return float64(m - k + 1) }, stepDown)
}

// Hochberg steps up (Hochberg 1988, Biometrika 75:800).
func Hochberg(p []float64) ([]float64, error) {
	return adjust(p, func(k, m int) float64 { return float64(m - k + 1) }, stepUp)
}

// BenjaminiHochberg bounds the false discovery rate (1995, J. Royal Stat. Soc.
// B 57:289).
func BenjaminiHochberg(p []float64) ([]float64, error) {
	return adjust(p, func(k, m int) float64 { return float64(m) / float64(k) }, stepUp)
}

// BenjaminiYekutieli does so under any dependence (2001, Annals of Statistics
// 29:1165).
func BenjaminiYekutieli(p []float64) ([]float64, error) {
	var harmonic float64
	for k := range p {
		harmonic += 1 / float64(k+1)
	}
	return adjust(p, func(k, m int) float64 { return harmonic * float64(m) / float64(k) }, stepUp)
}

// adjust multiplies the k-th smallest of the m p-values by its factor, makes
// the products rise with p by tidy, and hands them back in the given order.
func adjust(p []float64, factor func(k, m int) float64, tidy func(sorted []float64)) ([]float64, error) {
	if len(p) == 0 {
		return nil, fmt.Errorf("no p-values: %w", stat.ErrNoData)
	}
	order := make([]int, len(p))
	for i, x := range p {
		if !(x >= 0 && x <= 1) {
			return nil, fmt.Errorf("p-value %d is %v, want 0 to 1: %w", i, x, stat.ErrDomain)
		}
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case p[a] < p[b]:
			return -1
		case p[a] > p[b]:
			return 1
		}
		return 0
	})
	sorted := make([]float64, len(p))
	for k, i := range order {
		sorted[k] = min(1, factor(k+1, len(p))*p[i])
	}
	tidy(sorted)
	out := make([]float64, len(p))
	for k, i := range order {
		out[i] = sorted[k]
	}
	return out, nil
}

func alone([]float64) {}

func stepDown(sorted []float64) {
	for k := 1; k < len(sorted); k++ {
		sorted[k] = max(sorted[k], sorted[k-1])
	}
}

func stepUp(sorted []float64) {
	for k := len(sorted) - 2; k >= 0; k-- {
		sorted[k] = min(sorted[k], sorted[k+1])
	}
}
