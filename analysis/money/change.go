package money

import (
	"pourback/analysis/figure"
	"pourback/analysis/stat/score"
)

// MarginChange is why a month earned more or less than the month before:
// because there was more work, or because each dollar of it left more.
type Change struct {
	From   string        `json:"from"`
	To     string        `json:"to"`
	Profit figure.Figure `json:"profit"` // the change of revenue less cost
	Work   figure.Figure `json:"work"`   // by the amount of work, at the mean margin of the two
	Rate   figure.Figure `json:"rate"`   // by the margin on it, at the mean revenue of the two
}

// marginChange splits the change between the last two full months with the
// symmetric split of Bennet (1920), which favors neither: revenue is the
// quantity and the share of it that was kept is the price. Work and Rate add
// up to Profit to the cent.
func marginChange(months []Month) Change {
	var c Change
	if len(months) < 2 {
		c.refuse("two full months are needed")
		return c
	}
	before, after := &months[len(months)-2], &months[len(months)-1]
	c.From, c.To = before.Month, after.Month
	if !before.MarginPct.Known() || !after.MarginPct.Known() {
		c.refuse("one of the two months has no revenue")
		return c
	}
	split, err := score.Bennet([]score.Line{before.line()}, []score.Line{after.line()})
	if err != nil {
		c.refuse(figure.Text(figure.ReasonOf(err)))
		return c
	}
	profit := (after.Revenue - after.Cost) - (before.Revenue - before.Cost)
	work := figure.RoundCents(split.Volume * 100)
	n := before.Jobs + after.Jobs
	c.Profit = figure.Total(profit.Dollars(), n, "(revenue − cost) of the later month less that of the earlier")
	c.Work = figure.Total(work.Dollars(), n, "change of revenue × mean margin (Bennet 1920)")
	c.Rate = figure.Total((profit - work).Dollars(), n, "change of margin × mean revenue (Bennet 1920)")
	return c
}

func (c *Change) refuse(why string) {
	c.Profit = figure.UnknownFor("%s", why)
	c.Work, c.Rate = c.Profit, c.Profit
}

// line is revenue as a quantity at the share of it that was kept.
func (e *Earned) line() score.Line {
	return score.Line{Quantity: e.Revenue.Dollars(), Price: float64(e.Revenue-e.Cost) / float64(e.Revenue)}
}
