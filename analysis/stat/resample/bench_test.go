package resample

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pourback/analysis/stat"
)

// The benchmark's model has 7 coefficients and so 28 products of columns.
const (
	width = 7
	pairs = width * (width + 1) / 2
)

type (
	vector [width]float64
	packed [pairs]float64 // lower triangle, a row after another
)

// logistic is a weighted logistic regression whose answer is the standardised
// risk difference of its second column. Each fit starts from that of the data
// themselves, where what each row adds to information and score is known, so
// the first step costs no exponentials and draws do not depend on each other.
type logistic struct {
	x     []vector
	xx    []packed // products of columns
	y     []float64
	start vector
	odds  []float64 // e^−x'start
	info  []packed  // information of each row at the start
	score []vector
}

// callbacks makes rows as the speed peers do: treatment, temperature, wind,
// humidity, thickness and spacing, and a callback on about a third.
func callbacks(rows int) *logistic {
	l := &logistic{x: make([]vector, rows), xx: make([]packed, rows), y: make([]float64, rows)}
	err := MonteCarlo(rows, 7, func(rng *rand.Rand, lo, hi int) {
		for i := lo; i < hi; i++ {
			treated, warm := float64(rng.IntN(2)), rng.NormFloat64()
			l.x[i] = vector{1, treated, warm, rng.NormFloat64(), rng.NormFloat64(), float64(4 + rng.IntN(3)), float64(8 + 2*rng.IntN(4))}
			l.xx[i] = products(&l.x[i])
			if rng.Float64() < 1/(1+math.Exp(1.2-.3*warm-.3*(1-treated))) {
				l.y[i] = 1
			}
		}
	})
	if err != nil {
		panic(err)
	}
	l.warmUp()
	return l
}

// warmUp fits the data themselves from nothing and keeps each row's part.
func (l *logistic) warmUp() {
	ones := make([]float64, len(l.y))
	for i := range ones {
		ones[i] = 1
	}
	for range 25 {
		l.odds, l.info, l.score = make([]float64, len(l.y)), make([]packed, len(l.y)), make([]vector, len(l.y))
		for i := range l.x {
			l.odds[i] = math.Exp(-dot(&l.x[i], &l.start))
			v, r := l.residual(i, &vector{})
			l.info[i].add(v, &l.xx[i])
			l.score[i].add(r, &l.x[i])
		}
		h, g := l.firstStep(ones)
		if !solve(&h, &g) {
			panic("columns are dependent")
		}
		l.start.add(1, &g)
	}
}

// residual is at start + d.
func (l *logistic) residual(i int, d *vector) (variance, residual float64) {
	p := 1 / (1 + l.odds[i]*expNear0(-dot(&l.x[i], d)))
	return p * (1 - p), l.y[i] - p
}

// expNear0 is eˣ: by its series where |x| ≤ ½ leaves 1e-13 beyond the term of
// degree 11, as it nearly always is a warm start away from the fit.
func expNear0(x float64) float64 {
	if x > 0.5 || x < -0.5 {
		return math.Exp(x)
	}
	x2 := x * x
	x4 := x2 * x2
	low := (1 + x) + x2*(1./2+x*(1./6))
	mid := (1./24 + x*(1./120)) + x2*(1./720+x*(1./5040))
	high := (1./40320 + x*(1./362880)) + x2*(1./3628800+x*(1./39916800))
	return low + x4*(mid+x4*high)
}

func (l *logistic) firstStep(weights []float64) (h packed, g vector) {
	for i, w := range weights {
		if w != 0 {
			h.add(w, &l.info[i])
			g.add(w, &l.score[i])
		}
	}
	return h, g
}

func (l *logistic) step(weights []float64, d *vector) (h packed, g vector) {
	for i, w := range weights {
		if w != 0 {
			v, r := l.residual(i, d)
			h.add(w*v, &l.xx[i])
			g.add(w*r, &l.x[i])
		}
	}
	return h, g
}

// riskDifference fits by Newton until a step s is under 1e-4; the next would be
// about s²/2, so that the coefficients are good to 1e-8, as the peers' are.
func (l *logistic) riskDifference(out, weights []float64) error {
	var d vector
	h, g := l.firstStep(weights)
	for range 25 {
		if !solve(&h, &g) {
			return stat.ErrCollinear
		}
		d.add(1, &g)
		if max(slices.Max(g[:]), -slices.Min(g[:])) < 1e-4 {
			out[0] = l.standardise(weights, &d)
			return nil
		}
		h, g = l.step(weights, &d)
	}
	return stat.ErrNotConverged
}

func (l *logistic) standardise(weights []float64, d *vector) float64 {
	var sum, n float64
	b1 := l.start[1] + d[1]
	on, off := [2]float64{math.Exp(-b1), 1}, [2]float64{1, math.Exp(b1)} // by treatment now
	for i, w := range weights {
		if w != 0 {
			odds := l.odds[i] * expNear0(-dot(&l.x[i], d))
			t := int(l.x[i][1])
			sum += w * (1/(1+odds*on[t]) - 1/(1+odds*off[t]))
			n += w
		}
	}
	return sum / n
}

func dot(x, b *vector) float64 {
	return x[0]*b[0] + x[1]*b[1] + x[2]*b[2] + x[3]*b[3] + x[4]*b[4] + x[5]*b[5] + x[6]*b[6]
}

func products(x *vector) (xx packed) {
	n := 0
	for j := range x {
		for k := 0; k <= j; k++ {
			xx[n] = x[j] * x[k]
			n++
		}
	}
	return xx
}

func (v *vector) add(a float64, x *vector) {
	for j := range v {
		v[j] += a * x[j]
	}
}

func (h *packed) add(a float64, x *packed) {
	for j := 0; j < pairs; j += 4 {
		h[j] += a * x[j]
		h[j+1] += a * x[j+1]
		h[j+2] += a * x[j+2]
		h[j+3] += a * x[j+3]
	}
}

// solve replaces g by h⁻¹g, by Cholesky.
func solve(h *packed, g *vector) bool {
	var c [width]vector
	n := 0
	for j := range width {
		for k := 0; k <= j; k++ {
			s := h[n]
			for m := range k {
				s -= c[j][m] * c[k][m]
			}
			if k < j {
				c[j][k] = s / c[k][k]
			} else if c[j][j] = math.Sqrt(s); !(s > 0) {
				return false
			}
			n++
		}
		for m := range j {
			g[j] -= c[j][m] * g[m]
		}
		g[j] /= c[j][j]
	}
	for j := width - 1; j >= 0; j-- {
		for m := j + 1; m < width; m++ {
			g[j] -= c[m][j] * g[m]
		}
		g[j] /= c[j][j]
	}
	return true
}

// The shortened fit agrees with Newton run to the end.
func TestBenchmarkedFit(t *testing.T) {
	l := callbacks(1000)
	full := func(out, weights []float64) error {
		var d vector
		for range 12 {
			h, g := l.step(weights, &d)
			if !solve(&h, &g) {
				return stat.ErrCollinear
			}
			d.add(1, &g)
		}
		out[0] = l.standardise(weights, &d)
		return nil
	}
	plan := Plan{Rows: 1000, Draws: 50, Seed: 7}
	short, err := Bootstrap(plan, Stateless(l.riskDifference))
	if err != nil {
		t.Fatal(err)
	}
	long, err := Bootstrap(plan, Stateless(full))
	if err != nil {
		t.Fatal(err)
	}
	for b := range long.Draws[0] {
		near(t, "risk difference", short.Draws[0][b], long.Draws[0][b], 1e-8)
	}
}

// BenchmarkBootstrapStandardisedRisk does what numpy and R are timed at: 2000
// draws of 1000 rows, standardised risk difference, 7 coefficients.
func BenchmarkBootstrapStandardisedRisk(b *testing.B) {
	l := callbacks(1000)
	b.ReportAllocs()
	for b.Loop() {
		s, err := Bootstrap(Plan{Rows: 1000, Draws: 2000, Seed: 7}, Stateless(l.riskDifference))
		if err != nil || s.Failed > 0 {
			b.Fatal(err, s)
		}
	}
}

// BenchmarkBootstrapDraws is what the draws alone cost: 2000 of 1000 rows with
// a statistic that looks at one weight.
func BenchmarkBootstrapDraws(b *testing.B) {
	first := Stateless(func(out, w []float64) error { out[0] = w[0]; return nil })
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Bootstrap(Plan{Rows: 1000, Draws: 2000, Seed: 7}, first); err != nil {
			b.Fatal(err)
		}
	}
}

// Hostile shapes: each of 100,000 rows a unit, ten thousand clusters, one
// giant cluster. Time grows with rows × draws whatever the shape.
func BenchmarkBootstrapShapes(b *testing.B) {
	const rows = 100_000
	xs := make([]float64, rows)
	many, giant := make([]int, rows), make([]int, rows)
	for i := range xs {
		xs[i] = float64(i % 97)
		many[i] = i % 10_000
	}
	for name, clusters := range map[string][]int{"rows": nil, "10000 clusters": many, "one cluster": giant} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Bootstrap(Plan{Rows: rows, Clusters: clusters, Draws: 40}, Stateless(mean(xs))); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
