package findings

import (
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
	days    int          // that the records cover
	verdict Verdict      // why there is nothing to look at
	perHour float64      // dollars
	perYd   float64
}

// LeastDays is the shortest stretch of records from which a year is judged.
const LeastDays = 90

func newLastYear(h *record.History, f *Answers, opt setting.Options) *lastYear {
	y := &lastYear{h: h, f: f, level: opt.Level, order: opt.Order, from: h.AsOf - 365,
		perHour: opt.Rates.LaborPerHour.Dollars(), perYd: opt.Rates.ConcretePerYd.Dollars()}
	if h.Placements.Len() == 0 {
		y.verdict = NoRecords
		return y
	}
	y.days = min(365, int(h.AsOf-f.First)+1)
	y.scale = 365 / float64(y.days)
	y.rows = figure.Where(h.Placements.Len(), func(i int) bool { return h.Placements.At(i).PlacedOn() > y.from })
	y.called = figure.Where(h.Placements.Len(), func(i int) bool { return h.Placements.At(i).CallbackOn() > y.from })
	if f.Margin != nil {
		for i := range f.Margin.Jobs {
			if j := &f.Margin.Jobs[i]; j.Last > y.from {
				y.jobs = append(y.jobs, j)
			}
		}
	}
	switch {
	case y.days < LeastDays:
		y.verdict = TooShort
	case len(y.rows) < figure.LeastForRate:
		y.verdict = TooFew
	}
	return y
}

// each adds up a value over the year's placements that have it.
func (y *lastYear) each(value func(p record.PlacementRow) (float64, bool)) yearly {
	s := yearly{year: y}
	for _, i := range y.rows {
		if v, ok := value(y.h.Placements.At(i)); ok {
			s.add(v)
		}
	}
	return s
}

// by adds up a value over the year's placements that have it, by name.
func (y *lastYear) by(name func(p record.PlacementRow) string, value func(p record.PlacementRow) record.Number) map[string]float64 {
	sums := map[string]float64{}
	for _, i := range y.rows {
		p := y.h.Placements.At(i)
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
		return figure.Unknown(figure.TooFew{})
	}
	by := perUnit * s.year.scale
	half := distuv.UnitNormal.Quantile((1+s.year.level)/2) * math.Sqrt(s.squares) * math.Abs(by)
	return figure.Figure{Value: by * s.sum, Low: by*s.sum - half, High: by*s.sum + half, Level: s.year.level, N: s.n,
		Method: "sum of the last twelve months, compound Poisson interval", Bounded: true, OK: true}
}

// mean is the mean amount times so many, with its t interval.
func (s yearly) mean(times float64, method string) figure.Figure {
	n := float64(s.n)
	mean, sd := s.sum/n, math.Sqrt(max(0, s.squares-s.sum*s.sum/n)/(n-1))
	half := distuv.StudentsT{Sigma: 1, Nu: n - 1}.Quantile((1+s.year.level)/2) * sd / math.Sqrt(n)
	return figure.Figure{Value: times * mean, Low: times * (mean - half), High: times * (mean + half), Level: s.year.level, N: s.n, Method: method, Bounded: true, OK: true}
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
