package concrete

import (
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/analysis/stat/pool"
	"pourback/ingest/record"
)

// Overage says how much more concrete than the neat volume a placement uses,
// used/neat − 1 with used = delivered − leftover, and what to order for the
// next one.
type Overage struct {
	All         Group                    `json:"all"`
	Groups      []Group                  `json:"groups"`
	Fixed       map[string]figure.Figure `json:"fixed_yd"` // lost whatever the size, by method
	BySize      []OverageSize            `json:"by_size"`
	WhereLost   Loss                     `json:"where_lost"`
	Crews       []CrewUse                `json:"crews"`
	LeftOut     LeftOut                  `json:"left_out"`
	Checks      Checks                   `json:"checks"`
	Assumptions OverageAssumptions       `json:"assumptions"`

	Why   figure.Reason `json:"-"` // why there is no order at all; nil where there is one
	First []int         `json:"-"` // the kinds to speak of first, by their numbers
	Alike []string      `json:"-"` // ways of placing whose sizes are too alike: the assumptions decide
	Apart CrewsApart    `json:"-"`

	Points   []Placement      `json:"-"` // what the groups rest on
	Problems []record.Problem `json:"-"` // the placements to check
	Model    *Model           `json:"-"` // nil where there is nothing to fit; of few records it is mostly assumptions
	Own      OwnCosts         `json:"-"` // what the lines of cost say, known from events alone
}

// Group is one use placed in one way. What is said of the next job, and
// of the pooled mean, is for the typical volume.
type Group struct {
	Use            string         `json:"use"`
	Method         string         `json:"method"`
	N              int            `json:"n"`
	RawMean        figure.Figure  `json:"raw_mean"`
	RatioOfTotals  figure.Figure  `json:"ratio_of_totals"` // ΣU/ΣV − 1: the past average, no rule for ordering
	Past           Quantiles      `json:"past"`            // of the placements themselves, type 7
	TypicalYd      float64        `json:"typical_yd"`      // the median neat volume
	PooledMean     figure.Figure  `json:"pooled_mean"`
	NextJob        Quantiles      `json:"next_job"`
	OrderAllowance figure.Figure  `json:"order_allowance"` // order/neat − 1
	OrderYd        figure.Figure  `json:"order_yd"`
	ChanceShort    figure.Figure  `json:"chance_short"`         // at that order
	LeftoverYd     figure.Figure  `json:"expected_leftover_yd"` // at that order
	RobustOrderYd  figure.Figure  `json:"order_yd_robust"`      // odd placements weighed down
	UncutOrderYd   figure.Figure  `json:"order_yd_without_cut"` // without placements whose use may have been cut short
	CapCosts       figure.Figure  `json:"cap_costs"`            // expected, of the cap on the chance of running short; $
	TurnedBy       []figure.Lever `json:"turned_by"`            // the two inputs that make it another order most easily; it comes to yd
	Spread         [5]float64     `json:"-"`                    // used/neat − 1 that 1 in 10, 1 in 4, half, 3 in 4 and 9 in 10 stayed under, type 7; NaN where nothing is known
}

// Quantiles are four points of a distribution.
type Quantiles struct {
	P10 figure.Figure `json:"p10"`
	P50 figure.Figure `json:"p50"`
	P80 figure.Figure `json:"p80"`
	P90 figure.Figure `json:"p90"`
}

// OverageSize is the overage to expect of a placement of one size.
type OverageSize struct {
	Use         string        `json:"use"` // AllUses for whatever the method has placed
	Method      string        `json:"method"`
	NeatYd      float64       `json:"neat_yd"`
	NextJob     Quantiles     `json:"next_job"`
	OrderYd     figure.Figure `json:"order_yd"`
	ChanceShort figure.Figure `json:"chance_short"` // at that order
}

// AllUses stands for whatever is placed.
const AllUses = "all"

// OverageAssumptions are the settings that the answer stands on.
type OverageAssumptions struct {
	Priors setting.OveragePriors `json:"priors"`
	Order  setting.OrderCosts    `json:"order"`
}

// tableYd are the neat volumes of the table by size, in yd³.
var tableYd = []float64{2, 4, 8, 12}

// Methods of the figures that the model makes.
const (
	byModel     = "hierarchical model, at the typical volume"
	byNextJob   = "hierarchical model, prediction for the next job: what the records leave open is in it"
	ByLeastCost = "order of least expected cost"
)

// overageWork is what the parts of the answer are made from.
type overageWork struct {
	h     *record.History
	rows  *Rows
	model *Model
	data  pool.Data
	costs setting.OrderCosts
	level float64
	kinds []overageKind
}

func Of(h *record.History, opt setting.Options) *Overage {
	w := &overageWork{h: h, rows: RowsOf(h), costs: opt.Order.Filled(), level: opt.Level}
	o := &Overage{Fixed: map[string]figure.Figure{}, BySize: []OverageSize{}, Crews: []CrewUse{}, LeftOut: w.rows.leftOut}
	w.kinds = w.rows.kinds()
	o.past(w)
	model, data, err := FitRows(w.rows, opt.Overage)
	o.Assumptions = OverageAssumptions{model.priors, w.costs}
	w.model, w.data = model, data
	o.WhereLost = w.whereLost()
	if err != nil {
		o.silent(unknown(err).Why)
		return o
	}
	o.Model = model
	if n := len(w.rows.Points); n < figure.LeastForRate {
		o.silent(FewVolumes{N: n})
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
	stat.InParallel(len(o.Groups)+1, func(k int) {
		if k == len(o.Groups) {
			w.fill(&o.All)
			o.All.PooledMean = figure.Unknown(ManyKinds{})
			return
		}
		w.fill(&o.Groups[k])
	})
}

// job is the next job of the kind, of the typical volume.
func (g *Group) job() Job {
	return Job{Use: g.Use, Method: g.Method, NeatYd: g.TypicalYd}
}

func (w *overageWork) fill(g *Group) {
	law, err := w.model.Level(g.job())
	if err == nil {
		g.PooledMean = fromMean(law, w.level, g.N, byModel)
	} else {
		g.PooledMean = unknown(err)
	}
	next, err := w.model.Next(g.job())
	g.TurnedBy = []figure.Lever{}
	if err != nil {
		g.nothing(unknown(err))
		return
	}
	g.NextJob = nextJob(next, g.N)
	order, err := OrderFor(next, w.costs)
	if err != nil {
		why := unknown(err)
		g.OrderAllowance, g.OrderYd, g.ChanceShort, g.LeftoverYd, g.CapCosts = why, why, why, why, why
		return
	}
	g.OrderAllowance = w.allowance(next, order, g.PooledMean, g.N)
	g.OrderYd = figure.Total(order.Yd, g.N, ByLeastCost)
	g.ChanceShort = figure.Total(order.ChanceShort, g.N, byNextJob)
	g.LeftoverYd = figure.Total(order.LeftoverYd, g.N, byNextJob)
	if g.CapCosts = figure.Unknown(NoCap{}); w.costs.MostShort > 0 {
		g.CapCosts = figure.Total(order.CapCosts, g.N, "expected cost of the order less that of the one of least cost")
	}
	if g.Use != "" {
		g.TurnedBy = w.turnedBy(next, g.PooledMean, g.N)
	}
}

// nothing says why there is nothing to say of the next job.
func (g *Group) nothing(why figure.Figure) {
	g.NextJob, g.TurnedBy = Quantiles{why, why, why, why}, []figure.Lever{}
	for _, f := range []*figure.Figure{&g.PooledMean, &g.OrderAllowance, &g.OrderYd, &g.ChanceShort, &g.LeftoverYd, &g.RobustOrderYd, &g.UncutOrderYd, &g.CapCosts} {
		*f = why
	}
}

// fromMean is the mean of a law with its central interval.
func fromMean(law pool.Mixture, level float64, n int, method string) figure.Figure {
	e, err := law.Interval(level)
	e.N, e.Method = n, method
	return figure.Estimated(e, err)
}

// nextJob are the quantiles of a prediction. They have no interval: what the
// records leave open is in them.
func nextJob(p Predictive, n int) Quantiles {
	at := func(q float64) figure.Figure { return figure.Total(p.Ratio.Quantile(q), n, byNextJob) }
	return Quantiles{at(0.10), at(0.50), at(0.80), at(0.90)}
}

// allowance is what the order adds to neat. Its range is that of the orders
// if the mean of the kind stood at the ends of its own.
func (w *overageWork) allowance(next Predictive, best Order, mean figure.Figure, n int) figure.Figure {
	f := figure.Total(best.Allowance, n, ByLeastCost+"; range: the order if the mean stood at the ends of its interval")
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
		job Job
		n   int
	}
	var rows []row
	for _, k := range w.kinds {
		rows = append(rows, row{k.Use, Job{Use: k.Use, Method: k.Method}, len(k.rows)})
	}
	for k, n := range w.rows.Method.Counts() {
		method := w.rows.Method.Names[k]
		rows = append(rows, row{AllUses, Job{Method: method}, n})
	}
	rows = slices.DeleteFunc(rows, func(r row) bool { return r.n < figure.LeastForRate })
	out := make([]OverageSize, len(rows)*len(tableYd))
	stat.InParallel(len(out), func(i int) {
		r := rows[i/len(tableYd)]
		r.job.NeatYd = tableYd[i%len(tableYd)]
		out[i] = OverageSize{Use: r.use, Method: r.job.Method, NeatYd: r.job.NeatYd}
		w.atSize(&out[i], r.job, r.n)
	})
	return out
}

func (w *overageWork) atSize(s *OverageSize, job Job, n int) {
	next, err := w.model.Next(job)
	if err != nil {
		why := unknown(err)
		s.NextJob, s.OrderYd, s.ChanceShort = Quantiles{why, why, why, why}, why, why
		return
	}
	s.NextJob = nextJob(next, n)
	order, err := OrderFor(next, w.costs)
	if err != nil {
		why := unknown(err)
		s.OrderYd, s.ChanceShort = why, why
		return
	}
	s.OrderYd = figure.Total(order.Yd, n, ByLeastCost)
	s.ChanceShort = figure.Total(order.ChanceShort, n, byNextJob)
}
