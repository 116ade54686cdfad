package findings

import (
	"sync"
	"testing"

	"pourback/analysis/backtest"
	"pourback/analysis/concrete"
	"pourback/analysis/cracks"
	"pourback/analysis/money"
	"pourback/analysis/setting"
	"pourback/analysis/steel"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// answersTo are the answers to some topics, in which findings are looked for.
func answersTo(t testing.TB, h *record.History, opt setting.Options, topics ...string) *Answers {
	t.Helper()
	opt, err := opt.Complete()
	if err != nil {
		t.Fatal(err)
	}
	fitted := sync.OnceValues(func() (*work.HoursModel, error) { return work.FitHours(h, work.DefaultHoursPriors()) })
	watched := cracks.SlabsOf(h, opt)
	f := &Answers{Placements: h.Placements.Len(), Level: opt.Level}
	for i := range h.Placements.Len() {
		if on := h.Placements.At(i).PlacedOn(); i == 0 || on < f.First {
			f.First = on
		}
	}
	for topic, answer := range map[string]func(){
		"overage": func() {
			f.Overage = concrete.Of(h, opt)
			if r, known := backtest.Ordered(h, opt); known {
				f.AsOrdered = &r
			}
		},
		"crews":         func() { f.Crews, _ = work.CrewsOf(h, fitted, opt) },
		"pump":          func() { f.Pump = work.PumpOf(h, opt) },
		"cracks":        func() { f.Cracks = cracks.Of(h, watched, opt) },
		"reinforcement": func() { f.Reinforcement = steel.Of(h, watched, opt) },
		"margin":        func() { f.Margin = money.Of(h, opt, work.Standard(fitted)) },
	} {
		if len(topics) == 0 {
			answer()
		}
		for _, want := range topics {
			if want == topic {
				answer()
			}
		}
	}
	if f.Margin != nil {
		f.Margin.Charge(h, watched, money.StillToCome(h, watched, f.Cracks, opt))
	}
	return f
}
