package survival

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/stat"
)

// (0,2] and (1,3] meet in (1,2], which takes all.
func TestTurnbullTwoOverlapping(t *testing.T) {
	f, err := TurnbullNPMLE([]Interval{{0, 2}, {1, 3}})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(f.At, []Interval{{1, 2}}) || f.Mass[0] != 1 || f.LogLik != 0 {
		t.Errorf("%+v", f)
	}
	if low, high := f.SurvivalAt(1); low != 1 || high != 1 {
		t.Errorf("S(1) in %v, %v", low, high)
	}
	if low, high := f.SurvivalAt(1.5); low != 0 || high != 1 {
		t.Errorf("S(1.5) in %v, %v", low, high)
	}
	if low, high := f.SurvivalAt(2); low != 0 || high != 0 {
		t.Errorf("S(2) in %v, %v", low, high)
	}
}

// (0,1], (0,1], (1,2], (0,2] and (1,∞): innermost are (0,1] and (1,2], with
// masses p and 1−p: (0,2] says nothing, (1,∞) that it is the second.
// L = p²(1−p)², so p = 1/2 and the log likelihood is 4·log ½.
func TestTurnbullByHand(t *testing.T) {
	f, err := TurnbullNPMLE([]Interval{{0, 1}, {0, 1}, {1, 2}, {0, 2}, {1, inf}})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(f.At, []Interval{{0, 1}, {1, 2}}) {
		t.Fatalf("%+v", f)
	}
	near(t, "p", f.Mass[0], .5, 1e-9)
	near(t, "log likelihood", f.LogLik, -4*math.Ln2, 1e-12)
}

// Innermost are (1,2], (3,4] and (5,6]. The rows (1,4] twice, (3,6] twice and
// one each of (1,2], (5,6], and (0,4] and (3,8] to close them: with p, q, s the
// masses, L = p·s·(p+q)³·(q+s)³. By symmetry p = s, q = 1−2p, p+q = 1−p:
// L = p²(1−p)⁶, so p = 1/4, q = 1/2.
func TestTurnbullThreeByHand(t *testing.T) {
	f, err := TurnbullNPMLE([]Interval{{1, 2}, {1, 4}, {1, 4}, {0, 4}, {3, 6}, {3, 6}, {3, 8}, {5, 6}})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(f.At, []Interval{{1, 2}, {3, 4}, {5, 6}}) {
		t.Fatalf("%+v", f)
	}
	for j, want := range []float64{.25, .5, .25} {
		near(t, "mass", f.Mass[j], want, 1e-6)
	}
	near(t, "log likelihood", f.LogLik, 2*math.Log(.25)+6*math.Log(.75), 1e-9)
}

// Times known exactly or censored on the right: Kaplan-Meier.
func TestTurnbullIsKaplanMeier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		times, event := rows(t, 1)
		intervals := make([]Interval, len(times))
		for i, x := range times {
			intervals[i] = Interval{x, inf}
			if event[i] {
				intervals[i].Right = x
			}
		}
		f, err := TurnbullNPMLE(intervals)
		if err != nil {
			t.Fatal(err)
		}
		km, err := KaplanMeier(times, event)
		if err != nil {
			t.Fatal(err)
		}
		for i, at := range km.Time {
			if at > slices.Max(times) {
				continue
			}
			low, high := f.SurvivalAt(at)
			if math.Abs(high-km.Survival[i]) > 1e-6 || math.Abs(low-high) > 1e-12 {
				t.Fatalf("at %v: %v to %v, Kaplan-Meier %v", at, low, high, km.Survival[i])
			}
		}
	})
}

// intervals draws visits between which events came.
func drawIntervals(t *rapid.T) []Interval {
	var out []Interval
	for range rapid.IntRange(1, 30).Draw(t, "n") {
		left := float64(rapid.IntRange(0, 12).Draw(t, "left"))
		right := left + float64(rapid.IntRange(0, 8).Draw(t, "wait"))
		if rapid.IntRange(0, 3).Draw(t, "seen") == 0 {
			right = inf
		}
		out = append(out, Interval{left, right})
	}
	return out
}

// The certificate, worked out anew by definition: D_j ≤ n for every innermost
// interval, with equality where there is mass; and no other masses, drawn or
// moved a little, do better.
func TestTurnbullCertificate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		intervals := drawIntervals(t)
		f, err := TurnbullNPMLE(intervals)
		if err != nil {
			t.Fatal(err)
		}
		n := float64(len(intervals))
		all := innermostIntervals(intervals)
		mass := make([]float64, len(all))
		sum := 0.
		for j, at := range f.At {
			mass[slices.Index(all, at)] = f.Mass[j]
			sum += f.Mass[j]
		}
		if math.Abs(sum-1) > 1e-12 || !f.Converged {
			t.Fatalf("masses sum to %v: %+v", sum, f)
		}
		p := make([]float64, len(intervals))
		logLik := 0.
		for i, row := range intervals {
			for j, at := range all {
				if row.holds(at) {
					p[i] += mass[j]
				}
			}
			logLik += math.Log(p[i])
		}
		closeTo(t, "log likelihood", f.LogLik, logLik, 1e-12)
		for j, at := range all {
			d := 0.
			for i, row := range intervals {
				if row.holds(at) {
					d += 1 / p[i]
				}
			}
			if d > n+1e-7 || mass[j] > 1e-4 && d < n-1e-3 {
				t.Fatalf("D of %v is %v among %v rows, its mass %v", at, d, n, mass[j])
			}
		}
	})
}

// The order of rows and a change of the clock do not matter.
func TestTurnbullRecoding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		intervals := drawIntervals(t)
		f, err := TurnbullNPMLE(intervals)
		if err != nil {
			t.Fatal(err)
		}
		turned := slices.Clone(intervals)
		slices.Reverse(turned)
		for i, r := range turned {
			turned[i] = Interval{math.Sqrt(r.Left), math.Sqrt(r.Right)}
		}
		g, err := TurnbullNPMLE(turned)
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, "log likelihood", g.LogLik, f.LogLik, 1e-8)
	})
}

func TestTurnbullRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		rows []Interval
		want error
	}{
		{"nothing", nil, stat.ErrNoData},
		{"NaN", []Interval{{0, math.NaN()}}, stat.ErrNotFinite},
		{"NaN left", []Interval{{math.NaN(), 1}}, stat.ErrNotFinite},
		{"infinite left", []Interval{{inf, inf}}, stat.ErrNotFinite},
		{"backward", []Interval{{2, 1}}, stat.ErrDomain},
		{"negative", []Interval{{-1, 1}}, stat.ErrDomain},
	} {
		if _, err := TurnbullNPMLE(c.rows); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}

// One row, all censored, all the same, times of all sizes: an answer.
func TestTurnbullExtremes(t *testing.T) {
	for _, rows := range [][]Interval{
		{{0, 0}}, {{3, inf}}, {{0, inf}, {1, inf}, {2, inf}}, {{1, 2}, {1, 2}, {1, 2}},
		{{0, 1e300}, {1e-300, 2e-300}, {1e299, inf}}, {{0, 5}, {5, 5}, {5, inf}},
	} {
		f, err := TurnbullNPMLE(rows)
		if err != nil || !f.Converged || math.IsNaN(f.LogLik) {
			t.Errorf("%v: %+v %v", rows, f, err)
		}
	}
}

// visited makes n rows that are looked at some months apart for four years.
func visited(n int, whole bool) []Interval {
	rng := rand.New(rand.NewPCG(7, 8))
	rows := make([]Interval, n)
	for i := range rows {
		t, r := rng.ExpFloat64()*800, Interval{}
		for r.Right < t {
			r = Interval{r.Right, r.Right + 60 + 240*rng.Float64()}
			if whole {
				r.Right = math.Ceil(r.Right)
			}
			if r.Right > 1500 {
				r.Right = inf
			}
		}
		rows[i] = r
	}
	return rows
}

func BenchmarkTurnbull(b *testing.B) {
	for _, size := range sizes[:2] {
		for name, whole := range map[string]bool{"days": true, "hours": false} {
			rows := visited(size.n, whole)
			b.Run(size.name+" "+name, func(b *testing.B) {
				for b.Loop() {
					if _, err := TurnbullNPMLE(rows); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
