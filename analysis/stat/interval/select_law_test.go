package interval_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/stat/interval"
)

// sortedQuantile is type 7 by a full sort, the plain way.
func sortedQuantile(xs []float64, p float64) float64 {
	s := slices.Clone(xs)
	slices.Sort(s)
	whole, h := math.Modf(float64(len(s)-1) * p)
	k := int(whole)
	if h == 0 {
		return s[k]
	}
	return min(s[k]+h*(s[k+1]-s[k]), s[k+1])
}

// sample draws values with ties, runs and plain spread, of every size at
// which selection changes its way of working.
func sample() *rapid.Generator[[]float64] {
	return rapid.Custom(func(t *rapid.T) []float64 {
		n := rapid.OneOf(rapid.IntRange(1, 60), rapid.IntRange(500, 3000)).Draw(t, "n")
		distinct := rapid.IntRange(1, 2*n).Draw(t, "distinct")
		shape := rapid.SampledFrom([]string{"random", "rising", "falling", "organ pipe"}).Draw(t, "shape")
		state := rapid.Uint64().Draw(t, "state")
		xs := make([]float64, n)
		for i := range xs {
			state = state*6364136223846793005 + 1442695040888963407
			xs[i] = float64(int(state>>33)%distinct)/7 - 3
		}
		switch shape {
		case "rising":
			slices.Sort(xs)
		case "falling":
			slices.Sort(xs)
			slices.Reverse(xs)
		case "organ pipe":
			slices.Sort(xs[:n/2])
			slices.Sort(xs[n/2:])
			slices.Reverse(xs[n/2:])
		}
		return xs
	})
}

func TestSelectionEqualsSorting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := sample().Draw(t, "xs")
		ps := rapid.SliceOfN(rapid.Float64Range(0, 1), 1, 6).Draw(t, "ps")
		before := slices.Clone(xs)
		got, err := interval.Quantiles(xs, ps...)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range ps {
			if want := sortedQuantile(xs, p); got[i] != want {
				t.Fatalf("quantile %v of %d values: got %v, want %v", p, len(xs), got[i], want)
			}
		}
		if !slices.Equal(xs, before) {
			t.Fatal("the input was reordered")
		}
		sorted := slices.Clone(xs)
		slices.Sort(sorted)
		again, err := interval.SortedQuantiles(sorted, ps...)
		if !slices.Equal(again, got) || err != nil {
			t.Fatalf("of the sorted values %v, %v; want %v", again, err, got)
		}
		if again, err = interval.QuantilesInPlace(xs, ps...); !slices.Equal(again, got) || err != nil {
			t.Fatalf("in place %v, %v; want %v", again, err, got)
		}
	})
}

// Groups taken together give what each gives alone.
func TestGroupQuantilesEqualQuantiles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := sample().Draw(t, "xs")
		groups := rapid.IntRange(1, 40).Draw(t, "groups")
		state := rapid.Uint64().Draw(t, "state")
		group, alone := make([]int, len(xs)), make([][]float64, groups)
		for i, x := range xs {
			state = state*6364136223846793005 + 1442695040888963407
			g := int(state>>33) % groups
			group[i], alone[g] = g, append(alone[g], x)
		}
		got, err := interval.GroupQuantiles(xs, group, groups, 0.1, 0.5, 0.9)
		if err != nil {
			t.Fatal(err)
		}
		for g, part := range alone {
			if len(part) == 0 {
				if got[g] != nil {
					t.Fatalf("group %d is empty and has quantiles %v", g, got[g])
				}
				continue
			}
			want := drawn[[]float64](t)(interval.Quantiles(part, 0.1, 0.5, 0.9))
			if !slices.Equal(got[g], want) {
				t.Fatalf("group %d: got %v, want %v", g, got[g], want)
			}
		}
	})
}
