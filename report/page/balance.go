package page

import (
	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/concrete"
	"pourback/report/say"
)

// BalancePage says what to call in for the last load: one sentence first.
func BalancePage(c concrete.BalanceCall, at concrete.Progress, opt Options) Page {
	a := NewAuthor(&analysis.Factors{}, opt)
	v := a.Units.Volume
	p := Page{Title: "The last load", Answer: a.balanceAnswer(c, at)}
	on := bid.Basis{From: bid.FromRecords, N: c.RestYd.N}
	if on.N == 0 {
		on = bid.Basis{From: bid.FromPractice, Says: "no volumes are on record yet: the beliefs about waste among the settings stand in, with what this pour has used so far"}
	}
	p.Exhibits = []Exhibit{{Table: a.facts("", []fact{
		{"The rest of the area will take", a.Cell(v, c.RestYd), on},
		{"On hand, as told", say.Cell{Text: quantity(v, at.OnHandYd, 2)}, bid.Basis{}},
		{"Call in", say.Cell{Text: quantity(v, c.CallYd, 2)}, on},
		{"Chance of running short then", say.Cell{Text: timesIn100(c.ChanceShort)}, on},
		{"Chance of running short if nothing is called in", say.Cell{Text: timesIn100(c.NoCallShort)}, on},
		{"Left over on average", say.Cell{Text: quantity(v, c.LeftoverYd, 2)}, on},
	})}}
	p.Notes = []string{"Measure what is left before you call: the plant sends what you say."}
	return p
}

func (a *Author) balanceAnswer(c concrete.BalanceCall, at concrete.Progress) string {
	v := a.Units.Volume
	switch {
	case at.Covered == 1:
		return "All of the area is covered: call nothing in."
	case c.CallYd == 0:
		return "Call nothing in: what is on hand runs short " + timesIn100(c.ChanceShort) + "."
	}
	return "Call in " + quantity(v, c.CallYd, 2) + ": that runs short " + timesIn100(c.ChanceShort) + "; without it, " + timesIn100(c.NoCallShort) + "."
}
