package trade

import "math"

// Takeoff is how steel is cut and lapped. The values are common practice, no
// published source, where not said otherwise; they are meant to be set.
type Takeoff struct {
	StockFt       float64 `json:"stock_ft" mapstructure:"stock_ft"`           // bars come this long
	LapDiameters  float64 `json:"lap_diameters" mapstructure:"lap_diameters"` // a lap of bars
	EdgeIn        float64 `json:"edge_in" mapstructure:"edge_in"`             // bars end this far from the form: ACI 318's cover against earth, from memory
	SheetLengthFt float64 `json:"sheet_length_ft" mapstructure:"sheet_length_ft"`
	SheetWidthFt  float64 `json:"sheet_width_ft" mapstructure:"sheet_width_ft"`
	SheetLapIn    float64 `json:"sheet_lap_in" mapstructure:"sheet_lap_in"` // of mesh, one square
	Waste         float64 `json:"waste" mapstructure:"waste"`               // share cut off and lost
}

// DefaultTakeoff: 20 ft bars lapped 40 diameters and kept 3 in from the form,
// sheets of 5 × 10 ft lapped 6 in, 5 % cut off.
func DefaultTakeoff() Takeoff {
	return Takeoff{StockFt: 20, LapDiameters: 40, EdgeIn: 3, SheetLengthFt: 10, SheetWidthFt: 5, SheetLapIn: 6, Waste: 0.05}
}

// Check refuses a takeoff that nothing can be cut by.
func (t Takeoff) Check() error {
	lapFt := t.SheetLapIn / 12
	return firstOf(
		within("stock length", "ft", t.StockFt, 5, 100),
		within("lap", "diameters", t.LapDiameters, 0, 100),
		within("distance from the form", "in", t.EdgeIn, 0, 12),
		within("sheet lap", "in", t.SheetLapIn, 0, 24),
		within("sheet length", "ft", t.SheetLengthFt, lapFt+1, 1000),
		within("sheet width", "ft", t.SheetWidthFt, lapFt+1, 100),
		within("waste", "", t.Waste, 0, 1))
}

// Bars is the steel of a grid.
type Bars struct {
	Lines  int // bars side by side, both ways together
	Pieces int // of stock
	Laps   int
	Feet   float64 // with laps and waste
	Lb     float64
}

// Grid is the bars of one size, spacingIn apart both ways, of a rectangle. A
// line longer than the stock is lapped.
func (t Takeoff) Grid(lengthFt, widthFt float64, b Bar, spacingIn float64) (Bars, error) {
	err := firstOf(t.Check(),
		within("length", "ft", lengthFt, tiny, huge), within("width", "ft", widthFt, tiny, huge),
		within("bar spacing", "in", spacingIn, 1, 240))
	if err != nil {
		return Bars{}, err
	}
	var out Bars
	for _, way := range [][2]float64{{lengthFt, widthFt}, {widthFt, lengthFt}} {
		long, across := max(0, way[0]-2*t.EdgeIn/12), max(0, way[1]-2*t.EdgeIn/12)
		lines := int(math.Floor(12*across/spacingIn+1e-9)) + 1
		pieces, laps, feet := t.line(long, b)
		out.Lines += lines
		out.Pieces += lines * pieces
		out.Laps += lines * laps
		out.Feet += float64(lines) * feet
	}
	out.Feet *= 1 + t.Waste
	out.Lb = out.Feet * b.LbPerFt
	return out, nil
}

// line is one line of bars: its pieces, its laps and its feet with them.
func (t Takeoff) line(longFt float64, b Bar) (pieces, laps int, feet float64) {
	lap := min(t.LapDiameters*b.DiameterIn/12, t.StockFt/2)
	laps = max(0, int(math.Ceil((longFt-t.StockFt)/(t.StockFt-lap)-1e-9)))
	return laps + 1, laps, longFt + float64(laps)*lap
}

// Sheets is the sheets of mesh that areaFt2 takes, lapped on two sides each.
func (t Takeoff) Sheets(areaFt2 float64) (int, error) {
	if err := firstOf(t.Check(), within("area", "ft²", areaFt2, 0, huge)); err != nil {
		return 0, err
	}
	lap := t.SheetLapIn / 12
	return int(math.Ceil(areaFt2*(1+t.Waste)/((t.SheetLengthFt-lap)*(t.SheetWidthFt-lap)) - 1e-9)), nil
}
