package resample

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func values(t *rapid.T, least int) []float64 {
	return rapid.SliceOfN(rapid.Float64Range(-100, 100), least, 30).Draw(t, "values")
}

// The seed alone decides: one worker, two and seven give the same figures,
// to the last bit.
func TestSameOnAnyNumberOfCores(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := values(t, 2)
		labels := rapid.SliceOfN(rapid.IntRange(-2, 5), len(xs), len(xs)).Draw(t, "labels")
		seed := rapid.Uint64().Draw(t, "seed")
		var first []float64
		for _, workers := range []int{1, 2, 7} {
			s, err := Bootstrap(Plan{Rows: len(xs), Clusters: labels, Draws: 60, Seed: seed, Workers: workers}, Stateless(mean(xs)))
			if err != nil {
				t.Fatal(err)
			}
			if first == nil {
				first = s.Draws[0]
			} else if !slices.Equal(first, s.Draws[0]) {
				t.Fatalf("%d workers change the draws", workers)
			}
		}
	})
}

func TestMonteCarloRepeats(t *testing.T) {
	const n = 3*BlockSize + 17
	draw := func(seed uint64) []float64 {
		out := make([]float64, n)
		err := MonteCarlo(n, seed, func(rng *rand.Rand, lo, hi int) {
			for i := lo; i < hi; i++ {
				out[i] = rng.NormFloat64()
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	a, b, c := draw(1), draw(1), draw(2)
	if !slices.Equal(a, b) {
		t.Error("the same seed gives other draws")
	}
	if slices.Equal(a, c) {
		t.Error("another seed gives the same draws")
	}
	var sum, square float64
	for _, x := range a {
		sum += x
		square += x * x
	}
	// Five standard errors of a mean and of a variance of n normal draws.
	if math.Abs(sum/n) > 5/math.Sqrt(n) || math.Abs(square/n-1) > 5*math.Sqrt(2./n) {
		t.Errorf("mean %v, mean square %v of normal draws", sum/n, square/n)
	}
}

// Streams of neighbouring replicates must not run together.
func TestStreamsDiffer(t *testing.T) {
	var src rand.PCG
	seen := map[uint64]bool{}
	for index := range 2000 {
		stream(&src, 42, index)
		for range 50 {
			x := src.Uint64()
			if seen[x] {
				t.Fatalf("stream %d repeats a number", index)
			}
			seen[x] = true
		}
	}
}

// Each sample counts as many units as there are, and a cluster's rows as one.
func TestWeights(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		labels := rapid.SliceOfN(rapid.IntRange(0, 6), 1, 40).Draw(t, "labels")
		size := map[int]float64{}
		for _, l := range labels {
			size[l]++
		}
		check := func(out, w []float64) error {
			perCluster := map[int]float64{}
			var units float64
			for i, l := range labels {
				if seen, ok := perCluster[l]; ok && seen != w[i] {
					t.Fatalf("rows of cluster %d weigh %v and %v", l, seen, w[i])
				}
				perCluster[l] = w[i]
				units += w[i] / size[l]
			}
			if math.Abs(units-float64(len(size))) > 1e-9 {
				t.Fatalf("%v units drawn from %d", units, len(size))
			}
			out[0] = units
			return nil
		}
		s, err := Bootstrap(Plan{Rows: len(labels), Clusters: labels, Draws: 20, Workers: 1}, Stateless(check))
		if err != nil {
			t.Fatal(err)
		}
		if s.Units != len(size) {
			t.Fatalf("%d units of %d clusters", s.Units, len(size))
		}
	})
}

// Clusters of one row each are rows, and the labels' values mean nothing.
func TestSingletonClustersAreRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := values(t, 2)
		labels := make([]int, len(xs))
		for i := range labels {
			labels[i] = 1000 - 7*i
		}
		plan := Plan{Rows: len(xs), Draws: 50, Seed: 3}
		rows, err := Bootstrap(plan, Stateless(mean(xs)))
		if err != nil {
			t.Fatal(err)
		}
		plan.Clusters = labels
		clusters, err := Bootstrap(plan, Stateless(mean(xs)))
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(rows.Draws[0], clusters.Draws[0]) {
			t.Fatal("clusters of one row differ from rows")
		}
	})
}

// Limits move with the data: those of a+bx are a+b times those of x.
func TestLimitsFollowShiftAndScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := values(t, 8)
		shift := rapid.Float64Range(-50, 50).Draw(t, "shift")
		scale := rapid.Float64Range(.1, 10).Draw(t, "scale")
		moved := make([]float64, len(xs))
		for i, x := range xs {
			moved[i] = shift + scale*x
		}
		plan := Plan{Rows: len(xs), Draws: 99, Seed: 5}
		a, err := Bootstrap(plan, Stateless(mean(xs)))
		if err != nil {
			t.Fatal(err)
		}
		b, err := Bootstrap(plan, Stateless(mean(moved)))
		if err != nil {
			t.Fatal(err)
		}
		ea, err := a.Percentile(0, .9)
		if err != nil {
			t.Fatal(err)
		}
		eb, err := b.Percentile(0, .9)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(eb.Low-(shift+scale*ea.Low)) > 1e-9 || math.Abs(eb.High-(shift+scale*ea.High)) > 1e-9 {
			t.Fatalf("limits %v to %v became %v to %v", ea.Low, ea.High, eb.Low, eb.High)
		}
	})
}

// The jackknife of a mean is s/√n, in closed form (Tukey 1958).
func TestJackknifeOfMean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := values(t, 2)
		j, err := Jackknife(Plan{Rows: len(xs)}, Stateless(mean(xs)))
		if err != nil {
			t.Fatal(err)
		}
		n, m, ss := float64(len(xs)), j.Estimate[0], 0.0
		for _, x := range xs {
			ss += (x - m) * (x - m)
		}
		if want := math.Sqrt(ss / (n * (n - 1))); math.Abs(j.SE[0]-want) > 1e-10*(1+want) {
			t.Fatalf("SE %v, want %v", j.SE[0], want)
		}
		if math.Abs(j.Bias[0]) > 1e-9 {
			t.Fatalf("a mean has bias %v", j.Bias[0])
		}
	})
}

// With z0 = 0 and a = 0, BCa is the percentile method.
func TestBCaFallsBackToPercentile(t *testing.T) {
	s := &Sample{Estimate: []float64{0}, Units: 9, Draws: make([][]float64, 1)}
	for i := range 100 {
		s.Draws[0] = append(s.Draws[0], float64(i)-49.5)
	}
	p, err := s.Percentile(0, .9)
	if err != nil {
		t.Fatal(err)
	}
	b, err := s.BCa(0, .9, &Jack{Acceleration: []float64{0}})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(p.Low-b.Low) > 1e-9 || math.Abs(p.High-b.High) > 1e-9 {
		t.Errorf("percentile %v to %v, BCa %v to %v", p.Low, p.High, b.Low, b.High)
	}
}

// Several answers from one sample are those that each would give alone.
func TestAnswersTogether(t *testing.T) {
	xs, ys := []float64{3, 1, 4, 1, 5, 9, 2, 6}, []float64{2, 7, 1, 8, 2, 8, 1, 8}
	both := Stateless(func(out, w []float64) error {
		if err := mean(xs)(out[:1], w); err != nil {
			return err
		}
		return mean(ys)(out[1:], w)
	})
	plan := Plan{Rows: 8, Draws: 50, Seed: 9}
	x, err := Bootstrap(plan, Stateless(mean(xs)))
	if err != nil {
		t.Fatal(err)
	}
	y, err := Bootstrap(plan, Stateless(mean(ys)))
	if err != nil {
		t.Fatal(err)
	}
	plan.Outputs = 2
	xy, err := Bootstrap(plan, both)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(xy.Draws[0], x.Draws[0]) || !slices.Equal(xy.Draws[1], y.Draws[0]) {
		t.Error("two answers together differ from each alone")
	}
}
