package interval

import (
	"fmt"

	"pourback/analysis/stat"
)

// GroupQuantiles returns, for each group 0 … groups−1, the type-7 quantiles at
// ps of the xs whose group[i] is that number, exactly as [Quantiles] would;
// the row of an empty group is nil. Values are sorted into groups by counting
// and the groups shared out to the processors; time is linear in the values
// however they fall into groups.
//
// Lengths that differ give [stat.ErrShape], a group out of range
// [stat.ErrDomain]; other errors are those of Quantiles.
func GroupQuantiles(xs []float64, group []int, groups int, ps ...float64) ([][]float64, error) {
	if len(xs) != len(group) {
		return nil, fmt.Errorf("%d values and %d groups of them: %w", len(xs), len(group), stat.ErrShape)
	}
	if err := firstOf(checkSample(xs), checkProbabilities(ps)); err != nil {
		return nil, err
	}
	start, err := groupStarts(group, groups)
	if err != nil {
		return nil, err
	}
	sorted := gather(xs, group, start)
	out, cells := make([][]float64, groups), make([]float64, groups*len(ps))
	stat.InParallel(groups, func(g int) {
		if part := sorted[start[g]:start[g+1]]; len(part) > 0 {
			var room [16]int // on the stack: no allocation for each group
			out[g] = cells[g*len(ps) : (g+1)*len(ps) : (g+1)*len(ps)]
			quantilesInPlace(out[g], part, ps, ranksOf(room[:0], len(part), ps))
		}
	})
	return out, nil
}

// groupStarts returns where each group begins once values stand by group, and
// at the end their number.
func groupStarts(group []int, groups int) ([]int, error) {
	start := make([]int, max(groups, 0)+1)
	for i, g := range group {
		if g < 0 || g >= groups {
			return nil, fmt.Errorf("group[%d] is %d, want 0 to %d: %w", i, g, groups-1, stat.ErrDomain)
		}
		start[g+1]++
	}
	for g := range groups {
		start[g+1] += start[g]
	}
	return start, nil
}

// gather copies xs into group order.
func gather(xs []float64, group, start []int) []float64 {
	next := append([]int(nil), start...)
	sorted := make([]float64, len(xs))
	for i, x := range xs {
		g := group[i]
		sorted[next[g]] = x
		next[g]++
	}
	return sorted
}
