package chart

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"pourback/ingest/record"
)

func TestRoundStep(t *testing.T) {
	for _, c := range []struct {
		span float64
		most int
		want float64
	}{{4, 5, 1}, {4.1, 4, 2}, {10, 5, 2}, {11, 5, 5}, {0.9, 5, 0.2}, {50, 5, 10}, {0, 5, 1}, {math.Inf(1), 5, 1}, {math.NaN(), 5, 1}, {3, 3, 1}, {0.3, 3, 0.1}} {
		if got := RoundStep(c.span, c.most); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v in at most %d steps: %v, want %v", c.span, c.most, got, c.want)
		}
	}
}

func namesOf(marks []Rule) (names []string) {
	for _, m := range marks {
		names = append(names, m.Name)
	}
	return names
}

func TestMarksOfScales(t *testing.T) {
	for _, c := range []struct {
		s    scale
		most int
		want []string
	}{
		{scale{low: 0, high: 40}, 5, []string{"0", "10", "20", "30", "40"}},
		{scale{low: -2, high: 6.3}, 5, []string{"−2", "0", "2", "4", "6"}},
		{scale{low: 0, high: 0.5}, 5, []string{"0.0", "0.1", "0.2", "0.3", "0.4", "0.5"}},
		{scale{low: 0, high: 2_300}, 5, []string{"0", "500", "1,000", "1,500", "2,000"}},
		{scale{low: 0.003, high: 0.011}, 4, []string{"0.004", "0.006", "0.008", "0.010"}},
		{scale{low: 0, high: 3e9}, 5, []string{"0", "1e+09", "2e+09", "3e+09"}},
		{scale{low: .25, high: 4, ratio: true}, 5, []string{"0.25", "0.5", "1", "2", "4"}},
		{scale{low: 1. / 64, high: 64, ratio: true}, 5, []string{"0.015625", "0.125", "1", "8", "64"}},
		{scale{low: .9, high: 1.2, ratio: true}, 5, []string{"0.9", "1.0", "1.1", "1.2"}},
	} {
		if got := namesOf(c.s.marks(c.most)); !slices.Equal(got, c.want) {
			t.Errorf("%v to %v: %v, want %v", c.s.low, c.s.high, got, c.want)
		}
	}
}

// TestMarksAreRound: whatever the ends, marks lie within them, are whole multiples
// of 1, 2 or 5 times a power of ten, are told apart by their words, and are no more
// than asked for and one.
func TestMarksAreRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-1e3, 1e3).Draw(t, "low")
		span := math.Pow(10, rapid.Float64Range(-3, 8).Draw(t, "magnitude"))
		most := rapid.IntRange(3, 8).Draw(t, "most")
		s := scale{low: low, high: low + span}
		marks := s.marks(most)
		if len(marks) > most+1 {
			t.Fatalf("%d marks, want at most %d", len(marks), most+1)
		}
		step := RoundStep(span, most)
		if unit := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9)); !slices.ContainsFunc([]float64{1, 2, 5, 10}, func(u float64) bool { return math.Abs(unit-u) < 1e-6 }) {
			t.Fatalf("a step of %v", step)
		}
		seen := map[string]bool{}
		for _, m := range marks {
			if !s.holds(m.At) || math.Abs(m.At/step-math.Round(m.At/step)) > 1e-4 {
				t.Fatalf("a mark at %v between %v and %v, steps of %v", m.At, s.low, s.high, step)
			}
			if seen[m.Name] && span > 1e-6*math.Abs(low) {
				t.Fatalf("two marks are called %s", m.Name)
			}
			seen[m.Name] = true
		}
	})
}

func TestWidenedHoldsItsValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(-most, most).Draw(t, "a")
		b := rapid.Float64Range(-most, most).Draw(t, "b")
		low, high := widened(min(a, b), max(a, b), 5)
		slack := 1e-6 * (high - low)
		if !(low < high) || low > min(a, b)+slack || high < max(a, b)-slack {
			t.Fatalf("%v to %v became %v to %v", min(a, b), max(a, b), low, high)
		}
	})
	if low, high := widened(0, 5e-324, 5); low != 0 || high != 1 {
		t.Errorf("next to nothing became %v to %v", low, high)
	}
	if low, high := widened(0, 0, 5); low != 0 || high <= 0 {
		t.Errorf("nothing became %v to %v", low, high)
	}
}

func TestRatioEnds(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct{ values, ranges, want []float64 }{
		{[]float64{1}, nil, []float64{1 / 1.1, 1.1}},
		{[]float64{.9, 1.05}, []float64{.85, 1.08}, []float64{1 / 1.2, 1.1}},
		{[]float64{.5, 3}, []float64{.5, 3}, []float64{.5, 4}},
		{[]float64{1.2}, []float64{0, inf}, []float64{1 / 1.1, 1.2}}, // ranges without an end go to the edge
		{[]float64{2}, []float64{.01, 40}, []float64{1. / 8, 8}},
		{nil, []float64{math.NaN()}, []float64{1 / 1.1, 1.1}},
	} {
		if low, high := ratioEnds(c.values, c.ranges); math.Abs(low-c.want[0]) > 1e-9 || math.Abs(high-c.want[1]) > 1e-9 {
			t.Errorf("%v within %v: %v to %v, want %v", c.values, c.ranges, low, high, c.want)
		}
	}
}

func TestCalendarMarks(t *testing.T) {
	c := Calendar{Month: func(m string) string { return m }}
	day := func(s string) float64 {
		d, err := record.ParseDate(s)
		if err != nil {
			t.Fatal(err)
		}
		return float64(d)
	}
	for _, x := range []struct {
		from, to string
		want     []string
	}{
		{"2025-03-10", "2025-07-20", []string{"2025-04", "2025-05", "2025-06", "2025-07"}},
		{"2025-01-01", "2026-02-20", []string{"2025-01", "2025-04", "2025-07", "2025-10", "2026-01"}},
		{"2023-05-30", "2026-11-19", []string{"2024", "2025", "2026"}},
		{"1990-05-30", "2026-11-19", []string{"2000", "2010", "2020"}},
		{"2025-03-10", "2025-03-12", nil},
	} {
		if got := namesOf(c.marks(day(x.from), day(x.to), 6)); !slices.Equal(got, x.want) {
			t.Errorf("%s to %s: %v, want %v", x.from, x.to, got, x.want)
		}
	}
}

func TestScaleMapsItsEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(1e-3, 1e3).Draw(t, "low")
		s := scale{low: low, high: low * rapid.Float64Range(1.01, 1e3).Draw(t, "times"), from: 40, to: 390, ratio: rapid.Bool().Draw(t, "ratio")}
		v := rapid.Float64Range(s.low, s.high).Draw(t, "v")
		if a, b, x := s.at(s.low), s.at(s.high), s.at(v); math.Abs(a-40) > 1e-6 || math.Abs(b-390) > 1e-6 || x < 40-1e-6 || x > 390+1e-6 {
			t.Fatalf("%v, %v and %v between", a, b, x)
		}
	})
}

// TestCountsAreMarkedAtWholeNumbers: nobody called one and a half times.
func TestCountsAreMarkedAtWholeNumbers(t *testing.T) {
	marks := scale{low: 0, high: 3}.marks(7)
	if got := namesOf(Axis{Whole: true}.whole(marks)); !slices.Equal(got, []string{"0", "1", "2", "3"}) || len(marks) != 7 {
		t.Errorf("%v of %v", got, namesOf(marks))
	}
}
