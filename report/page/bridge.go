package page

import (
	"slices"

	"pourback/analysis/money"
	"pourback/report/chart"
	"pourback/report/say"
)

// bridge leads from the margin in the bids to the margin that was earned, as a
// table and a chart; what was better than bid is above zero. It is none where
// jobs lack a bid.
func (a *Author) bridge(id, caption string, e *money.Earned) []Exhibit {
	against, w := e.AgainstBid, say.Bridge{Voice: a.Voice}
	if !against.Known() {
		return nil
	}
	meant, earned := meantAndEarned(e)
	return []Exhibit{{Title: w.Title(), Chart: a.bridgeChart(id, e, meant, earned), Says: w.Says(e),
		Table: a.bridgeTable(caption, e, wordsIn(w.HeadMeans(), func(r bridgeRow) string { return r.means }))}}
}

// meantAndEarned are what the bids were to keep and what was kept, in dollars.
func meantAndEarned(e *money.Earned) (meant, earned float64) {
	earned = (e.Revenue - e.Cost).Dollars()
	return earned - e.AgainstBid.Value, earned
}

// bridgeRow is one line of the way from the bids to what was earned.
type bridgeRow struct {
	head, means string
	cell        say.Cell
}

// bridgeTable is the way from the bids to what was earned, with further columns;
// nil where jobs lack a bid.
func (a *Author) bridgeTable(caption string, e *money.Earned, more ...ColumnOf[bridgeRow]) *Table {
	type row = bridgeRow
	w := say.Bridge{Voice: a.Voice}
	if !e.AgainstBid.Known() {
		return nil
	}
	meant, earned := meantAndEarned(e)
	rows := []row{{w.InBids(), w.InBidsMeans(), a.In(a.Cash(), say.Valued(a.Exactly(meant), meant))}}
	for _, s := range shownSteps(e) {
		rows = append(rows, row{w.Head(s), w.Means(s), a.SumCell(e.Step(s))})
	}
	rows = append(rows,
		row{w.Earned(), w.EarnedMeans(), a.In(a.Cash(), say.Valued(a.Exactly(earned), earned))},
		row{w.Against(), w.AgainstMeans(), a.SumCell(e.AgainstBid)})
	return TableOf(caption, rows, append([]ColumnOf[row]{
		wordsIn(w.HeadStep(), func(r row) string { return r.head }),
		numbers(w.HeadMoney(), func(r row) say.Cell { return r.cell })}, more...)...)
}

// shownSteps are the steps in order, without change orders where none is on
// record.
func shownSteps(e *money.Earned) []money.Step {
	return slices.DeleteFunc(money.Steps(), func(s money.Step) bool { return s == money.StepChangeOrders && !e.HasChangeOrders() })
}

// bridgeChart draws the steps that moved anything.
func (a *Author) bridgeChart(id string, e *money.Earned, meant, earned float64) *chart.Chart {
	w := say.Bridge{Voice: a.Voice}
	plot := chart.BridgePlot{ID: id, Scale: w.Axis(), Says: w.Chart(), Ends: w.Ends(), Worse: w.Worse(), Better: w.Better(), NoSteps: w.NoSteps(), NoAmount: w.NoAmount(),
		First: chart.BridgeStep{Label: w.InBids(), Amount: meant, Text: a.Exactly(meant), Tip: w.Tip(w.InBids(), meant)},
		Last:  w.Earned(), LastText: a.Exactly(earned), LastTip: w.Tip(w.Earned(), earned)}
	for _, s := range shownSteps(e) {
		if f := e.Step(s); f.Known() && f.Value != 0 {
			plot.Steps = append(plot.Steps, chart.BridgeStep{Label: w.Head(s), Amount: f.Value, Text: a.Exactly(f.Value), Tip: w.Moved(s, f.Value)})
		}
	}
	return plot.Chart()
}
