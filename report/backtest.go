package report

import (
	"cmp"
	"encoding/json"
	"io"

	"pourback/analysis"
	"pourback/analysis/backtest"
	"pourback/analysis/figure"
)

type orderRule = backtest.Rule

// BacktestPage says what the factors would have been worth on the company's own
// past.
func BacktestPage(b *backtest.Backtest, opt Options) Page {
	a := newAuthor(&analysis.Factors{}, opt)
	p := Page{Slug: "backtest", Title: "What the factors would have been worth", Answer: a.said(b.Answer), Notes: a.saidAll(b.Notes), Method: []string{
		"Month by month each placement is ordered for by what was known on the first of its month, and each order is held against what the placement then used.",
		"A loss is dollars above an order that knew the use beforehand: concrete left over and its disposal, or a balance load with its fee and the waiting crew.",
		"“Saved” is what a rule lost more than the factors, placement by placement; months are drawn anew 999 times for its range. Where the range holds 0 the rule is as good.",
		"Pinball loss scores an order as a forecast of what four in five stay under (Koenker and Bassett 1978); less is better.",
	}}
	if len(b.Rules) == 0 {
		return p
	}
	for i := range b.Rules {
		p.Method = append(p.Method, b.Rules[i].Name()+": "+b.Rules[i].Says+".")
	}
	p.Basis = count(b.Placements) + " placements from " + monthText(b.From) + " to " + monthText(b.To) + ", after " + plural(b.Left, "placement") + " to learn from."
	p.Reading = "A range is drawn so that " + levelText(cmp.Or(b.Middle80.Level, 0.90)) + " it holds the true figure."
	p.Exhibits = []Exhibit{{Title: "By rule of ordering", Table: a.backtestTable(b)}, {Title: "Short and long", Table: a.lossTable(b)}, {Title: "How the forecasts held", Table: forecastTable(b)}}
	return p
}

func (a *author) backtestTable(b *backtest.Backtest) *Table {
	return tableOf("What each rule would have lost, "+a.currency+" a placement", b.Rules,
		column[orderRule]{head: "Rule", cell: func(r orderRule) Cell { return word(r.Name()) }},
		column[orderRule]{head: "Lost", number: true, cell: func(r orderRule) Cell { return plain.cell(r.Lost) }},
		column[orderRule]{head: "Factors save", number: true, cell: func(r orderRule) Cell {
			if r.Verdict == "" {
				return Cell{unknown: true}
			}
			return plain.cell(r.AgainstOurs)
		}},
		column[orderRule]{head: "Better", cell: func(r orderRule) Cell { return word(verdictWord(r.Verdict)) }},
		column[orderRule]{head: "Placements", number: true, cell: func(r orderRule) Cell { return whole(r.N) }})
}

// lossTable says whether a rule loses by being short or by being long.
func (a *author) lossTable(b *backtest.Backtest) *Table {
	return tableOf("Where it would have been lost, "+a.currency+" a placement", b.Rules,
		column[orderRule]{head: "Rule", cell: func(r orderRule) Cell { return word(r.Name()) }},
		column[orderRule]{head: "By short", number: true, cell: func(r orderRule) Cell { return plain.cell(r.LostShort) }},
		column[orderRule]{head: "By long", number: true, cell: func(r orderRule) Cell { return plain.cell(r.LostLong) }},
		column[orderRule]{head: "Short", number: true, cell: func(r orderRule) Cell { return whole(r.Short) }},
		column[orderRule]{head: "Over," + a.units.volume.unit, number: true, cell: func(r orderRule) Cell { return a.units.volume.exact(r.LeftoverYd) }})
}

func verdictWord(verdict string) string {
	return map[string]string{"": "", "factors": "the factors", "rule": "this rule", "as good": "neither"}[verdict]
}

func forecastTable(b *backtest.Backtest) *Table {
	type line struct {
		says, want string
		is         figure.Figure
		n          int
	}
	share := measure{factor: 100, unit: "%"}
	lines := []line{
		{"Yards in the 80% range", "80", b.Middle80, b.Placements},
		{"Yards under the 80% mark", "80", b.Below80, b.Placements},
		{"Hours in the 80% range", "80", b.Hours.Middle80, b.Hours.N},
	}
	return tableOf("How often what was said came true", lines,
		column[line]{head: "Forecast", cell: func(l line) Cell { return word(l.says) }},
		column[line]{head: "Held, %", number: true, cell: func(l line) Cell { return share.cell(l.is) }},
		column[line]{head: "Should, %", number: true, cell: func(l line) Cell { return Cell{Text: l.want} }},
		column[line]{head: "Placements", number: true, cell: func(l line) Cell { return whole(l.n) }})
}

// BacktestJSON writes the backtest as one JSON object, documented in
// backtest.schema.json.
func BacktestJSON(w io.Writer, b *backtest.Backtest) error {
	text, err := json.Marshal(b)
	if err != nil {
		return err
	}
	_, err = w.Write(append(text, '\n'))
	return err
}
