package money

import (
	"sync"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// Margin is what jobs earned beside what their bids meant to earn, and what
// led from the one to the other.
type Margin struct {
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

	Jobs       []Job  `json:"-"` // in the order of their numbers
	Open       string `json:"-"` // the month that is not over by the data date, where a job ended in it
	h          *record.History
	paid       func() []paid         // of each job of the history, worked out when asked for
	standard   func() []StandardCost // likewise
	UnpricedOn []record.Date         `json:"-"` // the last placements of jobs left out
}

// Job is one job that has both a contract price and an actual cost.
type Job struct {
	JobNo         string
	Last          record.Date  // of its placements
	Use           string       // of its largest placement
	AreaSqft      float64      // of all
	FollowOn      bool         // won from an earlier job on record
	Price         record.Cents // as signed, which the bid was made for
	Revenue, Cost record.Cents // Revenue is Price with the change orders
	BidCost       record.Money
	at            int         // among the history's jobs
	lines         bool        // Effects hold what its lines of cost tell
	Effects       Effects     // where there is a bid cost
	Known         [steps]bool // which effects its rows tell; the rest stands in other
}

// Month is the jobs whose last placement fell into the month.
type Month struct {
	Month string `json:"month"`
	Earned
	Reserve      figure.Figure `json:"callback_reserve"`         // crack callbacks still to come from its pours, in money
	AfterReserve figure.Figure `json:"margin_pct_after_reserve"` // margin with that charged to it
}

// Year is the same of a calendar year.
type Year struct {
	Year string `json:"year"`
	Earned
}

// MarginTotal is the same of all jobs.
type MarginTotal struct{ Earned }

// Earned is what a number of jobs earned beside what their bids meant to earn.
type Earned struct {
	Jobs         int           `json:"jobs"`
	Revenue      record.Cents  `json:"revenue"`
	Cost         record.Cents  `json:"cost"`
	BidCost      record.Money  `json:"-"` // where every job has one
	MarginPct    figure.Figure `json:"margin_pct"`
	BidMarginPct figure.Figure `json:"bid_margin_pct"`
	AgainstBid   figure.Figure `json:"against_bid"` // margin less bid margin in money; the bridge adds up to it
	Bridge
}

// Of answers what the jobs of a history earned; without a model no step tells of
// hours.
func Of(h *record.History, opt setting.Options, model *work.HoursModel) *Margin {
	m := &Margin{h: h, Assumptions: opt.Rates, Months: []Month{}, Years: []Year{}}
	m.paid, m.standard = sync.OnceValue(m.paidOf), sync.OnceValue(m.standardCosts)
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
	if n := len(m.Months); n > 0 && m.Months[n-1].Month == h.AsOf.Month() && (h.AsOf+1).Month() == h.AsOf.Month() {
		m.Open = h.AsOf.Month()
	}
	full := m.fullMonths()
	m.Control = controlChart(OfMargin, full, opt.Level, func(e *Earned) figure.Figure { return e.MarginPct })
	m.ControlAgainst = controlChart(OfAgainst, full, opt.Level, (*Earned).pointsAgainstBid)
	m.Change = marginChange(full)
	m.FollowOn = followOn(h, of, named, opt.Level)
	return m
}

// priceJobs takes in the jobs that have both a contract price and an actual
// cost, and counts the others.
func (m *Margin) priceJobs(h *record.History, of []deviation, working float64, named map[string]int) {
	m.Jobs = make([]Job, 0, h.Jobs.Len())
	for i := range h.Jobs.Len() {
		job := h.Jobs.At(i)
		revenue := job.Revenue()
		if !revenue.OK || !job.ActualCost().OK {
			m.UnpricedOn = append(m.UnpricedOn, of[i].last)
			continue
		}
		j := Job{at: i, JobNo: job.JobNo(), Last: of[i].last, Use: of[i].use, AreaSqft: of[i].area,
			Price: job.ContractPrice().V, Revenue: revenue.V, Cost: job.ActualCost().V, BidCost: job.BidCost()}
		_, j.FollowOn = wonFrom(named, job)
		if j.BidCost.OK {
			j.Effects, j.Known = of[i].effects(m.Assumptions, working, job.ChangeOrders(), j.AgainstBid())
		}
		m.Jobs = append(m.Jobs, j)
	}
	m.Unpriced = len(m.UnpricedOn)
}

// fullMonths are the months that were over by the data date.
func (m *Margin) fullMonths() []Month {
	n := len(m.Months)
	if m.Open != "" {
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
