package work

import (
	"sync"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// workAnswers are the room's own answers.
type workAnswers struct {
	Crews   []Crew
	Labor   *Labor
	Pump    *Pump
	Weather *Weather
}

func answer(t testing.TB, s record.Set, asOf string, opt setting.Options) (out workAnswers) {
	t.Helper()
	opt, err := opt.Complete()
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHistory(trial.Day(asOf), s)
	fitted := sync.OnceValues(func() (*HoursModel, error) { return FitHours(h, DefaultHoursPriors()) })
	out.Crews, out.Labor = CrewsOf(h, fitted, opt)
	out.Pump, out.Weather = PumpOf(h, opt), WeatherOf(h, Standard(fitted), opt.Level)
	return out
}
