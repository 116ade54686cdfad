package store_test

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestWhatIsPoured: the rows of a job and of no other, what was placed since a day in the
// order of the days, and which of many jobs have a placement.
func TestWhatIsPoured(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		first := record.DateOf(2025, 6, 3)
		var rows []store.Row
		var jobs []string
		for i := range 1200 {
			job := fmt.Sprintf("J-%04d", i)
			if jobs = append(jobs, job); i%2 == 0 {
				rows = append(rows, numbered(&record.Placement{JobNo: job, Placement: "A", PlacedOn: first - record.Date(i), Use: "patio", AreaSqft: record.Some(100.0), ThicknessIn: record.Some(4.0)})...)
			}
		}
		take(t, s, record.Placements, only(record.Placements, "job_no", "placement", "placed_on", "use", "area_sqft", "thickness_in"), rows)
		take(t, s, record.Loads, only(record.Loads, "job_no", "placement", "ticket_no", "yards"), numbered(&record.Load{JobNo: "J-0002", Placement: "A", TicketNo: "2", Yards: record.Some(3.0)},
			&record.Load{JobNo: "J-0002", Placement: "A", TicketNo: "1", Yards: record.Some(9.0)}, &record.Load{JobNo: "J-0004", Placement: "A", TicketNo: "1", Yards: record.Some(5.0)}))
		of, err := s.RecordsOf(t.Context(), "J-0002", record.Placements, record.Loads, record.Delays)
		if err != nil || len(of) != 3 || of[0].(*record.Placement).PlacedOn != first-2 || of[1].(*record.Load).TicketNo != "1" || of[2].(*record.Load).Yards.V != 3 {
			t.Errorf("of a job: %+v, %v", of, err)
		}
		if none, err := s.RecordsOf(t.Context(), "J-0003", record.Placements); err != nil || len(none) != 0 {
			t.Errorf("of another: %+v, %v", none, err)
		}
		all, err := s.RecordsOfJobs(t.Context(), jobs, record.Placements, record.Loads, record.Delays)
		if err != nil || len(all) != 600 {
			t.Errorf("of %d jobs, %v", len(all), err)
		}
		for _, job := range []string{"J-0002", "J-0003", "J-0004", "J-1198"} {
			if one, err := s.RecordsOf(t.Context(), job, record.Placements, record.Loads, record.Delays); err != nil || len(one) != len(all[job]) || len(one) > 0 && !reflect.DeepEqual(one, all[job]) {
				t.Errorf("of %s: %+v, and among all jobs %+v, %v", job, one, all[job], err)
			}
		}
		placed, err := s.PlacedSince(t.Context(), first-4)
		var names []string
		for _, p := range placed {
			names = append(names, p.JobNo)
		}
		if want := []string{"J-0004", "J-0002", "J-0000"}; err != nil || !slices.Equal(names, want) {
			t.Errorf("since: %v, want %v (%v)", names, want, err)
		}
		poured, err := s.Poured(t.Context(), append(jobs, "J-9999"))
		slices.Sort(poured)
		if err != nil || len(poured) != 600 || poured[1] != "J-0002" {
			t.Errorf("%d of the jobs have begun, %v", len(poured), err)
		}
		if none, err := s.Poured(t.Context(), nil); err != nil || len(none) != 0 {
			t.Errorf("of no jobs: %v, %v", none, err)
		}
	})
}
