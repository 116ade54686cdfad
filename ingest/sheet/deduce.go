package sheet

import (
	"math"
	"slices"

	"pourback/ingest/record"
)

// deductions are points that the numbers alone bring a column, by what it would
// be: what belongs together in a log of pours shows in how its columns move
// together.
type deductions []map[string]float64

func (d deductions) add(i int, name string, points float64) {
	if d[i] == nil {
		d[i] = map[string]float64{}
	}
	d[i][name] += points
}

// deduce finds what the numbers of a log of placements tell by themselves.
func (t *thinking) deduce(r *ties) {
	r.deduced = make(deductions, len(t.cols))
	if t.table != record.Placements {
		return
	}
	t.deduceSlab(r)
	t.deduceBars(r)
	t.deduceDays(r)
	t.deduceNumber(r)
	t.deduceNames(r)
	t.deduceWork(r)
	t.deduceMoney(r)
}

// deduceSlab takes the anchor of area, depth and concrete.
func (t *thinking) deduceSlab(r *ties) {
	s, ok := t.anchor()
	if !ok {
		return
	}
	const firm = 7
	if s.width >= 0 {
		long, short := s.area, s.width
		r.deduced.add(long, ColumnLength, firm)
		r.deduced.add(short, ColumnWidth, firm)
		r.deduced.add(long, ColumnWidth, firm-1)
		r.deduced.add(short, ColumnLength, firm-1)
		r.sides = map[string]int{ColumnLength: long, ColumnWidth: short}
	} else {
		r.deduced.add(s.area, "area_sqft", firm)
		r.deduced.add(s.area, ColumnSize, firm)
	}
	if s.depth >= 0 {
		r.deduced.add(s.depth, "thickness_in", firm)
	}
	t.measureSlab(r, s)
	poured := slices.DeleteFunc(slices.Clone(s.yards), func(i int) bool {
		if r.drawn(i) < 2 {
			return false
		}
		r.deduced.add(i, "planned_yd", -6) // as drawn to the hundredth: nobody orders so
		r.deduced.add(i, "delivered_yd", -6)
		return true
	})
	for n, i := range poured {
		r.deduced.add(i, "planned_yd", 3)
		r.deduced.add(i, "delivered_yd", 3)
		if len(poured) == 2 { // what was ordered stands before what came
			r.deduced.add(i, []string{"planned_yd", "delivered_yd"}[n], 1)
		}
		if c := t.cols[i]; c.share(c.sums) > 0.1 {
			r.deduced.add(i, "delivered_yd", 4)
			r.deduced.add(i, "planned_yd", -3)
		}
	}
	for i, c := range t.cols {
		if i != s.depth {
			r.deduced.add(i, "thickness_in", -4)
		}
		if slices.Contains(s.yards, i) || i == s.area || i == s.width || i == s.depth || c.numbers < 8 || c.money > 0 {
			continue
		}
		if t.likeLeftover(c) {
			r.deduced.add(i, "leftover_yd", 4)
		}
	}
}

// measureSlab takes area, depth and volume by row from the anchor.
func (t *thinking) measureSlab(r *ties, s slab) {
	size, area, length, width := -1, s.area, -1, -1
	if s.width >= 0 {
		area, length, width = -1, s.area, s.width
	} else if c := t.cols[s.area]; c.share(c.sizes+c.solids) > 0.4 {
		size, area = s.area, -1
	}
	for row := range r.area {
		a, d := t.sizeOf(row, area, s.depth, length, width, size)
		r.area[row], r.depth[row], r.neat[row] = a, d, record.NeatYd(a, d)
	}
	r.yards = s.yards
}

// likeLeftover says whether nearly all numbers are quarters of a yard up to one,
// some of them none and some not.
func (t *thinking) likeLeftover(c *fileColumn) bool {
	like, none, some := 0, 0, 0
	for _, v := range c.known() {
		if v >= 0 && v <= 1.25 && 4*v == math.Trunc(4*v) {
			like++
		}
		if v == 0 {
			none++
		} else if v < 1 {
			some++
		}
	}
	return like*10 >= 9*c.numbers && none >= 2 && some >= 2
}

// deduceDays tells the day of the pour, by which a log is kept in order, from
// other days.
func (t *thinking) deduceDays(r *ties) {
	var days []int
	orderly := map[int]float64{}
	for i, c := range t.cols {
		if c.share(c.dates) < 0.7 || c.filled*10 < 6*(c.cells+c.blank) || c.filled < 8 {
			continue
		}
		days = append(days, i)
		up, n := 0, 0
		last := record.Date(0)
		for _, d := range c.days {
			if d == 0 {
				continue
			}
			if last != 0 {
				if n++; d >= last {
					up++
				}
			}
			last = d
		}
		orderly[i] = float64(up) / float64(max(n, 1))
	}
	if len(days) < 2 {
		return
	}
	best := slices.MaxFunc(days, func(a, b int) int { return int(1000 * (orderly[a] - orderly[b])) })
	for _, i := range days {
		switch {
		case i == best && slices.ContainsFunc(days, func(k int) bool { return k != i && orderly[k] > orderly[i]-0.03 }):
		case i == best && orderly[i] > 0.9:
			r.deduced.add(i, "placed_on", 4)
		default:
			r.deduced.add(i, "placed_on", -4)
		}
	}
}

// noUseName stands for what is of no use.
const noUseName = ""

// deduceNumber tells the job's number from the counter of the rows and from the
// numbers of papers.
func (t *thinking) deduceNumber(r *ties) {
	var like []int
	counts := map[int]bool{}
	for i, c := range t.cols {
		if c.share(c.ids) < 0.85 || c.filled < 8 || c.filled*10 < 8*(c.cells+c.blank) || c.distinct*100 < 80*c.filled || c.broken > 0 || c.money > 0 {
			continue
		}
		if c.ordered*100 < 85*(c.ordered+c.unordered) {
			continue
		}
		like = append(like, i)
		steps, n := 0, 0
		for row := 1; row < len(c.values); row++ {
			if d := c.values[row] - c.values[row-1]; !math.IsNaN(d) {
				if n++; d == 1 {
					steps++
				}
			}
		}
		counts[i] = i != t.bestHeaded("job_no") && n > 5 && steps*100 > 90*n && len(c.known()) > 0 && c.known()[0] <= 2
	}
	if len(like) == 1 {
		r.deduced.add(like[0], "job_no", 4)
		return
	}
	for _, i := range like {
		if counts[i] {
			r.deduced.add(i, noUseName, 8)
			r.deduced.add(i, "job_no", -6)
		} else if len(like) == 2 && counts[like[0]] != counts[like[1]] {
			r.deduced.add(i, "job_no", 3)
		}
	}
}

// deduceNames tells the few who lead crews from the many who are customers.
func (t *thinking) deduceNames(r *ties) {
	var named []int
	for i, c := range t.cols {
		if c.share(c.letters) < 0.85 || c.filled < 12 || c.filled*10 < 8*(c.cells+c.blank) || (&evidence{profile: c.profile}).wordsOfTheTrade() > 0.15 || c.share(c.streets+c.dates+c.inText+c.flags+c.numbers) > 0.1 {
			continue
		}
		if c.length <= 18*c.letters && c.distinct > 1 {
			named = append(named, i)
		}
	}
	for _, i := range named {
		c := t.cols[i]
		switch {
		case c.distinct > 10 && c.distinct*100 > 15*c.filled:
			r.deduced.add(i, "crew", -6)
			r.deduced.add(i, "customer", 2)
		case c.distinct <= 5 && c.distinct*5 <= c.filled:
			r.deduced.add(i, "crew", 2)
			r.deduced.add(i, "customer", -2)
		}
	}
}
