package visits

import (
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// answer answers the room's own question from a set of records.
func answer(t testing.TB, s record.Set, asOf string, opt setting.Options) *Visits {
	t.Helper()
	opt, err := opt.Complete()
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHistory(trial.Day(asOf), s)
	return Of(h, cracks.SlabsOf(h, opt), opt)
}
