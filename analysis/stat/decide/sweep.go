package decide

import (
	"fmt"

	"pourback/analysis/stat"
	"pourback/analysis/stat/resample"
)

// Grid is Count order sizes, or bids: First, First + Step, …
type Grid struct {
	First, Step float64
	Count       int
}

// At is the i-th size.
func (g Grid) At(i int) float64 { return g.First + float64(i)*g.Step }

// mostBins bounds a grid: its histogram is kept for each block of draws.
const mostBins = 100_000

func (g Grid) check() error {
	if err := stat.Finite("first", g.First); err != nil {
		return err
	}
	if err := checkScale("step", g.Step); err != nil {
		return err
	}
	if g.Count < 1 || g.Count > mostBins {
		return fmt.Errorf("%d sizes, want 1 to %d: %w", g.Count, mostBins, stat.ErrDomain)
	}
	return stat.Finite("last", g.At(g.Count-1))
}

// Sweep holds, for each size q of a grid, averages over the draws u.
type Sweep struct {
	Grid     Grid
	Short    []float64 // share of draws with u > q
	Shortage []float64 // mean of (u−q)⁺
	Leftover []float64 // mean of (q−u)⁺
	Mean     float64   // of the draws
}

// SweepOrders compares the draws with every size of the grid at once. Draws
// are counted and summed between neighbouring sizes, in blocks on all cores;
// prefix sums of those give every size its figures, exactly as if each draw
// had been compared with each size. The time is draws + sizes, the result the
// same on any number of cores.
//
// No draws give [stat.ErrNoData], a draw that is no number [stat.ErrNotFinite].
// For draws of what a job costs and a grid of bids, Short is the chance that a
// bid loses money.
func SweepOrders(draws []float64, grid Grid) (*Sweep, error) {
	if len(draws) == 0 {
		return nil, fmt.Errorf("no draws: %w", stat.ErrNoData)
	}
	if err := grid.check(); err != nil {
		return nil, err
	}
	blocks := make([][]bin, (len(draws)+resample.BlockSize-1)/resample.BlockSize)
	sizes := make([]float64, grid.Count)
	for i := range sizes {
		sizes[i] = grid.At(i)
	}
	resample.Blocks(len(draws), func() func(int, int, int) {
		return func(block, lo, hi int) {
			blocks[block] = histogram(draws[lo:hi], sizes, grid)
		}
	})
	bins := blocks[0]
	for _, b := range blocks[1:] {
		for i := range bins {
			bins[i].n += b[i].n
			bins[i].sum += b[i].sum
		}
	}
	return prefix(bins, sizes, grid, float64(len(draws)))
}

// bin counts the draws between two sizes. Bin i holds those above size i−1
// and not above size i; the last those above every size.
type bin struct {
	n   int
	sum float64
}

func histogram(draws, sizes []float64, grid Grid) []bin {
	bins := make([]bin, len(sizes)+1)
	scale := 1 / grid.Step
	for _, u := range draws {
		// A guess, off by one at times; NaN goes to bin 0 and spoils the sum.
		i := 0
		if at := (u - grid.First) * scale; at >= float64(len(sizes)) {
			i = len(sizes)
		} else if at > 0 {
			i = int(at)
		}
		for i < len(sizes) && u > sizes[i] {
			i++
		}
		for i > 0 && u <= sizes[i-1] {
			i--
		}
		bins[i].n++
		bins[i].sum += u
	}
	return bins
}

func prefix(bins []bin, sizes []float64, grid Grid, n float64) (*Sweep, error) {
	var total float64
	for _, b := range bins {
		total += b.sum
	}
	if err := stat.Finite("sum of the draws", total); err != nil {
		return nil, err
	}
	k := len(sizes)
	s := &Sweep{Grid: grid, Mean: total / n, Short: make([]float64, k), Shortage: make([]float64, k), Leftover: make([]float64, k)}
	var below, sum float64 // of the draws not above the size at hand
	for i, q := range sizes {
		below += float64(bins[i].n)
		sum += bins[i].sum
		s.Short[i] = (n - below) / n
		s.Leftover[i] = max(0, (q*below-sum)/n)
		s.Shortage[i] = max(0, (total-sum-q*(n-below))/n)
	}
	return s, nil
}

// UnitCosts is the money by unit of an order swept over draws.
type UnitCosts struct {
	Price    float64 // a unit ordered
	Disposal float64 // a unit left over
	Short    float64 // each time the order falls short
	Lacking  float64 // a unit that lacks
}

// Cost is the average cost of the i-th size.
func (s *Sweep) Cost(i int, c UnitCosts) float64 {
	return c.Price*s.Grid.At(i) + c.Disposal*s.Leftover[i] + c.Short*s.Short[i] + c.Lacking*s.Shortage[i]
}

// Cheapest is the index of the size that costs least; of equals the smallest.
func (s *Sweep) Cheapest(c UnitCosts) int {
	best := 0
	for i := range s.Short {
		if s.Cost(i, c) < s.Cost(best, c) {
			best = i
		}
	}
	return best
}
