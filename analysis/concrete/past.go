package concrete

import (
	"math"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
)

// past fills what the placements themselves say.
func (o *Overage) past(w *overageWork) {
	o.Points = w.rows.Points
	o.Groups = make([]Group, len(w.kinds))
	for k, kind := range w.kinds {
		for _, i := range kind.rows {
			o.Points[i].Group = k
		}
	}
	stat.InParallel(len(w.kinds)+1, func(k int) {
		if k == len(w.kinds) {
			o.All = pastGroup(o.Points, nil, w.level)
			return
		}
		o.Groups[k] = pastGroup(o.Points, w.kinds[k].rows, w.level)
		o.Groups[k].Use, o.Groups[k].Method = w.kinds[k].Use, w.kinds[k].Method
	})
}

// overageKind is a use and a method with its rows.
type overageKind struct {
	figure.Kind
	rows []int
}

// kinds are in the order of use and method.
func (r *Rows) kinds() []overageKind {
	methods := len(r.Method.Names)
	code := func(i int) int { return r.Use.Of[i]*methods + r.Method.Of[i] }
	count := map[int]int{}
	for i := range r.Points {
		count[code(i)]++
	}
	codes := make([]int, 0, len(count))
	for c := range count {
		codes = append(codes, c)
	}
	slices.Sort(codes)
	kinds, number := make([]overageKind, len(codes)), make(map[int]int, len(codes))
	for k, c := range codes {
		kinds[k] = overageKind{figure.Kind{Use: r.Use.Names[c/methods], Method: r.Method.Names[c%methods]}, make([]int, 0, count[c])}
		number[c] = k
	}
	for i := range r.Points {
		k := &kinds[number[code(i)]]
		k.rows = append(k.rows, i)
	}
	return kinds
}

// pastGroup is what some placements, or all of them where rows is nil, used.
func pastGroup(points []Placement, rows []int, level float64) Group {
	n := len(rows)
	if rows == nil {
		n = len(points)
	}
	neat, used, ratios := make([]float64, n), make([]float64, n), make([]float64, n)
	var sum, sumNeat, sumUsed float64
	for k := range n {
		p := &points[k]
		if rows != nil {
			p = &points[rows[k]]
		}
		neat[k], used[k], ratios[k] = p.Neat, p.Used, p.Ratio()
		sum += ratios[k]
		sumNeat += p.Neat
		sumUsed += p.Used
	}
	mean, err := interval.MeanT(ratios, level)
	g := Group{N: n, RawMean: figure.OrBare(mean, err, sum/float64(n), n, "mean"), Past: pastQuantiles(ratios, level)}
	ratio, err := interval.Ratio(used, neat, level)
	ratio.Value, ratio.Low, ratio.High = ratio.Value-1, ratio.Low-1, ratio.High-1
	g.RatioOfTotals = figure.OrBare(ratio, err, sumUsed/sumNeat-1, n, "ratio of totals")
	if median, err := interval.Quantiles(neat, 0.5); err == nil {
		g.TypicalYd = median[0]
	}
	g.Spread = spreadOf(ratios)
	return g
}

// spreadOf are five points of values, NaN where there are none.
func spreadOf(values []float64) (five [5]float64) {
	at, err := interval.Quantiles(values, 0.1, 0.25, 0.5, 0.75, 0.9)
	for i := range five {
		if five[i] = math.NaN(); err == nil {
			five[i] = at[i]
		}
	}
	return five
}

func pastQuantiles(xs []float64, level float64) Quantiles {
	at := func(p float64) figure.Figure {
		q, err := interval.QuantileInterval(xs, p, level)
		return figure.Estimated(q.Estimate, err)
	}
	return Quantiles{at(0.10), at(0.50), at(0.80), at(0.90)}
}
