package analysis

import (
	"testing"

	"pourback/ingest/record"
)

// answerVisits answers the room's own question from a set of records.
func answerVisits(t testing.TB, s record.Set, asOf string, opt Options) *Visits {
	t.Helper()
	opt, err := opt.complete()
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHistory(day(asOf), s)
	return visits(h, slabsOf(h, opt), opt)
}
