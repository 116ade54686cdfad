package visits

import (
	"errors"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/money"
	"pourback/analysis/stat"
	"pourback/analysis/stat/control"
	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// CallControl says which months brought more calls, or fewer, than chance makes
// of the slabs under warranty: a u chart judged by exact Poisson tails.
type CallControl struct {
	Months int           `json:"months"`      // full months with slabs under warranty
	Base   int           `json:"base_months"` // the first of them, from which the rate comes
	Rate   figure.Figure `json:"rate_per_100_placement_months"`
	Points []CallPoint   `json:"points"`
	Spread figure.Figure `json:"spread"` // Laney's factor: above 1, months vary more than chance allows

	Why    figure.Reason `json:"-"` // why there is no chart; nil where there is one
	Signal *CallPoint    `json:"-"` // the latest month that stands out, nil where none does
}

// CallPoint is one month on the chart.
type CallPoint struct {
	Month    string  `json:"month"`
	Calls    int     `json:"calls"`
	Exposure float64 `json:"placement_months"` // under warranty
	Expected float64 `json:"expected"`
	SoMany   float64 `json:"p_so_many"` // chance of so many or more
	SoFew    float64 `json:"p_so_few"`
	Signal   bool    `json:"signal"`

	from record.Date // its first day
}

// callControl counts the calls about slabs under warranty, month by month, over
// the time that slabs were under warranty in it. The last twelve months are
// judged by those before them once there are twelve.
func (a *after) callControl() CallControl {
	c := CallControl{Points: []CallPoint{}}
	c.Points = a.callPoints()
	c.Months = len(c.Points)
	counts, exposure := make([]int, c.Months), make([]float64, c.Months)
	for i, p := range c.Points {
		counts[i], exposure[i] = p.Calls, p.Exposure/100
	}
	c.Base = c.Months
	if c.Months >= 2*money.YearOfMonths {
		c.Base = c.Months - money.YearOfMonths
	}
	chart, err := control.U(counts, exposure, c.Base)
	if err != nil {
		c.Base, c.Points = 0, []CallPoint{}
		c.Why = figure.ReasonOf(err)
		if errors.Is(err, stat.ErrTooFew) {
			c.Why = FewMonths{N: c.Months, Need: control.MinPoints}
		}
		c.Rate, c.Spread = figure.Unknown(c.Why), figure.Unknown(c.Why)
		return c
	}
	c.read(chart, counts, exposure, a.level)
	return c
}

// read takes the chart's expectations, tails and signals over.
func (c *CallControl) read(chart control.Attributes, counts []int, exposure []float64, level float64) {
	events := 0
	for _, n := range counts[:c.Base] {
		events += n
	}
	c.Rate = figure.Estimated(interval.Garwood(events, figure.SumOf(exposure[:c.Base]), level))
	c.Spread = figure.Total(chart.SigmaZ, c.Base, "Laney's σ_z")
	for i := range c.Points {
		p := &c.Points[i]
		p.Expected, p.SoFew, p.SoMany = chart.Center*exposure[i], chart.PLower[i], chart.PUpper[i]
	}
	for _, s := range chart.Signals {
		if s.Rule != control.ExactTail {
			continue
		}
		p := &c.Points[s.Index]
		p.Signal = true
		c.Signal = p
	}
}

// callPoints are the full months from the first pour to the data date in which
// any slab was under warranty.
func (a *after) callPoints() []CallPoint {
	if a.h.Placements.Len() == 0 {
		return []CallPoint{}
	}
	first := a.h.AsOf
	for i := range a.h.Placements.Len() {
		first = min(first, a.h.Placements.At(i).PlacedOn())
	}
	first = monthStart(first)
	under := make([]int, a.h.AsOf-first+2) // slabs that come under warranty on each day, less those that leave
	for i := range a.h.Placements.Len() {
		on, end := a.h.Placements.At(i).PlacedOn(), min(a.slab[i].warrantyEnd, a.h.AsOf)
		if end > on {
			under[on-first]++
			under[end-first]--
		}
	}
	calls := map[record.Date]int{}
	for i := range a.calls {
		if c := &a.calls[i]; c.on <= a.slab[c.slab].warrantyEnd {
			calls[monthStart(c.on)]++
		}
	}
	points, now := []CallPoint{}, 0
	for m := first; nextMonth(m) <= a.h.AsOf+1; m = nextMonth(m) {
		days := 0
		for d := m; d < nextMonth(m); d++ {
			now += under[d-first]
			days += now
		}
		if days > 0 {
			points = append(points, CallPoint{Month: m.Month(), from: m, Calls: calls[m], Exposure: float64(days) / (cracks.DaysPerYear / 12)})
		}
	}
	return points[firstOfRun(points):]
}

// firstOfRun leaves out the months before a gap without any slab under warranty
// that is a year or longer: another time, another company.
func firstOfRun(points []CallPoint) int {
	from := 0
	for i := 1; i < len(points); i++ {
		if points[i].from-points[i-1].from > money.YearOfMonths*31 {
			from = i
		}
	}
	return from
}

// monthStart is the first day of the date's month.
func monthStart(d record.Date) record.Date {
	y, m, _ := d.Time().Date()
	return record.DateOf(y, m, 1)
}

// nextMonth is the first day of the month after the date's.
func nextMonth(d record.Date) record.Date {
	y, m, _ := d.Time().Date()
	return record.DateOf(y, m+1, 1)
}
