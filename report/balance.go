package report

import (
	"encoding/json"
	"io"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/concrete"
	"pourback/analysis/figure"
)

// Balance writes what to call in for the last load: one sentence first.
func Balance(w io.Writer, c concrete.BalanceCall, at concrete.Progress, opt Options) error {
	a := newAuthor(&analysis.Factors{}, opt)
	v := a.units.volume
	p := Page{Title: "The last load", Answer: a.balanceAnswer(c, at)}
	on := bid.Basis{From: bid.FromRecords, N: c.RestYd.N}
	if on.N == 0 {
		on = bid.Basis{From: bid.FromPractice, Says: "no volumes are on record yet: the beliefs about waste among the settings stand in, with what this pour has used so far"}
	}
	p.Exhibits = []Exhibit{{Table: a.facts("", []fact{
		{"The rest of the area will take", v.cell(c.RestYd), on},
		{"On hand, as told", Cell{Text: quantity(v, at.OnHandYd, 2)}, bid.Basis{}},
		{"Call in", Cell{Text: quantity(v, c.CallYd, 2)}, on},
		{"Chance of running short then", Cell{Text: timesIn100(c.ChanceShort)}, on},
		{"Chance of running short if nothing is called in", Cell{Text: timesIn100(c.NoCallShort)}, on},
		{"Left over on average", Cell{Text: quantity(v, c.LeftoverYd, 2)}, on},
	})}}
	p.Notes = []string{"Measure what is left before you call: the plant sends what you say."}
	return Terminal(w, []Page{p}, 0, false)
}

func (a *author) balanceAnswer(c concrete.BalanceCall, at concrete.Progress) string {
	v := a.units.volume
	switch {
	case at.Covered == 1:
		return "All of the area is covered: call nothing in."
	case c.CallYd == 0:
		return "Call nothing in: what is on hand runs short " + timesIn100(c.ChanceShort) + "."
	}
	return "Call in " + quantity(v, c.CallYd, 2) + ": that runs short " + timesIn100(c.ChanceShort) + "; without it, " + timesIn100(c.NoCallShort) + "."
}

// BalanceJSON writes the same as one JSON object.
func BalanceJSON(w io.Writer, bid int64, day int, at concrete.Progress, c concrete.BalanceCall) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(struct {
		Bid         int64         `json:"bid"`
		Day         int           `json:"day"`
		PlacedYd    float64       `json:"placed_yd"`
		Covered     float64       `json:"covered"` // share
		OnHandYd    float64       `json:"on_hand_yd"`
		Answer      string        `json:"answer"`
		CallYd      float64       `json:"call_yd"`
		ChanceShort float64       `json:"chance_short"`
		NoCallShort float64       `json:"chance_short_without"`
		LeftoverYd  float64       `json:"leftover_yd"`
		RestYd      figure.Figure `json:"rest_yd"`
	}{bid, day, at.PlacedYd, at.Covered, at.OnHandYd, c.Answer, c.CallYd, c.ChanceShort, c.NoCallShort, c.LeftoverYd, c.RestYd})
}
