package resample

import (
	"fmt"
	"math/bits"
	"math/rand/v2"

	"pourback/analysis/stat"
)

// units numbers the units of resampling: of[i] is the unit of row i, nil when
// each row is its own.
type units struct {
	n  int
	of []int
}

// unitsOf gives labels, in order of appearance, the numbers 0, 1, 2 …
func unitsOf(rows int, clusters []int) (units, error) {
	if rows < 1 {
		return units{}, fmt.Errorf("%d rows to draw from: %w", rows, stat.ErrNoData)
	}
	if clusters == nil {
		return units{n: rows}, nil
	}
	if len(clusters) != rows {
		return units{}, fmt.Errorf("%d rows with %d cluster labels: %w", rows, len(clusters), stat.ErrShape)
	}
	number := map[int]int{}
	of := make([]int, rows)
	for i, label := range clusters {
		u, seen := number[label]
		if !seen {
			u = len(number)
			number[label] = u
		}
		of[i] = u
	}
	return units{n: len(number), of: of}, nil
}

// spread turns the count of each unit into the weight of each row. For rows
// that are their own units the two are one slice and nothing is to be done.
func (u units) spread(weights, counts []float64) {
	for i, unit := range u.of {
		weights[i] = counts[unit]
	}
}

// buffers returns a slice of row weights and one of unit counts, the same
// slice where rows are the units.
func (u units) buffers(rows int) (weights, counts []float64) {
	weights = make([]float64, rows)
	if u.of == nil {
		return weights, weights
	}
	return weights, make([]float64, u.n)
}

// drawCounts draws len(counts) units with replacement and counts each. The
// high word of a product stands for a remainder; its bias is under n/2⁶⁴.
func drawCounts(counts []float64, src *rand.PCG) {
	clear(counts)
	n := uint64(len(counts))
	for range counts {
		hi, _ := bits.Mul64(src.Uint64(), n)
		counts[hi]++
	}
}
