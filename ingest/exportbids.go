package ingest

import (
	"context"
	"encoding/json"
	"io"
	"path/filepath"

	"pourback/ingest/outfile"
	"pourback/ingest/store"
)

// exportBids writes the kept bids into dir as bids.json, a list of objects, and
// returns the file and how many it holds; "" where there are none. Bids are no
// records, and cannot be handed in.
func exportBids(ctx context.Context, now *store.Snapshot, dir string) (path string, n int, err error) {
	bids, err := now.Bids(ctx)
	if err != nil || len(bids) == 0 {
		return "", 0, err
	}
	type row struct {
		Bid     int64           `json:"bid"`
		MadeOn  string          `json:"made_on"`
		JobNo   string          `json:"job_no,omitempty"`
		Spec    json.RawMessage `json:"spec"`
		Result  json.RawMessage `json:"result"`
		Factors json.RawMessage `json:"factors"`
	}
	rows := make([]row, len(bids))
	for i := range bids {
		b, err := now.Bid(ctx, bids[i].ID)
		if err != nil {
			return "", 0, err
		}
		rows[i] = row{b.ID, b.MadeOn.String(), b.JobNo, json.RawMessage(b.Spec), json.RawMessage(b.Result), json.RawMessage(b.Factors)}
	}
	text, err := json.MarshalIndent(rows, "", " ")
	if err != nil {
		return "", 0, err
	}
	path = filepath.Join(dir, "bids.json")
	return path, len(bids), outfile.Write(path, func(w io.Writer) error {
		_, err := w.Write(append(text, '\n'))
		return err
	})
}
