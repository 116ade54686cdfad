package report

import (
	"encoding/json"
	"io"
	"slices"
	"strconv"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/figure"
)

// BidsPage says what became of kept bids, by the names they were given.
func BidsPage(r *bid.Record, opt Options) Page {
	opt.WithSites = true // a bid is called after its site; whoever lists bids wants to know them
	return newAuthor(&analysis.Factors{}, opt).bids(r)
}

func (a *author) bids(r *bid.Record) Page {
	p := Page{Slug: "bids", Title: "Bids and how they turned out", Answer: bidsAnswer(r), Notes: a.saidAll(r.Notes), Method: []string{
		"Each bid keeps the ranges it gave, from the lower to the upper tenth of what it thought might come: 8 jobs in 10 should lie within.",
		"How many did has the limits of Wilson (1927, Journal of the American Statistical Association 22). Only the last bid on a job counts, and only if it was made before the pour."}}
	if len(r.Outcomes) == 0 {
		p.Answer = "No bid has been kept yet."
		p.Notes = []string{"`pourback bid --help` shows a spec of ten lines; the bid it makes is kept and held against its job once the records are in."}
		return p
	}
	var compared []line
	var waiting []bid.Outcome
	for _, o := range newest(r.Outcomes) {
		if o.Why != "" {
			waiting = append(waiting, o)
		}
		for _, l := range o.Lines {
			compared = append(compared, line{o, l})
		}
	}
	if len(compared) > 0 {
		p.Exhibits = append(p.Exhibits, Exhibit{Title: "How often the ranges held", Table: a.heldTable(r.Held)}, Exhibit{Title: "Each bid beside its job", Table: a.linesTable(compared)})
	}
	if len(waiting) > 0 {
		p.Exhibits = append(p.Exhibits, Exhibit{Title: "Waiting for their records", Table: tableOf("Bids with nothing to be held against yet", waiting,
			column[bid.Outcome]{head: "Bid", cell: a.bidName},
			column[bid.Outcome]{head: "Made", cell: func(o bid.Outcome) Cell { return Cell{Text: dayText(o.MadeOn)} }},
			column[bid.Outcome]{head: "Job", cell: func(o bid.Outcome) Cell { return word(o.JobNo) }},
			column[bid.Outcome]{head: "Why", cell: func(o bid.Outcome) Cell { return Cell{Text: clean(o.Why, longName)} }})})
	}
	return p
}

// bidsAnswer says in one sentence how often the ranges of bids held.
func bidsAnswer(r *bid.Record) string {
	var held, wrong []string
	jobs := 0
	for _, h := range r.Held {
		if !h.Share.Known() {
			continue
		}
		jobs = max(jobs, h.Share.N)
		held = append(held, grouped(100*h.Share.Value, 0)+"% for "+h.What)
		if h.Share.High < heldTarget || h.Share.Low > heldTarget {
			wrong = append(wrong, "those of "+h.What+" are "+calibrated(h.Share))
		}
	}
	kept := capital(plural(len(r.Outcomes), "bid"))
	if jobs == 0 && slices.ContainsFunc(r.Outcomes, func(o bid.Outcome) bool { return len(o.Lines) > 0 }) {
		return kept + " kept, and none can be held against its job yet: those with records were made after the pour, or lack hours, yards and costs."
	}
	if jobs == 0 {
		return kept + " kept, and none has the records of its job yet: there is nothing to compare."
	}
	s := kept + " kept, " + count(jobs) + " with the records of its job: ranges that should hold 80% of the time held " + listed(held)
	if len(wrong) == 0 {
		return s + ", which is as it should be as far as so few can tell."
	}
	return s + "; " + listed(wrong) + "."
}

// heldTarget is the share of ranges from the lower to the upper tenth that
// should hold.
const heldTarget = 0.8

// newest puts the latest bid first.
func newest(outcomes []bid.Outcome) []bid.Outcome {
	return most(outcomes, func(o bid.Outcome) int { return int(o.ID) })
}

// line is one quantity of a bid.
type line struct {
	o bid.Outcome
	l bid.Line
}

// bidName is a bid's number, with its name where it was given one and sites may
// be named: that is what bids are called after.
func (a *author) bidName(o bid.Outcome) Cell {
	if o.Name == "" || o.Name == "bid" || !a.named {
		return Cell{Text: count(int(o.ID))}
	}
	return Cell{Text: count(int(o.ID)) + ", " + clean(o.Name, shortName)}
}

func (a *author) heldTable(held []bid.Held) *Table {
	return tableOf("Ranges that held what came; 80 in 100 should", held,
		column[bid.Held]{head: "Range of", cell: func(h bid.Held) Cell { return word(h.What) }},
		column[bid.Held]{head: "Held", number: true, cell: func(h bid.Held) Cell { return inHundred.cell(h.Share) }},
		column[bid.Held]{head: "Jobs", number: true, cell: func(h bid.Held) Cell { return whole(h.Share.N) }},
		column[bid.Held]{head: "Which says", cell: func(h bid.Held) Cell { return Cell{Text: calibration(h.Share)} }})
}

// calibration says what the share of ranges that held means.
func calibration(f figure.Figure) string {
	switch {
	case !f.Known():
		return "nothing yet"
	case f.High < heldTarget || f.Low > heldTarget:
		return "the ranges are " + calibrated(f)
	}
	return "as it should be, as far as so few can tell"
}

// calibrated says in which way a share of ranges that held is not as it should
// be.
func calibrated(f figure.Figure) string {
	if f.High < heldTarget {
		return "too narrow: the bids promise too much"
	}
	return "wider than need be"
}

func (a *author) linesTable(lines []line) *Table {
	t := tableOf("Predicted and actual, the latest bid first", lines,
		column[line]{head: "Bid", cell: func(r line) Cell {
			c := a.bidName(r.o)
			c.why = clean(r.o.Says, longText)
			return c
		}},
		column[line]{head: "Job", cell: func(r line) Cell { return word(r.o.JobNo) }},
		column[line]{head: "What", cell: func(r line) Cell { return Cell{Text: r.l.What} }},
		column[line]{head: "Predicted", number: true, cell: func(r line) Cell {
			return a.outcome(r.l, figure.Figure{Value: r.l.Predicted, Low: r.l.Low, High: r.l.High, Bounded: r.l.High > r.l.Low})
		}},
		column[line]{head: "Actual", number: true, cell: func(r line) Cell {
			if !r.l.Actual.OK {
				return Cell{Text: "not known", why: clean(r.l.Why, longText)}
			}
			return a.outcome(r.l, figure.Figure{Value: r.l.Actual.V})
		}},
		column[line]{head: "Range held", cell: func(r line) Cell {
			switch {
			case !r.l.Actual.OK:
				return Cell{Text: "—"}
			case r.l.Held:
				return Cell{Text: "yes"}
			}
			return Cell{Text: "no"}
		}})
	if t.More != "" {
		t.More = "And earlier ones; `pourback bids --json` has them all."
	}
	return t
}

// outcome is a quantity of a bid in its own unit.
func (a *author) outcome(l bid.Line, f figure.Figure) Cell {
	switch l.What {
	case "cost":
		return a.moneyFigure(f, 0)
	case "margin":
		return percent.known(f)
	case "yards":
		if !f.Bounded {
			return Cell{Text: quantity(a.units.volume, f.Value, 2), Value: strconv.FormatFloat(f.Value, 'g', -1, 64)}
		}
		return a.units.volume.known(f)
	}
	return measure{factor: 1, unit: " h"}.known(f)
}

// BidsJSON writes what became of kept bids as one JSON object.
func BidsJSON(w io.Writer, r *bid.Record) error {
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
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}
