package concrete

import (
	"math"
	"slices"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
)

func known(v float64) figure.Figure { return figure.Total(v, 9, "made up") }

// The commonest use is spoken of, by its two commonest ways of placing; a kind
// without an order is not.
func TestTheCommonestKindsComeFirst(t *testing.T) {
	kind := func(use, method string, n int, order figure.Figure) Group {
		return Group{Use: use, Method: method, N: n, OrderAllowance: order}
	}
	none := figure.Unknown(TooUnlike{})
	for _, c := range []struct {
		groups []Group
		want   []int
	}{
		{[]Group{kind("apron", "chute", 56, known(.1)), kind("driveway", "pump", 34, known(.1)), kind("driveway", "buggy", 5, known(.1)), kind("driveway", "chute", 113, known(.1))}, []int{3, 1}},
		{[]Group{kind("driveway", "chute", 30, none), kind("patio", "chute", 6, known(.1))}, []int{1}},
		{[]Group{kind("driveway", "chute", 30, none)}, nil},
	} {
		if got := (&Overage{Groups: c.groups}).commonest(); !slices.Equal(got, c.want) {
			t.Errorf("%v come first, want %v", got, c.want)
		}
	}
}

// A kind leans on a few placements where its order is another one without them.
func TestLeaningKinds(t *testing.T) {
	kind := func(order, robust, uncut figure.Figure) Group {
		return Group{OrderYd: order, RobustOrderYd: robust, UncutOrderYd: uncut}
	}
	none := figure.Unknown(figure.NoData{})
	o := Overage{Groups: []Group{kind(known(9), known(9), known(9)), kind(known(9), known(8.75), known(9)), kind(known(9), none, known(9.25)), kind(known(9), none, none), kind(none, known(9), known(9))}}
	if got := o.Leaning(); !slices.Equal(got, []int{1, 2}) {
		t.Errorf("kinds %v, want 1 and 2", got)
	}
}

// The smaller job is one of a quarter to half the usual size.
func TestASmallerJobIsLookedUp(t *testing.T) {
	at := func(yd float64) OverageSize {
		return OverageSize{Use: "driveway", Method: "pump", NeatYd: yd, OrderYd: known(yd + 1)}
	}
	o := Overage{BySize: []OverageSize{at(2), at(4), at(8)}}
	if s, ok := o.SmallerThan(Group{Use: "driveway", Method: "pump", TypicalYd: 10}); !ok || s.NeatYd != 4 {
		t.Errorf("%+v, want that of 4 yd", s)
	}
	if s, ok := o.SmallerThan(Group{Use: "driveway", Method: "chute", TypicalYd: 10}); ok {
		t.Errorf("%+v of another way of placing", s)
	}
}

// The five points of 1 to 101, type 7 of Hyndman and Fan 1996: 11, 26, 51, 76,
// 91. By hand.
func TestSpread(t *testing.T) {
	var values []float64
	for v := 101.0; v >= 1; v-- {
		values = append(values, v)
	}
	if got := spreadOf(values); got != [5]float64{11, 26, 51, 76, 91} {
		t.Errorf("%v", got)
	}
	if got := spreadOf(nil); !math.IsNaN(got[0]) || !math.IsNaN(got[4]) {
		t.Errorf("of nothing: %v", got)
	}
}

// What the next jobs will use grows with them, around the middle, and there is
// nothing to draw where nothing is known.
func TestNextByMethod(t *testing.T) {
	o := Of(historyOf(usual(60)...), setting.Options{Level: 0.90})
	next := o.NextBy("chute", 12)
	if len(next) != 24 || next[23].NeatYd != 12 {
		t.Fatalf("%d volumes: %+v", len(next), next)
	}
	for i, e := range next {
		if !(e.Low < e.Middle && e.Middle < e.High) || i > 1 && e.Middle <= next[i-1].Middle {
			t.Errorf("at %v yd: %+v", e.NeatYd, e)
		}
	}
	trial.Near(t, "used of 12 yd at 5 % and 0.1 yd more", next[23].Middle, 12.7, 0.15)
	if len(o.NextBy("chute", 0)) > 0 || len((&Overage{}).NextBy("chute", 9)) > 0 {
		t.Error("something comes of nothing")
	}
}
