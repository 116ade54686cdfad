package sheet

import (
	"math"
	"slices"

	"pourback/ingest/record"
)

// deduceWork tells people, their hours and the weather by how they go with the
// size of the slabs and the season.
func (t *thinking) deduceWork(r *ties) {
	days := t.pourDays(r)
	var hours, heads []int
	for i, c := range t.cols {
		if c.numbers+c.people+c.sizes+c.pairs < 10 || c.money > 0 || slices.Contains(r.yards, i) || c.share(c.dates+c.clocks) > 0.3 {
			continue
		}
		v := c.known()
		if len(v) < 10 {
			continue
		}
		switch mid := median(v); {
		case days != nil && mid >= 35 && mid <= 105 && v[len(v)/20] >= 10 && c.share(c.numbers+c.pairs) > 0.8 && seasonal(c.values, days) > 0.6:
			r.deduced.add(i, "air_temp_f", 6)
		case mid >= 6 && mid <= 150 && t.halves(c) && together(c.values, r.neat) > 0.6:
			hours = append(hours, i)
		case mid >= 2 && mid <= 8 && v[len(v)-1] <= 15 && c.whole*100 >= 97*c.numbers && together(c.values, r.neat) > 0.35:
			heads = append(heads, i)
		}
	}
	for _, i := range hours {
		for _, k := range heads {
			if t.shiftsOf(i, k) {
				r.deduced.add(i, "labor_hours", 4)
				r.deduced.add(k, "crew_size", 4)
			}
		}
		r.deduced.add(i, "labor_hours", 2)
		if len(hours) == 1 {
			r.deduced.add(i, "labor_hours", 1)
		}
	}
}

// pourDays are the days of the best ordered column of dates.
func (t *thinking) pourDays(r *ties) []record.Date {
	best, most := -1, 0.0
	for i, c := range t.cols {
		if points := c.share(c.dates) + r.deduced[i]["placed_on"]; c.filled >= 10 && c.share(c.dates) > 0.7 && points > most {
			best, most = i, points
		}
	}
	if best < 0 {
		return nil
	}
	return t.cols[best].days
}

// halves says whether nearly all numbers are halves, as counted hours are.
func (t *thinking) halves(c *fileColumn) bool {
	n := 0
	for _, v := range c.known() {
		if 2*v == math.Trunc(2*v) {
			n++
		}
	}
	return n*100 >= 95*len(c.known())
}

// shiftsOf says whether hours are a day's work or two for so many people.
func (t *thinking) shiftsOf(hours, heads int) bool {
	like, both := 0, 0
	for row, v := range t.cols[hours].values {
		if q := v / t.cols[heads].values[row]; !math.IsNaN(q) && !math.IsInf(q, 0) {
			both++
			if q >= 1.5 && q <= 20 {
				like++
			}
		}
	}
	return both >= 8 && like*100 >= 95*both
}

// together is the rank-free correlation of two columns on the scale of ratios.
func together(a, b []float64) float64 {
	var x, y []float64
	for row := range a {
		if a[row] > 0 && b[row] > 0 {
			x, y = append(x, math.Log(a[row])), append(y, math.Log(b[row]))
		}
	}
	return correlation(x, y)
}

// seasonal is the correlation of values with the season of their days: warm in
// July, cold in January.
func seasonal(values []float64, days []record.Date) float64 {
	var x, y []float64
	for row, v := range values {
		if days[row] == 0 || math.IsNaN(v) || v < -20 || v > 130 {
			continue
		}
		x, y = append(x, v), append(y, math.Cos(2*math.Pi*float64(days[row].Time().YearDay()-201)/365.25))
	}
	return correlation(x, y)
}

// correlation is Pearson's; 0 for fewer than ten pairs.
func correlation(x, y []float64) float64 {
	n := float64(len(x))
	if n < 10 {
		return 0
	}
	var mx, my, xx, yy, xy float64
	for i := range x {
		mx, my = mx+x[i]/n, my+y[i]/n
	}
	for i := range x {
		xx, yy, xy = xx+(x[i]-mx)*(x[i]-mx), yy+(y[i]-my)*(y[i]-my), xy+(x[i]-mx)*(y[i]-my)
	}
	if xx == 0 || yy == 0 {
		return 0
	}
	return xy / math.Sqrt(xx*yy)
}

// deduceMoney tells the price from the costs: it goes with them and is more, and
// what was bid as cost is near to what was spent.
func (t *thinking) deduceMoney(r *ties) {
	near := func(a, b int, low, high float64) bool {
		like, both := 0, 0
		for row, v := range t.cols[a].values {
			if q := v / t.cols[b].values[row]; !math.IsNaN(q) && !math.IsInf(q, 0) {
				both++
				if q >= low && q <= high {
					like++
				}
			}
		}
		return both >= 10 && like*100 >= 92*both
	}
	for _, a := range r.money {
		for _, b := range r.money {
			if a >= b || !near(a, b, 0.8, 1.3) || r.isDifference(a) || r.isDifference(b) {
				continue
			}
			for _, p := range r.money {
				if p == a || p == b || !near(p, a, 1.05, 3) || !near(p, b, 1.05, 3) || together(t.cols[p].values, t.cols[a].values) < 0.9 {
					continue
				}
				r.deduced.add(p, "contract_price", 6)
				r.deduced.add(a, "bid_cost", 3.5) // what was bid stands before what was spent
				r.deduced.add(a, "actual_cost", 2.5)
				r.deduced.add(b, "actual_cost", 3.5)
				r.deduced.add(b, "bid_cost", 2.5)
			}
		}
	}
}
