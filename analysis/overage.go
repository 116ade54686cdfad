package analysis

import (
	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// Overage says how much more concrete than the neat volume a job uses:
// used/neat − 1, with used = delivered − leftover.
type Overage struct {
	All    OverageGroup       `json:"all"`
	Groups []OverageGroup     `json:"groups"`
	Fixed  map[string]Figure  `json:"fixed_yd"`
	BySize []OverageSize      `json:"by_size"`
	Points []OveragePlacement `json:"-"` // what the groups rest on
}

// OverageGroup is one use placed in one way.
type OverageGroup struct {
	Use            string    `json:"use"`
	Method         string    `json:"method"`
	N              int       `json:"n"`
	RawMean        Figure    `json:"raw_mean"`
	RatioOfTotals  Figure    `json:"ratio_of_totals"` // ΣU/ΣV − 1: the past average, no rule for ordering
	Past           Quantiles `json:"past"`            // of the placements themselves, type 7
	PooledMean     Figure    `json:"pooled_mean"`
	NextJob        Quantiles `json:"next_job"`
	OrderAllowance Figure    `json:"order_allowance"`
}

// Quantiles are four points of a distribution.
type Quantiles struct {
	P10 Figure `json:"p10"`
	P50 Figure `json:"p50"`
	P80 Figure `json:"p80"`
	P90 Figure `json:"p90"`
}

// OverageSize is the overage to expect of a job of one size.
type OverageSize struct {
	Use     string    `json:"use"`
	Method  string    `json:"method"`
	NeatYd  float64   `json:"neat_yd"`
	NextJob Quantiles `json:"next_job"`
	OrderYd Figure    `json:"order_yd"`
}

// OveragePlacement is one placement's volumes in yd³.
type OveragePlacement struct {
	Index      int // among the history's placements
	Group      int // among the groups
	Neat, Used float64
}

// Ratio is used/neat − 1.
func (p OveragePlacement) Ratio() float64 { return p.Used/p.Neat - 1 }

func overage(h *record.History, opt Options) *Overage {
	o := &Overage{Fixed: map[string]Figure{}, BySize: []OverageSize{}}
	for i := range h.Placements {
		p := &h.Placements[i]
		neat, used := p.Neat(), p.Used()
		if neat.OK && used.OK && neat.V > 0 {
			o.Points = append(o.Points, OveragePlacement{Index: i, Neat: neat.V, Used: used.V})
		}
	}
	o.All = overageGroup(o.Points, opt.Level)
	byKind := groupBy(len(o.Points), func(i int) (kind, bool) {
		p := &h.Placements[o.Points[i].Index]
		return kind{orUnknown(p.Use), orUnknown(p.Method)}, true
	})
	o.Groups = []OverageGroup{}
	for _, k := range byKind.sorted(kind.compare) {
		points := make([]OveragePlacement, 0, len(byKind.rows[k]))
		for _, i := range byKind.rows[k] {
			o.Points[i].Group = len(o.Groups)
			points = append(points, o.Points[i])
		}
		g := overageGroup(points, opt.Level)
		g.Use, g.Method = k.use, k.method
		o.Groups = append(o.Groups, g)
	}
	for _, method := range []string{"chute", "pump"} {
		o.Fixed[method] = later("the fixed loss by method")
	}
	return o
}

func overageGroup(points []OveragePlacement, level float64) OverageGroup {
	neat, used, ratios := make([]float64, len(points)), make([]float64, len(points)), make([]float64, len(points))
	var sum, sumNeat, sumUsed float64
	for i, p := range points {
		neat[i], used[i], ratios[i] = p.Neat, p.Used, p.Ratio()
		sum += ratios[i]
		sumNeat += p.Neat
		sumUsed += p.Used
	}
	n := len(points)
	mean, err := interval.MeanT(ratios, level)
	g := OverageGroup{N: n, RawMean: orBare(mean, err, sum/float64(n), n, "mean"), Past: pastQuantiles(ratios, level)}
	ratio, err := interval.Ratio(used, neat, level)
	ratio.Value, ratio.Low, ratio.High = ratio.Value-1, ratio.Low-1, ratio.High-1
	g.RatioOfTotals = orBare(ratio, err, sumUsed/sumNeat-1, n, "ratio of totals")
	g.PooledMean = later("the mean pooled across kinds of job")
	next := later("the overage of the next job")
	g.NextJob = Quantiles{next, next, next, next}
	g.OrderAllowance = later("the allowance to order")
	return g
}

func pastQuantiles(xs []float64, level float64) Quantiles {
	at := func(p float64) Figure {
		q, err := interval.QuantileInterval(xs, p, level)
		return estimated(q.Estimate, err)
	}
	return Quantiles{at(0.10), at(0.50), at(0.80), at(0.90)}
}
