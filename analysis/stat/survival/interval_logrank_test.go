package survival

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pourback/analysis/stat"
)

// The two arms of Finkelstein & Wolfe's breast retraction: the score is the slope
// of the log likelihood in the log hazard ratio, worked out anew as a difference,
// and it tells the arms apart, as they found (p under 0.05).
func TestIntervalLogRankBreastRetraction(t *testing.T) {
	var rows []Interval
	var group, cluster []int
	for g, arm := range []string{"1", "2"} {
		of, _, _, _ := breastRetraction(t, arm)
		for _, r := range of {
			rows, group, cluster = append(rows, r), append(group, g), append(cluster, len(cluster))
		}
	}
	l, err := IntervalLogRankTest(rows, group, nil, cluster, 1999, 1)
	if err != nil {
		t.Fatal(err)
	}
	fit, err := TurnbullNPMLE(rows)
	if err != nil {
		t.Fatal(err)
	}
	logLik := func(log float64) (sum float64) {
		for i, r := range rows {
			if group[i] == 0 {
				continue
			}
			left, right := 0., 0.
			for j, at := range fit.At {
				if !r.holds(at) && at.Right <= r.Left {
					continue
				}
				left += fit.Mass[j]
				if !r.holds(at) {
					right += fit.Mass[j]
				}
			}
			sum += math.Log(math.Pow(left, math.Exp(log)) - math.Pow(right, math.Exp(log)))
		}
		return sum
	}
	const h = 1e-5
	near(t, "O − E with chemotherapy", l.Observed[1]-l.Expected[1], (logLik(h)-logLik(-h))/(2*h), 1e-4)
	near(t, "O − E in all", l.Observed[0]-l.Expected[0]+l.Observed[1]-l.Expected[1], 0, 1e-6)
	near(t, "p against χ²", l.P, newChiSq(l.ChiSq, 1).P, 0.003)
	if l.DF != 1 || l.P > 0.05 || !(l.Observed[1] > l.Expected[1]) {
		t.Errorf("%+v", l)
	}
}

// Times known exactly: O − E is that of the log-rank test, up to ties, where S
// falls at once.
func TestIntervalLogRankOfExactTimes(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	const n = 200
	rows, times, event, group, cluster := make([]Interval, n), make([]float64, n), make([]bool, n), make([]int, n), make([]int, n)
	for i := range rows {
		times[i], event[i], group[i], cluster[i] = rng.ExpFloat64()*100, rng.IntN(3) > 0, rng.IntN(2), i
		rows[i] = Interval{times[i], math.Inf(1)}
		if event[i] {
			rows[i].Right = times[i]
		}
	}
	l, err := IntervalLogRankTest(rows, group, nil, cluster, 99, 1)
	if err != nil {
		t.Fatal(err)
	}
	plain, err := LogRankTest(times, event, group, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "O − E", l.Observed[1]-l.Expected[1], plain.Observed[1]-plain.Expected[1], 0.4)
}

// No difference: p is even, also where slabs of a job share their fate and
// their group.
func TestIntervalLogRankIsEvenByChance(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	small := 0
	const runs = 200
	for range runs {
		var rows []Interval
		var group, cluster []int
		for job := range 30 {
			g, at := rng.IntN(2), rng.ExpFloat64()*500
			for range 3 {
				row := Interval{365, inf}
				if at < 365 {
					row = Interval{90 * math.Floor(at/90), 90 * (1 + math.Floor(at/90))}
				}
				rows, group, cluster = append(rows, row), append(group, g), append(cluster, job)
			}
		}
		l, err := IntervalLogRankTest(rows, group, nil, cluster, 99, rng.Uint64())
		if err != nil {
			t.Fatal(err)
		}
		if l.P <= 0.1 {
			small++
		}
	}
	if small < 8 || small > 34 { // 20 ± 3.3 standard errors
		t.Errorf("%d of %d p at or under 0.1", small, runs)
	}
}

func TestIntervalLogRankWithoutAnswer(t *testing.T) {
	rows := []Interval{{0, 1}, {1, inf}}
	for name, c := range map[string]struct {
		rows  []Interval
		group []int
		draws int
		want  error
	}{
		"no rows": {nil, nil, 9, stat.ErrNoData}, "no events": {[]Interval{{1, inf}, {1, inf}}, []int{0, 1}, 9, stat.ErrNoEvents},
		"one group": {rows, []int{1, 1}, 9, stat.ErrNoVariation}, "labels": {rows, []int{1}, 9, stat.ErrShape}, "no draws": {rows, []int{0, 1}, 0, stat.ErrTooFew},
	} {
		if l, err := IntervalLogRankTest(c.rows, c.group, nil, c.group, c.draws, 1); !errors.Is(err, c.want) {
			t.Errorf("%s: %+v %v, want %v", name, l, err, c.want)
		}
	}
}

// Times known exactly are counted: 10 in 500 years are 2 a hundred. Found at the
// one look after a year, 8 of 40 have −log(1 − 8/40) a year.
func TestIntervalRateByHand(t *testing.T) {
	var exact, looked []Interval
	for i := range 100 {
		exact = append(exact, Interval{5, pick(i < 10, 5, inf)})
	}
	for i := range 40 {
		looked = append(looked, pickRow(i < 8, Interval{0, 1}, Interval{1, inf}))
	}
	e, err := IntervalRate(exact, 0.9)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rate", e.Value, 10./500, 1e-9)
	if e, err = IntervalRate(looked, 0.9); err != nil {
		t.Fatal(err)
	}
	near(t, "rate between looks", e.Value, -math.Log(1-8./40), 1e-9)
	// Twice the fall of 8·log(1−e^−λ) − 32λ is χ²₁(.9) = 2.7055 at the limits.
	fall := func(l float64) float64 {
		of := func(l float64) float64 { return 8*math.Log(-math.Expm1(-l)) - 32*l }
		return 2 * (of(e.Value) - of(l))
	}
	near(t, "low", fall(e.Low), 2.7055, 1e-3)
	near(t, "high", fall(e.High), 2.7055, 1e-3)
	if e, err = IntervalRate(looked[8:], 0.9); err != nil || e.Value != 0 || e.Low != 0 {
		t.Fatalf("%+v %v", e, err)
	}
	near(t, "high of none", e.High, -math.Log(0.05)/32, 1e-12)
	for want, rows := range map[error][]Interval{stat.ErrNoData: {{0, inf}}, stat.ErrDomain: {{0, 1}, {0, 2}}} {
		if _, err := IntervalRate(rows, 0.9); !errors.Is(err, want) {
			t.Errorf("%v: %v", rows, err)
		}
	}
}

func pick(first bool, a, b float64) float64 {
	return pickRow(first, Interval{a, 0}, Interval{b, 0}).Left
}

func pickRow(first bool, a, b Interval) Interval {
	if first {
		return a
	}
	return b
}
