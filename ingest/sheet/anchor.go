package sheet

import (
	"math"
	"slices"

	"pourback/ingest/record"
)

// slab is how big the slabs of a log are, as far as numbers alone tell: columns
// of area, or of both sides, and of depth, that the concrete fills.
type slab struct {
	area, width, depth int // columns; width -1 where area is one, depth -1 where sizes bear it
	yards              []int
	fits               fit2
}

// fit2 is how well volumes fit slabs: the share of rows in which the concrete is
// about area × depth, and how far the ratio spreads (quartiles of its logarithm).
type fit2 struct {
	share, spread float64
	rows          int
}

// firm says whether so good a fit can hardly be by chance.
func (f fit2) firm() bool { return f.rows >= 8 && f.share >= 0.85 && f.spread < 0.11 }

func (f fit2) points() float64 { return f.share - 2*f.spread }

// side is one candidate for a measure of the slabs: its columns and values by
// row, in the record's unit.
type side struct {
	at, with int
	values   []float64
	depth    []float64 // that cells of sizes bear; nil where none does
}

// numbersIn are the columns of bare numbers whose usual value lies between two
// bounds in the unit given.
func (t *thinking) numbersIn(u *record.Unit, low, high float64) []side {
	var found []side
	for i, c := range t.cols {
		if c.share(c.numbers+c.edges) < 0.7 || c.numbers < 8 || c.money > 0 || c.share(c.dates+c.clocks) > 0.2 {
			continue
		}
		m := c.measureOf(u)
		if v := m.bare(median(c.known())); !(v >= low && v <= high) {
			continue
		}
		values := make([]float64, len(c.values))
		for row, v := range c.values {
			values[row] = m.bare(v)
		}
		found = append(found, side{i, -1, values, nil})
	}
	return found
}

// sized are the columns of sizes in one cell.
func (t *thinking) sized() []side {
	var found []side
	for i, c := range t.cols {
		if c.share(c.sizes+c.solids) < 0.4 || c.share(c.people) > 0.2 {
			continue
		}
		s := side{i, -1, make([]float64, len(c.texts)), nil}
		if c.solids*2 > c.filled {
			s.depth = make([]float64, len(c.texts))
		}
		for row, text := range c.texts {
			s.values[row] = c.values[row]
			size, ok := parseSizeIn(text, t.habit, c.measureOf(record.Foot))
			if ok {
				s.values[row] = size.area.V
			}
			if s.depth != nil {
				if s.depth[row] = math.NaN(); ok && size.depth.OK {
					s.depth[row] = size.depth.V
				}
			}
		}
		found = append(found, s)
	}
	return found
}

// anchor finds the slab that the numbers of a log tell of, whatever their
// headings say.
func (t *thinking) anchor() (slab, bool) {
	depths, yards := t.numbersIn(record.Inch, 2, 14), t.numbersIn(record.CubicYard, 0.8, 80)
	if len(yards) > 8 {
		yards = yards[:8]
	}
	areas := append(t.sized(), t.numbersIn(record.SquareFoot, 40, 6000)...)
	sides := t.numbersIn(record.Foot, 2.5, 120)
	for a := range sides {
		for b := a + 1; b < min(len(sides), a+8); b++ {
			area := make([]float64, len(sides[a].values))
			for row := range area {
				area[row] = sides[a].values[row] * sides[b].values[row]
			}
			areas = append(areas, side{sides[a].at, sides[b].at, area, nil})
		}
	}
	best, found := slab{}, false
	for _, a := range areas {
		if a.depth != nil {
			best, found = better(best, found, a, side{at: -1, with: -1, values: a.depth}, yards)
			continue
		}
		for _, d := range depths {
			if d.at != a.at && d.at != a.with {
				best, found = better(best, found, a, d, yards)
			}
		}
	}
	return best, found
}

// better is the better of the best slab so far and the one of these columns.
func better(best slab, found bool, area, depth side, yards []side) (slab, bool) {
	s := slab{area: area.at, width: area.with, depth: depth.at}
	for _, y := range yards {
		if y.at == area.at || y.at == area.with || y.at == depth.at {
			continue
		}
		f := fitOf(area.values, depth.values, y.values)
		if !f.firm() {
			continue
		}
		s.yards = append(s.yards, y.at)
		if f.points() > s.fits.points() || s.fits.rows == 0 {
			s.fits = f
		}
	}
	if len(s.yards) == 0 || found && s.fits.points() <= best.fits.points()+0.02*float64(len(best.yards)-len(s.yards)) {
		return best, found
	}
	return s, true
}

func fitOf(area, depth, yards []float64) fit2 {
	var logs []float64
	like := 0
	for row := range area {
		q := yards[row] * record.SqftInPerYd / (area[row] * depth[row])
		if math.IsNaN(q) || math.IsInf(q, 0) || q <= 0 {
			continue
		}
		if q > 0.85 && q < 1.6 {
			like++
		}
		logs = append(logs, math.Log(q))
	}
	n := len(logs)
	if n < 8 {
		return fit2{}
	}
	slices.Sort(logs)
	return fit2{float64(like) / float64(n), logs[n*3/4] - logs[n/4], n}
}
