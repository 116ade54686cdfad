package out

import (
	"io"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
	"pourback/analysis/figure"
	"pourback/report/say"
)

// bidWords say, wherever they stand, what a bid holds as codes and amounts.
func bidWords(v *say.Voice) *json.Marshalers {
	w := say.Bid{Voice: v}
	return json.JoinMarshalers(
		spokenAs(func(b bid.Basis) any {
			return struct {
				bid.Basis
				Says string `json:"says"`
			}{b, w.Footing(b)}
		}),
		spokenAs(func(p bid.Problem) any {
			alone := p
			alone.Placement = ""
			said := w.Problem(alone)
			return struct {
				bid.Problem
				Wrong  string `json:"wrong"`
				Right  string `json:"right"`
				Source string `json:"source"`
			}{p, said.Wrong, said.Right, said.Source}
		}),
		spokenAs(func(s bid.SteelWay) any {
			return struct {
				bid.SteelWay
				Detail string `json:"detail"`
			}{s, w.Takeoff(s)}
		}),
		spokenAs(func(p bid.Piece) any {
			return struct {
				bid.Piece
				What string `json:"what"`
				How  string `json:"how"`
			}{p, w.PieceName(p), w.PieceHow(p)}
		}),
		spokenAs(func(o bid.Weather) any {
			return struct {
				bid.Weather
				Caution string `json:"caution"`
			}{o, w.WeatherCaution(o)}
		}),
		spokenAs(func(m bid.Mix) any {
			return struct {
				bid.Mix
				Says string `json:"says"`
			}{m, w.Mix(m)}
		}),
		spokenAs(func(d clock.Day) any {
			return struct {
				Answer string `json:"answer"`
				clock.Day
			}{w.ClockAnswer(&d), d}
		}),
		spokenAs(func(s clock.Saw) any {
			return struct {
				clock.Saw
				Says string `json:"says"`
			}{s, w.SawAt(s)}
		}),
		spokenAs(func(n clock.Note) any {
			return struct {
				clock.Note
				Says string `json:"says"`
			}{n, w.ClockNote(n)}
		}),
		spokenAs(func(s bid.Setting) any {
			return struct {
				Name string `json:"name"`
				bid.Setting
			}{w.SettingName(s), s}
		}),
		spokenAs(func(j bid.JointPlan) any {
			return struct {
				bid.JointPlan
				Saw     string            `json:"saw_hours"`
				Guide   string            `json:"guide"`
				OwnSays string            `json:"own_says"`
				Notes   []string          `json:"notes"`
				Sources []say.GuideSource `json:"sources"`
			}{j, w.Sawing(j.Saw), w.Guide(j.Guide), w.OwnSlabs(j.Slabs), w.Layout(&j), w.GuideSources()}
		}))
}

// spokenAs writes values of a type as what a function makes of them.
func spokenAs[T any](as func(T) any) *json.Marshalers {
	return json.MarshalToFunc(func(e *jsontext.Encoder, x T) error { return json.MarshalEncode(e, as(x)) })
}

// spokenBid is a bid with its sentences.
type spokenBid struct {
	Answer string `json:"answer"`
	*bid.Bid
	Notes []string `json:"notes"`
}

func spokenBidOf(b *bid.Bid, v *say.Voice) spokenBid {
	w := say.Bid{Voice: v}
	return spokenBid{w.Answer(b), b, w.Notes(b)}
}

// Paper is a document that a call has written.
type Paper struct {
	Paper string `json:"paper"` // cost sheet, proposal, pour-day sheet
	File  string `json:"file"`
	Says  string `json:"-"` // where it is
}

// comparedJSON is a quantity that a bid predicted beside what came.
type comparedJSON struct {
	What      bid.Quantity `json:"what"`
	Unit      string       `json:"unit"`
	Predicted float64      `json:"predicted"`
	P10       float64      `json:"p10"`
	P90       float64      `json:"p90"`
	Actual    *float64     `json:"actual"`
	Held      *bool        `json:"held"`
	Why       string       `json:"why,omitempty"`
}

// outcomeJSON is a kept bid beside its job.
type outcomeJSON struct {
	ID       int64          `json:"id"`
	MadeOn   string         `json:"made_on"`
	Name     string         `json:"name"`
	JobNo    string         `json:"job_no"`
	Fate     bid.Fate       `json:"fate,omitempty"`
	Why      string         `json:"why,omitempty"`
	Says     string         `json:"says,omitempty"`
	Counted  bool           `json:"counted"`
	Compared []comparedJSON `json:"compared"`
	standingJSON
}

// wonJSON is which of the marked bids were won.
type wonJSON struct {
	Says     string        `json:"says"`
	Won      int           `json:"won"`
	Lost     int           `json:"lost"`
	Unmarked int           `json:"unmarked"`
	Share    figure.Figure `json:"share"`
	ByMarkup []wonBandJSON `json:"by_markup"`
	ByPrice  []wonBandJSON `json:"by_price_per_sqft"`
}

// wonBandJSON is the share won of bids from one price to another.
type wonBandJSON struct {
	From  float64       `json:"from"`
	To    float64       `json:"to"`
	Share figure.Figure `json:"share"`
}

func wonOf(n *bid.Wins, w say.Bids) wonJSON {
	if n == nil {
		n = bid.WinsOf(nil)
	}
	bands := func(all []bid.WinBand) []wonBandJSON {
		out := make([]wonBandJSON, len(all))
		for i, b := range all {
			out[i] = wonBandJSON{b.From, b.To, b.Share}
		}
		return out
	}
	return wonJSON{w.Won(n)[0], n.Won, n.Lost, n.Open, n.Share, bands(n.ByMarkup), bands(n.ByPrice)}
}

// runsJSON is which way jobs run beside their bids.
type runsJSON struct {
	Below int           `json:"below"`
	Above int           `json:"above"`
	Shift figure.Figure `json:"shift"`
	Runs  bid.Side      `json:"runs"`
	Says  string        `json:"says"`
}

// BidsJSON writes what became of kept bids as one JSON object.
func BidsJSON(w io.Writer, r *bid.Record, v *say.Voice) error {
	words := say.Bids{Voice: v}
	out := struct {
		Answer string                         `json:"answer"`
		Bids   []outcomeJSON                  `json:"bids"`
		Held   map[bid.Quantity]figure.Figure `json:"held_of_80_pct"`
		Runs   map[bid.Quantity]runsJSON      `json:"beside_the_bid"`
		Won    wonJSON                        `json:"won"`
		Open   openJSON                       `json:"open"`
	}{words.Answer(r), make([]outcomeJSON, 0, len(r.Outcomes)), map[bid.Quantity]figure.Figure{}, map[bid.Quantity]runsJSON{}, wonOf(r.Wins, words), openOf(r)}
	for _, o := range r.Outcomes {
		b := outcomeJSON{o.ID, o.MadeOn.String(), o.Name, o.JobNo, o.Fate, words.Why(o.Why), words.But(o.But), o.Counted, make([]comparedJSON, 0, len(o.Lines)), standingOf(&o, words)}
		for _, l := range o.Lines {
			q := comparedJSON{What: l.What, Unit: l.Unit, Predicted: l.Predicted, P10: l.Low, P90: l.High}
			if l.Actual.OK {
				q.Actual, q.Held = &l.Actual.V, &l.Held
			} else {
				q.Why = words.Missing(l.What)
			}
			b.Compared = append(b.Compared, q)
		}
		out.Bids = append(out.Bids, b)
	}
	for _, h := range r.Held {
		out.Held[h.What] = h.Share
		out.Runs[h.What] = runsJSON{h.Bias.Below, h.Bias.Above, h.Bias.Shift, h.Bias.Runs, words.Runs(h)}
	}
	return writeJSON(w, v, out)
}
