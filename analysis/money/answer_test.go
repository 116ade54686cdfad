package money

import (
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// moneyAnswer is the room's own answer.
type moneyAnswer struct {
	Margin *Margin `json:"margin"`
}

func answer(t testing.TB, s record.Set, asOf string, opt setting.Options) moneyAnswer {
	t.Helper()
	return marginOf(t, record.NewHistory(trial.Day(asOf), s), opt)
}

func marginOf(t interface {
	Helper()
	Fatal(...any)
}, h *record.History, opt setting.Options) moneyAnswer {
	t.Helper()
	opt, err := opt.Complete()
	if err != nil {
		t.Fatal(err)
	}
	m := Of(h, opt, work.Standard(func() (*work.HoursModel, error) { return work.FitHours(h, work.DefaultHoursPriors()) }))
	watched := cracks.SlabsOf(h, opt)
	m.Charge(h, watched, StillToCome(h, watched, nil, opt))
	return moneyAnswer{m}
}
