package store

import (
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// firstRelease are rows with the digests that the first release gave them.
var firstRelease = []struct {
	record record.Record
	digest int64
}{
	{&record.Job{JobNo: "J-104", Site: "Lot 4", ContractPrice: record.Some[record.Cents](745000)}, -2945381084313797786},
	{&record.Placement{JobNo: "J-104", Placement: "A", PlacedOn: record.DateOf(2025, 6, 3), Use: "driveway", AreaSqft: record.Some(648.0),
		ThicknessIn: record.Some(4.5), Crew: "Heron", Log: record.Job{Site: "Lot 4"}}, 4267928729672196315},
	{&record.Delay{JobNo: "J-104", Placement: "A", Seq: record.Some[int64](1), Cause: "clog", Minutes: record.Some[int64](20)}, 5498281296351726165},
	{&record.Visit{JobNo: "J-104", Placement: "A", SeenOn: record.DateOf(2025, 6, 12), Why: "planned", Finding: "sound"}, -28255831992563158},
}

// TestLaterColumnsLeaveDigests demands that a row without the columns that came
// later has the digest it always had, and that each of them counts once filled.
func TestLaterColumnsLeaveDigests(t *testing.T) {
	for _, was := range firstRelease {
		table, fields := was.record.Table(), was.record.Fields()
		if got := digest(table, fields, ""); got != was.digest {
			t.Errorf("%s: digest %d, was %d", table.Name, got, was.digest)
		}
		seen := map[int64]string{was.digest: "none"}
		for i, c := range table.Columns {
			if !c.Later {
				continue
			}
			fields := was.record.Table().New().Fields()
			for k, f := range was.record.Fields() {
				if err := record.SetField(fields[k], record.FieldText(f)); err != nil {
					t.Fatal(err)
				}
			}
			text := "1"
			if c.Kind == record.KindMoment {
				text = "2025-06-03T07:15"
			}
			if err := record.SetField(fields[i], text); err != nil {
				t.Fatal(err)
			}
			d := digest(table, fields, "")
			if other, there := seen[d]; there {
				t.Errorf("%s: %s and %s have one digest", table.Name, c.Name, other)
			}
			seen[d] = c.Name
		}
	}
}

// TestOlderDatabase brings a database of the first release up to date: its rows
// are as they were, to their digests, and the same file finds nothing changed.
func TestOlderDatabase(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		for _, was := range firstRelease {
			if err := FirstRelease(t.Context(), dsn, was.record, was.digest); err != nil {
				t.Fatal(err)
			}
		}
		now, err := Open(t.Context(), dsn, Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer now.Close()
		if err := now.CheckDigests(t.Context()); err != nil {
			t.Error(err)
		}
		tx, err := now.Begin(t.Context(), "again.csv", "00", "2025-06-03T07:15:00Z")
		if err != nil {
			t.Fatal(err)
		}
		defer tx.Rollback()
		for _, was := range firstRelease {
			outcomes, err := tx.Add(t.Context(), was.record.Table(), nil, []Row{{Record: was.record, Number: 2}})
			if err != nil || outcomes[0].Kind != Unchanged {
				t.Errorf("%s: %v, %v", was.record.Table().Name, outcomes, err)
			}
		}
	})
}
