package interval

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// TwoProportions is a 2×2 table: X1 of N1 in the first arm, X2 of N2 in the
// second.
type TwoProportions struct{ X1, N1, X2, N2 int }

func (t TwoProportions) check() error {
	if err := checkCounts(t.X1, t.N1); err != nil {
		return fmt.Errorf("first arm: %w", err)
	}
	if err := checkCounts(t.X2, t.N2); err != nil {
		return fmt.Errorf("second arm: %w", err)
	}
	return nil
}

func (t TwoProportions) rates() (p1, p2 float64) {
	return float64(t.X1) / float64(t.N1), float64(t.X2) / float64(t.N2)
}

// Test is the outcome of a test of significance. N is the number of trials.
type Test struct {
	P      float64
	N      int
	Method string
}

// Fisher tests whether the two arms have one probability, conditioning on
// both margins: X1 is then hypergeometric, and the two-sided p-value sums all
// probabilities not above the observed one, ties within 1e-7 of it included.
//
// Source: Fisher (1935), J. Roy. Stat. Soc. 98:39; the two-sided rule is that
// of R's fisher.test. An arm without trials gives [stat.ErrNoData], counts out
// of range [stat.ErrDomain].
func Fisher(t TwoProportions) (Test, error) {
	if err := t.check(); err != nil {
		return Test{}, err
	}
	p := t.conditional(1).about(t.X1).twoSided()
	return Test{P: p, N: t.N1 + t.N2, Method: "Fisher's exact test, two-sided"}, nil
}

// conditional is the distribution of X1 given both margins at an odds ratio.
func (t TwoProportions) conditional(oddsRatio float64) discrete {
	m := t.X1 + t.X2
	ratio := func(k int) float64 {
		return float64(t.N1-k) / float64(k+1) * float64(m-k) / float64(t.N2-m+k+1) * oddsRatio
	}
	d := discrete{lo: max(0, m-t.N2), hi: min(t.N1, m), ratio: ratio}
	lo, hi := d.lo, d.hi // the ratio falls with k: the mode is where it passes 1
	for lo < hi {
		if mid := lo + (hi-lo)/2; ratio(mid) >= 1 {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	d.mode = lo
	return d
}

// OddsRatio returns X1(N2−X2) / X2(N1−X1) with the exact conditional interval:
// the odds ratios at which the observed X1 or fewer, and X1 or more, have
// probability α/2 given the margins. N is the number of trials.
//
// Where X2 = 0 or X1 = N1 the ratio is infinite or undefined, and the error
// wraps [stat.ErrNoEvents]; other errors are those of [Fisher].
//
// Source: Cornfield (1956), Proc. Third Berkeley Symp. 4:135; the limits are
// those of R's fisher.test.
func OddsRatio(t TwoProportions, level float64) (stat.Estimate, error) {
	if err := firstOf(t.check(), checkLevel(level)); err != nil {
		return stat.Estimate{}, err
	}
	if t.X2 == 0 || t.X1 == t.N1 {
		return stat.Estimate{}, fmt.Errorf("odds ratio of %d/%d to %d/%d has no finite value: %w", t.X1, t.N1, t.X2, t.N2, stat.ErrNoEvents)
	}
	p1, p2 := t.rates()
	low, high := t.oddsLimits((1 - level) / 2)
	return finite(stat.Estimate{
		Value: p1 / (1 - p1) * (1 - p2) / p2, Low: low, High: high,
		Level: level, N: t.N1 + t.N2, Method: "odds ratio, exact conditional interval",
	})
}

// maxLog bounds the search for a ratio on the logarithmic scale.
const maxLog = 300

func (t TwoProportions) oddsLimits(tail float64) (low, high float64) {
	d := t.conditional(1)
	high = math.Inf(1)
	if t.X1 > d.lo {
		low = math.Exp(fallingZero(func(logPsi float64) float64 {
			at := t.conditional(math.Exp(logPsi)).about(t.X1)
			return tail - (at.above + at.at)
		}, -maxLog, maxLog))
	}
	if t.X1 < d.hi {
		high = math.Exp(fallingZero(func(logPsi float64) float64 {
			at := t.conditional(math.Exp(logPsi)).about(t.X1)
			return at.below + at.at - tail
		}, -maxLog, maxLog))
	}
	return low, high
}

func firstOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
