package resample

import (
	"math/rand/v2"
)

// stream points src at the start of the stream of one replicate or block.
func stream(src *rand.PCG, seed uint64, index int) {
	src.Seed(seed, splitmix(uint64(index)))
}

// splitmix scatters neighbouring numbers over 64 bits (the output function of
// SplitMix64; Steele, Lea & Flood 2014).
func splitmix(z uint64) uint64 {
	z += 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}
