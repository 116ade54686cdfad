package trade

import (
	"cmp"
	"math"
	"slices"
)

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
	Sticks int // of stock to buy, short pieces cut from what others leave
	Laps   int
	Feet   float64 // with laps and waste
	Lb     float64
}

// Cut is the stock that lines of bars of one size take. A line longer than the
// stock is lapped: full sticks, and a piece for the rest. Those pieces are cut from
// as few sticks as first-fit by falling length finds.
func (t Takeoff) Cut(linesFt []float64, b Bar) (Bars, error) {
	if err := t.Check(); err != nil {
		return Bars{}, err
	}
	var out Bars
	var rests []float64
	for _, long := range linesFt {
		if err := within("line of bars", "ft", long, 0, huge); err != nil {
			return Bars{}, err
		}
		pieces, laps, feet := t.line(long, b)
		out.Lines++
		out.Pieces += pieces
		out.Laps += laps
		out.Feet += feet
		out.Sticks += pieces - 1
		rests = append(rests, feet-float64(pieces-1)*t.StockFt)
	}
	out.Sticks += fitted(rests, t.StockFt)
	out.Feet *= 1 + t.Waste
	out.Lb = out.Feet * b.LbPerFt
	return out, nil
}

// fitted is how many sticks pieces are cut from, each from the first that still
// has room, the longest first.
func fitted(pieces []float64, stock float64) int {
	slices.SortFunc(pieces, func(a, b float64) int { return cmp.Compare(b, a) })
	var left []float64
	for _, p := range pieces {
		i := slices.IndexFunc(left, func(room float64) bool { return room >= p-1e-9 })
		if i < 0 {
			left = append(left, stock)
			i = len(left) - 1
		}
		left[i] -= p
	}
	return len(left)
}

// Supports and ties of a mat of bars or sheets (common practice, no published
// source): a chair each ChairFt both ways, a tie at every TieEvery-th crossing and
// two at each lap.
const (
	ChairFt  = 4.0
	TieEvery = 2
)

// Chairs hold up the steel of areaFt2.
func Chairs(areaFt2 float64) int { return int(math.Ceil(areaFt2/(ChairFt*ChairFt) - 1e-9)) }

// Ties bind bars that cross and lap so often.
func Ties(crossings, laps int) int { return (crossings+TieEvery-1)/TieEvery + 2*laps }

// RollFt is the length of a roll of mesh, as wide as a sheet (common practice, no
// published source).
const RollFt = 150.0

// Rolls are the rolls of mesh that areaFt2 takes, lapped as sheets are.
func (t Takeoff) Rolls(areaFt2 float64) (int, error) {
	t.SheetLengthFt = RollFt
	return t.Sheets(areaFt2)
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
