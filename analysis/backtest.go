package analysis

import (
	"cmp"
	"fmt"
	"slices"

	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/score"
	"pourback/ingest/record"
)

// Backtest is what the orders would have come to on the company's own past, each
// made from what was known before its month, beside simpler rules.
type Backtest struct {
	Answer     string         `json:"answer"`
	From       string         `json:"from"` // months
	To         string         `json:"to"`
	Months     int            `json:"months"`
	Placements int            `json:"placements"` // ordered for
	Rules      []BacktestRule `json:"rules"`      // ours first
	Uses       []BacktestUse  `json:"uses"`
	Order      OrderCosts     `json:"order"` // the costs that the dollars stand on
	Notes      []string       `json:"notes"`
}

// BacktestRule is one rule's orders and what they came to.
type BacktestRule struct {
	Rule       string  `json:"rule"`
	Short      float64 `json:"short"` // dollars lost to unplanned balance loads
	Long       float64 `json:"long"`  // to yards left over
	Fees       float64 `json:"fees"`  // to short loads
	Lost       float64 `json:"lost"`  // all three
	Each       Figure  `json:"each"`  // dollars lost a placement
	ShortTimes int     `json:"short_times"`
	LeftoverYd float64 `json:"leftover_yd"`
	Pinball    float64 `json:"pinball_p80"` // mean loss of its P80 of the yards, in yd
	Coverage   Figure  `json:"coverage"`    // of its 80 % intervals; none for a flat rule
	Saves      Figure  `json:"ours_saves"`  // dollars a placement by ours against it, bootstrapped by month
	Verdict    string  `json:"verdict"`     // ours is better, it is better, or as good
}

// BacktestUse is ours against the best flat rule for one use, chosen with
// hindsight.
type BacktestUse struct {
	Use        string `json:"use"`
	Placements int    `json:"placements"`
	Flat       string `json:"best_flat"`
	Saves      Figure `json:"ours_saves"` // dollars a placement
	Verdict    string `json:"verdict"`
}

// What a comparison may come to.
const (
	OursBetter = "ours is better"
	ItIsBetter = "it is better"
	AsGood     = "as good"
)

const (
	backtestWarmup = 20  // placements before the first month that is ordered for
	backtestDraws  = 999 // of months
	backtestLevel  = 0.80
	leastForUse    = 20 // placements ordered for, from which a use is compared
)

// RunBacktest walks the past month by month. Each placement is ordered for by
// each rule from the placements of earlier months alone, and pays for what came.
// The dollars stand on opt's order costs, the same for all. Too short a past is
// an error wrapping [stat.ErrTooFew].
func RunBacktest(h *record.History, opt Options) (*Backtest, error) {
	opt, err := opt.complete()
	if err != nil {
		return nil, err
	}
	w := backtestOf(h, opt)
	splits, err := score.Splits(w.months, backtestWarmup)
	if err != nil {
		return nil, fmt.Errorf("a backtest needs a month with %d complete placements before it: %w", backtestWarmup, stat.ErrTooFew)
	}
	first := splits[0].From
	b := &Backtest{From: monthName(w.months[first]), To: monthName(w.months[len(w.months)-1]), Months: len(splits), Placements: len(w.months) - first,
		Order: w.costs, Rules: []BacktestRule{}, Uses: []BacktestUse{}, Notes: []string{}}
	w.walk(splits)
	for k := range w.rules {
		r, err := w.result(k, first)
		if err != nil {
			return nil, err
		}
		b.Rules = append(b.Rules, r)
	}
	b.Uses = w.uses(first)
	b.conclude()
	return b, nil
}

// backtestWork is the past in the order of its months.
type backtestWork struct {
	h      *record.History
	opt    Options
	costs  OrderCosts
	rows   *overageRows
	at     []int // among the rows, in the order of the pours
	months []int // of each, year × 12 + month
	rules  []orderRule
	orders [][]orderSaid // by rule, then by place in at
}

func backtestOf(h *record.History, opt Options) *backtestWork {
	w := &backtestWork{h: h, opt: opt, costs: opt.Order, rows: overageRowsOf(h), rules: orderRules(opt)}
	for k := range w.rows.points {
		w.at = append(w.at, k)
	}
	slices.SortStableFunc(w.at, func(a, b int) int { return cmp.Compare(w.on(a), w.on(b)) })
	for _, k := range w.at {
		w.months = append(w.months, monthOf(w.on(k)))
	}
	return w
}

// on is the day of a row's pour.
func (w *backtestWork) on(row int) record.Date {
	return w.h.Placements[w.rows.points[row].Index].PlacedOn
}

func monthOf(d record.Date) int {
	year, month, _ := d.Time().Date()
	return year*12 + int(month) - 1
}

func monthName(month int) string { return fmt.Sprintf("%04d-%02d", month/12, month%12+1) }

// walk has every rule order for every month from what was known before it.
func (w *backtestWork) walk(splits []score.Split) {
	w.orders = make([][]orderSaid, len(w.rules))
	for k := range w.orders {
		w.orders[k] = make([]orderSaid, len(w.at))
	}
	inParallel(len(splits), func(s int) {
		split := splits[s]
		month := w.months[split.From]
		past := w.rows.without(func(p OveragePlacement) bool { return monthOf(w.h.Placements[p.Index].PlacedOn) >= month })
		for k, rule := range w.rules {
			say := rule.learn(w, past)
			for i := split.From; i < split.To; i++ {
				p := w.rows.points[w.at[i]]
				r := &w.h.Placements[p.Index]
				w.orders[k][i] = say(OverageJob{Use: orUnknown(r.Use), Method: orUnknown(r.Method), Base: orUnknown(r.Base), NeatYd: p.Neat})
			}
		}
	})
}

// lost are a rule's losses in dollars, from a place on.
func (w *backtestWork) lost(rule, first int) []float64 {
	out := make([]float64, 0, len(w.at)-first)
	for i := first; i < len(w.at); i++ {
		out = append(out, w.costs.came(w.orders[rule][i].yd, w.rows.points[w.at[i]].Used).lost())
	}
	return out
}

// result is what a rule's orders came to.
func (w *backtestWork) result(rule, first int) (BacktestRule, error) {
	r := BacktestRule{Rule: w.rules[rule].name, Coverage: unknown("a flat rule gives no interval")}
	var used, low, high []float64
	for i := first; i < len(w.at); i++ {
		said, u := w.orders[rule][i], w.rows.points[w.at[i]].Used
		o := w.costs.came(said.yd, u)
		r.Short, r.Long, r.Fees, r.Lost = r.Short+o.Short, r.Long+o.Long, r.Fees+o.Fees, r.Lost+o.lost()
		r.LeftoverYd += o.Long / (w.costs.PricePerYd + w.costs.DisposalPerYd)
		if u > said.yd {
			r.ShortTimes++
		}
		loss, err := score.Pinball(u, said.p80, 0.80)
		if err != nil {
			return r, err
		}
		r.Pinball += loss / float64(len(w.at)-first)
		if said.low < said.high {
			used, low, high = append(used, u), append(low, said.low), append(high, said.high)
		}
	}
	if len(used) > 0 {
		held, err := score.Coverage(used, low, high, w.opt.Level)
		r.Coverage = estimated(held, err)
	}
	lost := w.lost(rule, first)
	each, err := interval.MeanT(lost, w.opt.Level)
	r.Each = orBare(each, err, r.Lost/float64(len(lost)), len(lost), "mean")
	if rule == 0 {
		r.Saves, r.Verdict = unknown("ours against itself"), "ours"
		return r, nil
	}
	r.Saves, r.Verdict = w.compare(lost, w.lost(0, first), w.months[first:])
	return r, nil
}

// compare is what ours saves a placement against another rule; months are drawn,
// not placements. Limits that hold 0 mean that the other is as good.
func (w *backtestWork) compare(other, ours []float64, months []int) (Figure, string) {
	c, err := score.PairedDifference(other, ours, months, backtestDraws, w.opt.Seed, w.opt.Level)
	f := estimated(c.Estimate, err)
	switch {
	case err != nil || !c.Settled:
		return f, AsGood
	case c.Value > 0:
		return f, OursBetter
	}
	return f, ItIsBetter
}

// uses compares ours with the best flat rule for each use that has placements
// enough. Best is with hindsight, which favors the flat rule.
func (w *backtestWork) uses(first int) []BacktestUse {
	by := groupBy(len(w.at)-first, func(i int) (string, bool) {
		return orUnknown(w.h.Placements[w.rows.points[w.at[first+i]].Index].Use), true
	})
	lost := make([][]float64, len(w.rules))
	for k := range w.rules {
		lost[k] = w.lost(k, first)
	}
	pick := func(xs []float64, rows []int) (out []float64) {
		for _, i := range rows {
			out = append(out, xs[i])
		}
		return out
	}
	out := []BacktestUse{}
	for _, use := range by.sorted(cmp.Compare[string]) {
		rows := by.rows[use]
		if len(rows) < leastForUse {
			continue
		}
		best := -1
		for k, rule := range w.rules {
			if rule.flat && (best < 0 || sumOf(pick(lost[k], rows)) < sumOf(pick(lost[best], rows))) {
				best = k
			}
		}
		months := make([]int, len(rows))
		for j, i := range rows {
			months[j] = w.months[first+i]
		}
		u := BacktestUse{Use: use, Placements: len(rows), Flat: w.rules[best].name}
		u.Saves, u.Verdict = w.compare(pick(lost[best], rows), pick(lost[0], rows), months)
		out = append(out, u)
	}
	return out
}
