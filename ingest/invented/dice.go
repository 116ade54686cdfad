package invented

import (
	"math"
	"math/rand/v2"
)

// purpose keeps the streams of chance apart, so that changing how one thing is
// drawn leaves the others as they were.
type purpose uint64

const (
	forYears purpose = iota + 1
	forJobs
	forDesign
	forPour
	forDelays
	forWork
	forCracks
	forVisits
	forMoney
	forGaps
	forDetails
	forExtras
)

// dice draws by chance from a stream that the seed, a purpose and a key fix.
type dice struct {
	*rand.Rand
	stream *rand.PCG
	seed   uint64
}

func newDice(seed uint64) dice {
	stream := rand.NewPCG(seed, 0)
	return dice{rand.New(stream), stream, seed}
}

// of starts the stream of a purpose and a key.
func (d *dice) of(what purpose, key int) *dice {
	at := scramble(d.seed + scramble(uint64(what)<<56^uint64(key)))
	d.stream.Seed(at, scramble(at))
	return d
}

// cast starts the stream of a purpose for one placement.
func (d *dice) cast(what purpose, p *pour) *dice {
	return d.of(what, p.job.index*mostPours+p.index)
}

// scramble spreads neighbouring keys over all 64 bits: the finaliser of
// SplitMix64 (Steele, Lea & Flood 2014).
func scramble(z uint64) uint64 {
	z += 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

func (d *dice) chance(p float64) bool { return d.Float64() < p }

func (d *dice) normal(mean, sd float64) float64 { return mean + sd*d.NormFloat64() }

// spread is a factor of median one, lognormal with the given sd of its log.
func (d *dice) spread(sd float64) float64 { return math.Exp(sd * d.NormFloat64()) }

// about is lognormal with the given mean and sd of its log.
func (d *dice) about(mean, sd float64) float64 { return mean * math.Exp(-sd*sd/2) * d.spread(sd) }

// days is a whole number from lo to hi, both included.
func (d *dice) days(lo, hi int) int { return lo + d.IntN(hi-lo+1) }

// pick draws one of n by the weights, which need not add up to one.
func (d *dice) pick(n int, weight func(i int) float64) int {
	total := 0.0
	for i := range n {
		total += weight(i)
	}
	at := d.Float64() * total
	for i := range n - 1 {
		if at -= weight(i); at < 0 {
			return i
		}
	}
	return n - 1
}

// option is one thing that may be chosen, with its weight.
type option[T any] struct {
	value  T
	weight float64
}

func choose[T any](d *dice, menu []option[T]) T {
	return menu[d.pick(len(menu), func(i int) float64 { return menu[i].weight })].value
}

// round brings a value to a whole number of 1/per.
func round(v, per float64) float64 { return math.Round(v*per) / per }

// roundUp brings a value up to a whole number of 1/per; a value that is one to
// within a billionth stays.
func roundUp(v, per float64) float64 { return math.Ceil(v*per-1e-9) / per }

func within(v, lo, hi float64) float64 { return min(max(v, lo), hi) }
