package analysis

import (
	"sync"
	"testing"

	"pourback/ingest/record"
)

// workAnswers are the room's own answers.
type workAnswers struct {
	Crews   []Crew
	Labor   *Labor
	Pump    *Pump
	Weather *Weather
}

func answerWork(t testing.TB, s record.Set, asOf string, opt Options) (out workAnswers) {
	t.Helper()
	opt, err := opt.complete()
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHistory(day(asOf), s)
	fitted := sync.OnceValues(func() (*HoursModel, error) { return FitHours(h, DefaultHoursPriors()) })
	out.Crews, out.Labor = crews(h, fitted, opt)
	out.Pump, out.Weather = pump(h, opt), weather(h, standard(fitted), opt.Level)
	return out
}
