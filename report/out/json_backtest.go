package out

import (
	"io"

	"github.com/go-json-experiment/json"

	"pourback/analysis/backtest"
	"pourback/report/say"
)

// backtestWords say what each rule of a backtest orders.
func backtestWords(v *say.Voice) *json.Marshalers {
	return spokenAs(func(r backtest.Rule) any {
		return struct {
			backtest.Rule
			Means string `json:"means"`
		}{r, say.Backtest{Voice: v}.Means(r.Rule)}
	})
}

// BacktestJSON writes the backtest as one JSON object, documented in
// backtest.schema.json.
func BacktestJSON(w io.Writer, b *backtest.Backtest, v *say.Voice) error {
	words := say.Backtest{Voice: v}
	text, err := asJSON(v, struct {
		Answer string `json:"answer"`
		*backtest.Backtest
		Notes []string `json:"notes"`
	}{words.Answer(b), b, words.Notes(b)})
	if err != nil {
		return err
	}
	_, err = w.Write(append(text, '\n'))
	return err
}
