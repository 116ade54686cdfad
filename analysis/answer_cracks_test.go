package analysis

import (
	"testing"

	"pourback/ingest/record"
)

// answerCracks answers the room's own question from a set of records.
func answerCracks(t testing.TB, s record.Set, asOf string, opt Options) *Cracks {
	t.Helper()
	opt, err := opt.complete()
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHistory(day(asOf), s)
	return cracks(h, slabsOf(h, opt), opt)
}
