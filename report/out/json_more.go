package out

import (
	"io"

	"pourback/analysis"
	"pourback/analysis/backtest"
	"pourback/analysis/bid"
	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/report/say"
)

// BacktestJSON writes the backtest as one JSON object, documented in
// backtest.schema.json.
func BacktestJSON(w io.Writer, b *backtest.Backtest, v *say.Voice) error {
	text, err := asJSON(v, b)
	if err != nil {
		return err
	}
	_, err = w.Write(append(text, '\n'))
	return err
}

// BalanceJSON writes the same as one JSON object.
func BalanceJSON(w io.Writer, bid int64, day int, at concrete.Progress, c concrete.BalanceCall, v *say.Voice) error {
	return writeJSON(w, v, struct {
		Bid         int64         `json:"bid"`
		Day         int           `json:"day"`
		PlacedYd    float64       `json:"placed_yd"`
		Covered     float64       `json:"covered"` // share
		OnHandYd    float64       `json:"on_hand_yd"`
		Answer      string        `json:"answer"`
		CallYd      float64       `json:"call_yd"`
		ChanceShort float64       `json:"chance_short"`
		NoCallShort float64       `json:"chance_short_without"`
		LeftoverYd  float64       `json:"leftover_yd"`
		RestYd      figure.Figure `json:"rest_yd"`
	}{bid, day, at.PlacedYd, at.Covered, at.OnHandYd, c.Answer, c.CallYd, c.ChanceShort, c.NoCallShort, c.LeftoverYd, c.RestYd})
}

// BidJSON writes a bid, with the number under which it is kept where it is, as
// one JSON object, documented in bid.schema.json.
func BidJSON(w io.Writer, id int64, b *bid.Bid, v *say.Voice) error {
	return writeJSON(w, v, struct {
		ID int64 `json:"id,omitempty"`
		*bid.Bid
	}{id, b})
}

// KeptJSON is a value as it is kept in the database, in the words of today.
func KeptJSON(v *say.Voice, doc any) ([]byte, error) {
	if f, ok := doc.(*analysis.Factors); ok {
		doc = spoken(f, v)
	}
	return asJSON(v, doc)
}

// BidsJSON writes what became of kept bids as one JSON object.
func BidsJSON(w io.Writer, r *bid.Record, v *say.Voice) error {
	type quantity struct {
		What      string   `json:"what"`
		Unit      string   `json:"unit"`
		Predicted float64  `json:"predicted"`
		P10       float64  `json:"p10"`
		P90       float64  `json:"p90"`
		Actual    *float64 `json:"actual"`
		Held      *bool    `json:"held"`
		Why       string   `json:"why,omitempty"`
	}
	type bid struct {
		ID       int64      `json:"id"`
		MadeOn   string     `json:"made_on"`
		Name     string     `json:"name"`
		JobNo    string     `json:"job_no"`
		Why      string     `json:"why,omitempty"`
		Says     string     `json:"says,omitempty"`
		Counted  bool       `json:"counted"`
		Compared []quantity `json:"compared"`
	}
	out := struct {
		Answer string                   `json:"answer"`
		Bids   []bid                    `json:"bids"`
		Held   map[string]figure.Figure `json:"held_of_80_pct"`
	}{r.Answer, make([]bid, 0, len(r.Outcomes)), map[string]figure.Figure{}}
	for _, o := range r.Outcomes {
		b := bid{o.ID, o.MadeOn.String(), o.Name, o.JobNo, o.Why, o.Says, o.Counted, make([]quantity, 0, len(o.Lines))}
		for _, l := range o.Lines {
			q := quantity{What: l.What, Unit: l.Unit, Predicted: l.Predicted, P10: l.Low, P90: l.High, Why: l.Why}
			if l.Actual.OK {
				q.Actual, q.Held = &l.Actual.V, &l.Held
			}
			b.Compared = append(b.Compared, q)
		}
		out.Bids = append(out.Bids, b)
	}
	for _, h := range r.Held {
		out.Held[h.What] = h.Share
	}
	return writeJSON(w, v, out)
}
