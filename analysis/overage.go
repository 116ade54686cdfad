package analysis

import (
	"fmt"
	"slices"

	"pourback/analysis/stat/pool"
	"pourback/ingest/record"
)

// Overage says how much more concrete than the neat volume a placement uses,
// used/neat − 1 with used = delivered − leftover, and what to order for the
// next one.
type Overage struct {
	Answer      string             `json:"answer"`
	All         OverageGroup       `json:"all"`
	Groups      []OverageGroup     `json:"groups"`
	Fixed       map[string]Figure  `json:"fixed_yd"` // lost whatever the size, by method
	BySize      []OverageSize      `json:"by_size"`
	WhereLost   OverageLoss        `json:"where_lost"`
	Crews       []OverageCrew      `json:"crews"`
	LeftOut     OverageLeftOut     `json:"left_out"`
	Checks      OverageChecks      `json:"checks"`
	Assumptions OverageAssumptions `json:"assumptions"`
	Notes       []string           `json:"notes"`

	Points   []OveragePlacement `json:"-"` // what the groups rest on
	Problems []record.Problem   `json:"-"` // the placements to check
	Model    *OverageModel      `json:"-"` // nil where there is nothing to fit; of few records it is mostly assumptions
	Own      OwnCosts           `json:"-"` // what the lines of cost say, known from events alone
}

// OverageGroup is one use placed in one way. What is said of the next job, and
// of the pooled mean, is for the typical volume.
type OverageGroup struct {
	Use            string    `json:"use"`
	Method         string    `json:"method"`
	N              int       `json:"n"`
	RawMean        Figure    `json:"raw_mean"`
	RatioOfTotals  Figure    `json:"ratio_of_totals"` // ΣU/ΣV − 1: the past average, no rule for ordering
	Past           Quantiles `json:"past"`            // of the placements themselves, type 7
	TypicalYd      float64   `json:"typical_yd"`      // the median neat volume
	PooledMean     Figure    `json:"pooled_mean"`
	NextJob        Quantiles `json:"next_job"`
	OrderAllowance Figure    `json:"order_allowance"` // order/neat − 1
	OrderYd        Figure    `json:"order_yd"`
	ChanceShort    Figure    `json:"chance_short"`         // at that order
	LeftoverYd     Figure    `json:"expected_leftover_yd"` // at that order
	RobustOrderYd  Figure    `json:"order_yd_robust"`      // odd placements weighed down
	UncutOrderYd   Figure    `json:"order_yd_without_cut"` // without placements whose use may have been cut short
}

// Quantiles are four points of a distribution.
type Quantiles struct {
	P10 Figure `json:"p10"`
	P50 Figure `json:"p50"`
	P80 Figure `json:"p80"`
	P90 Figure `json:"p90"`
}

// OverageSize is the overage to expect of a placement of one size.
type OverageSize struct {
	Use         string    `json:"use"` // allUses for whatever the method has placed
	Method      string    `json:"method"`
	NeatYd      float64   `json:"neat_yd"`
	NextJob     Quantiles `json:"next_job"`
	OrderYd     Figure    `json:"order_yd"`
	ChanceShort Figure    `json:"chance_short"` // at that order
}

const allUses = "all"

// OverageAssumptions are the settings that the answer stands on.
type OverageAssumptions struct {
	Priors OveragePriors `json:"priors"`
	Order  OrderCosts    `json:"order"`
}

// tableYd are the neat volumes of the table by size, in yd³.
var tableYd = []float64{2, 4, 8, 12}

// Methods of the figures that the model makes.
const (
	byModel     = "hierarchical model, at the typical volume"
	byNextJob   = "hierarchical model, prediction for the next job: what the records leave open is in it"
	byLeastCost = "order of least expected cost"
)

// overageWork is what the parts of the answer are made from.
type overageWork struct {
	h     *record.History
	rows  *overageRows
	model *OverageModel
	data  pool.Data
	costs OrderCosts
	level float64
	kinds []overageKind
}

func overage(h *record.History, opt Options) *Overage {
	w := &overageWork{h: h, rows: overageRowsOf(h), costs: opt.Order.filled(), level: opt.Level}
	o := &Overage{Fixed: map[string]Figure{}, BySize: []OverageSize{}, Crews: []OverageCrew{}, Notes: []string{}, LeftOut: w.rows.leftOut}
	w.kinds = w.rows.kinds()
	o.past(w)
	model, data, err := fitOverage(w.rows, opt.Overage)
	o.Assumptions = OverageAssumptions{model.priors, w.costs}
	w.model, w.data = model, data
	o.WhereLost = w.whereLost()
	if err != nil {
		o.silent(w, reason(err))
		return o
	}
	o.Model = model
	if n := len(w.rows.points); n < leastForRate {
		o.silent(w, fmt.Sprintf("%s: it takes at least %d", countOf(n, "complete placement"), leastForRate))
		return o
	}
	o.next(w)
	o.Fixed = w.fixed()
	o.BySize = w.bySize()
	o.check(w)
	o.Crews = w.crews()
	o.Own = w.own(o.Groups)
	o.conclude(w)
	return o
}

// next fills what the model says of the next job of each kind.
func (o *Overage) next(w *overageWork) {
	inParallel(len(o.Groups)+1, func(k int) {
		if k == len(o.Groups) {
			w.fill(&o.All)
			o.All.PooledMean = unknown("no one mean holds for all kinds of placement: see the groups")
			return
		}
		w.fill(&o.Groups[k])
	})
}

// job is the next job of the kind, of the typical volume.
func (g *OverageGroup) job() OverageJob {
	return OverageJob{Use: g.Use, Method: g.Method, NeatYd: g.TypicalYd}
}

func (w *overageWork) fill(g *OverageGroup) {
	law, err := w.model.Level(g.job())
	if err == nil {
		g.PooledMean = fromMean(law, w.level, g.N, byModel)
	} else {
		g.PooledMean = unknown("%s", reason(err))
	}
	next, err := w.model.Next(g.job())
	if err != nil {
		g.nothing(unknown("%s", reason(err)))
		return
	}
	g.NextJob = nextJob(next, g.N)
	order, err := OrderFor(next, w.costs)
	if err != nil {
		why := unknown("%s", reason(err))
		g.OrderAllowance, g.OrderYd, g.ChanceShort, g.LeftoverYd = why, why, why, why
		return
	}
	g.OrderAllowance = w.allowance(next, order, g.PooledMean, g.N)
	g.OrderYd = total(order.Yd, g.N, byLeastCost)
	g.ChanceShort = total(order.ChanceShort, g.N, byNextJob)
	g.LeftoverYd = total(order.LeftoverYd, g.N, byNextJob)
}

// nothing says why there is nothing to say of the next job.
func (g *OverageGroup) nothing(why Figure) {
	g.NextJob = Quantiles{why, why, why, why}
	for _, f := range []*Figure{&g.PooledMean, &g.OrderAllowance, &g.OrderYd, &g.ChanceShort, &g.LeftoverYd, &g.RobustOrderYd, &g.UncutOrderYd} {
		*f = why
	}
}

// fromMean is the mean of a law with its central interval.
func fromMean(law pool.Mixture, level float64, n int, method string) Figure {
	e, err := law.Interval(level)
	e.N, e.Method = n, method
	return estimated(e, err)
}

// nextJob are the quantiles of a prediction. They have no interval: what the
// records leave open is in them.
func nextJob(p Predictive, n int) Quantiles {
	at := func(q float64) Figure { return total(p.Ratio.Quantile(q), n, byNextJob) }
	return Quantiles{at(0.10), at(0.50), at(0.80), at(0.90)}
}

// allowance is what the order adds to neat. Its range is that of the orders
// if the mean of the kind stood at the ends of its own.
func (w *overageWork) allowance(next Predictive, best Order, mean Figure, n int) Figure {
	f := total(best.Allowance, n, byLeastCost+"; range: the order if the mean stood at the ends of its interval")
	if !mean.Known() {
		return f
	}
	at := func(end float64) (Order, error) {
		shifted := next
		shifted.Ratio = next.Ratio.Affine(end-mean.Value, 1)
		return OrderFor(shifted, w.costs)
	}
	low, errLow := at(mean.Low)
	high, errHigh := at(mean.High)
	if errLow == nil && errHigh == nil {
		f.Low, f.High, f.Level, f.Bounded = low.Allowance, high.Allowance, mean.Level, true
	}
	return f
}

// bySize is the table by size: each kind with records enough, and each method
// whatever was placed by it.
func (w *overageWork) bySize() []OverageSize {
	type row struct {
		use string
		job OverageJob
		n   int
	}
	var rows []row
	for _, k := range w.kinds {
		rows = append(rows, row{k.use, OverageJob{Use: k.use, Method: k.method}, len(k.rows)})
	}
	for k, n := range w.rows.method.counts() {
		method := w.rows.method.names[k]
		rows = append(rows, row{allUses, OverageJob{Method: method}, n})
	}
	rows = slices.DeleteFunc(rows, func(r row) bool { return r.n < leastForRate })
	out := make([]OverageSize, len(rows)*len(tableYd))
	inParallel(len(out), func(i int) {
		r := rows[i/len(tableYd)]
		r.job.NeatYd = tableYd[i%len(tableYd)]
		out[i] = OverageSize{Use: r.use, Method: r.job.Method, NeatYd: r.job.NeatYd}
		w.atSize(&out[i], r.job, r.n)
	})
	return out
}

func (w *overageWork) atSize(s *OverageSize, job OverageJob, n int) {
	next, err := w.model.Next(job)
	if err != nil {
		why := unknown("%s", reason(err))
		s.NextJob, s.OrderYd, s.ChanceShort = Quantiles{why, why, why, why}, why, why
		return
	}
	s.NextJob = nextJob(next, n)
	order, err := OrderFor(next, w.costs)
	if err != nil {
		why := unknown("%s", reason(err))
		s.OrderYd, s.ChanceShort = why, why
		return
	}
	s.OrderYd = total(order.Yd, n, byLeastCost)
	s.ChanceShort = total(order.ChanceShort, n, byNextJob)
}
