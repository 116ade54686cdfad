package page

import (
	"cmp"

	"pourback/analysis"
	"pourback/analysis/backtest"
	"pourback/analysis/figure"
	"pourback/report/say"
)

type orderRule = backtest.Rule

// BacktestPage says what the factors would have been worth on the company's own
// past.
func BacktestPage(b *backtest.Backtest, opt Options) Page {
	a := NewAuthor(&analysis.Factors{}, opt)
	p := Page{Slug: "backtest", Title: "What the factors would have been worth", Answer: a.Said(b.Answer), Notes: a.SaidAll(b.Notes), Method: []string{
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
	p.Basis = say.Count(b.Placements) + " placements from " + say.MonthText(b.From) + " to " + say.MonthText(b.To) + ", after " + say.Plural(b.Left, "placement") + " to learn from."
	p.Reading = "A range is drawn so that " + say.LevelText(cmp.Or(b.Middle80.Level, 0.90)) + " it holds the true figure."
	p.Exhibits = []Exhibit{{Title: "By rule of ordering", Table: a.backtestTable(b)}, {Title: "Short and long", Table: a.lossTable(b)}, {Title: "How the forecasts held", Table: a.forecastTable(b)}}
	return p
}

func (a *Author) backtestTable(b *backtest.Backtest) *Table {
	return TableOf("What each rule would have lost, "+a.Currency+" a placement", b.Rules,
		ColumnOf[orderRule]{Head: "Rule", Cell: func(r orderRule) say.Cell { return say.Word(r.Name()) }},
		ColumnOf[orderRule]{Head: "Lost", Number: true, Cell: func(r orderRule) say.Cell { return a.Cell(say.Plain, r.Lost) }},
		ColumnOf[orderRule]{Head: "Factors save", Number: true, Cell: func(r orderRule) say.Cell {
			if r.Verdict == "" {
				return say.Cell{Unknown: true}
			}
			return a.Cell(say.Plain, r.AgainstOurs)
		}},
		ColumnOf[orderRule]{Head: "Better", Cell: func(r orderRule) say.Cell { return say.Word(verdictWord(r.Verdict)) }},
		ColumnOf[orderRule]{Head: "Placements", Number: true, Cell: func(r orderRule) say.Cell { return say.Whole(r.N) }})
}

// lossTable says whether a rule loses by being short or by being long.
func (a *Author) lossTable(b *backtest.Backtest) *Table {
	return TableOf("Where it would have been lost, "+a.Currency+" a placement", b.Rules,
		ColumnOf[orderRule]{Head: "Rule", Cell: func(r orderRule) say.Cell { return say.Word(r.Name()) }},
		ColumnOf[orderRule]{Head: "By short", Number: true, Cell: func(r orderRule) say.Cell { return a.Cell(say.Plain, r.LostShort) }},
		ColumnOf[orderRule]{Head: "By long", Number: true, Cell: func(r orderRule) say.Cell { return a.Cell(say.Plain, r.LostLong) }},
		ColumnOf[orderRule]{Head: "Short", Number: true, Cell: func(r orderRule) say.Cell { return say.Whole(r.Short) }},
		ColumnOf[orderRule]{Head: "Over," + a.Units.Volume.Unit, Number: true, Cell: func(r orderRule) say.Cell { return a.Exact(a.Units.Volume, r.LeftoverYd) }})
}

func verdictWord(verdict string) string {
	return map[string]string{"": "", "factors": "the factors", "rule": "this rule", "as good": "neither"}[verdict]
}

func (a *Author) forecastTable(b *backtest.Backtest) *Table {
	type line struct {
		says, want string
		is         figure.Figure
		n          int
	}
	share := say.Measure{Factor: 100, Unit: "%"}
	lines := []line{
		{"Yards in the 80% range", "80", b.Middle80, b.Placements},
		{"Yards under the 80% mark", "80", b.Below80, b.Placements},
		{"Hours in the 80% range", "80", b.Hours.Middle80, b.Hours.N},
	}
	return TableOf("How often what was said came true", lines,
		ColumnOf[line]{Head: "Forecast", Cell: func(l line) say.Cell { return say.Word(l.says) }},
		ColumnOf[line]{Head: "Held, %", Number: true, Cell: func(l line) say.Cell { return a.Cell(share, l.is) }},
		ColumnOf[line]{Head: "Should, %", Number: true, Cell: func(l line) say.Cell { return say.Cell{Text: l.want} }},
		ColumnOf[line]{Head: "Placements", Number: true, Cell: func(l line) say.Cell { return say.Whole(l.n) }})
}
