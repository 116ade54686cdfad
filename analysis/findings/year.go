package findings

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/figure"
	"pourback/analysis/money"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// lastYear is what the findings look at: the twelve months up to the data date,
// with the answers of all topics. What a rate is, all records tell; what it
// costs a year, the last twelve months do.
type lastYear struct {
	h       *record.History
	f       *Answers
	level   float64
	order   setting.OrderCosts
	from    record.Date  // rows of the year are dated after it
	scale   float64      // takes sums of the rows to a full year
	rows    []int        // placements of the year
	called  []int        // placements called about in the year, whenever poured
	jobs    []*money.Job // priced jobs that ended in the year
	why     string       // why there is nothing to look at
	perHour float64      // dollars
	perYd   float64
}

// leastDays is the shortest stretch of records from which a year is judged.
const leastDays = 90

func newLastYear(h *record.History, f *Answers, opt setting.Options) *lastYear {
	y := &lastYear{h: h, f: f, level: opt.Level, order: opt.Order, from: h.AsOf - 365,
		perHour: opt.Rates.LaborPerHour.Dollars(), perYd: opt.Rates.ConcretePerYd.Dollars()}
	if len(h.Placements) == 0 {
		y.why = "Nothing stands out: no placements are on record yet."
		return y
	}
	days := min(365, int(h.AsOf-f.First)+1)
	y.scale = 365 / float64(days)
	y.rows = figure.Where(len(h.Placements), func(i int) bool { return h.Placements[i].PlacedOn > y.from })
	y.called = figure.Where(len(h.Placements), func(i int) bool { return h.Placements[i].CallbackOn > y.from })
	if f.Margin != nil {
		for i := range f.Margin.Jobs {
			if j := &f.Margin.Jobs[i]; j.Last > y.from {
				y.jobs = append(y.jobs, j)
			}
		}
	}
	switch {
	case days < leastDays:
		y.why = fmt.Sprintf("Nothing stands out yet: the records cover %d days, and it takes %d to speak of a year.", days, leastDays)
	case len(y.rows) < figure.LeastForRate:
		y.why = fmt.Sprintf("Nothing stands out: %s in the last twelve months are too few to tell.", figure.CountOf(len(y.rows), "placement"))
	}
	return y
}

// each adds up a value over the year's placements that have it.
func (y *lastYear) each(value func(p *record.Placement) (float64, bool)) yearly {
	s := yearly{year: y}
	for _, i := range y.rows {
		if v, ok := value(&y.h.Placements[i]); ok {
			s.add(v)
		}
	}
	return s
}

// by adds up a value over the year's placements that have it, by name.
func (y *lastYear) by(name func(p *record.Placement) string, value func(p *record.Placement) record.Number) map[string]float64 {
	sums := map[string]float64{}
	for _, i := range y.rows {
		p := &y.h.Placements[i]
		if v := value(p); v.OK {
			sums[name(p)] += v.V
		}
	}
	return sums
}

// yearly is a sum over things that come by chance.
type yearly struct {
	year         *lastYear
	n, events    int // rows; of them those with an amount
	sum, squares float64
}

func (s *yearly) add(v float64) {
	s.n++
	s.sum += v
	s.squares += v * v
	if v != 0 {
		s.events++
	}
}

// dollars is what a year like the last brings of it: the sum, taken to a full
// year, within z·√Σx², the spread of a compound Poisson sum (Klugman, Panjer &
// Willmot, Loss Models, ch. 9, from memory). Under three amounts say nothing.
func (s yearly) dollars(perUnit float64) figure.Figure {
	if s.events < figure.LeastEvents || s.n < figure.LeastForRate {
		return figure.UnknownFor("%d amounts in %d rows are too few", s.events, s.n)
	}
	by := perUnit * s.year.scale
	half := distuv.UnitNormal.Quantile((1+s.year.level)/2) * math.Sqrt(s.squares) * math.Abs(by)
	return figure.Figure{Value: by * s.sum, Low: by*s.sum - half, High: by*s.sum + half, Level: s.year.level, N: s.n,
		Method: "sum of the last twelve months, compound Poisson interval", Bounded: true, OK: true}
}

// per is a figure for one unit taken times a known number of units a year; an
// effect that falls as money rises turns its limits around.
func per(f figure.Figure, to func(float64) float64, method string) figure.Figure {
	if !f.Known() {
		return f
	}
	a, b := to(f.Low), to(f.High)
	f.Value, f.Low, f.High, f.Method = to(f.Value), min(a, b), max(a, b), method
	return f
}

// between says a figure's interval in dollars: "between $1,200 and $8,000".
func (y *lastYear) between(f figure.Figure) string {
	low, high := figure.RoughDollars(f.Low), figure.RoughDollars(f.High)
	if !f.Bounded || low == high {
		return ""
	}
	odds := fmt.Sprintf("%.0f times in 100", 100*f.Level)
	if f.Level == 0.90 {
		odds = "nine times in ten"
	}
	return fmt.Sprintf(" (between %s and %s, %s)", low, high, odds)
}

// aYear is a figure in words: "about $4,300 a year (between …)".
func (y *lastYear) aYear(f figure.Figure) string {
	if !f.Known() {
		return ""
	}
	return "about " + figure.RoughDollars(f.Value) + " a year" + y.between(f)
}
