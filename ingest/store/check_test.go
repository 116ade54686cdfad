package store_test

import (
	"bytes"
	"context"
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// manyCosts are rows with numbers, money, words and notes.
func manyCosts(n int) []store.Row {
	var all []record.Record
	for i := range n {
		c := cost(fmt.Sprintf("J-%04d", i), "pump", "hour")
		c.PlannedQty, c.ActualQty = record.Some(float64(i)*1.25), record.Some(float64(i)*1.5)
		c.PlannedRate, c.ActualAmount = record.Some(record.Cents(i*37)), record.Some(record.Cents(i*55))
		all = append(all, c)
	}
	return numbered(all...)
}

// checked is what a check finds, and its first error as a fault.
func checked(t *testing.T, s *store.Store) (store.Checked, []store.Fault) {
	t.Helper()
	var faults []store.Fault
	c, err := s.Check(context.Background(), func(f store.Fault) { faults = append(faults, f) })
	if err != nil {
		faults = append(faults, store.Fault{Wrong: err.Error()})
	}
	return c, faults
}

// TestCheckFindsFlippedBytes flips a byte of a database's file, many times.
// Where SQLite's own check finds nothing and the records are not what they
// were, ours finds it.
func TestCheckFindsFlippedBytes(t *testing.T) {
	dsn := storetest.SQLite(t)
	s := open(t, dsn)
	take(t, s, record.Costs, nil, manyCosts(300))
	want := dump(t, s, record.Costs)
	if c, faults := checked(t, s); len(faults) > 0 || c.Rows != 300 || c.Batches != 1 {
		t.Fatalf("untouched: %+v %+v", c, faults)
	}
	if err := s.Close(); err != nil { // which moves all into the one file
		t.Fatal(err)
	}
	whole, err := os.ReadFile(dsn)
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(1, 2))
	tries, unseen := 200, 0
	if testing.Short() {
		tries = 40
	}
	inRecords := nearText(whole, "J-0")
	for i := range tries {
		at, bit := 100+random.IntN(len(whole)-100), byte(1)<<random.IntN(8)
		if i%4 > 0 { // most of the file is empty, or no record
			at = inRecords[random.IntN(len(inRecords))]
		}
		flipped := bytes.Clone(whole)
		flipped[at] ^= bit
		if flippedUnseen(t, flipped, want, fmt.Sprintf("byte %d, bit %d", at, bit)) {
			unseen++
		}
	}
	if unseen == 0 {
		t.Error("SQLite's own check saw every flip: nothing was tried")
	}
	t.Logf("%d of %d flips were seen by our check only", unseen, tries)
}

// nearText is where the bytes of a text and the 24 after it stand in a file.
func nearText(file []byte, text string) []int {
	var near []int
	for from := 0; ; {
		found := bytes.Index(file[from:], []byte(text))
		if found < 0 {
			return near
		}
		for at := from + found; at < min(from+found+len(text)+24, len(file)); at++ {
			near = append(near, at)
		}
		from += found + len(text)
	}
}

// flippedUnseen says whether SQLite's own check saw nothing in a file whose
// records have changed, and fails the test where ours does not either.
func flippedUnseen(t *testing.T, file []byte, want []string, what string) bool {
	t.Helper()
	dsn := storetest.SQLite(t)
	if err := os.WriteFile(dsn, file, 0o600); err != nil {
		t.Fatal(err)
	}
	db, err := sql.Open("sqlite", dsn)
	if err != nil {
		t.Fatal(err)
	}
	said := ""
	err = db.QueryRow("PRAGMA integrity_check").Scan(&said)
	db.Close()
	if err != nil || said != "ok" {
		return false
	}
	s, err := store.Open(context.Background(), dsn, store.Options{})
	if err != nil {
		return false // it does not even open
	}
	defer s.Close()
	var got []string
	err = s.Records(context.Background(), record.Costs, func(r record.Record) error {
		line := ""
		for _, f := range r.Fields() {
			line += record.FieldText(f) + "|"
		}
		got = append(got, line)
		return nil
	})
	if err == nil && strings.Join(got, "\n") == strings.Join(want, "\n") {
		return false
	}
	if _, faults := checked(t, s); len(faults) == 0 {
		t.Errorf("%s: the records are others, and the check finds nothing", what)
	}
	return true
}

// TestCheckFindsWhatOthersDid changes both databases behind the store's back.
func TestCheckFindsWhatOthersDid(t *testing.T) {
	for query, says := range map[string]string{
		"UPDATE costs SET unit = 'day' WHERE job_no = 'J-0003'":                                    "costs J-0003 pump 1 5 its values are not those that were written",
		"UPDATE costs SET actual_amount = actual_amount + 1 WHERE job_no = 'J-0006'":               "costs J-0006 pump 1 8 its values",
		"UPDATE costs SET unit = NULL WHERE job_no = 'J-0003'":                                     "its values",
		"UPDATE costs SET digest = digest + 1 WHERE job_no = 'J-0003'":                             "its values",
		"DELETE FROM costs WHERE job_no = 'J-0004'":                                                "batch 1 wrote 8 rows, and 7 are there",
		"UPDATE costs SET batch_id = 7 WHERE job_no = 'J-0004'":                                    "written by batch 7, which there is not",
		"UPDATE costs SET batch_id = 2 WHERE job_no = 'J-0004'":                                    "batch 2 wrote 1 rows, and 2 are there",
		"UPDATE batches SET undone_at = '2025-06-03T07:15:00Z' WHERE batch_id = 2":                 "which was taken back",
		"UPDATE changes SET after_values = '{' WHERE batch_id = 2":                                 "the change log cannot be read",
		"DELETE FROM changes WHERE batch_id = 2":                                                   "batch 1 wrote 8 rows, and 7 are there",
		"UPDATE bids SET fate = 'lost'":                                                            "bids 1 0 0 its mark or its job is not what was last said of it, on 2025-06-09",
		"UPDATE bids SET version = 3":                                                              "bids 1 0 0 it revises no bid, and is version 3",
		"UPDATE bids SET version = 2, revises = 7, first_bid = 7":                                  "it is version 2 of bid 7 and revises bid 7, which is no version before it",
		"UPDATE bid_log SET bid_id = 4":                                                            "bid_log 1 0 0 it is about bid 4, which there is not",
		"UPDATE bids SET result = 'x'":                                                             "bids 1 0 0 what it says is no JSON",
		"INSERT INTO costs (job_no, item, batch_id, row_no, digest) VALUES ('X', 'pump', 1, 2, 3)": "costs X pump 1 2 its values",
	} {
		storetest.Each(t, func(t *testing.T, dsn string) {
			s := open(t, dsn)
			take(t, s, record.Costs, nil, manyCosts(9)[:8])
			take(t, s, record.Costs, nil, numbered(cost("J-0001", "pump", "yd"))) // changes one
			undone, _ := take(t, s, record.Costs, nil, numbered(cost("J-0002", "pump", "yd"), cost("J-9", "pump", "h")))
			if _, err := s.Undo(t.Context(), undone.ID, now); err != nil {
				t.Fatal(err)
			}
			take(t, s, record.Costs, nil, numbered(cost("J-0005", "pump", "yd")))
			if _, err := s.KeepBid(t.Context(), store.Bid{MadeOn: record.DateOf(2025, 6, 3), Spec: "{}", Result: "{}", Factors: "{}"}); err != nil {
				t.Fatal(err)
			}
			mark(t, s, 1, "won")
			if _, faults := checked(t, s); len(faults) > 0 {
				t.Fatalf("untouched: %+v", faults)
			}
			if err := s.Exec(query); err != nil {
				t.Fatal(err)
			}
			text := ""
			_, faults := checked(t, s)
			for _, f := range faults {
				text += strings.TrimSpace(fmt.Sprintln(f.Table, f.Record, f.Batch, f.Row, f.Wrong)) + "\n"
			}
			if !strings.Contains(text, says) {
				t.Errorf("%s: found %q, want %q", query, text, says)
			}
		})
	}
}
