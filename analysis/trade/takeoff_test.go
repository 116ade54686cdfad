package trade

import "testing"

// By hand: 24 × 24 ft, #4 at 18 in, 3 in from the form. A line is 23.5 ft, one
// lap of 40 × ½ in = 20 in = 1.667 ft over the 20 ft stock: 25.167 ft. Lines:
// 23.5 × 12 / 18 = 15.67, so 16 each way. 32 × 25.167 = 805.33 ft, with 5 %
// 845.6 ft, at 0.668 lb/ft (ASTM A615, from memory) 564.9 lb.
func TestGridByHand(t *testing.T) {
	bar, err := BarSize(4)
	if err != nil {
		t.Fatal(err)
	}
	g, err := DefaultTakeoff().Grid(24, 24, bar, 18)
	if err != nil {
		t.Fatal(err)
	}
	if g.Lines != 32 || g.Laps != 32 || g.Pieces != 64 || !close(g.Feet, 845.6, 1e-9) || !close(g.Lb, 564.8608, 1e-9) {
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
	g, err := bare.Grid(2000, 2000, bar, 12)
	if err != nil {
		t.Fatal(err)
	}
	per := 2 * bar.LbPerFt
	if !close(g.Lb/4e6, per, 1e-3) {
		t.Errorf("%v lb/ft², want %v", g.Lb/4e6, per)
	}
}

func TestTakeoffRefusesWhatCannotBeCut(t *testing.T) {
	bar, _ := BarSize(4)
	if _, err := (Takeoff{}).Grid(10, 10, bar, 18); err == nil {
		t.Error("bars of no length: want an error")
	}
	if _, err := DefaultTakeoff().Grid(-1, 10, bar, 18); err == nil {
		t.Error("a negative length: want an error")
	}
	if _, err := DefaultTakeoff().Sheets(-1); err == nil {
		t.Error("a negative area: want an error")
	}
}
