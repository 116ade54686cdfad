package analysis

import (
	"testing"

	"pourback/ingest/record"
)

// moneyAnswer is the room's own answer.
type moneyAnswer struct {
	Margin *Margin `json:"margin"`
}

func answerMoney(t testing.TB, s record.Set, asOf string, opt Options) moneyAnswer {
	t.Helper()
	return marginOf(t, record.NewHistory(day(asOf), s), opt)
}

func marginOf(t interface {
	Helper()
	Fatal(...any)
}, h *record.History, opt Options) moneyAnswer {
	t.Helper()
	opt, err := opt.complete()
	if err != nil {
		t.Fatal(err)
	}
	m := margin(h, opt, standard(func() (*HoursModel, error) { return FitHours(h, DefaultHoursPriors()) }))
	watched := slabsOf(h, opt)
	m.charge(h, watched, stillToCome(h, watched, nil, opt))
	return moneyAnswer{m}
}
