package work

import (
	"math"
	"testing"
)

// Quantiles of the Poisson distribution, the least k with P(X ≤ k) ≥ p: summed by
// another program from e⁻ᵐ mᵏ/k!, and as Pearson and Hartley, Biometrika Tables for
// Statisticians, vol. 1, table 7, have the sums (from memory).
func TestChanceCounts(t *testing.T) {
	for _, c := range []struct{ mean, level, low, high float64 }{
		{5, 0.95, 1, 10}, {10, 0.95, 4, 17}, {1, 0.95, 0, 3}, {20, 0.998, 8, 35},
	} {
		low, high := chanceCounts(c.mean, c.level)
		if math.Ceil(low) != c.low || math.Ceil(high) != c.high {
			t.Errorf("mean %v, level %v: %v to %v, want up to the whole numbers %v and %v", c.mean, c.level, low, high, c.low, c.high)
		}
	}
}

// P(X ≤ 0) of mean 5 is e⁻⁵ = 0.006738, P(X ≤ 1) = 6e⁻⁵ = 0.040428: the 2.5%
// point lies at 1 − (0.040428 − 0.025)/0.033690 = 0.54207. By hand.
func TestChanceCountsAreDrawnOut(t *testing.T) {
	low, _ := chanceCounts(5, 0.95)
	if math.Abs(low-0.54207) > 1e-4 {
		t.Errorf("%v", low)
	}
	if low, high := chanceCounts(0, 0.95); low != 0 || !math.IsInf(high, 1) {
		t.Errorf("no mean: %v to %v", low, high)
	}
}
