package money

import (
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// Margin is what jobs earned beside what their bids meant to earn, and what
// led from the one to the other.
type Margin struct {
	Answer string      `json:"answer"`
	Months []Month     `json:"months"`
	Years  []Year      `json:"years"`
	Total  MarginTotal `json:"total"`
	// Left out: jobs that lack a contract price or an actual cost.
	Unpriced       int                   `json:"jobs_without_price_or_cost"`
	Control        Control               `json:"control"`             // of margin percent by month
	ControlAgainst Control               `json:"control_against_bid"` // of margin less bid margin, in points
	Change         Change                `json:"change"`              // from the month before to the last full month
	FollowOn       FollowOn              `json:"follow_on"`
	Reserve        figure.Figure         `json:"callback_reserve"` // crack callbacks still to come from all slabs in warranty, in money
	Assumptions    setting.StandardRates `json:"assumptions"`
	Notes          []string              `json:"notes"`

	Jobs       []Job `json:"-"` // in the order of their numbers
	h          *record.History
	UnpricedOn []record.Date `json:"-"` // the last placements of jobs left out
}

// MarginJob is one job that has both a contract price and an actual cost.
type Job struct {
	JobNo         string
	Last          record.Date // of its placements
	Use           string      // of its largest placement
	AreaSqft      float64     // of all
	FollowOn      bool        // won from an earlier job on record
	Revenue, Cost record.Cents
	BidCost       record.Money
	Effects       Effects     // where there is a bid cost
	Known         [steps]bool // which effects its rows tell; the rest stands in other
}

// MarginMonth is the jobs whose last placement fell into the month.
type Month struct {
	Month string `json:"month"`
	Earned
	Reserve      figure.Figure `json:"callback_reserve"`         // crack callbacks still to come from its pours, in money
	AfterReserve figure.Figure `json:"margin_pct_after_reserve"` // margin with that charged to it
}

// MarginYear is the same of a calendar year.
type Year struct {
	Year string `json:"year"`
	Earned
}

// MarginTotal is the same of all jobs.
type MarginTotal struct{ Earned }

// Earned is what a number of jobs earned beside what their bids meant to earn.
type Earned struct {
	Jobs         int           `json:"jobs"`
	Revenue      record.Cents  `json:"-"`
	Cost         record.Cents  `json:"-"`
	BidCost      record.Money  `json:"-"` // where every job has one
	MarginPct    figure.Figure `json:"margin_pct"`
	BidMarginPct figure.Figure `json:"bid_margin_pct"`
	AgainstBid   figure.Figure `json:"against_bid"` // margin less bid margin in money; the bridge adds up to it
	Bridge
}

func Of(h *record.History, opt setting.Options, model *work.HoursModel) *Margin {
	m := &Margin{h: h, Assumptions: opt.Rates, Months: []Month{}, Years: []Year{}}
	of, working := deviations(h, model)
	named := namedJobs(h)
	m.priceJobs(h, of, working, named)
	months, years, all := periods{}, periods{}, tally{}
	for i := range m.Jobs {
		j := &m.Jobs[i]
		month := MonthNumber(j.Last)
		months.at(month).add(j)
		years.at(month / 12).add(j)
		all.add(j)
	}
	for _, t := range months.inOrder() {
		m.Months = append(m.Months, Month{Month: t.last.Month(), Earned: t.earned(opt.Rates, true)})
	}
	for _, t := range years.inOrder() {
		m.Years = append(m.Years, Year{t.last.String()[:4], t.earned(opt.Rates, false)})
	}
	m.Total = MarginTotal{all.earned(opt.Rates, false)}
	full := m.fullMonths(h.AsOf)
	m.Control = controlChart("margin, % of revenue", full, opt.Level, func(e *Earned) figure.Figure { return e.MarginPct })
	m.ControlAgainst = controlChart("margin less the margin in the bids, points of revenue", full, opt.Level, (*Earned).pointsAgainstBid)
	m.Change = marginChange(full)
	m.FollowOn = followOn(h, of, named, opt.Level)
	m.conclude(full)
	return m
}

// priceJobs takes in the jobs that have both a contract price and an actual
// cost, and counts the others.
func (m *Margin) priceJobs(h *record.History, of []deviation, working float64, named map[string]int) {
	m.Jobs = make([]Job, 0, len(h.Jobs))
	for i := range h.Jobs {
		job := &h.Jobs[i]
		if !job.ContractPrice.OK || !job.ActualCost.OK {
			m.UnpricedOn = append(m.UnpricedOn, of[i].last)
			continue
		}
		j := Job{JobNo: job.JobNo, Last: of[i].last, Use: of[i].use, AreaSqft: of[i].area,
			Revenue: job.ContractPrice.V, Cost: job.ActualCost.V, BidCost: job.BidCost}
		_, j.FollowOn = wonFrom(named, job)
		if j.BidCost.OK {
			j.Effects, j.Known = of[i].effects(m.Assumptions, working, j.BidCost.V-j.Cost)
		}
		m.Jobs = append(m.Jobs, j)
	}
	m.Unpriced = len(m.UnpricedOn)
}

// fullMonths are the months that were over by the data date.
func (m *Margin) fullMonths(asOf record.Date) []Month {
	n := len(m.Months)
	if n > 0 && m.Months[n-1].Month == asOf.Month() && (asOf+1).Month() == asOf.Month() {
		n--
	}
	return m.Months[:n]
}

// pointsAgainstBid is margin less bid margin, in points of revenue.
func (e *Earned) pointsAgainstBid() figure.Figure {
	if !e.MarginPct.Known() || !e.BidMarginPct.Known() {
		return e.BidMarginPct
	}
	return figure.Total(e.MarginPct.Value-e.BidMarginPct.Value, e.Jobs, "margin % less bid margin %")
}

// money writes the sums in the currency's unit, exact to the cent.
func (e *Earned) money(b []byte) []byte {
	b = append(append(b, `"revenue":`...), e.Revenue.String()...)
	return append(append(b, `,"cost":`...), e.Cost.String()...)
}

// MarshalJSON adds the money in the currency's unit, exact to the cent.
func (m Month) MarshalJSON() ([]byte, error) {
	type plain Month
	return figure.MarshalWith(plain(m), m.money)
}

// MarshalJSON adds the money in the currency's unit, exact to the cent.
func (m Year) MarshalJSON() ([]byte, error) {
	type plain Year
	return figure.MarshalWith(plain(m), m.money)
}

// MarshalJSON adds the money in the currency's unit, exact to the cent.
func (m MarginTotal) MarshalJSON() ([]byte, error) {
	type plain MarginTotal
	return figure.MarshalWith(plain(m), m.money)
}
