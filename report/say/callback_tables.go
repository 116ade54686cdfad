package say

import "pourback/analysis/visits"

// CallHeads are the heads of the tables of calls.
type CallHeads struct{ Group, Calls, Cost, Each, Rate, Placements string }

// GroupHeads are those of the calls of a group.
func (c Callbacks) GroupHeads(by visits.GroupKind) CallHeads {
	return CallHeads{Capital(c.Group(by)), c.text("Calls"), c.text("Cost"), c.text("Each"), c.text("A year, in 100 slabs"), c.text("Placements")}
}

// CallMonthHeads are those of the months.
type CallMonthHeads struct{ Month, Calls, Open, Cost, Within, Usual, Slabs, All, AllCost, Out string }

// MonthHeads are those of the months.
func (c Callbacks) MonthHeads() CallMonthHeads {
	return CallMonthHeads{c.text("Month"), c.text("Calls"), c.text("Still open"), c.text("Cost"), c.text("Calls within it"), c.text("Usual"), c.text("Slabs under warranty"),
		c.text("Calls in all"), c.text("Cost of all"), c.text("Stands out")}
}

// AgainHeads are those of what came back.
type AgainHeads struct{ Slab, First, Closed, Again, On, Cost string }

// AgainHeads are those of what came back.
func (c Callbacks) AgainHeads() AgainHeads {
	return AgainHeads{c.text("Slab"), c.text("First"), c.text("Closed"), c.text("Again"), c.text("On"), c.text("Cost of all")}
}

// StandsOut marks a month that stands out.
func (c Callbacks) StandsOut(out bool) string { return c.chosen(out, c.text("yes"), "–") }

// EarlierMonths says how many months a table leaves out.
func (c Callbacks) EarlierMonths(n int) string {
	if c.OnSite {
		return c.plural(n, "And 1 earlier month.|And {n} earlier months.", nil)
	}
	return c.plural(n, "And 1 earlier month; `pourback factors visits --json` has it.|And {n} earlier months; `pourback factors visits --json` has them all.", nil)
}

// CallChart are the words of the chart of months.
type CallChart struct{ Says, Calls, Usual string }

// Chart are the words of the chart of months.
func (c Callbacks) Chart() CallChart {
	return CallChart{
		Says:  c.text("Callbacks within the warranty, month by month. The line across each bar is the usual number."),
		Calls: c.text("callbacks"), Usual: c.text("usual")}
}

// CallsNote names a month that stands out: "Jan 2025: 2 callbacks".
func (c Callbacks) CallsNote(p *visits.CallPoint) string {
	return c.plural(p.Calls, "{month}: 1 callback|{month}: {n} callbacks", with{"month": c.ShortMonth(p.Month)})
}

// CallsTip is the figure of a month's bar.
func (c Callbacks) CallsTip(p *visits.CallPoint) string {
	return c.plural(p.Calls, "{month}: 1 callback|{month}: {n} callbacks", with{"month": c.Month(p.Month)})
}

// UsualTip is that of the line across it.
func (c Callbacks) UsualTip(p *visits.CallPoint) string {
	return c.say("{month}: usually {usual}", with{"month": c.Month(p.Month), "usual": Grouped(p.Expected, 1)})
}
