package say

import (
	"math"
	"strings"

	"pourback/analysis/visits"
)

// Warranty says what slabs still under warranty may cost.
type Warranty struct{ *Voice }

// Title and the headings of the page.
func (w Warranty) Title() string       { return w.text("Warranty") }
func (w Warranty) ExpiryTitle() string { return w.text("By month of expiry") }
func (w Warranty) ExpiryCaption() string {
	return w.text("Still to come, by the month in which the warranty ends")
}
func (w Warranty) ReserveTitle() string   { return w.text("Reserve") }
func (w Warranty) ReserveCaption() string { return w.text("What is to come, beside the margin booked") }
func (w Warranty) WillSay() string        { return w.text("what slabs under warranty may still cost") }

// Takes is what the page takes to say anything.
func (w Warranty) Takes() string {
	return w.text("callbacks with their dates and costs, and the months of warranty of each job")
}

// Basis is what the page rests on.
func (w Warranty) Basis(d *visits.Warranty, placements int) string {
	return w.plural(d.Placements, "1 slab under warranty without a callback, {called} with one, of {all}.|{n} slabs under warranty without a callback, {called} with one, of {all}.", with{"called": Count(d.Called), "all": w.slabCount(placements)})
}

// Answer says what is still to come, and what that is beside the margin.
func (w Warranty) Answer(d *visits.Warranty) string {
	if d.Placements+d.Called == 0 {
		return w.text("No slab is under warranty: nothing is to come.")
	}
	under := d.Placements + d.Called
	if !d.Cost.Known() {
		return w.plural(under, "It is too early to say what the 1 slab under warranty may still cost: {why}.|It is too early to say what the {n} slabs under warranty may still cost: {why}.", with{"why": w.Reason(d.Cost.Why)})
	}
	calls := w.plural(int(math.Round(d.Callbacks.Value)), "1 callback|{n} callbacks", nil)
	said := []string{w.cost(d), w.plural(under, "If nobody has called about it yet, the 1 slab under warranty should bring about {calls}.|Of the {n} slabs under warranty, those not called about yet should bring about {calls}.", with{"calls": calls})}
	if d.Open > 0 && d.OpenCost.Known() {
		said = append(said, w.plural(d.Open, "Count about {cost} more for 1 open callback.|Count about {cost} more for {n} open callbacks.", with{"cost": w.Dollars(d.OpenCost.Value)}))
	}
	if d.Booked.Share.Known() {
		said = append(said, w.say("The cost still to come is {share} of the {margin} of margin booked on their jobs.", with{"share": w.Percent(d.Booked.Share.Value / 100), "margin": w.Dollars(d.Booked.Margin.Value)}))
	}
	return strings.Join(said, " ")
}

// cost is what is to come, with how far it may reach.
func (w Warranty) cost(d *visits.Warranty) string {
	cost := w.Dollars(d.Cost.Value)
	if !d.Cost.Bounded || d.Cost.High <= 0 {
		return w.say("Slabs under warranty may still cost about {cost}.", with{"cost": cost})
	}
	return w.say("Slabs under warranty may still cost about {cost} ({range}).", with{"cost": cost, "range": w.UpTo(d.Cost.Low, d.Cost.High)})
}

// Notes say how the expectation is to be taken.
func (w Warranty) Notes() []string {
	return []string{
		w.text("A slab's chance of a call is that of your earlier slabs. Of those with no call at its age, it is the share called about before the warranty ended."),
		w.text("Only a slab's first call is counted, at the mean cost of all calls about a slab. Slabs called about before may bring another."),
		w.text("Calls bunch just before a warranty ends, and some customers call after it."),
	}
}

// Unpriced says how many jobs are left out of the margin; "" for none.
func (w Warranty) Unpriced(d *visits.Warranty) string {
	if d.Booked.Unpriced == 0 {
		return ""
	}
	return w.plural(d.Booked.Unpriced, "1 job under warranty without a price or a cost is left out of the margin.|{n} jobs under warranty without a price or a cost are left out of the margin.", nil)
}

// Method says how the expectation is reckoned.
func (w Warranty) Method() []string {
	return []string{
		w.text("Each slab under warranty that nobody has called about counts with its chance (Kaplan-Meier). That is the share, of slabs without a call at its age, that are called about by the end of the warranty. The ranges take both the uncertain curve, which all slabs share, and chance. They are normal and cut at 0."),
		w.text("In money: times the mean cost of slabs called about, which counts as known. Each slab has its own job's warranty, or the most common one where its job states none."),
		w.text("Margin booked is prices with change orders less actual costs, exact to the cent, of the jobs with a slab under warranty. The margin page charges crack callbacks alone, by month of the pour, over the most common warranty."),
	}
}

// ExpiryHeads are the heads of the months in which warranties end.
type ExpiryHeads struct{ Ends, Slabs, Callbacks, Cost string }

// ExpiryHeads are the heads of the months in which warranties end.
func (w Warranty) ExpiryHeads() ExpiryHeads {
	return ExpiryHeads{w.text("Ends"), w.text("Slabs"), w.text("Callbacks expected"), w.text("Cost")}
}

// ReserveRows name the rows of what is to come, and the heads of its columns.
type ReserveRows struct{ Figure, Amount, Callbacks, Cracks, Each, Cost, Open, Margin, Share string }

// ReserveRows name the rows of what is to come, and the heads of its columns.
func (w Warranty) ReserveRows() ReserveRows {
	return ReserveRows{w.text("Figure"), w.text("Amount"), w.text("Callbacks expected"), w.text("of them about cracks"), w.text("Cost of each"), w.text("Expected cost"),
		w.text("Open callbacks at that cost"), w.text("Margin booked on their jobs"), w.text("Expected cost in % of it")}
}

// WarrantyChart are the words of the chart of expiries.
type WarrantyChart struct{ Says, Axis string }

// Chart are the words of the chart of expiries.
func (w Warranty) Chart() WarrantyChart {
	return WarrantyChart{
		Says: w.text("A bar for each month in which warranties end: what the callbacks still to come on those slabs are expected to cost, with the range."),
		Axis: w.say("callbacks still to come, {sign}", with{"sign": w.Currency})}
}

// MonthTip is the figure of a month's bar.
func (w Warranty) MonthTip(m *visits.WarrantyMonth) string {
	return w.say("{month}: {cost}, from {slabs}", with{"month": w.Month(m.Month), "cost": w.Long(w.About(), m.Cost), "slabs": w.slabCount(m.Placements)})
}
