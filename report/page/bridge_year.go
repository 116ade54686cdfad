package page

import (
	"math"
	"slices"

	"pourback/analysis/money"
	"pourback/report/chart"
	"pourback/report/say"
)

// yearStep is one cause of a month and of the year to it, each in % of revenue.
type yearStep struct {
	name        string
	month, year float64
}

// besideYear sets what led a month away from its bids beside the twelve months to
// it; none where either cannot be told.
func (a *Author) besideYear(month string, of *money.Earned) []Exhibit {
	year, known := a.f.Margin.YearTo(month)
	if !known || !of.AgainstBid.Known() || !year.AgainstBid.Known() || of.Revenue <= 0 || year.Revenue <= 0 {
		return nil
	}
	w := say.Bridge{Voice: a.Voice}
	share := func(e *money.Earned, dollars float64) float64 { return 100 * dollars / e.Revenue.Dollars() }
	var rows []yearStep
	for _, s := range shownSteps(&year) {
		if in, over := of.Step(s), year.Step(s); in.Value != 0 || over.Value != 0 {
			rows = append(rows, yearStep{w.Head(s), share(of, in.Value), share(&year, over.Value)})
		}
	}
	rows = append(rows, yearStep{w.Against(), share(of, of.AgainstBid.Value), share(&year, year.AgainstBid.Value)})
	cents := func(v float64) say.Cell { return say.Valued(say.Grouped(v, 1), v) }
	return []Exhibit{{Title: w.YearTitle(), Says: w.YearSays(), Chart: yearChart(w, a.Month(month), rows),
		Table: TableOf(w.YearCaption(), rows,
			wordsIn(w.HeadStep(), func(r yearStep) string { return r.name }),
			numbers(say.Capital(a.Month(month)), func(r yearStep) say.Cell { return cents(r.month) }),
			numbers(w.YearName(), func(r yearStep) say.Cell { return cents(r.year) }))}}
}

// yearChart draws both beside each other, what moved most first and all together
// last.
func yearChart(w say.Bridge, month string, steps []yearStep) *chart.Chart {
	plot := chart.RowPlot{ID: "chart-month-year", Says: w.YearChart(), Scale: w.YearAxis(),
		Series: []chart.RowSeries{{Name: month, Hue: chart.Own, Bar: true}, {Name: w.YearName(), Hue: chart.Past, Bar: true}}}
	sum := steps[len(steps)-1]
	const least = 0.1 // % of revenue, that can be seen
	moved := most(steps[:len(steps)-1], yearStep.size)
	moved = slices.DeleteFunc(moved, func(s yearStep) bool { return s.size() < 100*least })
	for _, s := range append(moved, sum) {
		plot.Rows = append(plot.Rows, chart.Row{Label: s.name, Amounts: []chart.Amount{yearAmount(w, s.name, month, s.month), yearAmount(w, s.name, w.YearName(), s.year)}})
	}
	return plot.Chart()
}

// size orders steps, in hundredths of a percent.
func (s yearStep) size() int { return int(100 * max(math.Abs(s.month), math.Abs(s.year))) }

func yearAmount(w say.Bridge, step, of string, share float64) chart.Amount {
	amount := chart.None()
	amount.Value, amount.Tip = share, w.YearTip(step, of, share)
	return amount
}
