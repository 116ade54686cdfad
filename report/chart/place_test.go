package chart

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Widths of DejaVu Sans in thousandths of its size, from memory; a browser test in
// report/out holds them to what is drawn.
func TestWidths(t *testing.T) {
	f := face{size: 10}
	for words, want := range map[string]float64{"": 0, "0": 6.36, "il": 5.56, "chute": 5.5 + 6.35*2 + 3.92 + 6.16, "½": 10, "\u2068a\u2069": 6.16} {
		if got := f.width(words); math.Abs(got-want) > 1e-9 {
			t.Errorf("%q is %v wide, want %v", words, got, want)
		}
	}
	if strong := (face{10, true}).width("mesh"); strong <= f.width("mesh") {
		t.Error("strong words are no wider")
	}
}

func TestWrap(t *testing.T) {
	f := face{size: 10}
	for _, c := range []struct {
		words string
		room  float64
		most  int
		want  []string
		cut   bool
	}{
		{"", 50, 2, nil, false},
		{"found, dated to the visit", 90, 3, []string{"found, dated to", "the visit"}, false},
		{"found, dated to the visit", 90, 1, []string{"found, dated to…"}, true},
		{"WWWWWWWWWWWW", 50, 2, []string{"WWWW…"}, true},
		{"mesh", 90, 1, []string{"mesh"}, false},
	} {
		got, whole := f.wrap(c.words, c.room, c.most)
		if !slices.Equal(got, c.want) || (whole == c.words) != (c.cut || c.words == "") {
			t.Errorf("%q in %v: %q, whole %q", c.words, c.room, got, whole)
		}
	}
}

// TestWrappedWordsFit: no line is wider than its room (but for a single letter),
// there are no more than asked for, and what was cut keeps its whole.
func TestWrappedWordsFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.OneOf(rapid.String(), rapid.StringMatching(`[a-zA-Z ,]{0,80}`), rapid.SampledFrom(hostile)).Draw(t, "words")
		room := rapid.Float64Range(30, 400).Draw(t, "room")
		n := rapid.IntRange(1, 3).Draw(t, "most")
		f := face{13.5, rapid.Bool().Draw(t, "strong")}
		lines, whole := f.wrap(words, room, n)
		if len(lines) > n {
			t.Fatalf("%d lines", len(lines))
		}
		for _, l := range lines {
			if f.width(l) > room && len([]rune(l)) > 2 {
				t.Fatalf("%q is %v wide, beyond %v", l, f.width(l), room)
			}
		}
		if said := strings.Join(lines, " "); whole == "" && said != strings.Join(strings.Fields(words), " ") {
			t.Fatalf("%q became %q without a word of it", words, said)
		}
	})
}

func TestApart(t *testing.T) {
	for _, c := range []struct{ at, heights, want []float64 }{
		{nil, nil, nil},
		{[]float64{50}, []float64{10}, []float64{50}},
		{[]float64{50, 52}, []float64{10, 10}, []float64{46, 56}}, // each moved as far as the other
		{[]float64{52, 50}, []float64{10, 10}, []float64{56, 46}}, // in the order of their places
		{[]float64{0, 1, 90}, []float64{10, 10, 10}, []float64{5, 15, 90}},
		{[]float64{99, 99}, []float64{10, 20}, []float64{75, 90}},
		{[]float64{20, 80}, []float64{10, 10}, []float64{20, 80}},
	} {
		got, ok := apart(c.at, c.heights, 0, 100)
		if !ok || !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) {
			t.Errorf("%v became %v, want %v", c.at, got, c.want)
		}
	}
	if _, ok := apart([]float64{1, 2}, []float64{60, 60}, 0, 100); ok {
		t.Error("two of 60 fit into 100")
	}
}

// TestApartKeepsApart: whatever the places, blocks do not overlap, lie between the
// ends, and keep their order.
func TestApartKeepsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "n")
		at, heights := make([]float64, n), make([]float64, n)
		for i := range at {
			at[i] = rapid.Float64Range(-50, 250).Draw(t, "at")
			heights[i] = rapid.Float64Range(1, 25).Draw(t, "height")
		}
		got, ok := apart(at, heights, 0, 200)
		if !ok {
			t.Fatal("there is room")
		}
		for i := range got {
			if got[i]-heights[i]/2 < -1e-6 || got[i]+heights[i]/2 > 200+1e-6 {
				t.Fatalf("%v of %v lies beyond the ends", got[i], heights[i])
			}
			for k := range i {
				if math.Abs(got[i]-got[k]) < (heights[i]+heights[k])/2-1e-6 {
					t.Fatalf("%v and %v overlap", got[i], got[k])
				}
				if (at[i]-at[k])*(got[i]-got[k]) < 0 {
					t.Fatalf("%v and %v changed places", at[i], at[k])
				}
			}
		}
	})
}

// TestNoteStandsClear: a note stands in the drawing and on no other words, and
// where there is no room the place says it when it is pointed at.
func TestNoteStandsClear(t *testing.T) {
	b := newBoard(false)
	b.Height = 100
	b.note(Point{200, 50}, "hottest month", box{0, 0, 400, 100})
	words := b.Shapes[len(b.Shapes)-1]
	if words.Kind != WordShape || words.Words[0] != "hottest month" {
		t.Fatalf("%+v", words)
	}
	full := newBoard(false)
	full.Height = 100
	full.taken = append(full.taken, box{0, 0, 400, 100})
	full.note(Point{200, 50}, "hottest month", box{0, 0, 400, 100})
	if len(full.Shapes) != 1 || full.Shapes[0].Tip != "hottest month" {
		t.Errorf("%+v", full.Shapes)
	}
}
