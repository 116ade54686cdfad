package out

import (
	"io"

	"pourback/analysis/bid"
	"pourback/report/page"
	"pourback/report/say"
)

// BidMore is what goes with a bid's JSON where it is asked for.
type BidMore struct {
	Kept    *page.KeptBid   // how it is kept
	Changes *bid.Comparison // against the version before it
	Explain bool            // where each number came from
	Written []Paper         // the papers that were written of it
}

// BidJSON writes a bid, with the number under which it is kept where it is, as
// one JSON object, documented in bid.schema.json; what goes with it where there is any.
func BidJSON(w io.Writer, id int64, b *bid.Bid, v *say.Voice, with ...BidMore) error {
	var more BidMore
	if len(with) > 0 {
		more = with[0]
	}
	out := struct {
		ID int64 `json:"id,omitempty"`
		spokenBid
		Kept      *keptJSON       `json:"kept,omitempty"`
		Changes   *changesJSON    `json:"changes,omitempty"`
		Explained []explainedJSON `json:"explained,omitempty"`
		Written   []Paper         `json:"written,omitempty"`
	}{ID: id, spokenBid: spokenBidOf(b, v), Written: more.Written}
	if more.Kept != nil {
		out.Kept = keptOf(more.Kept, v)
	}
	if c := more.Changes; c != nil {
		out.Changes = changesOf(c, v, say.Compared{Voice: v}.Revised(c))
	}
	if more.Explain {
		out.Explained = explainedOf(b, v)
	}
	return writeJSON(w, v, out)
}

// standingJSON is where a kept bid stands.
type standingJSON struct {
	Stands     bid.Standing `json:"stands"`
	Version    int          `json:"version"`
	Revises    int64        `json:"revises,omitempty"`
	ReplacedBy int64        `json:"replaced_by,omitempty"`
	FateOn     string       `json:"fate_on,omitempty"`
	Days       int          `json:"days"`
	Asked      float64      `json:"asked"`
	StandsSays string       `json:"stands_says"`
}

func standingOf(o *bid.Outcome, w say.Bids) standingJSON {
	return standingJSON{o.Stands, max(1, o.Version), o.Revises, o.ReplacedBy, o.FateOn.String(), o.Days, o.Asked, w.Stands(o)}
}

// openJSON counts the bids by where they stand.
type openJSON struct {
	Open       int   `json:"open"`
	Oldest     int64 `json:"oldest,omitempty"` // the bid's number
	OldestDays int   `json:"oldest_days"`
	Begun      int   `json:"begun"`
	Won        int   `json:"won"`
	Lost       int   `json:"lost"`
	Replaced   int   `json:"replaced"`
	Void       int   `json:"void"`
}

func openOf(r *bid.Record) openJSON {
	count := func(s bid.Standing) int { return len(r.Standing(s)) }
	o := openJSON{Open: count(bid.StandsOpen), Begun: count(bid.StandsBegun), Won: count(bid.StandsWon), Lost: count(bid.StandsLost), Replaced: count(bid.StandsReplaced), Void: count(bid.StandsVoid)}
	if oldest := r.Oldest(); oldest != nil {
		o.Oldest, o.OldestDays = oldest.ID, oldest.Days
	}
	return o
}

// keptJSON is how a bid is kept.
type keptJSON struct {
	versionJSON
	Says     string        `json:"says"`
	Versions []versionJSON `json:"versions"`
	Log      []saidJSON    `json:"log"`
}

// versionJSON is one version of a bid.
type versionJSON struct {
	ID     int64  `json:"id"`
	MadeOn string `json:"made_on"`
	JobNo  string `json:"job_no"`
	standingJSON
}

// saidJSON is one thing that was said of a bid.
type saidJSON struct {
	On     string `json:"on"`
	Did    string `json:"did"`
	Before string `json:"before"`
	After  string `json:"after"`
	Says   string `json:"says"`
}

func keptOf(k *page.KeptBid, v *say.Voice) *keptJSON {
	w := say.Bids{Voice: v}
	version := func(o *bid.Outcome) versionJSON {
		return versionJSON{o.ID, o.MadeOn.String(), o.JobNo, standingOf(o, w)}
	}
	out := &keptJSON{versionJSON: version(&k.Is), Says: w.KeptAs(&k.Is), Versions: []versionJSON{}, Log: []saidJSON{}}
	for i := range k.Versions {
		out.Versions = append(out.Versions, version(&k.Versions[i]))
	}
	for _, s := range k.Log {
		out.Log = append(out.Log, saidJSON{s.On.String(), s.Did, s.Before, s.After, w.SaidOf(s)})
	}
	return out
}

// changesJSON is how two bids differ.
type changesJSON struct {
	Answer   string        `json:"answer"`
	One      int64         `json:"one"`
	Other    int64         `json:"other,omitempty"` // missing where it is not kept
	Rows     []rowJSON     `json:"rows"`
	Spec     []specJSON    `json:"spec"`
	Settings []settingJSON `json:"settings"`
}

// rowJSON is one quantity of two bids.
type rowJSON struct {
	What    bid.ComparedWhat `json:"what"`
	Line    bid.CostName     `json:"line,omitempty"` // of cost
	Unit    string           `json:"unit"`
	One     float64          `json:"one"`
	Other   float64          `json:"other"`
	Differs bool             `json:"differs"`
	Says    string           `json:"says"`
}

// specJSON is a key of a spec that differs.
type specJSON struct {
	Placement string `json:"placement,omitempty"`
	Key       string `json:"key"`
	One       string `json:"one"`
	Other     string `json:"other"`
}

// settingJSON is a price or an assumption that differs.
type settingJSON struct {
	Name  string    `json:"name"`
	Unit  string    `json:"unit"`
	One   float64   `json:"one"`
	Other float64   `json:"other"`
	Basis bid.Basis `json:"basis"` // of the other
}

func changesOf(c *bid.Comparison, v *say.Voice, answer string) *changesJSON {
	w, b := say.Compared{Voice: v}, say.Bid{Voice: v}
	out := &changesJSON{Answer: answer, One: c.One.ID, Other: c.Other.ID, Rows: []rowJSON{}, Spec: []specJSON{}, Settings: []settingJSON{}}
	for _, r := range c.Rows {
		out.Rows = append(out.Rows, rowJSON{r.What, r.Item.Item, r.Unit, r.One, r.Other, r.Differs, w.What(r)})
	}
	for _, s := range c.Spec {
		out.Spec = append(out.Spec, specJSON{s.Of, s.Key, s.One, s.Other})
	}
	for _, s := range c.Settings {
		out.Settings = append(out.Settings, settingJSON{b.SettingName(s.One), s.One.Unit, s.One.Value, s.Other.Value, s.Other.Basis})
	}
	return out
}

// ComparedJSON writes two bids side by side as one JSON object, documented in
// compared.schema.json.
func ComparedJSON(w io.Writer, c *bid.Comparison, v *say.Voice) error {
	return writeJSON(w, v, changesOf(c, v, say.Compared{Voice: v}.Answer(c)))
}

// explainedJSON is where one number came from.
type explainedJSON struct {
	Section bid.Section   `json:"section"`
	Figure  bid.Worked    `json:"figure"`
	Of      string        `json:"of,omitempty"`
	Line    bid.CostName  `json:"line,omitempty"`
	Says    string        `json:"says"`    // what it is called
	Words   string        `json:"words"`   // how it is worked out
	Numbers string        `json:"numbers"` // the same in numbers, as printed
	Comes   string        `json:"comes_to"`
	Value   float64       `json:"value"`
	Unit    string        `json:"unit"`
	Terms   [][]inputJSON `json:"terms"` // products, which add up
}

// inputJSON is a number that goes into a figure.
type inputJSON struct {
	Name  string    `json:"name"`
	Value float64   `json:"value"`
	Unit  string    `json:"unit"`
	Over  bool      `json:"over,omitempty"` // it divides
	Basis bid.Basis `json:"basis"`
}

func explainedOf(b *bid.Bid, v *say.Voice) []explainedJSON {
	w := say.Explained{Bid: say.Bid{Voice: v}}
	all := []explainedJSON{}
	for _, k := range bid.Explain(b) {
		terms := make([][]inputJSON, len(k.Terms))
		for i, term := range k.Terms {
			for _, in := range term {
				terms[i] = append(terms[i], inputJSON{w.Input(in), in.Value, in.Unit, in.Over, in.Basis})
			}
		}
		all = append(all, explainedJSON{k.Section, k.Figure, k.Of, k.Item.Item, w.Figure(&k), w.Words(&k), w.Numbers(&k), w.Comes(&k), k.Is.Value, k.Is.Unit, terms})
	}
	return all
}
