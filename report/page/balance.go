package page

import (
	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/concrete"
	"pourback/report/say"
)

// BalancePage says what to call in for the last load: the answer first.
func BalancePage(c concrete.BalanceCall, at concrete.Progress, opt Options) Page {
	a := NewAuthor(&analysis.Factors{}, opt)
	b := say.Balance{Voice: a.Voice}
	on := bid.Basis{From: bid.FromRecords, N: c.RestYd.N}
	if on.N == 0 {
		on = bid.Basis{From: bid.FromPractice, Of: bid.OfVolumes}
	}
	yards := func(yd float64) say.Cell { return say.Valued(a.Yards(yd), yd) }
	chance := func(p float64) say.Cell { return say.Valued(b.TimesIn100(p), p) }
	lines := b.Lines()
	return Page{Voice: a.Voice, Title: b.Title(), Answer: b.Answer(c), Notes: b.Notes(at), Exhibits: []Exhibit{{Table: a.facts("", []fact{
		{lines.Rest, b.Rest(c.RestYd), on},
		{lines.OnHand, yards(at.OnHandYd), bid.Basis{}},
		{lines.CallIn, yards(c.CallYd), on},
		{lines.Short, chance(c.ChanceShort), on},
		{lines.ShortWithout, chance(c.NoCallShort), on},
		{lines.LeftOver, yards(c.LeftoverYd), on},
	})}}}
}
