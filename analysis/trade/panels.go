package trade

import (
	"fmt"
	"math"
	"slices"
)

// Rect is a rectangle in ft by its lower left corner.
type Rect struct{ X, Y, W, H float64 }

// Cut is a straight joint in ft.
type Cut struct{ X1, Y1, X2, Y2 float64 }

// Length is the joint's, in ft.
func (c Cut) Length() float64 { return math.Hypot(c.X2-c.X1, c.Y2-c.Y1) }

// Layout is where the joints of a slab go.
type Layout struct {
	Outline []Rect // the slab's rectangles
	Panels  []Rect
	Cuts    []Cut // joints to make
	Through bool  // each joint of an L runs on from edge to edge
}

// NarrowFt is the width under which a slab is a strip, such as a curb: its
// panels are as long as the spacing lets them be, for square ones would be
// crumbs (common practice, no published source).
const NarrowFt = 3

// Panels cuts a slab of lengthFt × widthFt into equal panels with no side above
// spacingFt, which is never above [SpacingCapFt]. Of the ways to do so it takes
// one with panels no longer than [AspectLimit] times their width where that
// takes at most twice the panels of the loosest way within [AspectLimitLoose],
// and of those the fewest, then the squarest panels. Slabs under [NarrowFt]
// wide keep the spacing alone.
func Panels(lengthFt, widthFt, spacingFt float64) (Layout, error) {
	if err := checkSlab(lengthFt, widthFt, spacingFt); err != nil {
		return Layout{}, err
	}
	slab := Rect{W: lengthFt, H: widthFt}
	columns, rows := slab.divided(spacingFt)
	return Layout{Outline: []Rect{slab}, Panels: slab.panels(columns, rows), Cuts: slab.cuts(columns, rows)}, nil
}

// PanelsOfL does the same for an L, lengthFt × widthFt less the upper right
// corner of notchLengthFt × notchWidthFt. Joints run from the inside corner,
// where an L cracks first (common practice): both ways, in one grid whose
// joints all run through, where its panels keep [AspectLimitLoose] and it takes
// at most half as many panels again. Else one joint leaves two rectangles: of
// the two ways to run it, the one with fewer panels beyond [AspectLimit], then
// fewer panels.
func PanelsOfL(lengthFt, widthFt, notchLengthFt, notchWidthFt, spacingFt float64) (Layout, error) {
	err := firstOf(checkSlab(lengthFt, widthFt, spacingFt),
		checkNotch("length", notchLengthFt, lengthFt), checkNotch("width", notchWidthFt, widthFt))
	if err != nil {
		return Layout{}, err
	}
	left, low := lengthFt-notchLengthFt, widthFt-notchWidthFt
	across := joined(Rect{W: lengthFt, H: low}, Rect{Y: low, W: left, H: notchWidthFt}, Cut{0, low, left, low}, spacingFt)
	along := joined(Rect{W: left, H: widthFt}, Rect{X: left, W: notchLengthFt, H: low}, Cut{left, 0, left, low}, spacingFt)
	best := across
	if along.beats(across) {
		best = along
	}
	if min(left, notchLengthFt, low, notchWidthFt) >= NarrowFt { // else a grid would make strips
		if grid, ok := through(left, notchLengthFt, low, notchWidthFt, spacingFt); ok && 2*len(grid.Panels) <= 3*len(best.Panels) {
			return grid, nil
		}
	}
	return best, nil
}

func checkSlab(lengthFt, widthFt, spacingFt float64) error {
	const longestFt = 5000 // beyond it it is no slab, and has panels beyond counting
	return firstOf(
		within("length", "ft", lengthFt, tiny, longestFt),
		within("width", "ft", widthFt, tiny, longestFt),
		within("joint spacing", "ft", spacingFt, 1, SpacingCapFt))
}

func checkNotch(side string, notch, whole float64) error {
	if notch > 0 && notch < whole {
		return nil
	}
	return fmt.Errorf("notch's %s is %v ft, want more than 0 and less than the slab's %v: %w", side, notch, whole, ErrRange)
}

// division is a number of columns and rows with the ratio of its panels' sides.
type division struct {
	columns, rows int
	ratio         float64
}

func (d division) count() int { return d.columns * d.rows }

// divided is the division that [Panels] takes.
func (r Rect) divided(spacing float64) (columns, rows int) {
	if r.W < r.H {
		rows, columns = Rect{W: r.H, H: r.W}.divided(spacing)
		return columns, rows
	}
	if r.H < NarrowFt {
		return atLeast(r.W, spacing), 1
	}
	ways := r.divisions(spacing)
	fewest := math.MaxInt
	for _, d := range ways {
		if d.ratio <= AspectLimitLoose {
			fewest = min(fewest, d.count())
		}
	}
	best := slices.MinFunc(ways, func(a, b division) int {
		for _, limit := range []float64{AspectLimitLoose, AspectLimit} {
			okA, okB := a.ratio <= limit && a.count() <= 2*fewest, b.ratio <= limit && b.count() <= 2*fewest
			if okA != okB {
				if okA {
					return -1
				}
				return 1
			}
		}
		if a.count() != b.count() {
			return a.count() - b.count()
		}
		if a.ratio < b.ratio {
			return -1
		}
		return 1
	})
	return best.columns, best.rows
}

// divisions are the ways worth a look, the rectangle being no wider than long:
// for each number of rows the fewest columns with panels no longer than so many
// times their width.
func (r Rect) divisions(spacing float64) []division {
	var ways []division
	least, first := atLeast(r.W, spacing), atLeast(r.H, spacing)
	for rows := first; rows <= 2*first+2; rows++ {
		width := r.H / float64(rows)
		for _, longer := range []float64{1, AspectLimit, AspectLimitLoose} {
			columns := max(least, atLeast(r.W, longer*width))
			length := r.W / float64(columns)
			ways = append(ways, division{columns, rows, max(length, width) / min(length, width)})
		}
	}
	return ways
}

// atLeast is the fewest equal parts of a length that are no longer than most.
func atLeast(length, most float64) int { return max(1, int(math.Ceil(length/most-1e-9))) }

func (r Rect) panels(columns, rows int) []Rect {
	w, h := r.W/float64(columns), r.H/float64(rows)
	out := make([]Rect, 0, columns*rows)
	for j := range rows {
		for i := range columns {
			out = append(out, Rect{r.X + float64(i)*w, r.Y + float64(j)*h, w, h})
		}
	}
	return out
}

func (r Rect) cuts(columns, rows int) []Cut {
	var out []Cut
	for i := 1; i < columns; i++ {
		x := r.X + r.W*float64(i)/float64(columns)
		out = append(out, Cut{x, r.Y, x, r.Y + r.H})
	}
	for j := 1; j < rows; j++ {
		y := r.Y + r.H*float64(j)/float64(rows)
		out = append(out, Cut{r.X, y, r.X + r.W, y})
	}
	return out
}

func joined(a, b Rect, between Cut, spacing float64) Layout {
	l := Layout{Outline: []Rect{a, b}, Cuts: []Cut{between}}
	for _, r := range l.Outline {
		columns, rows := r.divided(spacing)
		l.Panels = append(l.Panels, r.panels(columns, rows)...)
		l.Cuts = append(l.Cuts, r.cuts(columns, rows)...)
	}
	return l
}

func (l Layout) beats(m Layout) bool {
	if a, b := l.beyond(AspectLimit), m.beyond(AspectLimit); a != b {
		return a < b
	}
	return len(l.Panels) < len(m.Panels)
}

// beyond counts the panels longer than so many times their width.
func (l Layout) beyond(limit float64) int {
	n := 0
	for _, p := range l.Panels {
		if max(p.W, p.H)/min(p.W, p.H) > limit+1e-9 {
			n++
		}
	}
	return n
}

// CutFt is the length of all joints together, in ft.
func (l Layout) CutFt() float64 {
	sum := 0.0
	for _, c := range l.Cuts {
		sum += c.Length()
	}
	return sum
}

// LongestFt is the longest side of any panel, in ft.
func (l Layout) LongestFt() float64 {
	longest := 0.0
	for _, p := range l.Panels {
		longest = max(longest, p.W, p.H)
	}
	return longest
}

// Ratio is the longer side over the shorter of the panel for which it is most.
func (l Layout) Ratio() float64 {
	most := 0.0
	for _, p := range l.Panels {
		most = max(most, max(p.W, p.H)/min(p.W, p.H))
	}
	return most
}
