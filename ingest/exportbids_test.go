package ingest_test

import (
	"encoding/json"
	"os"
	"testing"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

func TestExportBids(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st, err := store.Open(t.Context(), dsn, store.Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer st.Close()
		dir := t.TempDir()
		if files, _, err := ingest.Export(t.Context(), st, dir, ingest.ExportOptions{}); len(files) != len(record.Tables) || err != nil {
			t.Errorf("without bids: %q, %v", files, err)
		}
		kept := store.Bid{MadeOn: record.DateOf(2025, 6, 3), JobNo: "J-7", Spec: `{"site":"Lot 4"}`, Result: `{"price":8250.5}`, Factors: `{"n":12}`}
		if _, err := st.KeepBid(t.Context(), kept); err != nil {
			t.Fatal(err)
		}
		if _, _, err := st.MarkBid(t.Context(), 1, "won", record.DateOf(2025, 6, 9)); err != nil {
			t.Fatal(err)
		}
		files, rows, err := ingest.Export(t.Context(), st, dir, ingest.ExportOptions{})
		if err != nil || len(files) != len(record.Tables)+1 || rows[len(rows)-1] != 1 {
			t.Fatal(files, rows, err)
		}
		text, err := os.ReadFile(files[len(files)-1])
		if err != nil {
			t.Fatal(err)
		}
		var got []struct {
			Bid           int64
			MadeOn        string `json:"made_on"`
			JobNo         string `json:"job_no"`
			Version       int
			Fate          string
			FateOn        string `json:"fate_on"`
			Log           []struct{ On, Did, Before, After string }
			Spec, Factors map[string]any
			Result        struct{ Price float64 }
		}
		if err := json.Unmarshal(text, &got); err != nil || len(got) != 1 {
			t.Fatal(string(text), err)
		}
		b := got[0]
		if b.Bid != 1 || b.MadeOn != "2025-06-03" || b.JobNo != "J-7" || b.Spec["site"] != "Lot 4" || b.Factors["n"] != 12.0 || b.Result.Price != 8250.5 ||
			b.Version != 1 || b.Fate != "won" || b.FateOn != "2025-06-09" || len(b.Log) != 1 || b.Log[0].Did != "mark" || b.Log[0].After != "won" {
			t.Errorf("%s", text)
		}
	})
}
