package say

import (
	"strings"
	"testing"

	"pourback/analysis/bid"
	"pourback/analysis/figure"
	"pourback/analysis/shape"
)

// The expected texts are our own style: no published source.
func TestProblemsOfASpecInWords(t *testing.T) {
	us, si := Bid{New("", "", "")}, Bid{New("", "si", "")}
	for _, c := range []struct {
		w    Bid
		p    bid.Problem
		want string
	}{
		{us, bid.Problem{Placement: "B", Field: "thickness_in", Value: "3", What: bid.Thin, Amounts: bid.Amounts{Usual: 4}},
			"placement B, thickness_in 3: thinner than the usual slab on ground; 4 in (common practice: 4 in for walks, patios and drives (ACI 332 and ACI 302.1R, from memory))"},
		{us, bid.Problem{Field: "target_margin", Value: "25", What: bid.Percentage, Amounts: bid.Amounts{Usual: 0.25}}, "target_margin 25: a share above 1; did you mean 0.25?"},
		{us, bid.Problem{Field: "max_aggregate_in", Value: "0.75", What: bid.WillClog, Amounts: bid.Amounts{Is: 2, Most: 2. / 3, Usual: 2.25}},
			"max_aggregate_in 0.75: too large for a hose of 2 in: it will clog; at most 0.67 in, or a hose of 2¼ in (ACI 304: aggregate at most a third of the line's inside diameter, a quarter to be safer)"},
		{si, bid.Problem{Field: "joint_spacing_ft", Value: "14", What: bid.Over36, Amounts: bid.Amounts{Is: 4, Most: 12}},
			"joint_spacing_ft 14: more than 36 times the thickness of 102 mm; at most 3.7 m (CSA A23.1-94 §20.2.1)"},
		{us, bid.Problem{Field: "method", Value: "catapult", What: bid.UnknownWord, Amounts: bid.Amounts{Word: "catapult", Words: []string{"chute", "pump"}}},
			"method catapult: “catapult” is not recognized; one of chute, pump"},
	} {
		if got := c.w.Line(c.p); got != c.want {
			t.Errorf("%s\nwant %s", got, c.want)
		}
	}
}

// TestEveryProblemIsSaid: each kind of problem that a check can find has words
// of its own, and those that a publication draws the line of name it.
func TestEveryProblemIsSaid(t *testing.T) {
	w := Bid{New("", "", "")}
	for what, source := range map[bid.What]string{
		bid.NameTwice: "", bid.NoNumber: "", bid.TooMuch: "", bid.WrongCount: "", bid.NoDay: "", bid.NoTarget: "", bid.NoCertainty: "", bid.Percentage: "", bid.WrongDraws: "",
		bid.TooFar: "ASTM C94", bid.LongHaul: "ASTM C94", bid.NoDayOfJob: "", bid.UnknownWord: "", bid.NoUse: "", bid.PastDay: "", bid.UnknownCrew: "",
		bid.NoArea: "", bid.NoNotch: "", bid.TwoAreas: "", bid.ShortSide: "", bid.LongSide: "", bid.WrongArea: "", bid.TooManyPanels: "", bid.TinyArea: "", bid.OutlineAndSides: "", bid.ManyCorners: "", bid.BadShape: "",
		bid.NoThickness: "", bid.WrongThickness: "", bid.Topping: "ACI 332", bid.Thin: "ACI 332", bid.ThinForWheels: "ACI 332", bid.Massive: "common practice", bid.WeakMix: "ACI 332",
		bid.NoneAndSome: "", bid.TightBars: "common practice", bid.WideBars: "ACI 318", bid.NoBar: "ASTM A615", bid.IdleBar: "", bid.LittleCover: "ACI 318", bid.LittleMeshCover: "ACI 318",
		bid.WideJoints: "NRMCA CIP 6", bid.TinyPanels: "", bid.Over36: "CSA A23.1", bid.OverSlab: "", bid.SmallPanels: "Portland Cement Association", bid.NoJoints: "CSA A23.1",
		bid.IdlePump: "", bid.NoHose: "", bid.WillClog: "ACI 304", bid.MayClog: "ACI 304"} {
		p := w.Problem(bid.Problem{Field: "field", What: what})
		if p.Wrong == "" || p.Wrong == "cannot be used" || p.Right == "" || !strings.Contains(p.Source, source) || source == "" && p.Source != "" {
			t.Errorf("%s is said as %+v", what, p)
		}
	}
}

// TestEveryShapeThatIsWrongIsSaid: each in words of its own that name the piece.
func TestEveryShapeThatIsWrongIsSaid(t *testing.T) {
	w, said := Bid{New("", "", "")}, map[string]bool{}
	for _, what := range []shape.What{shape.FewCorners, shape.NoSide, shape.ArcShort, shape.Crosses, shape.NoArea, shape.HoleOutside, shape.HolesMeet, shape.DepthCount, shape.NoDepth,
		shape.EdgeShallow, shape.EdgeNarrow, shape.EdgeWide, shape.EdgeNoSide, shape.EdgeOfArc, shape.EdgeInHole, shape.NoSteps, shape.NoCurb, shape.ThickerWaist} {
		p := w.Problem(bid.Problem{Field: "outline", What: bid.BadShape, Amounts: bid.Amounts{Shape: shape.Problem{What: what, Side: 2, Other: 4, Corner: 3, Value: 5, Limit: 6}}})
		if p.Wrong == "" || p.Right == "" || said[p.Wrong] || p.Wrong == "not a shape that can be poured" {
			t.Errorf("%s is said as %+v", what, p)
		}
		said[p.Wrong] = true
	}
	got := w.Line(bid.Problem{Placement: "B", Field: "holes", What: bid.BadShape, Amounts: bid.Amounts{Shape: shape.Problem{What: shape.ArcShort, Hole: 2, Side: 3, Value: 4, Limit: 5}}})
	if want := "placement B, holes: hole 2: the arc of side 3 does not meet: a radius of 4 ft does not reach from corner to corner; a radius of 5 ft or more, half the straight distance"; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
}

// TestPiecesAsAPencilHasThem: each piece shows the numbers that make it.
func TestPiecesAsAPencilHasThem(t *testing.T) {
	us, si := Bid{New("", "", "")}, Bid{New("", "si", "")}
	for _, c := range []struct {
		w         Bid
		p         shape.Piece
		name, how string
	}{
		{us, shape.Piece{Kind: shape.OfRectangle, Sizes: []float64{40, 24, 5}}, "slab", "40 ft × 24 ft × 5 in"},
		{us, shape.Piece{Kind: shape.OfRectangle, Sizes: []float64{20, 20, 7}, DepthsIn: []float64{4, 4, 10, 10}}, "slab", "20 ft × 20 ft × 7 in (mean of 4, 4, 10, 10)"},
		{us, shape.Piece{Kind: shape.OfTriangle, Corners: []int{1, 2, 3}, Half: true, Sizes: []float64{12, 9, 5}}, "half of the triangle of corners 1, 2, 3", "½ × 12 ft × 9 ft × 5 in"},
		{us, shape.Piece{Kind: shape.OfCircle, Hole: 1, Sizes: []float64{2, 4}, Ft3: -4}, "less hole 1", "π × 2 ft × 2 ft × 4 in"},
		{us, shape.Piece{Kind: shape.OfBand, Side: 1, Sizes: []float64{15.708, 4, 4}}, "the stretch along side 1", "15.71 ft along the middle × 4 ft × 4 in"},
		{us, shape.Piece{Kind: shape.OfBulge, Side: 2, Sizes: []float64{5, 10, 39.27, 6}, Ft3: -1}, "less the hollow of side 2", "39.27 sq ft between the arc (radius 5 ft) and its 10 ft chord × 6 in"},
		{us, shape.Piece{Kind: shape.OfEdge, Side: 1, Sizes: []float64{19, 12, 8}}, "thickened edge, side 1", "19 ft along its middle × 12 in × 8 in deeper"},
		{us, shape.Piece{Kind: shape.OfTaper, Side: 1, Sizes: []float64{18, 6, 8}}, "taper of the edge, side 1", "½ × 18 ft along its middle × 6 in × 8 in"},
		{us, shape.Piece{Kind: shape.OfWedge, Side: 1, Sizes: []float64{22, 20, 12, 12}}, "taper of the edge, side 1", "(22 ft ÷ 3 + 20 ft ÷ 6) × 12 in × 12 in"},
		{us, shape.Piece{Kind: shape.OfSteps, Count: 4, Sizes: []float64{4, 7, 12}}, "steps, solid", "(1 + … + 4 = 10) × 7 in × 12 in × 4 ft"},
		{us, shape.Piece{Kind: shape.OfWaist, Count: 3, Sizes: []float64{6, 5, 12, 4}}, "steps: the slab along the slope", "3 × √(5 in² + 12 in²) × 4 in × 6 ft"},
		{us, shape.Piece{Kind: shape.OfRisers, Count: 3, Sizes: []float64{6, 5, 12}}, "steps: the treads on it", "3 × ½ × 5 in × 12 in × 6 ft"},
		{us, shape.Piece{Kind: shape.OfCurb, Sizes: []float64{30, 6, 6}}, "curb", "30 ft × 6 in × 6 in"},
		{si, shape.Piece{Kind: shape.OfArea, Sizes: []float64{100, 4}}, "slab", "9.29 m² × 101.6 mm"},
	} {
		p := bid.Piece{Piece: c.p, Kind: c.p.Kind}
		if name, how := c.w.PieceName(p), c.w.PieceHow(p); name != c.name || how != c.how {
			t.Errorf("%s: %s\nwant %s: %s", name, how, c.name, c.how)
		}
	}
}

func TestWhatNumbersStandOn(t *testing.T) {
	us, si := Bid{New("", "", "")}, Bid{New("", "si", "")}
	yards, hours := bid.Basis{From: bid.FromRecords, N: 590, Of: bid.OfVolumes}, bid.Basis{From: bid.FromPractice, N: 3, Of: bid.OfHours, At: 26}
	for _, c := range []struct {
		w    Bid
		b    bid.Basis
		cell string
		want string
	}{
		{us, yards, "From your records (590)", "your records: 590 placements with neat, delivered and leftover yards"},
		{us, hours, "From common practice", "common practice, 26 person-hours for 400 sq ft at 4 in; your records have 3 placements with area, thickness and hours, and it takes 5"},
		{si, hours, "From common practice", "common practice, 26 person-hours for 37 m² at 102 mm; your records have 3 placements with area, thickness and hours, and it takes 5"},
		{us, bid.Basis{From: bid.FromPractice, Of: bid.OfSlabs}, "From common practice", "nothing is published; your records have 0 slabs of this kind, and it takes 5"},
		{us, bid.Basis{From: bid.FromSetting}, "You entered it", "your settings"},
		{us, bid.Basis{From: bid.FromSpec}, "You entered it", "you entered it in this bid"},
		{us, bid.Basis{From: bid.FromDrawing}, "From the dimensions", "from the dimensions"},
		{us, bid.Basis{From: bid.FromRecords, N: 12, Of: bid.OfPlacements, By: bid.ByCutSpacing, At: 15}, "From your records (12)",
			"your usual spacing of 15 ft is more than 36 thicknesses, so it is cut down to that (CSA A23.1-94 §20.2.1)"},
		{us, bid.Basis{From: bid.FromRecords, N: 141, Of: bid.OfJobs, By: bid.ByMedian, Scaled: &bid.Grid{Bar: 4, SpacingIn: 18}}, "From your records (141)",
			"your records: the middle value of 141 jobs; the price is for #4 at 18 in, scaled by weight"},
		{us, bid.Basis{From: bid.FromPractice, Yards: &yards, Hours: &hours}, "From common practice",
			"yards: your records: 590 placements with neat, delivered and leftover yards; hours: common practice, 26 person-hours for 400 sq ft at 4 in; your records have 3 placements with area, thickness and hours, and it takes 5"},
	} {
		if got := c.w.Footing(c.b); got != c.want {
			t.Errorf("%s\nwant %s", got, c.want)
		}
		if got := c.w.From(c.b).Text; got != c.cell {
			t.Errorf("the cell is %q, want %q", got, c.cell)
		}
	}
}

func TestReasonsOfBids(t *testing.T) {
	v := New("", "", "")
	for _, c := range []struct {
		r    figure.Reason
		want string
	}{
		{bid.TooFewSlabs{N: 1, Least: 5}, "1 slab of this kind on record; a risk takes 5"},
		{bid.TooFewPours{N: 3, Least: 5}, "3 pours of that month with their weather on record; it takes 5"},
		{bid.NoBidWith{What: bid.Costs}, "no bid's job has its cost on record yet"},
		{bid.NothingPumped{}, "nothing is pumped"},
		{bid.NoSuchSlab{}, "no slab on record has this reinforcement and such a spacing"},
	} {
		if got := v.Reason(c.r); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestLengthsAsTheyAreLaidOut(t *testing.T) {
	w := Bid{New("", "", "")}
	for ft, want := range map[float64]string{10: "10′", 7.5: "7′ 6″", 9.999: "10′", 8 + 10.0/12: "8′ 10″", 0.25: "0′ 3″"} {
		if got := w.Side(ft); got != want {
			t.Errorf("%v ft is %s, want %s", ft, got, want)
		}
	}
	for in, want := range map[float64]string{1: "1", 4.0 / 3: "1⅜", 0.5: "½", 1.99: "2", 5.125: "5⅛"} {
		if got := eighths(in); got != want {
			t.Errorf("%v in is %s, want %s", in, got, want)
		}
	}
}

// TestOrderOfSeveralDays: each day's order is a sentence of its own.
func TestOrderOfSeveralDays(t *testing.T) {
	w := Bid{New("", "", "")}
	b := bid.Bid{Days: []bid.Day{{Day: 1, Order: bid.Order{Yd: 12}}, {Day: 2, Order: bid.Order{Yd: 9.5}, Hold: bid.Hold{Worth: true, FirstYd: 8, HoldYd: 1.31}}},
		Price: bid.Price{Price: 9645.04, Asked: 9650, Target: 0.25, Certainty: 0.8}}
	b.Labor.Mean.Figure.Value = 64.2
	want := "Day 1: order 12 yd. Day 2: order 8 yd and hold back about 1.3 yd for the last load. Plan 64 hours of labor. Ask $9,650: that keeps 25% or more 80 times in 100."
	if got := w.Answer(&b); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
}

func TestTimesIn100(t *testing.T) {
	v := New("", "", "")
	for p, want := range map[float64]string{0.004: "less than once in 100", 0.01: "once in 100", 0.15: "15 times in 100", 0.999: "more than 99 times in 100"} {
		if got := v.TimesIn100(p); got != want {
			t.Errorf("%v is %q, want %q", p, got, want)
		}
	}
}

// A kind that is not on record names those it borrows from.
func TestANewKindSaysWhatItBorrowsFrom(t *testing.T) {
	w := Bid{New("", "", "")}
	for want, n := range map[string]bid.Note{
		"No pool deck is on record yet. It borrows from patio, most like it in thickness, method and size, and its ranges are wider for it.":              {Kind: bid.NoteNewKind, Name: "pool deck", Like: "patio"},
		"No pool deck is on record yet. It borrows from patio and driveway, most like it in thickness, method and size, and its ranges are wider for it.": {Kind: bid.NoteNewKind, Name: "pool deck", Like: "patio", AndLike: "driveway"},
	} {
		if got := w.note(n); got != want {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
}
