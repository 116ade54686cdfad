package resample

import (
	"fmt"
	"math/rand/v2"

	"pourback/analysis/stat"
)

// BlockSize is the number of draws that share one random stream.
const BlockSize = 1 << 14

// MonteCarlo makes draws 0 to draws−1 of a model, in blocks on all cores. For
// each block it calls draw once with the block's own random stream and its
// bounds: draw makes the draws lo ≤ i < hi and keeps what they give at those
// indices of slices of its own. The outcome depends on the seed alone.
//
// Fewer than 1 draw gives [stat.ErrNoData].
func MonteCarlo(draws int, seed uint64, draw func(rng *rand.Rand, lo, hi int)) error {
	if draws < 1 {
		return fmt.Errorf("%d draws, want at least 1: %w", draws, stat.ErrNoData)
	}
	Blocks(draws, func() func(int, int, int) {
		var src rand.PCG
		rng := rand.New(&src)
		return func(block, lo, hi int) {
			stream(&src, seed, block)
			draw(rng, lo, hi)
		}
	})
	return nil
}

// Blocks cuts 0 to n−1 into blocks of [BlockSize] and does them on all cores.
// Sums made by block and added in order of block are the same on any number
// of cores.
func Blocks(n int, start func() func(block, lo, hi int)) {
	stat.Workers((n+BlockSize-1)/BlockSize, 0, func() func(int) {
		work := start()
		return func(block int) {
			work(block, block*BlockSize, min(n, (block+1)*BlockSize))
		}
	})
}
