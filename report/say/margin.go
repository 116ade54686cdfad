package say

import (
	"math"

	"pourback/analysis/money"
	"pourback/ingest/record"
)

// Margin says what the jobs have earned beside what their bids meant to earn.
type Margin struct{ *Voice }

// MarginPct shows margins, which are in percent already.
var MarginPct = Measure{Factor: 1, Unit: "%", Digits: Round}

func (w Margin) Title() string { return w.text("Margin") }

// Answer says what all jobs kept, and mostly why it was not what was bid.
func (w Margin) Answer(m *money.Margin) string {
	if len(m.Months) == 0 {
		return w.Nothing()
	}
	since := w.say("All work since {month}", with{"month": w.Month(m.Months[0].Month)})
	return Bridge(w).Kept(since, &m.Total.Earned)
}

// Nothing says that no margin can be told.
func (w Margin) Nothing() string {
	return w.text("The records cannot say what the jobs earned: no job has both a contract price and an actual cost.")
}

// Will is what the page will say once there are records, and Takes what it takes.
func (w Margin) Will() string {
	return w.text("what each month's jobs earned, and what their bids meant to earn")
}

func (w Margin) Takes() string {
	return w.text("the contract price and the actual cost of each job, and the cost carried in its bid")
}

// Basis says what the figures rest on: jobs with a price and a cost of all.
func (w Margin) Basis(priced, all int, last record.Date) string {
	return w.plural(all, "{priced} of 1 job has a price and a cost on record, to {day}.|{priced} of {n} jobs have a price and a cost on record, to {day}.", with{"priced": Count(priced), "day": w.Day(last)})
}

// Notes say what to bear in mind about the margin, as the JSON has them too.
func (w Margin) Notes(m *money.Margin) []string {
	return []string{
		w.text("A job belongs, with all its money, to the month of its last placement."),
		w.rates(m, w.text("What prices and wages did is included in Other.")),
		w.text("Hours are compared with an average crew of yours on the same job, not with the hours in the bid. Hours that the bids left out are included in Other."),
		w.text("Callbacks still to come are in no month's margin."),
	}
}

// rates say at which prices concrete and hours count, and where what was paid is.
func (w Margin) rates(m *money.Margin, paid string) string {
	return w.say("Concrete counts at {yard} and labor at {hour} an hour, the rates in your settings.", with{
		"yard": w.aYard(m.Assumptions.ConcretePerYd), "hour": w.Amount(m.Assumptions.LaborPerHour.Dollars(), 2)}) + " " + paid
}

// PageNotes are the notes of a page, on which the lines of cost of e tell more
// than a job log does.
func (w Margin) PageNotes(m *money.Margin, e *money.Earned) []string {
	notes := w.Notes(m)[1:] // the first is said in the method
	if e.PaidKnown() {
		notes[0] = w.rates(m, w.text("What prices and wages did is told by your own cost lines."))
	}
	if said := Bridge(w).Diluted(e); said != "" {
		notes = append(notes, said)
	}
	return notes
}

// aYard is a price of concrete by the unit that is read.
func (v *Voice) aYard(perYd record.Cents) string {
	price := v.Amount(perYd.Dollars()/v.Units.Volume.Factor, 2)
	if v.Units.Si {
		return v.say("{price} a m³", with{"price": price})
	}
	return v.say("{price} a yard", with{"price": price})
}

// Luck warns of reading much into one month.
func (w Margin) Luck() string {
	return w.text("Months differ by luck too: one low month among few jobs is no trend.")
}

// Reserve says what cracks in slabs under warranty may still cost.
func (w Margin) Reserve(m *money.Margin) string {
	return w.plural(m.Reserve.N, "Crack callbacks still to come from the 1 sound slab under warranty should cost {cost}.|Crack callbacks still to come from {n} sound slabs under warranty should cost {cost}.", with{"cost": w.aboutCost(m.Reserve)})
}

// Unpriced says how many jobs are left out.
func (w Margin) Unpriced(n int) string {
	return w.plural(n, "1 job without a price or a cost is left out.|{n} jobs without a price or a cost are left out.", nil)
}

// Method is how the page was computed.
func (w Margin) Method() []string {
	return []string{
		w.text("A job belongs to the month of its last placement. Revenue is its contract price with change orders, cost what it came to. Margin is revenue less cost, over revenue."),
		w.text("The margin in the bids takes the same revenue against the cost carried in the bids. It is shown for a month where every job has one."),
		w.say("The steps from bid to earned stand at the standard price of concrete and the standard wage of the settings ({source}). A job log holds no prices paid. Sums are exact to the cent; what is shown is rounded.", with{"source": w.costAccounting()}),
		w.text("The cost lines split further. A higher price counts as (price paid − price planned) × units used, more units as (units used − units planned) × price planned."),
		w.say("A normal month lies within 2.66 times the mean change between neighboring months from the average ({source}). The wide limits allow for how few months set them.", with{"source": "Shewhart 1931; Wheeler 1993"}),
	}
}

// The words of the tables of months and years.
func (w Margin) ByMonth() string        { return w.text("By month") }
func (w Margin) ByMonthCaption() string { return w.text("Margin by month, the latest first") }
func (w Margin) HeadMonth() string      { return w.text("Month") }
func (w Margin) HeadMargin() string     { return w.text("Margin") }
func (w Margin) HeadBid() string        { return w.text("In the bids") }
func (w Margin) HeadJobs() string       { return w.text("Jobs") }
func (w Margin) HeadRevenue() string    { return w.text("Revenue") }
func (w Margin) HeadCost() string       { return w.text("Cost") }
func (w Margin) HeadAfter() string      { return w.text("After callbacks to come") }
func (w Margin) HeadOut() string        { return w.text("Stands out") }
func (w Margin) HeadYear() string       { return w.text("Year") }
func (w Margin) AllYears() string       { return w.text("all") }
func (w Margin) ByYear() string         { return w.text("By year") }
func (w Margin) ByYearCaption() string  { return w.text("Margin by year of the last placement") }
func (w Margin) StepsByYear() string    { return w.text("From bid to earned, year by year") }
func (w Margin) StepsByMonth() string   { return w.text("From bid to earned, month by month") }

func (w Margin) StepsByMonthCaption() string {
	return w.say("From bid to earned by month, {currency}, the latest first", with{"currency": w.Currency})
}

func (w Margin) StepsByYearCaption() string {
	return w.say("From bid to earned by year, {currency}", with{"currency": w.Currency})
}

// EarlierMonths says where the months are that a table does not show.
func (w Margin) EarlierMonths(n int) string {
	if w.OnSite {
		return w.plural(n, "And 1 earlier month.|And {n} earlier months.", nil)
	}
	return w.plural(n, "And 1 earlier month; `pourback factors margin --json` has them all.|And {n} earlier months; `pourback factors margin --json` has them all.", nil)
}

// ShortMonth is 2025-06 as "Jun 2025", for narrow columns; what is no month is
// said as it stands.
func (v *Voice) ShortMonth(month string) string {
	name := v.Month(month)
	if len(month) != len("2025-06") || name == month {
		return name
	}
	letters := []rune(name)
	year := len(month) - len("-06")
	if len(letters) <= len("May 2025") {
		return name
	}
	return string(letters[:3]) + " " + month[:year]
}

// ordinaryMonth says within which limits a month is like others, and what is usual.
func (w Margin) ordinaryMonth(c *money.Control) string {
	low, high, usual := Grouped(math.Round(c.Limits.Low), 0), Grouped(math.Round(c.Limits.High), 0), Grouped(math.Round(c.Center.Value), 0)
	said := ""
	switch dollar := w.Currency == "$"; {
	case low == high && dollar:
		said = w.say("A normal month keeps about {share} cents of the dollar.", with{"share": low})
	case low == high:
		said = w.say("A normal month keeps about {share}% of revenue.", with{"share": low})
	case dollar:
		said = w.say("A normal month keeps {low} to {high} cents of the dollar.", with{"low": low, "high": high})
	default:
		said = w.say("A normal month keeps {low} to {high}% of revenue.", with{"low": low, "high": high})
	}
	if last, known := c.BaseEnd(); known {
		said += " " + w.plural(c.Base, "Usual is {usual}, the average of the 1 full month to {month}.|Usual is {usual}, the average of the {n} full months to {month}.", with{"usual": usual, "month": w.Month(last)})
	}
	return said
}
