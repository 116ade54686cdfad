package out

import (
	"io"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/clock"
	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/report/say"
)

// BalanceJSON writes the same as one JSON object.
func BalanceJSON(w io.Writer, bid int64, day int, at concrete.Progress, c concrete.BalanceCall, again *clock.Day, v *say.Voice) error {
	return writeJSON(w, v, struct {
		Bid         int64         `json:"bid"`
		Day         int           `json:"day"`
		PlacedYd    float64       `json:"placed_yd"`
		Covered     float64       `json:"covered"` // share
		OnHandYd    float64       `json:"on_hand_yd"`
		OrderedYd   float64       `json:"ordered_yd"`
		Answer      string        `json:"answer"`
		CallYd      float64       `json:"call_yd"`
		ChanceShort float64       `json:"chance_short"`
		NoCallShort float64       `json:"chance_short_without"`
		LeftoverYd  float64       `json:"leftover_yd"`
		RestYd      figure.Figure `json:"rest_yd"`
		Runs        concrete.Runs `json:"runs"`
		RunningIn   float64       `json:"running_in"`
		DrawnIn     float64       `json:"drawn_in"`
		Clock       *clock.Day    `json:"clock,omitempty"`
	}{bid, day, at.PlacedYd, at.Covered, at.OnHandYd, at.OrderedYd, say.Balance{Voice: v}.Answer(c), c.CallYd, c.ChanceShort, c.NoCallShort, c.LeftoverYd, c.RestYd, c.Runs, c.RunningIn, c.DrawnIn, again})
}

// KeptJSON is a value as it is kept in the database, in the words of today; a bid with
// the codes from which [bid.ReadKept] says it again in others.
func KeptJSON(v *say.Voice, doc any) ([]byte, error) {
	switch kept := doc.(type) {
	case *analysis.Factors:
		doc = spoken(kept, v)
	case *bid.Bid:
		doc = struct {
			spokenBid
			Codes map[string]any `json:"codes"`
		}{spokenBidOf(kept, v), kept.Codes()}
	}
	return asJSON(v, doc)
}
