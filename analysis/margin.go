package analysis

import (
	"strings"

	"pourback/ingest/record"
)

// Margin is what the jobs of each month earned, beside what their bids meant
// to earn.
type Margin struct {
	Months []MarginMonth `json:"months"`
	// Left out: jobs that lack a contract price or an actual cost.
	Unpriced int `json:"jobs_without_price_or_cost"`
}

// MarginMonth is the jobs whose last placement fell into the month.
type MarginMonth struct {
	Month           string       `json:"month"`
	Jobs            int          `json:"jobs"`
	Revenue         record.Cents `json:"-"`
	Cost            record.Cents `json:"-"`
	BidCost         record.Money `json:"-"` // where every job has one
	MarginPct       Figure       `json:"margin_pct"`
	BidMarginPct    Figure       `json:"bid_margin_pct"`
	Price           Figure       `json:"price"`
	Volume          Figure       `json:"volume"`
	Usage           Figure       `json:"usage"`
	LaborRate       Figure       `json:"labor_rate"`
	LaborEfficiency Figure       `json:"labor_efficiency"`
	Delay           Figure       `json:"delay"`
	Callback        Figure       `json:"callback"`
	Other           Figure       `json:"other"`
}

func margin(h *record.History) *Margin {
	m := &Margin{Months: []MarginMonth{}}
	last := make([]record.Date, len(h.Jobs))
	for i := range h.Placements {
		j := h.JobIndex(i)
		last[j] = max(last[j], h.Placements[i].PlacedOn)
	}
	byMonth := groupBy(len(h.Jobs), func(j int) (string, bool) {
		priced := h.Jobs[j].ContractPrice.OK && h.Jobs[j].ActualCost.OK
		if !priced {
			m.Unpriced++
		}
		return last[j].Month(), priced
	})
	for _, month := range byMonth.sorted(strings.Compare) {
		m.Months = append(m.Months, marginMonth(h, month, byMonth.rows[month]))
	}
	return m
}

func marginMonth(h *record.History, month string, jobs []int) MarginMonth {
	m := MarginMonth{Month: month, Jobs: len(jobs), BidCost: record.Some[record.Cents](0)}
	bid := 0
	for _, j := range jobs {
		job := &h.Jobs[j]
		m.Revenue += job.ContractPrice.V
		m.Cost += job.ActualCost.V
		if job.BidCost.OK {
			m.BidCost.V += job.BidCost.V
			bid++
		}
	}
	m.MarginPct = marginPct(m.Revenue, m.Cost, len(jobs), "(revenue − cost) / revenue")
	if bid == len(jobs) {
		m.BidMarginPct = marginPct(m.Revenue, m.BidCost.V, bid, "(revenue − cost in the bids) / revenue")
	} else {
		m.BidCost = record.Money{}
		m.BidMarginPct = unknown("%d of the month's %d jobs lack the cost carried in their bid", len(jobs)-bid, len(jobs))
	}
	for _, f := range []*Figure{&m.Price, &m.Volume, &m.Usage, &m.LaborRate, &m.LaborEfficiency, &m.Delay, &m.Callback, &m.Other} {
		*f = later("the bridge from bid margin to actual margin")
	}
	return m
}

func marginPct(revenue, cost record.Cents, jobs int, method string) Figure {
	if revenue == 0 {
		return unknown("no revenue")
	}
	return total(100*float64(revenue-cost)/float64(revenue), jobs, method)
}

// MarshalJSON adds the money in the currency's unit, exact to the cent.
func (m MarginMonth) MarshalJSON() ([]byte, error) {
	type plain MarginMonth
	return marshalWith(plain(m), func(b []byte) []byte {
		b = append(append(b, `"revenue":`...), m.Revenue.String()...)
		return append(append(b, `,"cost":`...), m.Cost.String()...)
	})
}
