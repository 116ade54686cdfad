package page

import (
	"fmt"
	"sync"
	"testing"

	"pourback/analysis"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
)

// someFigure is one that is known; only the analysis can make one.
var someFigure = sync.OnceValue(func() figure.Figure {
	f, err := analysis.Run(record.NewHistory(trial.AsOf, trial.Pours(20)), setting.Options{Topics: []string{"margin"}})
	if err != nil || !f.Margin.Total.MarginPct.Known() {
		panic(fmt.Sprint("no figure to begin from: ", err))
	}
	return f.Margin.Total.MarginPct
})

func exactly(v float64) figure.Figure {
	f := someFigure()
	f.Value, f.Bounded, f.Why = v, false, nil
	return f
}

func between(v, low, high float64) figure.Figure {
	f := exactly(v)
	f.Low, f.High, f.Bounded = low, high, true
	return f
}

func unknownFigure(why string) figure.Figure { return figure.Unknown(figure.Written(why)) }

func TestSmallSentences(t *testing.T) {
	a := NewAuthor(&analysis.Factors{}, Options{})
	for got, want := range map[string]string{
		a.yards(9.25): "9.25 yd³", a.yards(11.5): "11.5 yd³", a.yards(10): "10 yd³", a.yards(8.23): "8.2 yd³", a.yards(0): "0 yd³",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
