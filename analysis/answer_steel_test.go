package analysis

import (
	"testing"

	"pourback/ingest/record"
)

// steelAnswers are the room's own answer and that about cracks.
type steelAnswers struct {
	Cracks        *Cracks
	Reinforcement *Reinforcement
}

func answerSteel(t testing.TB, s record.Set, asOf string, opt Options) steelAnswers {
	t.Helper()
	opt, err := opt.complete()
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHistory(day(asOf), s)
	watched := slabsOf(h, opt)
	return steelAnswers{cracks(h, watched, opt), reinforcement(h, watched, opt)}
}
