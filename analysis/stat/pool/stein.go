package pool

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
)

// Stein is the James-Stein shrinkage of k levels towards their mean.
type Stein struct {
	Mean      float64
	Shrink    float64   // 1−(k−3)σ²/Σ(x−x̄)², at least zero: the share of its distance from the mean that each level keeps
	Estimates []float64 // Mean + Shrink·(x−Mean)
	N         int
}

// JamesStein shrinks k ≥ 4 values of the same known variance (Efron & Morris
// 1975, JASA 70, 311-319), by the positive-part rule.
func JamesStein(x []float64, sigma2 float64) (*Stein, error) {
	if len(x) < 4 {
		return nil, fmt.Errorf("%d values, shrinking to their mean needs four: %w", len(x), stat.ErrTooFew)
	}
	if err := stat.Finite("value", x...); err != nil {
		return nil, err
	}
	if err := positive("variance", sigma2); err != nil {
		return nil, err
	}
	s := &Stein{N: len(x), Mean: floats.Sum(x) / float64(len(x))}
	scatter := 0.0
	for _, v := range x {
		scatter += (v - s.Mean) * (v - s.Mean)
	}
	if excess := float64(len(x)-3) * sigma2; scatter > excess {
		s.Shrink = 1 - excess/scatter
	}
	for _, v := range x {
		s.Estimates = append(s.Estimates, s.Mean+s.Shrink*(v-s.Mean))
	}
	if err := stat.Finite("estimate", append(s.Estimates[:s.N:s.N], s.Shrink)...); err != nil {
		return nil, err
	}
	return s, nil
}

// JamesSteinShares shrinks k ≥ 4 shares out of the same number of trials on the
// scale √n·asin(2p−1), where their variance is one, and gives them back as shares
// too (Efron & Morris 1975).
func JamesSteinShares(events []float64, trials float64) (scaled *Stein, shares []float64, err error) {
	if err := positive("trials", trials); err != nil {
		return nil, nil, err
	}
	x, root := make([]float64, len(events)), math.Sqrt(trials)
	for i, y := range events {
		if !(y >= 0 && y <= trials) {
			return nil, nil, fmt.Errorf("group %d has %v events in %v trials: %w", i, y, trials, stat.ErrDomain)
		}
		x[i] = root * math.Asin(2*y/trials-1)
	}
	scaled, err = JamesStein(x, 1)
	if err != nil {
		return nil, nil, err
	}
	for _, v := range scaled.Estimates {
		shares = append(shares, (1+math.Sin(v/root))/2)
	}
	return scaled, shares, nil
}
