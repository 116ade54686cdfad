package page

import (
	"cmp"

	"pourback/analysis"
	"pourback/analysis/backtest"
	"pourback/analysis/figure"
	"pourback/report/say"
)

// BacktestPage says what the factors would have been worth on the company's own
// past.
func BacktestPage(b *backtest.Backtest, opt Options) Page {
	author := NewAuthor(&analysis.Factors{Level: cmp.Or(b.Middle80.Level, 0.90)}, opt)
	w := say.Backtest{Voice: author.Voice}
	a := backtestAuthor{author, w, w.Heads()}
	p := Page{Slug: backtestSlug, LeftOut: leftOut(author.Voice, opt.LeftOut, backtestSlug), Title: w.Title(), Answer: w.Answer(b), Notes: w.Notes(b), Method: w.Method(b)}
	if len(b.Rules) > 0 {
		p.Basis, p.Reading = w.Basis(b), a.reading()
		p.Exhibits = []Exhibit{{Title: a.h.RuleTitle, Table: a.rules(b)}, {Title: a.h.LossTitle, Table: a.losses(b)}, {Title: a.h.HeldTitle, Table: a.forecasts(b)}}
	}
	return finished(a.Voice, p)
}

// backtestAuthor writes the page on the company's past.
type backtestAuthor struct {
	*Author
	w say.Backtest
	h say.BacktestHeads
}

type rule = backtest.Rule

func (a backtestAuthor) name() ColumnOf[rule] {
	return ColumnOf[rule]{Head: a.h.Rule, Cell: func(r rule) say.Cell { return say.Cell{Text: a.w.Name(r.Rule)} }}
}

// figures is a column of figures without a unit, which the caption bears.
func (a backtestAuthor) figures(head string, of func(rule) figure.Figure) ColumnOf[rule] {
	return ColumnOf[rule]{Head: head, Number: true, Cell: func(r rule) say.Cell { return a.Cell(say.Plain, of(r)) }}
}

func (a backtestAuthor) rules(b *backtest.Backtest) *Table {
	return TableOf(a.h.RuleCaption, b.Rules, a.name(), a.figures(a.h.Lost, func(r rule) figure.Figure { return r.Lost }),
		ColumnOf[rule]{Head: a.h.Save, Number: true, Cell: func(r rule) say.Cell {
			if r.Verdict == "" {
				return say.Cell{Unknown: true}
			}
			return a.Cell(say.Plain, r.AgainstOurs)
		}},
		ColumnOf[rule]{Head: a.h.Better, Cell: func(r rule) say.Cell { return say.Cell{Text: a.w.Verdict(r.Verdict)} }},
		ColumnOf[rule]{Head: a.h.Placements, Number: true, Cell: func(r rule) say.Cell { return say.Whole(r.N) }})
}

// losses says whether a rule loses by being short or by being long.
func (a backtestAuthor) losses(b *backtest.Backtest) *Table {
	return TableOf(a.h.LossCaption, b.Rules, a.name(),
		a.figures(a.h.ByShort, func(r rule) figure.Figure { return r.LostShort }), a.figures(a.h.ByLong, func(r rule) figure.Figure { return r.LostLong }),
		ColumnOf[rule]{Head: a.h.Short, Number: true, Cell: func(r rule) say.Cell { return say.Whole(r.Short) }},
		ColumnOf[rule]{Head: a.h.Over, Number: true, Cell: func(r rule) say.Cell { return a.Exact(a.Units.Volume, r.LeftoverYd) }})
}

func (a backtestAuthor) forecasts(b *backtest.Backtest) *Table {
	type line struct {
		forecast string
		is       figure.Figure
		n        int
	}
	lines := []line{{a.h.Middle80, b.Middle80, b.Placements}, {a.h.Below80, b.Below80, b.Placements}, {a.h.Hours80, b.Hours.Middle80, b.Hours.N}}
	return TableOf(a.h.HeldCaption, lines,
		ColumnOf[line]{Head: a.h.Forecast, Cell: func(l line) say.Cell { return say.Cell{Text: l.forecast} }},
		ColumnOf[line]{Head: a.h.Held, Number: true, Cell: func(l line) say.Cell { return a.Cell(say.Percent, l.is) }},
		ColumnOf[line]{Head: a.h.Should, Number: true, Cell: func(line) say.Cell { return say.Cell{Text: "80"} }},
		ColumnOf[line]{Head: a.h.Placements, Number: true, Cell: func(l line) say.Cell { return say.Whole(l.n) }})
}
