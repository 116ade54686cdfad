package ingest_test

import (
	"testing"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// TestWhoCorrectsThemselves: what the same phone has said before, which its form could not
// show yet, is nobody else's; what somebody else has written since, or before, still clashes.
func TestWhoCorrectsThemselves(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st, _ := poured(t, dsn)
		load := &record.Load{JobNo: "J-1", Placement: "A", TicketNo: "4711"}
		says := func(column, value string, after ...int64) (string, int64) {
			t.Helper()
			e := entering("loads", []string{"job_no", "J-1", "ticket_no", "4711", column, value})
			e.After = after
			done := mustEnter(t, st, e)
			return done.Rows[0].Became, done.Batch
		}
		is := func(want, column, value, became string) {
			t.Helper()
			if got := onRecord(t, st, load, column); became != want || got != value {
				t.Errorf("%s: %s is %q, want %s: %q", became, column, got, want, value)
			}
		}
		became, brought := says("yards", "9")
		is("new", "yards", "9", became)
		became, slump := says("slump_in", "4", brought)
		is("changed", "slump_in", "4", became)
		became, _ = says("yards", "8.5") // another phone, whose form showed nothing
		is("clash", "yards", "9", became)
		became, again := says("yards", "8", brought, slump) // brought by its own, though another batch wrote the row last
		is("changed", "yards", "8", became)
		became, _ = says("slump_in", "5", brought) // by another than this phone's
		is("clash", "slump_in", "4", became)

		e := entering("loads", []string{"job_no", "J-1", "ticket_no", "4711", "yards", "7"})
		e.Rows[0].Was = map[string]string{"yards": "8"}
		if done := mustEnter(t, st, e); done.Rows[0].Became != ingest.EntryChanged {
			t.Errorf("%+v", done)
		}
		became, _ = says("yards", "6", brought, slump, again) // somebody else has written it since
		is("clash", "yards", "7", became)
		sound(t, st)
	})
}
