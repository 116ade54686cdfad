package say

import (
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/money"
)

// Bridge says what led from the margin in the bids to the margin that was
// earned.
type Bridge struct{ *Voice }

// Kept says what a stretch of time kept beside its bids, and mostly why: "March
// 2026 kept 25 cents of the dollar, 3 cents less than bid. The biggest part of
// the gap is delays ($420)."
func (b Bridge) Kept(when string, e *money.Earned) string {
	if !e.MarginPct.Known() {
		return b.say("{when} brought in no revenue, so there is no margin.", with{"when": when})
	}
	kept := b.share(e.MarginPct.Value)
	gap, known := e.Gap()
	switch {
	case !known:
		return b.say("{when} {kept}. How that compares with the bids is not known: {why}.", with{"when": when, "kept": kept, "why": b.Reason(e.BidMarginPct.Why)})
	case gap == 0:
		return b.say("{when} {kept}, as bid.", with{"when": when, "kept": kept})
	case gap < 0:
		return b.joinedTo(b.say("{when} {kept}, {gap} less than bid.", with{"when": when, "kept": kept, "gap": b.apart(gap)}), b.mostly(e))
	}
	return b.joinedTo(b.say("{when} {kept}, {gap} more than bid.", with{"when": when, "kept": kept, "gap": b.apart(gap)}), b.mostly(e))
}

// joinedTo puts a sentence behind another, where there is one.
func (v *Voice) joinedTo(first, next string) string {
	if next == "" {
		return first
	}
	return first + " " + next
}

// mostly names the steps that led where the margin went.
func (b Bridge) mostly(e *money.Earned) string {
	var causes []string
	for _, s := range e.Mostly() {
		v := e.Step(s).Value
		causes = append(causes, b.say("{cause} ({amount})", with{"cause": b.Cause(s, v > 0), "amount": b.Dollars(math.Abs(v))}))
	}
	gap, _ := e.Gap()
	switch {
	case len(causes) == 0:
		return ""
	case gap < 0:
		return b.plural(len(causes), "The biggest part of the gap is {causes}.|The biggest parts of the gap are {causes}.", with{"causes": b.List(causes)})
	}
	return b.plural(len(causes), "The biggest part of the gain is {causes}.|The biggest parts of the gain are {causes}.", with{"causes": b.List(causes)})
}

// share is a margin in % of revenue as what became of each dollar.
func (b Bridge) share(pct float64) string {
	n := int(math.Round(math.Abs(pct)))
	switch lost := pct < 0; {
	case b.Currency != "$" && lost:
		return b.say("lost {share}% of revenue", with{"share": Count(n)})
	case b.Currency != "$":
		return b.say("kept {share}% of revenue", with{"share": Count(n)})
	case lost:
		return b.plural(n, "lost 1 cent on the dollar|lost {n} cents on the dollar", nil)
	}
	return b.plural(n, "kept 1 cent of the dollar|kept {n} cents of the dollar", nil)
}

// apart is how far two margins lie apart, in whole points.
func (b Bridge) apart(points int) string {
	n := max(points, -points)
	if b.Currency != "$" {
		return b.plural(n, "1 point|{n} points", nil)
	}
	return b.plural(n, "1 cent|{n} cents", nil)
}

// Head is a step in a table.
func (b Bridge) Head(s money.Step) string {
	switch s {
	case money.StepPrice:
		return b.text("Prices")
	case money.StepChangeOrders:
		return b.text("Change orders")
	case money.StepVolume:
		return b.text("Thickness")
	case money.StepUsage:
		return b.text("Extra concrete")
	case money.StepLaborRate:
		return b.text("Wages")
	case money.StepLaborEfficiency:
		return b.text("Crew hours")
	case money.StepDelay:
		return b.text("Delays")
	case money.StepCallback:
		return b.text("Callbacks")
	}
	return b.text("Other")
}

// Cause is what a step is where it gained, or lost.
func (b Bridge) Cause(s money.Step, gained bool) string {
	switch {
	case s == money.StepPrice && gained:
		return b.text("lower prices")
	case s == money.StepPrice:
		return b.text("higher prices")
	case s == money.StepChangeOrders && gained:
		return b.text("work added after signing")
	case s == money.StepChangeOrders:
		return b.text("work taken off after signing")
	case s == money.StepVolume && gained:
		return b.text("slabs thinner than drawn")
	case s == money.StepVolume:
		return b.text("slabs thicker than drawn")
	case s == money.StepUsage && gained:
		return b.text("less concrete than planned")
	case s == money.StepUsage:
		return b.text("extra concrete")
	case s == money.StepLaborRate && gained:
		return b.text("lower wages")
	case s == money.StepLaborRate:
		return b.text("higher wages")
	case s == money.StepLaborEfficiency && gained:
		return b.text("crews faster than usual")
	case s == money.StepLaborEfficiency:
		return b.text("crews slower than usual")
	case s == money.StepDelay:
		return b.text("delays")
	case s == money.StepCallback:
		return b.text("callbacks")
	}
	return b.text("reasons your log doesn't show")
}

// Means is what a step stands for.
func (b Bridge) Means(s money.Step) string {
	switch s {
	case money.StepPrice:
		return b.text("material prices against the bid")
	case money.StepChangeOrders:
		return b.text("work added after signing")
	case money.StepVolume:
		return b.text("concrete for slabs thicker or thinner than drawn")
	case money.StepUsage:
		return b.text("concrete over the plan, thickness aside")
	case money.StepLaborRate:
		return b.text("what an hour cost against the bid")
	case money.StepLaborEfficiency:
		return b.text("hours against an average crew on the same jobs")
	case money.StepDelay:
		return b.text("crew hours lost to delays")
	case money.StepCallback:
		return b.text("what callbacks have cost so far")
	}
	return b.text("reasons your log doesn't show")
}

// The words around the bridge of a stretch of time.
func (b Bridge) Title() string { return b.text("From bid to earned") }
func (b Bridge) Says() string {
	return b.text("Money lost against the bids has a minus, money gained has none.")
}
func (b Bridge) InBids() string      { return b.text("In the bids") }
func (b Bridge) InBidsMeans() string { return b.text("what the bids planned to keep") }
func (b Bridge) Earned() string      { return b.text("Earned") }
func (b Bridge) EarnedMeans() string { return b.text("revenue less cost") }
func (b Bridge) Against() string     { return b.text("Against bids") }
func (b Bridge) AgainstMeans() string {
	return b.text("earned less what the bids planned")
}
func (b Bridge) HeadStep() string  { return b.text("Step") }
func (b Bridge) HeadMoney() string { return b.text("Money") }
func (b Bridge) HeadMeans() string { return b.text("What it is") }

// The captions of bridges, by what they are of.
func (b Bridge) CaptionOf(month string) string {
	return b.say("From bid to earned, {month}, {currency}", with{"month": b.Month(month), "currency": b.Currency})
}

func (b Bridge) CaptionOfAll() string {
	return b.say("From bid to earned, all jobs, {currency}", with{"currency": b.Currency})
}

// The words of its chart.
func (b Bridge) Chart() string {
	return b.text("From the margin in the bids at the top to the margin earned at the foot. Each bar between them is what one cause added or took. The table has the same figures.")
}
func (b Bridge) Axis() string   { return b.say("margin, {currency}", with{"currency": b.Currency}) }
func (b Bridge) Ends() string   { return b.text("in all") }
func (b Bridge) Worse() string  { return b.text("less than bid") }
func (b Bridge) Better() string { return b.text("more than bid") }
func (b Bridge) NoSteps() string {
	return b.text("No chart is drawn: nothing leads from the one to the other.")
}
func (b Bridge) NoAmount() string {
	return b.text("No chart is drawn: one of the amounts is not known.")
}

// Tip is what one bar comes to.
func (b Bridge) Tip(head string, amount float64) string {
	return b.say("{step}: {amount}", with{"step": head, "amount": b.Exactly(amount)})
}

// Moved is a bar of a step: "Delays: $658 lost".
func (b Bridge) Moved(s money.Step, amount float64) string {
	if amount < 0 {
		return b.say("{step}: {amount} lost", with{"step": b.Head(s), "amount": b.Exactly(-amount)})
	}
	return b.say("{step}: {amount} gained", with{"step": b.Head(s), "amount": b.Exactly(amount)})
}

// moneyReason says why a figure of money is not known.
func (v *Voice) moneyReason(r figure.Reason) (string, bool) {
	switch r := r.(type) {
	case money.BidsLacking:
		if r.Compared {
			return v.plural(r.Jobs, "{lacking} of 1 job has no bid cost; the others are compared|{lacking} of {n} jobs have no bid cost; the others are compared", with{"lacking": Count(r.Lacking)}), true
		}
		return v.plural(r.Jobs, "{lacking} of 1 job has no bid cost|{lacking} of {n} jobs have no bid cost", with{"lacking": Count(r.Lacking)}), true
	case money.NothingPriced:
		return v.text("no job has a price and a cost"), true
	case money.NoRevenue:
		return v.text("no revenue"), true
	case money.NoPrices:
		return v.text("no job has a contract price"), true
	case money.NoneTell:
		return v.noneTell(r.Step), true
	case money.FewMonths:
		return v.plural(r.Months, "1 full month on record, and it takes {least} to know what is normal|{n} full months on record, and it takes {least} to know what is normal", with{"least": Count(r.Least)}), true
	case money.OneMonth:
		return v.text("it takes two full months"), true
	case money.MonthsUnlike:
		return v.text("one of the two months has no revenue"), true
	case money.FewJobs:
		return v.plural(r.Jobs, "1 job; it takes {least}|{n} jobs; it takes {least}", with{"least": Count(figure.LeastForRate)}), true
	case money.FewSettledJobs:
		return v.plural(r.Jobs, "1 job is a year old; it takes {least}|{n} jobs are a year old; it takes {least}", with{"least": Count(figure.LeastForRate)}), true
	}
	return "", false
}

// noneTell says why a step of the bridge is 0, and where its money is.
func (v *Voice) noneTell(s money.Step) string {
	switch s {
	case money.StepChangeOrders:
		return v.text("no change orders on record")
	case money.StepVolume:
		return v.text("no probed thickness; included in Extra concrete")
	case money.StepUsage:
		return v.text("no placement has both planned and delivered yards; included in Other")
	case money.StepLaborEfficiency:
		return v.text("too few placements have area, thickness and labor hours; included in Other")
	case money.StepDelay:
		return v.text("no placement has both delay minutes and crew size; included in Other")
	case money.StepCallback:
		return v.text("no callback costs so far")
	}
	return v.text("your log has no prices or wages paid; included in Other")
}
