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
func (b Bridge) Kept(when string, e *money.Earned) string { return b.kept(when, e, "") }

// kept says it beside what is usual too, where that is known: "March 2026 kept
// 25 cents of the dollar: 3 cents less than bid, 2 cents more than usual."
func (b Bridge) kept(when string, e *money.Earned, usual string) string {
	when = Capital(when)
	if !e.MarginPct.Known() {
		return b.say("{when} brought in no revenue, so there is no margin.", with{"when": when})
	}
	values := with{"when": when, "kept": b.share(e.MarginPct.Value)}
	gap, known := e.Gap()
	if !known {
		values["why"] = b.Reason(e.BidMarginPct.Why)
		if usual == "" {
			return b.say("{when} {kept}. How that compares with the bids is not known: {why}.", values)
		}
		values["usual"] = usual
		return b.say("{when} {kept}, {usual}. How that compares with the bids is not known: {why}.", values)
	}
	values["against"] = b.againstBid(gap)
	said := ""
	if usual == "" {
		said = b.say("{when} {kept}, {against}.", values)
	} else {
		values["usual"] = usual
		said = b.say("{when} {kept}: {against}, {usual}.", values)
	}
	return b.joinedTo(said, b.mostly(e))
}

// againstBid is how far a margin came out from the one in the bids.
func (b Bridge) againstBid(gap int) string {
	switch values := (with{"gap": b.apart(gap)}); {
	case gap < 0:
		return b.say("{gap} less than bid", values)
	case gap > 0:
		return b.say("{gap} more than bid", values)
	}
	return b.text("as bid")
}

// againstUsual is how far it lies from the usual one.
func (b Bridge) againstUsual(points int) string {
	switch values := (with{"gap": b.apart(points)}); {
	case points < 0:
		return b.say("{gap} less than usual", values)
	case points > 0:
		return b.say("{gap} more than usual", values)
	}
	return b.text("as usual")
}

// joinedTo puts a sentence behind another, where there is one.
func (v *Voice) joinedTo(first, next string) string {
	if next == "" {
		return first
	}
	return first + " " + next
}

// mostly names the steps that led where the margin went, and how much is left that
// they do not tell. Amounts stand as in the table, which adds up.
func (b Bridge) mostly(e *money.Earned) string {
	var causes []string
	for _, s := range e.Mostly() {
		v := e.Step(s).Value
		causes = append(causes, b.say("{cause} ({amount})", with{"cause": b.Cause(s, v > 0), "amount": b.Exactly(math.Abs(v))}))
	}
	gap, _ := e.Gap()
	left := e.Unexplained()
	switch {
	case gap == 0:
		return ""
	case len(causes) == 0 && left > 0:
		return b.say("Yards, hours, delays and callbacks don't explain it: {amount} is left.", with{"amount": b.Exactly(left)})
	case len(causes) == 0:
		return b.diluted(e, gap)
	}
	said := b.plural(len(causes), "The biggest part of the gain is {causes}.|The biggest parts of the gain are {causes}.", with{"causes": b.List(causes)})
	if gap < 0 {
		said = b.plural(len(causes), "The biggest part of the gap is {causes}.|The biggest parts of the gap are {causes}.", with{"causes": b.List(causes)})
	}
	if left == 0 {
		return said
	}
	return said + " " + b.say("Another {amount} is for reasons your log doesn't show.", with{"amount": b.Exactly(left)})
}

// diluted says why a margin in percent is not the one in the bids where the money
// is: change orders at little profit.
func (b Bridge) diluted(e *money.Earned, gap int) string {
	switch d := e.Diluted(); {
	case !e.AsBidInMoney() || math.Round(2*math.Abs(d)) == 0 || d*float64(gap) < 0:
		return ""
	case d < 0:
		return b.text("In money it earned what was bid: extra work at little profit leaves less of each dollar.")
	}
	return b.text("In money it earned what was bid: work that was taken off leaves more of each dollar.")
}

// Diluted says how many points of percent change orders move without any money;
// "" where it is next to none.
func (b Bridge) Diluted(e *money.Earned) string {
	points := Grouped(math.Abs(e.Diluted()), 1)
	values := with{"amount": b.Exactly(e.ChangeOrders.Value), "points": points}
	switch {
	case math.Abs(e.Diluted()) < 0.05:
		return ""
	case e.Diluted() < 0:
		return b.say("Change orders of {amount} are in revenue. Even at no profit they take {points} points off the margin in percent and no money: it is a share of more revenue.", values)
	}
	return b.say("Change orders of {amount} are in revenue. They add {points} points to the margin in percent and no money: it is a share of less revenue.", values)
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
		return b.text("pay for work added after signing, less its cost where a cost line has it")
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
	return b.text("what no line above tells")
}

// The words around the bridge of a stretch of time.
func (b Bridge) Title() string { return b.text("From bid to earned") }

// Says how a bridge is read, and where its prices and wages are from.
func (b Bridge) Says(e *money.Earned) string {
	said := b.text("Money lost against the bids has a minus, money gained has none.")
	if !e.PaidKnown() {
		return said
	}
	return said + " " + b.text("Prices and wages are from your own cost lines; a job log alone has them in Other.")
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
	return b.text("What each cause added or took, from the margin in the bids to the one earned. A broken bar does not begin at zero.")
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

// The words of a month beside the twelve months to it.
func (b Bridge) YearTitle() string { return b.text("The month beside its year") }
func (b Bridge) YearName() string  { return b.text("12 months to it") }
func (b Bridge) YearSays() string {
	return b.text("A cause that is as long in both is how you work. One that is long in the month alone is news.")
}
func (b Bridge) YearChart() string {
	return b.text("What each cause took or added, month and year side by side. Left of zero is less than bid.")
}
func (b Bridge) YearAxis() string {
	if b.Currency != "$" {
		return b.text("% of revenue")
	}
	return b.text("cents of the dollar")
}
func (b Bridge) YearCaption() string {
	if b.Currency != "$" {
		return b.text("From bid to earned, % of revenue")
	}
	return b.text("From bid to earned, cents of the dollar")
}
func (b Bridge) YearTip(step, of string, share float64) string {
	return b.say("{step}, {of}: {share}", with{"step": step, "of": of, "share": Grouped(share, 1)})
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
	case money.LinesLacking:
		return v.plural(r.Jobs, "{lacking} of 1 job has no cost lines; included in Other|{lacking} of {n} jobs have no cost lines; included in Other", with{"lacking": Count(r.Lacking)}), true
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
		return v.text("no callback costs so far on these jobs")
	}
	return v.text("your log has no prices or wages paid; included in Other")
}
