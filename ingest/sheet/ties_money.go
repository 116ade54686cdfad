package sheet

import (
	"math"
	"slices"
)

// more is the share of rows in which column i is more than column k.
func (r *ties) more(i, k int) (share float64, both int) {
	n := 0
	for row, v := range r.cols[i].values {
		w := r.cols[k].values[row]
		if math.IsNaN(v) || math.IsNaN(w) {
			continue
		}
		both++
		if v > 1.02*w {
			n++
		}
	}
	return float64(n) / float64(max(both, 1)), both
}

func (r *ties) overOthers(i int) float64 {
	points, others := 0.0, 0
	for _, k := range r.money {
		if k == i {
			continue
		}
		if share, both := r.more(i, k); both >= 5 {
			points += 8 * (share - 0.6)
			others++
		}
	}
	if others == 0 {
		return 0
	}
	return math.Max(-8, points/float64(others))
}

// underOthers is for costs: something is more than they are, where there is any
// other money.
func (r *ties) underOthers(i int) float64 {
	most, others := 0.0, 0
	for _, k := range r.money {
		if k == i {
			continue
		}
		if share, both := r.more(k, i); both >= 5 {
			most = math.Max(most, share)
			others++
		}
	}
	if others == 0 {
		return 0
	}
	return 6 * (most - 0.6)
}

// roundness tells a bid from what was paid: bids are round.
func roundness(p *profile, round bool) float64 {
	if p.numbers < 8 {
		return 0
	}
	tens := float64(p.tens) / float64(p.numbers)
	points := math.Max(-2, math.Min(2, 4*(tens-0.6)))
	if round {
		return points
	}
	return -points
}

// useless are the points for money that follows from other money: profit is
// their difference, a deposit a fixed share.
func (r *ties) useless(i int) float64 {
	if !slices.Contains(r.money, i) && !r.isDifference(i) {
		return 0
	}
	if r.isDifference(i) {
		return 10
	}
	if r.isShare(i) {
		return 7
	}
	return 0
}

func (r *ties) isDifference(i int) bool {
	x := r.cols[i].values
	for _, a := range r.money {
		for _, b := range r.money {
			if a == b || a == i || b == i {
				continue
			}
			same, both := 0, 0
			for row, v := range x {
				if d := r.cols[a].values[row] - r.cols[b].values[row]; !math.IsNaN(d) && !math.IsNaN(v) {
					both++
					if math.Abs(d-v) <= 1+0.01*math.Abs(v) {
						same++
					}
				}
			}
			if both >= 5 && same*10 >= both*8 {
				return true
			}
		}
	}
	return false
}

// isShare says whether a column is nearly the same small share of another.
func (r *ties) isShare(i int) bool {
	for _, k := range r.money {
		if k == i {
			continue
		}
		var ratios []float64
		for row, v := range r.cols[i].values {
			if q := v / r.cols[k].values[row]; !math.IsNaN(q) && !math.IsInf(q, 0) {
				ratios = append(ratios, q)
			}
		}
		if len(ratios) < 8 {
			continue
		}
		slices.Sort(ratios)
		low, mid, high := ratios[len(ratios)/10], median(ratios), ratios[len(ratios)*9/10]
		if mid < 0.53 && mid > 0.05 && high-low < 0.07*mid {
			return true
		}
	}
	return false
}
