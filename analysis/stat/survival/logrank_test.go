package survival

import (
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/stat"
)

// Arm 0: events at 1 and 3. Arm 1: an event at 2, one censored at 4.
//
//	t  N  n₀  E₀   V = d(N−d)/(N−1)·(n₀/N)(n₁/N)
//	1  4  2   1/2  1/4
//	2  3  1   1/3  2/9
//	3  2  1   1/2  1/4
//
// O₀ − E₀ = 2 − 4/3 = 2/3, V = 13/18, χ² = (4/9)/(13/18) = 8/13.
func TestLogRankByHand(t *testing.T) {
	l, err := LogRankTest([]float64{1, 3, 2, 4}, []bool{true, true, true, false}, []int{0, 0, 1, 1}, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "expected", l.Expected[0], 4./3, 1e-15)
	near(t, "variance", l.Variance.At(0, 0), 13./18, 1e-15)
	near(t, "χ²", l.ChiSq, 8./13, 1e-14)
	near(t, "P", l.P, math.Erfc(math.Sqrt(8./26)), 1e-14) // χ²₁ is the square of a normal
}

func TestLogRankRefuses(t *testing.T) {
	two, one := []int{0, 1, 0, 1}, []int{3, 3, 3, 3}
	times, some, none := []float64{1, 2, 3, 4}, []bool{true, true, true, false}, make([]bool, 4)
	for _, c := range []struct {
		name           string
		times          []float64
		event          []bool
		group, stratum []int
		want           error
	}{
		{"nothing", nil, nil, nil, nil, stat.ErrNoData},
		{"lengths", times, some, two[:3], nil, stat.ErrShape},
		{"strata lengths", times, some, two, two[:2], stat.ErrShape},
		{"NaN", []float64{1, 2, 3, math.NaN()}, some, two, nil, stat.ErrNotFinite},
		{"no events", times, none, two, nil, stat.ErrNoEvents},
		{"one group", times, some, one, nil, stat.ErrNoVariation},
		{"groups never together", times, some, two, two, stat.ErrNoVariation},
		{"one left at the only event", times, []bool{false, false, false, true}, two, nil, stat.ErrNoVariation},
	} {
		if _, err := LogRankTest(c.times, c.event, c.group, c.stratum); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
	many := make([]int, 300)
	for i := range many {
		many[i] = i
	}
	if _, err := LogRankTest(make([]float64, 300), make([]bool, 300), many, nil); !errors.Is(err, stat.ErrDomain) {
		t.Errorf("300 groups: %v", err)
	}
}

// An arm without events is an answer.
func TestLogRankArmWithoutEvents(t *testing.T) {
	l, err := LogRankTest([]float64{1, 2, 3, 4, 5}, []bool{true, true, false, false, false}, []int{1, 1, 0, 0, 0}, nil)
	if err != nil || l.Observed[0] != 0 || !(l.ChiSq > 0) {
		t.Errorf("%+v %v", l, err)
	}
}

// Observed and expected add up alike, and neither the codes of groups and
// strata nor a change of the clock matters.
func TestLogRankLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		times, event := rows(t, 4)
		group, stratum := make([]int, len(times)), make([]int, len(times))
		for i := range group {
			group[i] = rapid.IntRange(0, 2).Draw(t, "group")
			stratum[i] = rapid.IntRange(0, 1).Draw(t, "stratum")
		}
		l, err := LogRankTest(times, event, group, stratum)
		if err != nil {
			t.Skip(err)
		}
		var o, e float64
		for g := range l.Label {
			o, e = o+l.Observed[g], e+l.Expected[g]
		}
		if math.Abs(o-e) > 1e-9 {
			t.Fatalf("observed %v, expected %v", o, e)
		}
		later, codes, strata := slices.Clone(times), slices.Clone(group), slices.Clone(stratum)
		for i := range later {
			later[i] = math.Exp(times[i] / 10)
			codes[i] = 1_000_000 - 7*group[i]
			strata[i] = 5 - stratum[i]
		}
		m, err := LogRankTest(later, event, codes, strata)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(l.ChiSq-m.ChiSq) > 1e-8*(1+l.ChiSq) || l.DF != m.DF {
			t.Fatalf("%v and %v", l.ChiSq, m.ChiSq)
		}
	})
}

// Without ties the log-rank test is the score test of the Cox model with a
// column for each group but one.
func TestLogRankIsCoxScore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(6, 40).Draw(t, "n")
		times := rapid.Permutation(ascending(n)).Draw(t, "times")
		event, group := make([]bool, n), make([]int, n)
		x := [][]float64{make([]float64, n), make([]float64, n)}
		for i := range n {
			event[i] = rapid.Bool().Draw(t, "event")
			group[i] = rapid.IntRange(0, 2).Draw(t, "group")
			if group[i] > 0 {
				x[group[i]-1][i] = 1
			}
		}
		l, err := LogRankTest(times, event, group, nil)
		if err != nil || l.DF != 2 {
			t.Skip(err)
		}
		c, err := FitCox(CoxData{Time: times, Event: event, X: x}, CoxOptions{Priors: []NormalPrior{
			{Contrast: []float64{1, 0}, SD: 1}, {Contrast: []float64{0, 1}, SD: 1}}})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(c.Score.ChiSq-l.ChiSq) > 1e-9*(1+l.ChiSq) {
			t.Fatalf("log-rank %v, score test %v", l.ChiSq, c.Score.ChiSq)
		}
	})
}

func ascending(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = float64(i + 1)
	}
	return out
}
