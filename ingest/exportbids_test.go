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
		if path, n, err := ingest.ExportBids(t.Context(), st, dir, ingest.ExportOptions{}); path != "" || n != 0 || err != nil {
			t.Errorf("without bids: %q, %d, %v", path, n, err)
		}
		kept := store.Bid{MadeOn: record.DateOf(2025, 6, 3), JobNo: "J-7", Spec: `{"site":"Lot 4"}`, Result: `{"price":8250.5}`, Factors: `{"n":12}`}
		if _, err := st.KeepBid(t.Context(), kept); err != nil {
			t.Fatal(err)
		}
		path, n, err := ingest.ExportBids(t.Context(), st, dir, ingest.ExportOptions{})
		if n != 1 || err != nil {
			t.Fatal(n, err)
		}
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var got []struct {
			Bid           int64
			MadeOn        string `json:"made_on"`
			JobNo         string `json:"job_no"`
			Spec, Factors map[string]any
			Result        struct{ Price float64 }
		}
		if err := json.Unmarshal(text, &got); err != nil || len(got) != 1 {
			t.Fatal(string(text), err)
		}
		b := got[0]
		if b.Bid != 1 || b.MadeOn != "2025-06-03" || b.JobNo != "J-7" || b.Spec["site"] != "Lot 4" || b.Factors["n"] != 12.0 || b.Result.Price != 8250.5 {
			t.Errorf("%s", text)
		}
	})
}
