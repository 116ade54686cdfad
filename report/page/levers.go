package page

import (
	"pourback/analysis/figure"
	"pourback/report/chart"
	"pourback/report/say"
)

// turn is an input that turns a decision, and of which one where a table holds
// several.
type turn struct {
	of    string
	lever figure.Lever
}

// turnsOf are the inputs of one decision.
func turnsOf(of string, levers []figure.Lever) []turn {
	turns := make([]turn, len(levers))
	for i, l := range levers {
		turns[i] = turn{of, l}
	}
	return turns
}

// decision is what would change an answer, as a table and a picture.
type decision struct {
	id            string // of the picture; none is drawn of what was kept without what it comes to now
	says, caption string
	head          string               // over what it comes to at both ends of an input
	comes         func(float64) string // says that
	turns         []turn

	scale   string  // of the picture: what it comes to
	factor  float64 // brings that to the reader's unit
	between bool    // it is for one of two, and turns at 0
	moved   bool    // drawn as what it comes to more or less than now
}

// leversOf is a decision's table and picture.
func leversOf(v *say.Voice, d decision) []Exhibit {
	if len(d.turns) == 0 {
		return nil
	}
	w := say.Levers{Voice: v}
	columns := []ColumnOf[turn]{
		wordsIn(w.InputHead(), func(t turn) string { return say.Capital(w.Name(t.lever.Input)) }),
		wordsIn(w.NowHead(), func(t turn) string { return w.Amount(t.lever, t.lever.Value) }),
		wordsIn(w.RangeHead(), func(t turn) string { return w.Range(t.lever) }),
		wordsIn(d.head, func(t turn) string { return w.Ends(t.lever, d.comes) }),
		wordsIn(w.TurnsHead(), func(t turn) string { return w.Turns(t.lever) }),
	}
	if d.several() {
		columns = append([]ColumnOf[turn]{wordsIn(w.OfHead(), func(t turn) string { return t.of })}, columns...)
	}
	return []Exhibit{{Title: w.Title(), Says: d.says, Chart: d.picture(w), Table: TableOf(d.caption, d.turns, columns...)}}
}

// several says whether its inputs are of several decisions of a kind.
func (d decision) several() bool { return d.turns[0].of != d.turns[len(d.turns)-1].of }

// picture draws what the decision comes to from one end of each input's range to
// the other, around what it comes to now.
func (d decision) picture(w say.Levers) *chart.Chart {
	if d.id == "" {
		return nil
	}
	plot := chart.TornadoPlot{ID: d.id, Scale: d.scale, Says: w.Picture(d.between)}
	at := func(l figure.Lever, v float64) float64 {
		if d.moved {
			v -= l.Now
		}
		return v * d.factor
	}
	plot.Middle = chart.Rule{Name: w.AsIs(), At: at(d.turns[0].lever, d.turns[0].lever.Now)}
	if d.between {
		plot.Turn = chart.Rule{Name: w.TurnsHere(), At: 0}
	}
	for _, t := range d.turns {
		l := t.lever
		label := w.Short(l.Input)
		if d.several() {
			label = w.For(t.of, label)
		}
		low, high := w.EndTexts(l)
		plot.Rows = append(plot.Rows, chart.Swing{Label: say.Capital(label), AtLow: at(l, l.AtLow), AtHigh: at(l, l.AtHigh), LowText: low, HighText: high, Tip: w.Tip(l, d.comes)})
	}
	return plot.Chart()
}
