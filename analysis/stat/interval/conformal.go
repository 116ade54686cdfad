package interval

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Conformal is a bound that the next value stays under.
type Conformal struct {
	Bound float64
	Rank  int     // 1 is the smallest value
	Level float64 // asked for; achieved is Rank/(N+1), no less
	N     int
}

// ConformalUpper returns the split-conformal upper bound: the value of rank
// ⌈(n+1)·level⌉. The next value, exchangeable with xs, lies at or under it
// with probability no less than level, whatever the distribution. xs must not
// have served to fit whatever the values are errors of.
//
// Where the rank exceeds n no value can bound the next: [stat.ErrTooFew],
// naming how many are needed. Other errors are those of [Quantiles].
//
// Source: Vovk, Gammerman & Shafer (2005), Algorithmic Learning in a Random
// World; Lei et al. (2018), J. Am. Stat. Assoc. 113:1094.
func ConformalUpper(xs []float64, level float64) (Conformal, error) {
	if err := firstOf(checkSample(xs), stat.CheckLevel(level)); err != nil {
		return Conformal{}, err
	}
	n := len(xs)
	rank := conformalRank(n, level)
	if rank > n {
		return Conformal{}, fmt.Errorf("%d values, want at least %v to bound the next at %v: %w",
			n, math.Ceil(level/(1-level)-rankSlack), level, stat.ErrTooFew)
	}
	scratch := append([]float64(nil), xs...)
	selectRanks(scratch, []int{rank - 1})
	return Conformal{Bound: scratch[rank-1], Rank: rank, Level: level, N: n}, nil
}

// rankSlack keeps a product that is whole but for rounding, such as 100 × 0.07,
// from moving up a rank.
const rankSlack = 1e-9

func conformalRank(n int, level float64) int {
	return max(1, int(math.Ceil(float64(n+1)*level-rankSlack)))
}
