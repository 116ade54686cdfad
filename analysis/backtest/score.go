package backtest

import (
	"math"

	gstat "gonum.org/v1/gonum/stat"

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
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// scoredRule is what each of a rule's orders lost against the perfect one.
type scoredRule struct {
	at       []int // places in what was walked
	periods  []int // the month of each
	lost     []float64
	short    []float64 // where the order ran short, else 0
	long     []float64
	pinball  []float64
	shorts   int
	leftover float64
}

// backtestDraws is how often the months are drawn anew.
const backtestDraws = 999

// tau is the quantile that pinball loss asks of an order.
const tau = 0.80

func scoreRule(w *walk, money decide.OrderCosts, taken []int, orders, best []float64, periods []int, laws []lawAt) (scoredRule, error) {
	var s scoredRule
	for t, row := range taken {
		q, p := orders[t], w.rows.Points[row]
		if math.IsNaN(q) {
			continue
		}
		came, err := concrete.CameTo(money, q, p.Used)
		if err != nil {
			return s, err
		}
		pinball, err := score.Pinball(p.Used/p.Neat, q/p.Neat, tau)
		if err != nil {
			return s, err
		}
		if w.cut(row) {
			came = absorbed(came, money, q, p.Used, laws[t].used)
		}
		lost := came.Cost - best[t]
		s.at, s.periods, s.lost, s.pinball = append(s.at, t), append(s.periods, periods[t]), append(s.lost, lost), append(s.pinball, pinball)
		if q < p.Used {
			s.shorts++
			s.short, s.long = append(s.short, lost), append(s.long, 0)
		} else {
			s.short, s.long = append(s.short, 0), append(s.long, lost)
		}
		s.leftover += came.Leftover
	}
	return s, nil
}

// absorbed is what an order came to where the yards used may have been cut short.
// That nothing more was called in is a fact, so no extra load is counted; but of a
// larger order the slab would have taken more, so much as the law of the day says
// of a need U that is no less than was used: E[min(U,q) − used | U > used].
func absorbed(came decide.Order, money decide.OrderCosts, q, used float64, law pool.Mixture) decide.Order {
	beyond := 1 - law.CDF(used)
	if !(q > used) || !(beyond > 1e-9) {
		return came
	}
	more := (law.ExpectedAbove(used) - law.ExpectedAbove(q)) / beyond
	came.Leftover -= more
	came.Cost -= money.Disposal * more
	return came
}

// against holds a rule against the factors on the placements that both ordered
// for; months are drawn, not placements, since those of a month go together.
func (s *scoredRule) against(ours *scoredRule, rule backtestRule, opt setting.Options, yearly int) Rule {
	out := Rule{Rule: rule.name, N: len(s.lost), Short: s.shorts, LeftoverYd: s.leftover,
		Lost: meanOf(s.lost, opt.Level), LostShort: meanOf(s.short, opt.Level), LostLong: meanOf(s.long, opt.Level), Pinball: meanOf(s.pinball, opt.Level)}
	if s == ours {
		out.AgainstOurs = figure.Unknown(TheseAreOurs{})
		out.YearlySaving = out.AgainstOurs
		return out
	}
	same := make([]float64, len(s.at))
	for i, t := range s.at {
		same[i] = ours.lost[t]
	}
	out.AgainstOurs, out.Verdict = savedBy(s.lost, same, s.periods, opt)
	out.YearlySaving = cracks.Scaled(out.AgainstOurs, float64(yearly))
	return out
}

func meanOf(xs []float64, level float64) figure.Figure {
	e, err := interval.MeanT(xs, level)
	return figure.OrBare(e, err, gstat.Mean(xs, nil), len(xs), "mean")
}

// savedBy is what the factors save a placement beside a rule: losses of the
// rule less those of the factors. Limits on both sides of 0 mean that the rule
// is as good.
func savedBy(rule, ours []float64, periods []int, opt setting.Options) (figure.Figure, Verdict) {
	c, err := score.PairedDifference(rule, ours, periods, backtestDraws, opt.Seed, opt.Level)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err)), ""
	}
	f := figure.Estimated(c.Estimate, nil)
	f.Method, f.N = "paired difference, months bootstrapped", len(rule)
	switch {
	case f.Low > 0:
		return f, FactorsBetter
	case f.High < 0:
		return f, RuleBetter
	}
	return f, AsGood
}

// Hours is the same of labor hours: the model of hours against the
// area an hour that the company had placed so far.
type Hours struct {
	N         int           `json:"n"`
	Middle80  figure.Figure `json:"held_by_80_range"`
	Off       figure.Figure `json:"off_hours"`         // mean of |hours − predicted|, by the model
	OffByRate figure.Figure `json:"off_hours_by_rate"` // by the past area an hour
	Saved     figure.Figure `json:"saved_hours"`       // the second less the first
	Verdict   Verdict       `json:"verdict"`
}

func backtestHours(h *record.History, opt setting.Options) Hours {
	rows := work.HoursRows(h)
	months := make([]int, len(rows))
	for k, i := range rows {
		months[k] = money.MonthNumber(h.Placements.At(i).PlacedOn())
	}
	splits, err := score.Splits(months, leastKnown)
	if err != nil || len(splits) < 2 {
		why := figure.Unknown(TooShort{N: len(rows), Least: leastKnown, Hours: true})
		return Hours{Middle80: why, Off: why, OffByRate: why, Saved: why}
	}
	every := max(1, (len(rows)-splits[0].From+mostWalked-1)/mostWalked)
	parts := make([]hoursPart, len(splits))
	stat.InParallel(len(splits), func(s int) { parts[s] = hoursOfMonth(h, rows, splits[s], every) })
	var all hoursPart
	for s, p := range parts {
		all.inside += p.inside
		all.off, all.byRate = append(all.off, p.off...), append(all.byRate, p.byRate...)
		for range p.off {
			all.periods = append(all.periods, months[splits[s].From])
		}
	}
	b := Hours{N: len(all.off), Middle80: figure.Estimated(interval.Wilson(all.inside, len(all.off), opt.Level)),
		Off: meanOf(all.off, opt.Level), OffByRate: meanOf(all.byRate, opt.Level)}
	b.Saved, b.Verdict = savedBy(all.byRate, all.off, all.periods, opt)
	return b
}

type hoursPart struct {
	inside      int
	off, byRate []float64
	periods     []int
}

// hoursOfMonth predicts the hours of one month by what was known before it.
func hoursOfMonth(h *record.History, rows []int, split score.Split, every int) (p hoursPart) {
	from := split.From + (every-split.From%every)%every
	if from >= split.To {
		return p
	}
	m, err := work.FitHoursRows(h, rows[:split.From], work.DefaultHoursPriors())
	if err != nil {
		return p
	}
	area, hours := 0.0, 0.0
	for _, i := range rows[:split.From] {
		area, hours = area+h.Placements.At(i).AreaSqft().V, hours+h.Placements.At(i).LaborHours().V
	}
	for k := from; k < split.To; k += every {
		placed := h.Placements.At(rows[k])
		f := m.ExpectedHours(work.JobOf(placed), 0.80)
		if !f.Known() {
			continue
		}
		worked := placed.LaborHours().V
		if worked >= f.Low && worked <= f.High {
			p.inside++
		}
		p.off = append(p.off, math.Abs(worked-f.Value))
		p.byRate = append(p.byRate, math.Abs(worked-placed.AreaSqft().V*hours/area))
	}
	return p
}
