package page

import (
	"pourback/analysis/figure"
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

// leversOf is the table of what would change an answer; head is over what it
// comes to at both ends, which comes says.
func leversOf(v *say.Voice, says, caption, head string, comes func(float64) string, turns []turn) []Exhibit {
	if len(turns) == 0 {
		return nil
	}
	w := say.Levers{Voice: v}
	columns := []ColumnOf[turn]{
		wordsIn(w.InputHead(), func(t turn) string { return say.Capital(w.Name(t.lever.Input)) }),
		wordsIn(w.NowHead(), func(t turn) string { return w.Amount(t.lever, t.lever.Value) }),
		wordsIn(w.RangeHead(), func(t turn) string { return w.Range(t.lever) }),
		wordsIn(head, func(t turn) string { return w.Ends(t.lever, comes) }),
		wordsIn(w.TurnsHead(), func(t turn) string { return w.Turns(t.lever) }),
	}
	if turns[0].of != turns[len(turns)-1].of {
		columns = append([]ColumnOf[turn]{wordsIn(w.OfHead(), func(t turn) string { return t.of })}, columns...)
	}
	return []Exhibit{{Title: w.Title(), Says: says, Table: TableOf(caption, turns, columns...)}}
}
