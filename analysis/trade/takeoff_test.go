package trade

import "testing"

// square is the lines of a grid of side ft, both ways, so many inches apart and edge
// inches from the form.
func square(side, spacingIn, edgeIn float64) (lines []float64) {
	long := side - 2*edgeIn/12
	for range 2 * (int(12*long/spacingIn+1e-9) + 1) {
		lines = append(lines, long)
	}
	return lines
}

// By hand: 24 × 24 ft, #4 at 18 in, 3 in from the form. A line is 23.5 ft, one
// lap of 40 × ½ in = 20 in = 1.667 ft over the 20 ft stock: 25.167 ft. Lines:
// 23.5 × 12 / 18 = 15.67, so 16 each way. 32 × 25.167 = 805.33 ft, with 5 %
// 845.6 ft, at 0.668 lb/ft (ASTM A615, from memory) 564.9 lb. Of each line 20 ft is
// a stick and 5.167 ft the rest; three rests come from a stick: 32 + 11 = 43 sticks.
func TestGridByHand(t *testing.T) {
	bar, err := BarSize(4)
	if err != nil {
		t.Fatal(err)
	}
	g, err := DefaultTakeoff().Cut(square(24, 18, 3), bar)
	if err != nil {
		t.Fatal(err)
	}
	if g.Lines != 32 || g.Laps != 32 || g.Pieces != 64 || g.Sticks != 43 || !close(g.Feet, 845.6, 1e-9) || !close(g.Lb, 564.8608, 1e-9) {
		t.Errorf("%+v", g)
	}
}

// By hand: a sheet of 5 × 10 ft lapped 6 in on two sides covers 4.5 × 9.5 =
// 42.75 ft²; 400 ft² with 5 % is 420, so 9.82: 10 sheets.
func TestSheetsByHand(t *testing.T) {
	n, err := DefaultTakeoff().Sheets(400)
	if err != nil || n != 10 {
		t.Errorf("%d sheets, %v: want 10", n, err)
	}
}

// Without laps, edges and waste a large grid weighs what its bars do: lb per
// ft², both ways.
func TestGridIsTheWeightPerFt2InTheLimit(t *testing.T) {
	bar, _ := BarSize(3)
	bare := Takeoff{StockFt: 20, SheetLengthFt: 10, SheetWidthFt: 5}
	g, err := bare.Cut(square(2000, 12, 0), bar)
	if err != nil {
		t.Fatal(err)
	}
	per := 2 * bar.LbPerFt
	if !close(g.Lb/4e6, per, 1e-3) {
		t.Errorf("%v lb/ft², want %v", g.Lb/4e6, per)
	}
}

// By hand: 400 ft² on chairs each 4 ft take 25; 432 crossings, every second tied,
// and 27 laps with two ties each are 216 + 54. A roll of 5 × 150 ft lapped 6 in
// covers 4.5 × 149.5 = 672.75 ft²: 960 ft² with 5 % are 1,008, so 2 rolls.
func TestChairsTiesAndRollsByHand(t *testing.T) {
	if n := Chairs(400); n != 25 {
		t.Errorf("%d chairs", n)
	}
	if n := Ties(432, 27); n != 270 {
		t.Errorf("%d ties", n)
	}
	if n, err := DefaultTakeoff().Rolls(960); err != nil || n != 2 {
		t.Errorf("%d rolls, %v", n, err)
	}
}

func TestTakeoffRefusesWhatCannotBeCut(t *testing.T) {
	bar, _ := BarSize(4)
	if _, err := (Takeoff{}).Cut(square(10, 18, 3), bar); err == nil {
		t.Error("bars of no length: want an error")
	}
	if _, err := DefaultTakeoff().Cut([]float64{-1}, bar); err == nil {
		t.Error("a negative length: want an error")
	}
	if _, err := DefaultTakeoff().Sheets(-1); err == nil {
		t.Error("a negative area: want an error")
	}
}
