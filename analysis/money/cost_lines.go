package money

import (
	"cmp"
	"slices"

	"pourback/ingest/record"
)

// CostLine is a part of what jobs cost against their bids, by their own lines of
// cost.
type CostLine string

// The lines in the order in which they are shown.
const (
	ConcretePrice     CostLine = "concrete price"
	ConcreteThickness CostLine = "concrete thickness"
	ConcreteUse       CostLine = "concrete use"
	ConcreteLeftover  CostLine = "concrete leftover"
	LaborWage         CostLine = "labor wage"
	LaborHours        CostLine = "labor hours"
	OtherPrice        CostLine = "other price"
	OtherQuantity     CostLine = "other quantity"
	CallbackCost      CostLine = "callbacks"
	ExtraWork         CostLine = "extra work" // added after signing
	NotSplit          CostLine = "not split"  // lines without quantities and prices
)

// LineCost is what one of them did to the margin, positive where better than the
// bid.
type LineCost struct {
	Line CostLine
	Cost record.Cents
}

// CostLines are those of a number of jobs.
type CostLines struct {
	Jobs  int
	Lines []LineCost
	Total record.Cents // cost in the bids less cost
}

// CostLinesOf adds up the lines of cost of the jobs that ended in a month, or
// where it is "" in the last twelve. A job log has none.
func (m *Margin) CostLinesOf(month string) CostLines {
	var sum StandardCost
	from, jobs := m.yearBefore(), 0
	for _, c := range m.StandardCosts() {
		if month == "" && c.Last > from || month != "" && c.Last.Month() == month {
			jobs++
			sum.add(&c)
		}
	}
	return CostLines{jobs, []LineCost{
		{ConcretePrice, sum.Concrete.Price}, {ConcreteThickness, sum.Concrete.Geometry}, {ConcreteUse, sum.Concrete.Use}, {ConcreteLeftover, sum.Concrete.Leftover},
		{LaborWage, sum.Labor.Price}, {LaborHours, sum.Labor.Usage}, {OtherPrice, sum.Items.Price}, {OtherQuantity, sum.Items.Usage},
		{CallbackCost, sum.Callback}, {ExtraWork, sum.Extra}, {NotSplit, sum.Left}}, sum.Total}
}

// Worst is the line to which most was lost; false where nothing ran over. What
// added work cost was paid for, and is no loss.
func (c CostLines) Worst() (LineCost, bool) {
	lines := slices.DeleteFunc(slices.Clone(c.Lines), func(l LineCost) bool { return l.Line == ExtraWork })
	if len(lines) == 0 {
		return LineCost{}, false
	}
	worst := slices.MinFunc(lines, func(x, y LineCost) int { return cmp.Compare(x.Cost, y.Cost) })
	return worst, worst.Cost < 0
}

// add adds one job's variances to a sum, in exact cents.
func (c *StandardCost) add(job *StandardCost) {
	c.Concrete.Price += job.Concrete.Price
	c.Concrete.Geometry += job.Concrete.Geometry
	c.Concrete.Use += job.Concrete.Use
	c.Concrete.Leftover += job.Concrete.Leftover
	c.Labor.Price += job.Labor.Price
	c.Labor.Usage += job.Labor.Usage
	c.Items.Price += job.Items.Price
	c.Items.Usage += job.Items.Usage
	c.Callback += job.Callback
	c.Extra += job.Extra
	c.Left += job.Left
	c.Total += job.Total
}
