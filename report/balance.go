package report

import (
	"encoding/json"
	"io"

	"pourback/analysis"
)

// Balance writes what to call in for the last load: one sentence first.
func Balance(w io.Writer, c analysis.BalanceCall, at analysis.Progress, opt Options) error {
	a := newAuthor(&analysis.Factors{}, opt)
	v := a.units.volume
	p := Page{Title: "The last load", Answer: a.balanceAnswer(c, at)}
	rows := []fact{
		{what: "The rest of the area will take", figure: v.cell(c.RestYd)},
		{what: "On hand", figure: Cell{Text: quantity(v, at.OnHandYd, 2)}},
		{what: "Call in", figure: Cell{Text: quantity(v, c.CallYd, 2)}},
		{what: "Chance of running short then", figure: Cell{Text: timesIn100(c.ChanceShort)}},
		{what: "Chance of running short if nothing is called in", figure: Cell{Text: timesIn100(c.NoCallShort)}},
		{what: "Left over on average", figure: Cell{Text: quantity(v, c.LeftoverYd, 2)}},
	}
	p.Exhibits = []Exhibit{{Table: tableOf("", rows,
		column[fact]{head: "", cell: func(f fact) Cell { return Cell{Text: f.what} }},
		column[fact]{head: "", number: true, cell: func(f fact) Cell { return f.figure }})}}
	p.Notes = []string{"Measure what is left before you call: the plant sends what you say."}
	return Terminal(w, []Page{p}, 0, false)
}

func (a *author) balanceAnswer(c analysis.BalanceCall, at analysis.Progress) string {
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
func BalanceJSON(w io.Writer, bid int64, day int, at analysis.Progress, c analysis.BalanceCall) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(struct {
		Bid         int64           `json:"bid"`
		Day         int             `json:"day"`
		PlacedYd    float64         `json:"placed_yd"`
		Covered     float64         `json:"covered"` // share
		OnHandYd    float64         `json:"on_hand_yd"`
		Answer      string          `json:"answer"`
		CallYd      float64         `json:"call_yd"`
		ChanceShort float64         `json:"chance_short"`
		NoCallShort float64         `json:"chance_short_without"`
		LeftoverYd  float64         `json:"leftover_yd"`
		RestYd      analysis.Figure `json:"rest_yd"`
	}{bid, day, at.PlacedYd, at.Covered, at.OnHandYd, c.Answer, c.CallYd, c.ChanceShort, c.NoCallShort, c.LeftoverYd, c.RestYd})
}
