package trade

import (
	"math"
	"slices"
)

// NarrowFt is the width under which a slab is a strip, such as a curb: its
// panels are as long as the spacing lets them be, for square ones would be
// crumbs (common practice, no published source).
const NarrowFt = 3

// Division cuts a slab of lengthFt × widthFt into equal panels, so many columns
// along the length and rows along the width, with no side above spacingFt, which is
// never above [SpacingCapFt]. Of the ways to do so it takes one with panels no
// longer than [AspectLimit] times their width where that takes at most twice the
// panels of the loosest way within [AspectLimitLoose], and of those the fewest, then
// the squarest panels. Slabs under [NarrowFt] wide keep the spacing alone.
func Division(lengthFt, widthFt, spacingFt float64) (columns, rows int, err error) {
	if err := checkSlab(lengthFt, widthFt, spacingFt); err != nil {
		return 0, 0, err
	}
	columns, rows = rect{lengthFt, widthFt}.divided(spacingFt)
	return columns, rows, nil
}

// rect is a rectangle of so many ft.
type rect struct{ W, H float64 }

func checkSlab(lengthFt, widthFt, spacingFt float64) error {
	const longestFt = 5000 // beyond it it is no slab, and has panels beyond counting
	return firstOf(
		within("length", "ft", lengthFt, tiny, longestFt),
		within("width", "ft", widthFt, tiny, longestFt),
		within("joint spacing", "ft", spacingFt, 1, SpacingCapFt))
}

// division is a number of columns and rows with the ratio of its panels' sides.
type division struct {
	columns, rows int
	ratio         float64
}

func (d division) count() int { return d.columns * d.rows }

// divided is the division that [Division] takes.
func (r rect) divided(spacing float64) (columns, rows int) {
	if r.W < r.H {
		rows, columns = rect{r.H, r.W}.divided(spacing)
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
func (r rect) divisions(spacing float64) []division {
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
