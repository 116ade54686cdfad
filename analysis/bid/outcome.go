package bid

import (
	"cmp"
	"fmt"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// KeptBid is a bid as it was kept. What the job turned out to be is looked up
// by JobNo, or by the job number in the bid's own spec where that is empty.
type Kept struct {
	ID     int64
	MadeOn record.Date
	JobNo  string
	Bid    Bid
}

func (k *Kept) job() string { return cmp.Or(k.JobNo, k.Bid.JobNo) }

// BidRecord is what became of kept bids.
type Record struct {
	Answer   string
	Outcomes []Outcome // in the order of the kept bids
	Held     []Held    // how many of the 80 % intervals held what came
	Notes    []string
}

// BidOutcome is one kept bid beside its job.
type Outcome struct {
	ID      int64
	MadeOn  record.Date
	Name    string
	JobNo   string
	Why     string // why nothing is compared, "" where it is
	Says    string // a reservation about the comparison
	Counted bool   // among the intervals: made before the pour, and the last bid on its job
	Lines   []Line
}

// BidLine is one quantity, predicted and actual.
type Line struct {
	What      string // hours, yards, cost, margin
	Unit      string
	Predicted float64
	Low, High float64 // the 80 % interval, P10 and P90
	Actual    record.Number
	Why       string // why there is no actual
	Held      bool   // the actual lies within
}

// BidHeld is how many of the intervals of one quantity held.
type Held struct {
	What  string
	Share figure.Figure // with Wilson limits; it should be 0.80
}

// heldLevel is the confidence of the limits on how many intervals held.
const heldLevel = 0.90

// BidOutcomes holds kept bids against what their jobs turned out to be.
func Outcomes(h *record.History, kept []Kept) *Record {
	r := &Record{Outcomes: []Outcome{}, Held: []Held{}, Notes: []string{}}
	last := map[string]*Kept{}
	for i := range kept {
		k := &kept[i]
		if l := last[k.job()]; l == nil || cmp.Or(cmp.Compare(k.MadeOn, l.MadeOn), cmp.Compare(k.ID, l.ID)) > 0 {
			last[k.job()] = k
		}
	}
	for i := range kept {
		k := &kept[i]
		o := Outcome{ID: k.ID, MadeOn: k.MadeOn, Name: k.Bid.Name, JobNo: k.job(), Lines: []Line{}}
		o.compare(h, k, last[k.job()] == k)
		r.Outcomes = append(r.Outcomes, o)
	}
	r.count()
	return r
}

func (o *Outcome) compare(h *record.History, k *Kept, isLast bool) {
	if o.JobNo == "" {
		o.Why = "no job number: give job_no in the spec, or name the job when it is won"
		return
	}
	j, found := slices.BinarySearchFunc(h.Jobs, o.JobNo, func(j record.Job, no string) int { return cmp.Compare(j.JobNo, no) })
	if !found {
		o.Why = "no records of this job yet"
		return
	}
	from, to := h.PlacementsOf(j)
	placements := h.Placements[from:to]
	o.Lines = k.Bid.lines(&h.Jobs[j], placements)
	first := placements[0].PlacedOn
	for i := range placements {
		first = min(first, placements[i].PlacedOn)
	}
	switch {
	case !isLast:
		o.Says = "a later bid on the same job stands for it"
	case k.MadeOn > first:
		o.Says = "made after the first pour on " + first.String() + ": no prediction"
	default:
		o.Counted = true
	}
	if n := len(k.Bid.Placements); o.Counted && n != len(placements) {
		o.Says = fmt.Sprintf("the job has %s on record, the bid has %d", figure.CountOf(len(placements), "placement"), n)
	}
}

// lines are the quantities of a bid beside those of its job.
func (b *Bid) lines(job *record.Job, placements []record.Placement) []Line {
	c := b.Cost.Total
	hours, used := record.Some(0.0), record.Some(0.0)
	for i := range placements {
		hours = plus(hours, placements[i].LaborHours)
		used = plus(used, placements[i].Used())
	}
	lines := []Line{
		{What: "hours", Unit: "person-hours", Predicted: b.Labor.Mean.Figure.Value, Low: b.Labor.Hours.P10, High: b.Labor.Hours.P90, Actual: hours, Why: "a placement without its hours"},
		{What: "yards", Unit: "yd", Predicted: b.UsedYd.Mean, Low: b.UsedYd.P10, High: b.UsedYd.P90, Actual: used, Why: "a placement without its delivered and left-over yards"},
		{What: "cost", Unit: "$", Predicted: c.Mean, Low: c.P10, High: c.P90, Actual: dollars(job.ActualCost), Why: "no actual cost yet"},
		{What: "margin", Unit: "share of the price", Predicted: b.Price.ExpectedMargin, Why: "no contract price or no actual cost yet"},
	}
	if m := &lines[3]; b.Price.Price > 0 {
		m.Low, m.High = 1-c.P90/b.Price.Price, 1-c.P10/b.Price.Price
		if price := job.ContractPrice; price.OK && price.V > 0 && job.ActualCost.OK {
			m.Actual = record.Some(1 - job.ActualCost.V.Dollars()/price.V.Dollars())
		}
	}
	for i := range lines {
		l := &lines[i]
		if l.Actual.OK {
			l.Why, l.Held = "", l.Actual.V >= l.Low && l.Actual.V <= l.High
		}
	}
	return lines
}

// plus is the sum of what is known; missing where either is.
func plus(a, b record.Number) record.Number {
	return record.Number{V: a.V + b.V, OK: a.OK && b.OK}
}

func dollars(m record.Money) record.Number { return record.Number{V: m.V.Dollars(), OK: m.OK} }

// count says how many of the intervals held.
func (r *Record) count() {
	compared := 0
	for _, what := range []string{"hours", "yards", "cost", "margin"} {
		held, n := 0, 0
		for _, o := range r.Outcomes {
			for _, l := range o.Lines {
				if l.What == what && o.Counted && l.Actual.OK {
					n++
					if l.Held {
						held++
					}
				}
			}
		}
		f := figure.UnknownFor("no bid with its %s on record yet", what)
		if n > 0 {
			f = figure.Estimated(interval.Wilson(held, n, heldLevel))
		}
		r.Held = append(r.Held, Held{what, f})
		compared = max(compared, n)
	}
	r.Notes = append(r.Notes, "An interval should hold eight times in ten. The cost on record holds what the bid did not price (see its items); the margin on record is that of the price agreed, which may be another than the bid's.")
	r.Answer = r.says(compared)
}

func (r *Record) says(compared int) string {
	if compared == 0 {
		if slices.ContainsFunc(r.Outcomes, func(o Outcome) bool { return len(o.Lines) > 0 }) {
			return "No kept bid can be held against its job yet: those with records were made after the pour, or lack hours, yards and costs."
		}
		return "No kept bid has the records of its job yet: there is nothing to compare."
	}
	s := fmt.Sprintf("Of %s kept, %d can be held against their jobs.", figure.CountOf(len(r.Outcomes), "bid"), compared)
	for _, held := range r.Held {
		f := held.Share
		if !f.Known() {
			continue
		}
		s += fmt.Sprintf(" The 80 %% interval of %s held in %.0f %% of %s (between %.0f and %.0f %%)", held.What, 100*f.Value, figure.CountOf(f.N, "job"), 100*f.Low, 100*f.High)
		switch {
		case f.High < 0.8:
			s += ": these bids promise too much."
		case f.Low > 0.8:
			s += ": these intervals are wider than need be."
		default:
			s += ", which is as it should be as far as so many jobs can tell."
		}
	}
	return s
}
