package backtest

import (
	"fmt"
	"math"
	"slices"

	"pourback/analysis/concrete"
	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/money"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/analysis/stat/decide"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/pool"
	"pourback/analysis/stat/score"
	"pourback/ingest/record"
)

// Backtest is what the factors would have been worth on the company's own
// past: month by month each placement is ordered for by what was known on the
// first of its month, by these factors and by simple rules, and each order is
// held against what the placement then used.
type Backtest struct {
	From        string             `json:"from"` // the first month that was walked
	To          string             `json:"to"`
	Months      int                `json:"months"`
	Placements  int                `json:"placements"`
	Left        int                `json:"placements_before"` // known before the first month
	Sampled     int                `json:"every_nth"`         // 1 where each placement was ordered for
	Rules       []Rule             `json:"rules"`             // the factors first
	Middle80    figure.Figure      `json:"held_by_80_range"`  // share of uses inside the 80 % range
	Below80     figure.Figure      `json:"below_p80"`         // share of uses not above the 80th percentile
	Hours       Hours              `json:"hours"`
	Assumptions setting.OrderCosts `json:"assumptions"`
}

// Rule is what one rule of ordering would have cost above orders made
// by someone who knew each use beforehand, in the currency's unit.
type Rule struct {
	Rule         Name          `json:"rule"`
	N            int           `json:"n"`
	Short        int           `json:"short"`       // orders that ran short
	LostShort    figure.Figure `json:"lost_short"`  // by orders that ran short, a placement
	LostLong     figure.Figure `json:"lost_long"`   // by orders that were too long, a placement
	Lost         figure.Figure `json:"lost"`        // both
	LeftoverYd   float64       `json:"leftover_yd"` // in all
	Pinball      figure.Figure `json:"pinball_80"`  // of the order as a forecast of the 80th percentile of used/neat
	AgainstOurs  figure.Figure `json:"saved"`       // lost by this rule less lost by the factors, a placement
	Verdict      Verdict       `json:"verdict"`
	YearlySaving figure.Figure `json:"saved_in_year"` // AgainstOurs at the placements of the last twelve months
}

// leastKnown is how many placements a month's orders have to stand on.
const leastKnown = 20

// mostWalked bounds the placements that are ordered for; beyond it they are
// taken at even distances.
const mostWalked = 5000

// walk is the past in the order of pours.
type walk struct {
	h      *record.History
	opt    setting.Options
	rows   *concrete.Rows
	splits []score.Split
	every  int
	rules  []backtestRule // ours first
}

// New walks the history. Too short a past has no error: there are no rules
// then, and the figures say what it takes.
func New(h *record.History, opt setting.Options) (*Backtest, error) {
	b, opt, err := newOf(h, opt, backtestRules)
	if err != nil {
		return nil, err
	}
	b.Hours = backtestHours(h, opt)
	return b, nil
}

// Ordered is what orders as they were made lost beside the factors, to the digit
// what the whole backtest says of them; false where the past is too short.
func Ordered(h *record.History, opt setting.Options) (Rule, bool) {
	b, _, err := newOf(h, opt, []backtestRule{{Factors, (*pastOrders).byFactors}, {AsOrdered, (*pastOrders).asOrdered}})
	if err != nil {
		return Rule{}, false // an order that cannot be made is said by the topic of waste
	}
	if r := b.Find(AsOrdered); r != nil {
		return *r, true
	}
	return Rule{}, false
}

// newOf walks the orders by some rules.
func newOf(h *record.History, opt setting.Options, rules []backtestRule) (*Backtest, setting.Options, error) {
	opt, err := opt.Complete()
	if err != nil {
		return nil, opt, err
	}
	b := &Backtest{Rules: []Rule{}, Assumptions: opt.Order, Sampled: 1}
	w := &walk{h: h, opt: opt, rows: concrete.RowsOf(h).ByDate(h), rules: rules}
	months := make([]int, len(w.rows.Points))
	for i, p := range w.rows.Points {
		months[i] = money.MonthNumber(h.Placements.At(p.Index).PlacedOn())
	}
	if w.splits, err = score.Splits(months, leastKnown); err != nil || len(w.splits) < 2 {
		b.Middle80 = figure.Unknown(TooShort{N: len(w.rows.Points), Least: leastKnown})
		b.Below80 = b.Middle80
		return b, opt, nil
	}
	w.every = max(1, (len(months)-w.splits[0].From+mostWalked-1)/mostWalked)
	return b, opt, b.walk(w, months)
}

// job is what row i was to be ordered for.
func (w *walk) job(i int) concrete.Job {
	r := w.rows
	return concrete.Job{Use: r.Use.Names[r.Use.Of[i]], Method: r.Method.Names[r.Method.Of[i]], Base: r.Base.Names[r.Base.Of[i]], NeatYd: r.Points[i].Neat}
}

// walk orders for each month by each rule and scores the orders.
func (b *Backtest) walk(w *walk, months []int) error {
	taken := w.taken()
	orders := make([][]float64, len(w.rules)) // by rule and place in taken; NaN where a rule has no order
	for k := range orders {
		orders[k] = make([]float64, len(taken))
	}
	laws := make([]lawAt, len(taken))
	errs := make([]error, len(w.splits))
	at := make([]int, len(w.splits)+1) // where each month's rows begin in taken
	for s, split := range w.splits {
		at[s+1], _ = slices.BinarySearch(taken, split.To)
	}
	stat.InParallel(len(w.splits), func(s int) {
		errs[s] = w.month(w.splits[s], taken, at[s], at[s+1], orders, laws)
	})
	for s, err := range errs {
		if err != nil {
			return fmt.Errorf("orders of %s: %w", monthText(months[w.splits[s].From]), err)
		}
	}
	b.From, b.To = monthText(months[w.splits[0].From]), monthText(months[w.splits[len(w.splits)-1].From])
	b.Months, b.Left, b.Sampled, b.Placements = len(w.splits), w.splits[0].From, w.every, len(taken)
	return b.score(w, taken, orders, laws, months)
}

func monthText(n int) string { return fmt.Sprintf("%04d-%02d", n/12, n%12+1) }

// taken are the rows that are ordered for, in order.
func (w *walk) taken() []int {
	var out []int
	for i := w.splits[0].From; i < len(w.rows.Points); i += w.every {
		out = append(out, i)
	}
	return out
}

// lawAt is what the factors said of one placement: the chance that it would use
// no more than it did and, only where that may have been cut short, the law of its
// used yards.
type lawAt struct {
	rank float64
	used pool.Mixture
}

// Slip says whether a plan is so far from any order, half of the best or twice
// as much, that it is a slip of the pen and no order.
func Slip(planned, best float64) bool { return planned < best/2 || planned > 2*best }

// cut says whether the yards used are the least that the placement may have
// wanted: nothing was left over, and either nothing more was called in or every
// truck came full.
func (w *walk) cut(row int) bool {
	p := w.h.Placements.At(w.rows.Points[row].Index)
	trucks := p.DeliveredYd().V / w.opt.Order.TruckYd
	return w.rows.Points[row].AtLeast || p.LeftoverYd().V == 0 && trucks >= 1 && math.Abs(trucks-math.Round(trucks)) < 1e-9
}

// month fits on the rows before it and orders for the rows taken of it.
func (w *walk) month(split score.Split, taken []int, from, to int, orders [][]float64, laws []lawAt) error {
	if from == to {
		return nil
	}
	past := w.past(split)
	for t := from; t < to; t++ {
		job := w.job(taken[t])
		next, err := past.model.Next(job)
		if err != nil {
			return err
		}
		laws[t] = lawAt{rank: next.Ratio.CDF(w.rows.Points[taken[t]].Ratio())}
		for k, rule := range w.rules {
			orders[k][t] = rule.order(past, taken[t], job, next)
			if rule.name == AsOrdered && Slip(orders[k][t], orders[0][t]) {
				orders[k][t] = math.NaN()
			}
		}
		if w.cut(taken[t]) {
			laws[t].used = next.Used()
		}
	}
	return nil
}

// perfect is the cheapest order for a use that is known: no extra load, and
// the least over.
func perfect(c decide.OrderCosts, used float64) (decide.Order, error) {
	return concrete.CameTo(c, math.Ceil(used/c.Increment-1e-9)*c.Increment, used)
}

// score holds the orders of each rule against what was used.
func (b *Backtest) score(w *walk, taken []int, orders [][]float64, laws []lawAt, months []int) error {
	money := w.opt.Order.Money()
	periods, best := make([]int, len(taken)), make([]float64, len(taken))
	inside, below := 0, 0
	for t, row := range taken {
		p := w.rows.Points[row]
		periods[t] = months[row]
		o, err := perfect(money, p.Used)
		if err != nil {
			return err
		}
		best[t] = o.Cost
		if rank := laws[t].rank; rank >= 0.10 && rank <= 0.90 {
			inside++
		}
		if laws[t].rank <= 0.80 {
			below++
		}
	}
	b.Middle80 = figure.Estimated(interval.Wilson(inside, len(taken), w.opt.Level))
	b.Below80 = figure.Estimated(interval.Wilson(below, len(taken), w.opt.Level))
	scored := make([]scoredRule, len(w.rules))
	for k := range w.rules {
		var err error
		if scored[k], err = scoreRule(w, money, taken, orders[k], best, periods, laws); err != nil {
			return err
		}
	}
	yearly := w.lastYear()
	for k, rule := range w.rules {
		if len(scored[k].lost) == 0 {
			continue
		}
		b.Rules = append(b.Rules, scored[k].against(&scored[0], rule, w.opt, yearly))
	}
	return nil
}

// lastYear is the number of placements poured in the twelve months to the data
// date, for what a year saves.
func (w *walk) lastYear() int {
	n := 0
	for i := range w.h.Placements.Len() {
		if w.h.AsOf-w.h.Placements.At(i).PlacedOn() < cracks.OneYear {
			n++
		}
	}
	return n
}
