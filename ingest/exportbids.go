package ingest

import (
	"context"
	"encoding/json"
	"io"

	"pourback/ingest/store"
)

// exportBids writes the kept bids into dir as bids.json, a list of objects, and
// returns the file and how many it holds; "" where there are none. Bids are no
// records, and cannot be handed in. They are full of names: without those there
// is no such file.
func exportBids(ctx context.Context, now *store.Snapshot, dir string, opt ExportOptions) (path string, n int, err error) {
	if opt.NoNames {
		return "", 0, nil
	}
	bids, err := now.Bids(ctx)
	if err != nil || len(bids) == 0 {
		return "", 0, err
	}
	type row struct {
		Bid     int64           `json:"bid"`
		MadeOn  string          `json:"made_on"`
		JobNo   string          `json:"job_no,omitempty"`
		Version int             `json:"version"`
		Revises int64           `json:"revises,omitempty"`
		Fate    string          `json:"fate,omitempty"`
		FateOn  string          `json:"fate_on,omitempty"`
		Log     []bidSaid       `json:"log,omitempty"`
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
		rows[i] = row{b.ID, b.MadeOn.String(), b.JobNo, b.Version, b.Revises, b.Fate, b.FateOn.String(), saidOf(bids[i].Log), json.RawMessage(b.Spec), json.RawMessage(b.Result), json.RawMessage(b.Factors)}
	}
	text, err := json.MarshalIndent(rows, "", " ")
	if err != nil {
		return "", 0, err
	}
	const name = "bids.json"
	folder, err := opt.folder(dir, name)
	if err != nil {
		return "", 0, err
	}
	path, err = folder.Write(name, func(w io.Writer) error {
		_, err := w.Write(append(text, '\n'))
		return err
	})
	return path, len(bids), err
}

// bidSaid is one thing that was said of a bid.
type bidSaid struct {
	On     string `json:"on"`
	Did    string `json:"did"`
	Before string `json:"before"`
	After  string `json:"after"`
}

func saidOf(log []store.BidChange) (all []bidSaid) {
	for _, c := range log {
		all = append(all, bidSaid{c.On.String(), c.Did, c.Before, c.After})
	}
	return all
}
