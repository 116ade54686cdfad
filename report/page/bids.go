package page

import (
	"slices"
	"strconv"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/figure"
	"pourback/report/say"
)

// BidsPage says what became of kept bids, by the names they were given.
func BidsPage(r *bid.Record, opt Options) Page {
	opt.WithSites = true // a bid is called after its site; whoever lists bids wants to know them
	return NewAuthor(&analysis.Factors{}, opt).bids(r)
}

func (a *Author) bids(r *bid.Record) Page {
	p := Page{Slug: "bids", Title: "Bids and how they turned out", Answer: bidsAnswer(r), Notes: a.SaidAll(r.Notes), Method: []string{
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
		p.Exhibits = append(p.Exhibits, Exhibit{Title: "Waiting for their records", Table: TableOf("Bids with nothing to be held against yet", waiting,
			ColumnOf[bid.Outcome]{Head: "Bid", Cell: a.bidName},
			ColumnOf[bid.Outcome]{Head: "Made", Cell: func(o bid.Outcome) say.Cell { return say.Cell{Text: say.DayText(o.MadeOn)} }},
			ColumnOf[bid.Outcome]{Head: "Job", Cell: func(o bid.Outcome) say.Cell { return say.Word(o.JobNo) }},
			ColumnOf[bid.Outcome]{Head: "Why", Cell: func(o bid.Outcome) say.Cell { return say.Cell{Text: say.Clean(o.Why, say.LongName)} }})})
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
		held = append(held, say.Grouped(100*h.Share.Value, 0)+"% for "+h.What)
		if h.Share.High < heldTarget || h.Share.Low > heldTarget {
			wrong = append(wrong, "those of "+h.What+" are "+calibrated(h.Share))
		}
	}
	kept := say.Capital(say.Plural(len(r.Outcomes), "bid"))
	if jobs == 0 && slices.ContainsFunc(r.Outcomes, func(o bid.Outcome) bool { return len(o.Lines) > 0 }) {
		return kept + " kept, and none can be held against its job yet: those with records were made after the pour, or lack hours, yards and costs."
	}
	if jobs == 0 {
		return kept + " kept, and none has the records of its job yet: there is nothing to compare."
	}
	s := kept + " kept, " + say.Count(jobs) + " with the records of its job: ranges that should hold 80% of the time held " + say.Listed(held)
	if len(wrong) == 0 {
		return s + ", which is as it should be as far as so few can tell."
	}
	return s + "; " + say.Listed(wrong) + "."
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
func (a *Author) bidName(o bid.Outcome) say.Cell {
	if o.Name == "" || o.Name == "bid" || !a.named {
		return say.Cell{Text: say.Count(int(o.ID))}
	}
	return say.Cell{Text: say.Count(int(o.ID)) + ", " + say.Clean(o.Name, say.ShortName)}
}

func (a *Author) heldTable(held []bid.Held) *Table {
	return TableOf("Ranges that held what came; 80 in 100 should", held,
		ColumnOf[bid.Held]{Head: "Range of", Cell: func(h bid.Held) say.Cell { return say.Word(h.What) }},
		ColumnOf[bid.Held]{Head: "Held", Number: true, Cell: func(h bid.Held) say.Cell { return a.Cell(say.InHundred, h.Share) }},
		ColumnOf[bid.Held]{Head: "Jobs", Number: true, Cell: func(h bid.Held) say.Cell { return say.Whole(h.Share.N) }},
		ColumnOf[bid.Held]{Head: "Which says", Cell: func(h bid.Held) say.Cell { return say.Cell{Text: calibration(h.Share)} }})
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

func (a *Author) linesTable(lines []line) *Table {
	t := TableOf("Predicted and actual, the latest bid first", lines,
		ColumnOf[line]{Head: "Bid", Cell: func(r line) say.Cell {
			c := a.bidName(r.o)
			c.Why = say.Clean(r.o.Says, say.LongText)
			return c
		}},
		ColumnOf[line]{Head: "Job", Cell: func(r line) say.Cell { return say.Word(r.o.JobNo) }},
		ColumnOf[line]{Head: "What", Cell: func(r line) say.Cell { return say.Cell{Text: r.l.What} }},
		ColumnOf[line]{Head: "Predicted", Number: true, Cell: func(r line) say.Cell {
			return a.outcome(r.l, figure.Figure{Value: r.l.Predicted, Low: r.l.Low, High: r.l.High, Bounded: r.l.High > r.l.Low})
		}},
		ColumnOf[line]{Head: "Actual", Number: true, Cell: func(r line) say.Cell {
			if !r.l.Actual.OK {
				return say.Cell{Text: "not known", Why: say.Clean(r.l.Why, say.LongText)}
			}
			return a.outcome(r.l, figure.Figure{Value: r.l.Actual.V})
		}},
		ColumnOf[line]{Head: "Range held", Cell: func(r line) say.Cell {
			switch {
			case !r.l.Actual.OK:
				return say.Cell{Text: "—"}
			case r.l.Held:
				return say.Cell{Text: "yes"}
			}
			return say.Cell{Text: "no"}
		}})
	if t.More != "" {
		t.More = "And earlier ones; `pourback bids --json` has them all."
	}
	return t
}

// outcome is a quantity of a bid in its own unit.
func (a *Author) outcome(l bid.Line, f figure.Figure) say.Cell {
	switch l.What {
	case "cost":
		return a.MoneyFigure(f, 0)
	case "margin":
		return a.Known(say.Percent, f)
	case "yards":
		if !f.Bounded {
			return say.Cell{Text: quantity(a.Units.Volume, f.Value, 2), Value: strconv.FormatFloat(f.Value, 'g', -1, 64)}
		}
		return a.Known(a.Units.Volume, f)
	}
	return a.Known(say.Measure{Factor: 1, Unit: " h"}, f)
}
