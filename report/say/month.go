package say

import (
	"pourback/analysis/figure"
	"pourback/analysis/money"
)

// Month says what one month earned, and what changed since the one before.
type Month struct{ *Voice }

// Answer says what a month kept beside its bids: the one asked for, or the last
// that is over.
func (w Month) Answer(m *money.Margin, asked string) string {
	if at := m.At(asked); at >= 0 {
		month, usual := &m.Months[at], ""
		if points, known := m.AgainstUsual(month); known {
			usual = Bridge(w).againstUsual(points)
		}
		return Bridge(w).kept(w.Name(m, month.Month), &month.Earned, usual)
	}
	if len(m.Months) == 0 {
		return Margin(w).Nothing()
	}
	return w.say("No job with a price and a cost on record ended in {month}. Those on record ended from {first} to {last}.", with{
		"month": w.Month(asked), "first": w.Month(m.Months[0].Month), "last": w.Month(m.Months[len(m.Months)-1].Month)})
}

// Name is a month, with a mark on the one that is not over by the data date.
func (w Month) Name(m *money.Margin, month string) string {
	if month == m.Open {
		return w.say("{month} so far", with{"month": w.Month(month)})
	}
	return w.Month(month)
}

func (w Month) Title() string { return w.text("This month") }

// Will is what the page will say once there are records.
func (w Month) Will() string { return w.text("what the month earned beside its bids, and why") }

// Basis says what the month's figures rest on.
func (w Month) Basis(m *money.Month) string {
	return w.plural(m.Jobs, "1 job that ended in {month}: {revenue} of revenue, {cost} of cost.|{n} jobs that ended in {month}: {revenue} of revenue, {cost} of cost.", with{
		"month": w.Month(m.Month), "revenue": w.Money(m.Revenue), "cost": w.Money(m.Cost)})
}

// Beside is the title of the month among others.
func (w Month) Beside() string { return w.text("Beside other months") }

// Changed and its fellows say what changed since the month before.
func (w Month) Changed(c *money.Change) string {
	return w.say("What changed since {month}", with{"month": w.Month(c.From)})
}

func (w Month) ChangeSays(c *money.Change) string {
	of := with{"to": Capital(w.Month(c.To)), "from": w.Month(c.From), "amount": w.Exactly(max(c.Profit.Value, -c.Profit.Value))}
	switch less, work := c.Profit.Value < 0, c.MoreWork(); {
	case less && work:
		return w.say("{to} earned {amount} less than {from}, mostly from less work.", of)
	case less:
		return w.say("{to} earned {amount} less than {from}, mostly from a thinner margin.", of)
	case work:
		return w.say("{to} earned {amount} more than {from}, mostly from more work.", of)
	}
	return w.say("{to} earned {amount} more than {from}, mostly from a better margin.", of)
}

func (w Month) ChangeCaption(c *money.Change) string {
	return w.say("From {from} to {to}, {currency}", with{"from": w.Month(c.From), "to": w.Month(c.To), "currency": w.Currency})
}
func (w Month) ChangeProfit() string { return w.text("Change in what was earned") }
func (w Month) ChangeWork() string   { return w.text("from the amount of work") }
func (w Month) ChangeRate() string   { return w.text("from the margin on each dollar of it") }
func (w Month) HeadChange() string   { return w.text("Change") }
func (w Month) HeadJobs() string     { return w.text("Jobs in both months") }

// Dried says how many of the month's pours with their weather on record dried
// fast enough for precautions.
func (w Month) Dried(hot, known int) string {
	if hot == 0 {
		return w.plural(known, "The 1 pour of the month with weather on record dried too slowly to need precautions.|None of {n} pours of the month with weather on record dried fast enough to need precautions.", nil)
	}
	return w.plural(known, "The 1 pour of the month with weather on record dried fast enough to need precautions.|{hot} of {n} pours of the month with weather on record dried fast enough to need precautions.", with{"hot": Count(hot)})
}

// Reserve says what callbacks still to come would leave of the month's margin.
func (w Month) Reserve(to, after figure.Figure) string {
	return w.say("Callbacks still to come from the month's pours should cost {cost}.", with{"cost": w.aboutCost(to)}) + " " +
		w.say("That would leave a margin of {margin}.", with{"margin": w.Value(MarginPct, after)})
}

// aboutCost is an estimate of money with its range: a range that begins at next
// to nothing is said by its end alone.
func (v *Voice) aboutCost(f figure.Figure) string {
	values := with{"cost": v.Dollars(f.Value), "high": v.Dollars(f.High)}
	switch {
	case !f.Bounded:
		delete(values, "high")
		return v.say("about {cost}", values)
	case f.Low < f.High/20:
		return v.say("about {cost}, anywhere from nothing to {high}", values)
	}
	values["low"] = v.Dollars(f.Low)
	return v.say("about {cost}, between {low} and {high}", values)
}

// FewJobs warns of reading much into one month.
func (w Month) FewJobs() string {
	return w.text("A month of few jobs says little: one low month is no trend.")
}

// Method is how the page was computed.
func (w Month) Method() []string {
	return []string{
		w.text("A job belongs, with all its money, to the month of its last placement. Margin is revenue less cost, over revenue. The margin in the bids takes the same revenue against the cost carried in the bids."),
		w.say("Each step from bid to earned is exact to the cent. What no step explains is in Other, so that they add up. Concrete counts at the standard price and hours at the standard wage of the settings ({source}).", with{"source": w.costAccounting()}),
		w.say("A normal month lies within 2.66 times the mean change between neighboring months from the average ({source}). A month beyond the wide limits is called a real change: they allow for how few months set them.", with{"source": "Shewhart 1931; Wheeler 1993"}),
		w.say("Why one month earned more or less than the one before has two parts ({source}). The amount of work counts at the mean margin of the two. The margin counts at their mean revenue.", with{"source": "Bennet 1920"}),
		w.say("The facts worth the most are ranked by dollars a year within reach times how sure they are. Facts found by looking through many groups are tested against what luck brings up among so many ({source}).", with{"source": "Benjamini & Hochberg 1995"}),
	}
}

// costAccounting is the textbook of variances.
func (v *Voice) costAccounting() string {
	return v.say("{source}, ch. {chapter}", with{"source": "Horngren, Datar & Rajan, Cost Accounting", "chapter": "7"})
}
