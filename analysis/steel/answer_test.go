package steel

import (
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// steelAnswers are the room's own answer and that about cracks.
type steelAnswers struct {
	Cracks        *cracks.Cracks
	Reinforcement *Reinforcement
}

func answer(t testing.TB, s record.Set, asOf string, opt setting.Options) steelAnswers {
	t.Helper()
	opt, err := opt.Complete()
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHistory(trial.Day(asOf), s)
	watched := cracks.SlabsOf(h, opt)
	return steelAnswers{cracks.Of(h, watched, opt), Of(h, watched, opt)}
}
