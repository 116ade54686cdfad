package say

import "pourback/analysis/money"

// OneMonth says whether a month is like others, by the same chart that the table
// goes by: that of its margin, or else of its margin against the bids.
func (w Margin) OneMonth(m *money.Margin, month string) string {
	c := &m.Control
	if c.Limits == nil {
		return w.tooEarly(c)
	}
	said := w.ordinaryMonth(c) + " "
	switch of, s := m.StandsOut(month); {
	case s == nil && !c.Judges(month):
		return said + w.text("This month is not over, so it is not judged yet.")
	case s == nil:
		return said + w.text("This one is normal.")
	case of == money.OfAgainst:
		return said + w.say("This one is normal in what it kept. {standing}.", with{"standing": Capital(w.againstBids(s))})
	default:
		return said + w.standing(s)
	}
}

// tooEarly says why no month is judged.
func (w Margin) tooEarly(c *money.Control) string {
	return w.say("Too early to say whether a month is unusual: {why}.", with{"why": w.Reason(c.Why)})
}

// standing says in what a month stands out, whether that is good and what to do.
func (w Margin) standing(s *money.ControlSignal) string {
	return signalled(s,
		highLow{w.text("This one is far above that, a real change for the better: see what you did right."), w.text("This one is far below that, a real change for the worse: find the cause while it is fresh.")},
		highLow{w.text("This one is above that: see what went right."), w.text("This one is below that: see what went wrong.")},
		highLow{w.text("It is at least the eighth month in a row above usual: things are getting better."), w.text("It is at least the eighth month in a row below usual: look for a lasting cause.")})
}

// Standing says the same of a month in a cell: of its margin, or of its margin
// against the bids.
func (w Margin) Standing(of money.Charted, s *money.ControlSignal) string {
	if s == nil {
		return "–"
	}
	if of == money.OfAgainst {
		return w.againstBids(s)
	}
	return signalled(s,
		highLow{w.text("far above normal: good"), w.text("far below normal: find the cause")},
		highLow{w.text("above normal: good"), w.text("below normal: see why")},
		highLow{w.text("8 or more months in a row above usual: good"), w.text("8 or more months in a row below usual: see why")})
}

func (w Margin) againstBids(s *money.ControlSignal) string {
	return signalled(s,
		highLow{w.text("far better against bids than usual: good"), w.text("far worse against bids than usual: find the cause")},
		highLow{w.text("better against bids than usual: good"), w.text("worse against bids than usual: see why")},
		highLow{w.text("8 or more months in a row better against bids than usual: good"), w.text("8 or more months in a row worse against bids than usual: see why")})
}

// highLow are the words for a month above and for one below.
type highLow struct{ high, low string }

// signalled picks the words for a month by the rule that it meets: a value
// beyond chance, one beyond the usual, or a long run on one side.
func signalled(s *money.ControlSignal, far, beyond, run highLow) string {
	said := run
	switch s.Rule {
	case money.BeyondChance:
		said = far
	case money.BeyondUsual:
		said = beyond
	}
	if s.High {
		return said.high
	}
	return said.low
}

// Rule says in what a month stands out, without a judgment, as the JSON has it.
func (w Margin) Rule(s money.ControlSignal) string {
	return signalled(&s,
		highLow{w.text("above what luck alone explains"), w.text("below what luck alone explains")},
		highLow{w.text("above a normal month"), w.text("below a normal month")},
		highLow{w.text("the eighth month or more in a row above usual"), w.text("the eighth month or more in a row below usual")})
}

// Swing says how far months lie apart, and how many stand out.
func (w Margin) Swing(c *money.Control) string {
	if c.Limits == nil {
		return w.tooEarly(c)
	}
	said := w.ordinaryMonth(c) + " "
	months := w.plural(c.Months, "1 full month|{n} full months", nil)
	if len(c.Signals) == 0 {
		return said + w.say("None of {months} stands out.", with{"months": months})
	}
	return said + w.plural(len(c.Signals), "1 of {months} stands out.|{n} of {months} stand out.", with{"months": months})
}

// Charted is what a chart of months is of, with its unit.
func (w Margin) Charted(of money.Charted) string {
	if of == money.OfAgainst {
		return w.text("margin less the bids', points")
	}
	return w.text("margin, %")
}

// The words of the table of limits.
func (w Margin) Limits() string        { return w.text("What a normal month is") }
func (w Margin) LimitsCaption() string { return w.text("Limits of a month") }
func (w Margin) LimitsSay() string {
	return w.text("A month outside the normal limits is worth a look. Outside the wide limits, take it for a real change.")
}
func (w Margin) HeadOf() string         { return w.text("Of") }
func (w Margin) HeadAverage() string    { return w.text("Average") }
func (w Margin) HeadNormalLow() string  { return w.text("Normal low") }
func (w Margin) HeadNormalHigh() string { return w.text("Normal high") }
func (w Margin) HeadWideLow() string    { return w.text("Wide low") }
func (w Margin) HeadWideHigh() string   { return w.text("Wide high") }
func (w Margin) HeadFrom() string       { return w.text("From months") }
func (w Margin) HeadStandOut() string   { return w.text("Stand out") }

// The words of the chart of months.
func (w Margin) Chart() string {
	return w.text("What each full month kept, within the limits of a normal month. A diamond marks a month that stands out.")
}
func (w Margin) Line() string       { return w.text("margin") }
func (w Margin) NormalLow() string  { return w.text("normal low") }
func (w Margin) NormalHigh() string { return w.text("normal high") }
func (w Margin) Marked() string     { return w.text("stands out") }

// Center names the center of the chart: the average of what it shows, or of which
// months.
func (w Margin) Center(c *money.Control, shown []money.ControlPoint) string {
	last, known := c.BaseEnd()
	if !known || len(shown) == c.Base && shown[len(shown)-1].Month == last {
		return w.text("average")
	}
	return w.plural(c.Base, "average of 1 month to {month}|average of {n} months to {month}", with{"month": w.ShortMonth(last)})
}

// Tip is what a point of the chart says.
func (w Margin) Tip(p money.ControlPoint, s *money.ControlSignal) string {
	values := with{"month": w.Month(p.Month), "margin": w.At(MarginPct, p.Value)}
	if s == nil {
		return w.say("{month}: {margin}", values)
	}
	values["standing"] = w.Standing(money.OfMargin, s)
	return w.say("{month}: {margin}, {standing}", values)
}
