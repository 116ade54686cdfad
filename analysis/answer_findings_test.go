package analysis

import (
	"sync"
	"testing"

	"pourback/ingest/record"
)

// answersTo are the answers to some topics, in which findings are looked for.
func answersTo(t testing.TB, h *record.History, opt Options, topics ...string) *Answers {
	t.Helper()
	opt, err := opt.complete()
	if err != nil {
		t.Fatal(err)
	}
	fitted := sync.OnceValues(func() (*HoursModel, error) { return FitHours(h, DefaultHoursPriors()) })
	watched := slabsOf(h, opt)
	f := &Answers{Placements: len(h.Placements), Level: opt.Level}
	for i := range h.Placements {
		if on := h.Placements[i].PlacedOn; i == 0 || on < f.First {
			f.First = on
		}
	}
	for topic, answer := range map[string]func(){
		"overage":       func() { f.Overage = overage(h, opt) },
		"crews":         func() { f.Crews, _ = crews(h, fitted, opt) },
		"pump":          func() { f.Pump = pump(h, opt) },
		"cracks":        func() { f.Cracks = cracks(h, watched, opt) },
		"reinforcement": func() { f.Reinforcement = reinforcement(h, watched, opt) },
		"margin":        func() { f.Margin = margin(h, opt, standard(fitted)) },
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
		f.Margin.charge(h, watched, stillToCome(h, watched, f.Cracks, opt))
	}
	return f
}
