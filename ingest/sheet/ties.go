package sheet

import (
	"math"

	"pourback/ingest/record"
)

// ties are what columns say about each other: concrete is about area ×
// depth, a price is more than a cost, a deposit a third of it, profit their
// difference. They are reckoned once a first reading has found the area, the
// depth and the money, and add points to the second.
type ties struct {
	cols  []*fileColumn
	neat  []float64      // yd³ by row, NaN where unknown
	area  []float64      // ft² by row
	depth []float64      // in by row
	sides map[string]int // the best headed column of lengths, and of widths
	crew  []float64      // people by row, nil where unknown
	yards []int          // columns read as concrete ordered or delivered
	money []int          // columns of money that are filled throughout

	deduced deductions
}

func (t *thinking) relate(picks []int) *ties {
	r := &ties{cols: t.cols}
	t.measureRows(r, picks)
	r.sides = map[string]int{ColumnLength: t.bestHeaded(ColumnLength), ColumnWidth: t.bestHeaded(ColumnWidth)}
	for i, c := range t.cols {
		_, other := (&evidence{profile: c.profile}).unitShare(nil)
		v := c.known()
		usual := c.share(c.numbers+c.changed) > 0.8 && len(v) > 0 && median(v) > 150 && other < 0.3 && c.share(c.dates) < 0.1
		if h := t.hypothesisAt(picks[i]); usual && c.filled*10 > 7*(c.cells+c.blank) && (h == nil || !t.measured(h)) {
			r.money = append(r.money, i)
		}
		switch h := t.hypothesisAt(picks[i]); {
		case h == nil:
		case h.name == "planned_yd" || h.name == "delivered_yd":
			r.yards = append(r.yards, i)
		case h.name == "crew_size":
			r.crew = c.values
		}
	}
	r.otherSide(t)
	t.deduce(r)
	return r
}

// measured says whether a hypothesis is of something that is no money.
func (t *thinking) measured(h *hypothesis) bool {
	c := t.table.Column(h.name)
	return c == nil || c.Kind != record.KindMoney
}

// measureRows finds area, depth and volume by row, from what a first reading
// took for them.
func (t *thinking) measureRows(r *ties, picks []int) {
	var area, depth, length, width, size int = -1, -1, -1, -1, -1
	for i := range t.cols {
		h := t.hypothesisAt(picks[i])
		if h == nil {
			continue
		}
		if at := map[string]*int{"area_sqft": &area, "thickness_in": &depth, ColumnLength: &length, ColumnWidth: &width, ColumnSize: &size}[h.name]; at != nil {
			*at = i
		}
	}
	rows := len(t.cols[0].texts)
	r.area, r.depth, r.neat = make([]float64, rows), make([]float64, rows), make([]float64, rows)
	for row := range rows {
		a, d := t.sizeOf(row, area, depth, length, width, size)
		r.area[row], r.depth[row], r.neat[row] = a, d, record.NeatYd(a, d)
	}
}

func (t *thinking) sizeOf(row, area, depth, length, width, size int) (a, d float64) {
	a, d = math.NaN(), math.NaN()
	if length >= 0 && width >= 0 {
		a = t.inUnit(length, row, record.Foot) * t.inUnit(width, row, record.Foot)
	}
	for _, i := range []int{size, area} {
		if i < 0 {
			continue
		}
		if s, ok := parseSizeIn(t.cols[i].texts[row], t.habit, t.cols[i].measureOf(record.Foot)); ok {
			a = s.area.V
			if s.depth.OK {
				d = s.depth.V
			}
		}
	}
	if area >= 0 && math.IsNaN(a) {
		a = t.inUnit(area, row, record.SquareFoot)
	}
	if depth >= 0 {
		d = t.inUnit(depth, row, record.Inch)
	}
	return a, d
}

// inUnit is the number of a column at a row in the unit given.
func (t *thinking) inUnit(i, row int, u *record.Unit) float64 {
	return t.cols[i].measureOf(u).bare(t.cols[i].values[row])
}

// points are what the relations add to a hypothesis about a column.
func (r *ties) points(i int, h *hypothesis) float64 {
	return r.deduced[i][h.name] + r.related(i, h)
}

func (r *ties) related(i int, h *hypothesis) float64 {
	switch h.name {
	case "placed_on":
		return r.onlyDays(i)
	case "neat_yd":
		return r.drawn(i)
	case "planned_yd", "delivered_yd", "yards":
		return r.likeNeat(i) + r.order(i, h.name)
	case "area_sqft", "thickness_in":
		return r.fills(i, h.name)
	case ColumnLength, ColumnWidth:
		return r.paired(i, h.name)
	case "labor_hours":
		return r.shared(i)
	case "contract_price":
		return r.overOthers(i)
	case "bid_cost":
		return r.underOthers(i) + roundness(r.cols[i].profile, true)
	case "actual_cost":
		return r.underOthers(i) + roundness(r.cols[i].profile, false)
	}
	return 0
}

// onlyDays is for the one column of full dates of a sheet: whatever it is
// called, it is the day of the pour.
func (r *ties) onlyDays(i int) float64 {
	for k, c := range r.cols {
		dated := c.share(c.dates) > 0.8 && c.filled*10 > 8*(c.cells+c.blank)
		if dated != (k == i) {
			return 0
		}
	}
	return 5
}

// drawn is for the volume on the drawing: area × depth itself, not rounded to
// what a plant delivers.
func (r *ties) drawn(i int) float64 {
	m := r.cols[i].measureOf(record.CubicYard)
	same, both := 0, 0
	for row, v := range r.cols[i].values {
		if q := m.bare(v) / r.neat[row]; !math.IsNaN(q) {
			both++
			if math.Abs(q-1) < 0.03 {
				same++
			}
		}
	}
	points := 0.0
	if both >= 5 {
		points = 8 * (float64(same)/float64(both) - 0.6)
	}
	if p := r.cols[i].profile; p.numbers >= 8 && p.quarters*10 > 9*p.numbers {
		points -= 5
	}
	return points
}

// likeNeat says how many rows hold about as much as the slab takes.
func (r *ties) likeNeat(i int) float64 {
	like, both := r.nearNeat(i)
	if both < 5 {
		return 0
	}
	return 8 * (float64(like)/float64(both) - 0.6)
}

// fills says how many rows a column would make agree with the concrete that they
// took, if it were the area or the depth.
func (r *ties) fills(i int, name string) float64 {
	m, other := r.cols[i].measureOf(record.SquareFoot), r.depth
	if name == "thickness_in" {
		m, other = r.cols[i].measureOf(record.Inch), r.area
	}
	own := make([]float64, len(other))
	for row := range own {
		own[row] = m.bare(r.cols[i].values[row])
	}
	return r.agrees(own, other)
}

// agrees says how many rows took about as much concrete as area × depth.
func (r *ties) agrees(a, b []float64) float64 {
	best := 0.0
	for _, k := range r.yards {
		yd := r.cols[k].measureOf(record.CubicYard)
		like, both := 0, 0
		for row := range a {
			if q := yd.bare(r.cols[k].values[row]) * record.SqftInPerYd / (a[row] * b[row]); !math.IsNaN(q) && !math.IsInf(q, 0) {
				both++
				if q > 0.85 && q < 1.7 {
					like++
				}
			}
		}
		if both >= 5 {
			best = math.Max(best, 8*(float64(like)/float64(both)-0.6))
		}
	}
	return best
}

// bestHeaded is the column whose heading alone says most surely that it is so,
// or -1.
func (t *thinking) bestHeaded(name string) int {
	best, at := 3.0, -1
	for k := range t.hyps {
		if t.hyps[k].name != name {
			continue
		}
		for i := range t.cols {
			if t.heads[i][k] > best {
				best, at = t.heads[i][k], i
			}
		}
	}
	return at
}

// otherSide looks for the side of a rectangle that bears a heading nobody knows,
// where the other is known: the two make the area that the concrete tells of.
func (r *ties) otherSide(t *thinking) {
	for known, missing := range map[string]string{ColumnLength: ColumnWidth, ColumnWidth: ColumnLength} {
		if r.sides[known] < 0 || r.sides[missing] >= 0 {
			continue
		}
		best, at := 0.5, -1
		for i, c := range r.cols {
			if i == r.sides[known] || c.share(c.numbers) < 0.8 || t.claimed(i) {
				continue
			}
			if points := r.paired(i, missing); points > best {
				best, at = points, i
			}
		}
		r.sides[missing] = at
	}
}

// claimed says whether a heading says by itself what its column is.
func (t *thinking) claimed(i int) bool {
	for _, head := range t.heads[i] {
		if head >= 4 {
			return true
		}
	}
	return false
}

// paired is for one side of a rectangle: without the other it is nothing, and
// with it they make the area.
func (r *ties) paired(i int, name string) float64 {
	other := r.sides[map[string]string{ColumnLength: ColumnWidth, ColumnWidth: ColumnLength}[name]]
	if other < 0 || other == i {
		return -20
	}
	a, b := r.cols[i].measureOf(record.Foot), r.cols[other].measureOf(record.Foot)
	area := make([]float64, len(r.depth))
	for row := range area {
		area[row] = a.bare(r.cols[i].values[row]) * b.bare(r.cols[other].values[row])
	}
	return r.agrees(area, r.depth)
}

// shared says how many rows hold a whole number of hours for each of the crew.
func (r *ties) shared(i int) float64 {
	if r.crew == nil {
		return 0
	}
	whole, both := 0, 0
	for row, v := range r.cols[i].values {
		if q := v / r.crew[row]; !math.IsNaN(q) && !math.IsInf(q, 0) && q >= 1.5 && q < 40 {
			both++
			if math.Abs(2*q-math.Round(2*q)) < 0.02 {
				whole++
			}
		}
	}
	if both < 8 {
		return 0
	}
	return math.Max(0, 5*(float64(whole)/float64(both)-0.5))
}

func (r *ties) nearNeat(i int) (like, both int) {
	m := r.cols[i].measureOf(record.CubicYard)
	for row, v := range r.cols[i].values {
		if q := m.bare(v) / r.neat[row]; !math.IsNaN(q) {
			both++
			if q > 0.85 && q < 1.7 {
				like++
			}
		}
	}
	return like, both
}

// order tells what was ordered from what came: more comes than was ordered.
func (r *ties) order(i int, name string) float64 {
	points := 0.0
	for k := range r.cols {
		if k == i {
			continue
		}
		if like, both := r.nearNeat(k); both < 5 || like*10 < both*8 {
			continue
		}
		more, less := 0, 0
		for row, v := range r.cols[i].values {
			switch w := r.cols[k].values[row]; {
			case v > w && v < 2*w:
				more++
			case v < w && w < 2*v:
				less++
			}
		}
		if n := more + less; n >= 3 {
			points += 2.5 * float64(more-less) / float64(n)
		}
	}
	points = math.Max(-2.5, math.Min(2.5, points))
	if name == "delivered_yd" {
		return points
	}
	return -points
}

// metricUnits are the units of a log that writes metric numbers and no units.
var metricUnits = map[*record.Unit]string{record.Foot: "m", record.SquareFoot: "m2", record.Inch: "cm", record.CubicYard: "m3", record.Fahrenheit: "c"}

// soundsMetric says whether the slabs of a log that names no units are filled by
// its concrete in metres and centimetres, and not in feet, inches and yards.
func (t *thinking) soundsMetric() bool {
	for _, u := range []*record.Unit{record.Foot, record.SquareFoot, record.Inch, record.CubicYard} {
		for i, c := range t.cols {
			if h := t.hypothesisAt(t.picks[i]); h != nil && h.unit == u && h.name != "joint_spacing_ft" && c.named(u) {
				return false
			}
		}
	}
	fits := func(metric map[*record.Unit]string) float64 {
		for _, c := range t.cols {
			c.metric = metric
		}
		return t.filled()
	}
	customary, metric := fits(nil), fits(metricUnits)
	for _, c := range t.cols {
		c.metric = nil
	}
	return metric > 0.75 && customary < 0.25
}

// named says whether a heading, or a good part of the cells, bears a unit.
func (c *fileColumn) named(u *record.Unit) bool {
	own, _ := (&evidence{profile: c.profile}).unitShare(u)
	return headingUnit(c.heading, u) != "" || own > 0.1
}

// filled is the share of rows whose concrete is about area × depth, for the
// column of concrete of which that is most true.
func (t *thinking) filled() float64 {
	r := &ties{cols: t.cols}
	t.measureRows(r, t.picks)
	most := 0.0
	for i := range t.cols {
		if h := t.hypothesisAt(t.picks[i]); h == nil || h.unit != record.CubicYard {
			continue
		}
		if like, both := r.nearNeat(i); both >= 5 {
			most = math.Max(most, float64(like)/float64(both))
		}
	}
	return most
}
