package money

import (
	"math"

	"pourback/analysis/stat/score"
	"pourback/ingest/record"
)

// StandardCost is a job's textbook variances from its lines of cost, as effects
// on margin in exact cents: positive where better than the bid. Only a history
// handed in in full has such lines, so this is for the pages. The parts add up
// to Total, the cost in the bid less the actual cost.
//
//	price, rate        −(AP − SP)·AQ
//	usage, efficiency  −(AQ − SQ)·SP
//
// Source: Horngren, Datar & Rajan, Cost Accounting, ch. 7.
type StandardCost struct {
	JobNo    string
	Last     record.Date // of its placements
	Concrete ConcreteCost
	Labor    PriceUsage // Price is the rate, Usage the efficiency
	Items    PriceUsage // all other lines with both quantities and both rates
	Callback record.Cents
	Extra    record.Cents // what work added after signing cost; its pay is no cost
	Left     record.Cents // lines without them, and amounts that are not quantity × rate
	Total    record.Cents
}

// PriceUsage is what costlier units and more units did.
type PriceUsage struct{ Price, Usage record.Cents }

// ConcreteCost splits the usage of concrete further: what was built thicker or
// thinner than drawn, use at that thickness, and what was left over. Where the
// placements do not tell, all of it is use.
type ConcreteCost struct{ Price, Geometry, Use, Leftover record.Cents }

// StandardCosts are those of the jobs with lines of cost and a bid cost, in the
// order of their numbers. They are worked out when asked for: the JSON, which
// may rest on nothing that a job log does not hold, never asks.
func (m *Margin) StandardCosts() []StandardCost { return m.standard() }

func (m *Margin) standardCosts() []StandardCost {
	h := m.h
	if len(h.Costs) == 0 {
		return nil
	}
	var out []StandardCost
	for j := range h.Jobs.Len() {
		job := h.Jobs.At(j)
		if lines := h.CostsOf(j); len(lines) > 0 && job.BidCost().OK && job.ActualCost().OK {
			out = append(out, standardCost(h, j, lines))
		}
	}
	return out
}

func standardCost(h *record.History, j int, lines []record.Cost) StandardCost {
	job := h.Jobs.At(j)
	c := StandardCost{JobNo: job.JobNo(), Total: job.BidCost().V - job.ActualCost().V}
	concrete := concreteOf(h, j)
	c.Last = concrete.last
	for i := range lines {
		c.take(&lines[i], concrete)
	}
	c.Left = c.Total - c.explained()
	return c
}

// take adds one line to the part it belongs to; a line without both quantities
// and both rates, or too large to be kept to the cent, stays with Left.
func (c *StandardCost) take(l *record.Cost, concrete concretePlaced) {
	switch l.Item {
	case "callback":
		c.Callback += l.Planned().Or(0) - l.Actual().Or(0)
		return
	case "extra work":
		c.Extra += l.Planned().Or(0) - l.Actual().Or(0)
		return
	}
	if !l.PlannedQty.OK || !l.PlannedRate.OK || !l.ActualQty.OK || !l.ActualRate.OK {
		return
	}
	standard, err1 := score.Exact(l.PlannedQty.V, l.PlannedRate.V.Dollars())
	actual, err2 := score.Exact(l.ActualQty.V, l.ActualRate.V.Dollars())
	if err1 != nil || err2 != nil {
		return
	}
	if l.Item == "concrete" {
		c.Concrete.take(concrete.split(standard, actual))
		return
	}
	v, err := score.PriceUsageCents(actual, standard)
	if err != nil {
		return
	}
	to := &c.Items
	if l.Item == "labor" {
		to = &c.Labor
	}
	to.Price -= record.Cents(v.Price)
	to.Usage -= record.Cents(v.Usage)
}

func (c *ConcreteCost) take(m score.Material) {
	v, err := m.Variance()
	if err != nil {
		return
	}
	c.Price -= record.Cents(v.Price)
	c.Geometry -= record.Cents(v.Geometry)
	c.Use -= record.Cents(v.Use)
	c.Leftover -= record.Cents(v.Leftover)
}

// explained is all parts but what is left.
func (c *StandardCost) explained() record.Cents {
	return c.Concrete.Price + c.Concrete.Geometry + c.Concrete.Use + c.Concrete.Leftover +
		c.Labor.Price + c.Labor.Usage + c.Items.Price + c.Items.Usage + c.Callback + c.Extra
}

// concretePlaced is what a job's placements tell of its concrete, in yd³.
type concretePlaced struct {
	neat, built, delivered, leftover float64
	whole                            bool // every placement has all of it
	last                             record.Date
}

func concreteOf(h *record.History, j int) concretePlaced {
	from, to := h.PlacementsOf(j)
	c := concretePlaced{whole: to > from}
	for i := from; i < to; i++ {
		p := h.Placements.At(i)
		c.last = max(c.last, p.PlacedOn())
		neat := p.Neat()
		if !neat.OK || !p.MeasuredThicknessIn().OK || !(p.ThicknessIn().Or(0) > 0) || !p.DeliveredYd().OK || !p.LeftoverYd().OK {
			c.whole = false
			continue
		}
		c.neat += neat.V
		c.built += neat.V * p.MeasuredThicknessIn().V / p.ThicknessIn().V
		c.delivered += p.DeliveredYd().V
		c.leftover += p.LeftoverYd().V
	}
	return c
}

// split lays the concrete out from what was planned to what was paid for. The
// placements serve where they speak of the same yards as the line.
func (c concretePlaced) split(standard, actual score.ExactLine) score.Material {
	m := score.Material{Planned: standard.Quantity, Built: standard.Quantity, Used: actual.Quantity, Delivered: actual.Quantity,
		StandardPrice: standard.Price, ActualPrice: actual.Price}
	thousandths := func(yd float64) int64 { return int64(math.Round(yd * 1000)) }
	if c.whole && thousandths(c.delivered) == actual.Quantity && c.neat > 0 && c.built < 1e9 {
		m.Built += thousandths(c.built - c.neat)
		m.Used -= thousandths(c.leftover)
	}
	return m
}
