package say

import (
	"pourback/analysis/backtest"
	"pourback/analysis/figure"
)

// Backtest says what the factors would have been worth on the company's own
// past.
type Backtest struct{ *Voice }

// Title names the page.
func (w Backtest) Title() string { return w.text("What the factors would have been worth") }

// Answer says what orders by the factors would have cost more than perfect ones,
// beside a flat tenth.
func (w Backtest) Answer(b *backtest.Backtest) string {
	if len(b.Rules) == 0 {
		return w.say("Too early to say: {why}.", with{"why": w.Reason(b.Middle80.Why)})
	}
	said := w.say("Orders by these factors would have cost {cost} a placement more than perfect orders.", with{"cost": w.Dollars(b.Rules[0].Lost.Value)})
	if ten := b.Find(backtest.Flat10); ten != nil {
		said += " " + w.against(ten)
	}
	return said
}

// against is a flat tenth beside the factors.
func (w Backtest) against(r *backtest.Rule) string {
	f := r.AgainstOurs
	lost := w.Dollars(r.Lost.Value)
	switch r.Verdict {
	case backtest.FactorsBetter:
		return w.say("A flat 10% would have cost {cost}: the factors save {saved} (between {low} and {high}).",
			with{"cost": lost, "saved": w.Dollars(f.Value), "low": w.Dollars(f.Low), "high": w.Dollars(f.High)})
	case backtest.RuleBetter:
		return w.say("A flat 10% would have cost {cost}: on your records it is better, by {saved} a placement.", with{"cost": lost, "saved": w.Dollars(-f.Value)})
	case backtest.AsGood:
		return w.say("A flat 10% would have cost {cost}. The difference could easily be luck: on your records either is fine.", with{"cost": lost})
	}
	return w.say("A flat 10% would have cost {cost}.", with{"cost": lost})
}

// Basis says what was walked.
func (w Backtest) Basis(b *backtest.Backtest) string {
	return w.say("{placements} from {from} to {to}, each ordered by what was known at the time. Before them came {left} to learn from.", with{
		"placements": w.placements(b.Placements), "from": w.Month(b.From), "to": w.Month(b.To), "left": w.placements(b.Left)})
}

func (w Backtest) placements(n int) string {
	return w.plural(n, "1 placement|{n} placements", nil)
}

// Name is a rule in a few words.
func (w Backtest) Name(n backtest.Name) string {
	switch n {
	case backtest.Factors:
		return w.text("These factors")
	case backtest.Flat5:
		return w.text("Flat 5%")
	case backtest.Flat10:
		return w.text("Flat 10%")
	case backtest.Flat15:
		return w.text("Flat 15%")
	case backtest.LastYear:
		return w.text("Last year's mean")
	case backtest.P75:
		return w.text("Enough for 3 in 4")
	case backtest.NoPooling:
		return w.text("Each kind alone")
	case backtest.AsOrdered:
		return w.text("As ordered")
	}
	return Clean(string(n), ShortName)
}

// Means is what a rule orders.
func (w Backtest) Means(n backtest.Name) string {
	switch n {
	case backtest.Factors:
		return w.text("the cheapest order on average by these factors")
	case backtest.Flat5:
		return w.text("neat volume and 5%")
	case backtest.Flat10:
		return w.text("neat volume and 10%")
	case backtest.Flat15:
		return w.text("neat volume and 15%")
	case backtest.LastYear:
		return w.text("neat volume times all used over all neat yards of the twelve months before")
	case backtest.P75:
		return w.text("neat volume times the ratio that three of four earlier placements stayed under")
	case backtest.NoPooling:
		return w.text("the cheapest order on average by the earlier placements of the same use and method alone")
	case backtest.AsOrdered:
		return w.text("the yards carried in the bid or ordered first")
	}
	return ""
}

// Verdict says which of a rule and the factors is better.
func (w Backtest) Verdict(v backtest.Verdict) string {
	switch v {
	case backtest.FactorsBetter:
		return w.text("the factors")
	case backtest.RuleBetter:
		return w.text("this rule")
	case backtest.AsGood:
		return w.text("neither")
	}
	return ""
}

// Notes say which simple rules hold their own, and what is to be kept in mind.
func (w Backtest) Notes(b *backtest.Backtest) []string {
	if len(b.Rules) == 0 {
		return []string{}
	}
	var said []string
	for _, r := range b.Rivals() {
		said = append(said, w.rival(r))
	}
	if len(said) == 0 {
		said = append(said, w.text("On your records no simple rule here is as good as the factors."))
	}
	said = append(said, w.text("Costs here rest on the prices and fees of your settings, which are assumed unless you entered them. A cheap extra load favors small orders, a costly one large orders."),
		w.text("A placement with nothing left over, and nothing more called in or every truck full, may have needed more than it used. No extra load is counted for it, and of a larger order less would have been left over."))
	if b.Sampled > 1 {
		said = append(said, w.say("To save time only one placement in {n} was tried, evenly spaced.", with{"n": Count(b.Sampled)}))
	}
	return said
}

func (w Backtest) rival(r backtest.Rule) string {
	if r.Verdict == backtest.RuleBetter {
		return w.say("{rule}: better than the factors on your records, by {saved} a placement.", with{"rule": w.Name(r.Rule), "saved": w.Dollars(-r.AgainstOurs.Value)})
	}
	return w.say("{rule}: as good as the factors on your records, as far as they can tell.", with{"rule": w.Name(r.Rule)})
}

// Method says how it was computed, and what each rule orders.
func (w Backtest) Method(b *backtest.Backtest) []string {
	said := []string{
		w.text("Month by month, each placement is ordered for by what was known on the first of its month. Each order is compared with what the placement then used."),
		w.text("A perfect order knew the use beforehand. The cost over it is concrete left over and its disposal, or an extra load with its fee and the waiting crew."),
		w.text("“Factors save” is what a rule cost more than the factors, placement by placement. Months are drawn anew 999 times for its range. Where the range holds 0 the rule is as good."),
		w.say("Pinball loss scores an order as a forecast of what four in five stay under ({source}); less is better.", with{"source": "Koenker & Bassett 1978"}),
	}
	for i := range b.Rules {
		said = append(said, w.say("{rule}: {means}.", with{"rule": w.Name(b.Rules[i].Rule), "means": w.Means(b.Rules[i].Rule)}))
	}
	return said
}

// BacktestHeads names what the tables hold.
type BacktestHeads struct {
	RuleTitle, RuleCaption, Rule, Lost, Save, Better, Placements               string
	LossTitle, LossCaption, ByShort, ByLong, Short, Over                       string
	HeldTitle, HeldCaption, Forecast, Held, Should, Middle80, Below80, Hours80 string
}

// Heads are the titles and heads of the tables.
func (w Backtest) Heads() BacktestHeads {
	money := with{"money": w.Currency}
	return BacktestHeads{
		RuleTitle: w.text("By rule of ordering"), RuleCaption: w.say("What each rule would have cost over perfect orders, {money} a placement", money), Rule: w.text("Rule"), Lost: w.text("Cost"),
		Save: w.text("Factors save"), Better: w.text("Better"), Placements: w.text("Placements"),
		LossTitle: w.text("Short and long"), LossCaption: w.say("Where the cost comes from, {money} a placement", money), ByShort: w.text("Short orders"), ByLong: w.text("Long orders"),
		Short: w.text("Ran short"), Over: w.say("Left over,{unit}", with{"unit": w.Units.Volume.Unit}),
		HeldTitle: w.text("How the forecasts held"), HeldCaption: w.text("How often forecasts came true"), Forecast: w.text("Forecast"), Held: w.text("Held, %"), Should: w.text("Should, %"),
		Middle80: w.text("Yards in the 80% range"), Below80: w.text("Yards under the 80% mark"), Hours80: w.text("Hours in the 80% range")}
}

// backtestReason says why a figure of a backtest is not known.
func (v *Voice) backtestReason(r figure.Reason) (string, bool) {
	switch r := r.(type) {
	case backtest.TheseAreOurs:
		return v.text("these are the factors"), true
	case backtest.TooShort:
		values := with{"least": Count(r.Least)}
		if r.Hours {
			values["has"] = v.plural(r.N, "1 placement with hours|{n} placements with hours", nil)
		} else {
			values["has"] = v.plural(r.N, "1 placement with neat, delivered and leftover yards|{n} placements with neat, delivered and leftover yards", nil)
		}
		return v.say("{has} on record; it takes {least} and two months beyond them", values), true
	}
	return "", false
}
