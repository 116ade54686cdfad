package bid

import (
	"cmp"

	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// Kept is a bid as it was kept. What the job turned out to be is looked up
// by JobNo, or by the job number in the bid's own spec where that is empty.
type Kept struct {
	ID     int64
	MadeOn record.Date
	JobNo  string
	Fate   Fate
	FateOn record.Date // when that was said; 0 where nobody noted it
	Bid    *Bid        // not to be changed: it may be in several lists

	Version int   // 1 of a bid that revises none
	Revises int64 // the version before it; 0 where there is none
	First   int64 // the bid that it is a version of; 0 of the first itself
}

func (k *Kept) root() int64 { return cmp.Or(k.First, k.ID) }

func (k *Kept) job() string { return cmp.Or(k.JobNo, k.Bid.JobNo) }

// Record is what became of kept bids.
type Record struct {
	Outcomes []Outcome // in the order of the kept bids
	Held     []Held    // how many of the 80 % intervals held what came
	Compared int       // jobs that are held against their bid, in the quantity that has most
	Wins     *Wins     // what the bids marked won or lost say; nil where nobody asked
	Begun    bool      // some have records of their job, whether they count or not
}

// Outcome is one kept bid beside its job.
type Outcome struct {
	ID      int64
	MadeOn  record.Date
	Name    string
	JobNo   string
	Fate    Fate
	FateOn  record.Date
	Why     Unmatched // why nothing is compared, "" where it is
	But     Proviso   // a reservation about the comparison
	Counted bool      // among the intervals: made before the pour, and the last bid on its job
	Lines   []Line

	Stands     Standing
	Version    int
	Revises    int64
	ReplacedBy int64 // the later version, or the later bid on the same job; 0 where there is none
	Days       int   // since it was made, by the data date
	Asked      float64
}

// Unmatched is why a bid is held against no job.
type Unmatched string

// Why a bid is held against no job.
const (
	NoJobNo   Unmatched = "no job number"
	NoRecords Unmatched = "no records"
	Voided    Unmatched = "void"
	Revised   Unmatched = "revised" // a later version counts in its place
)

// Proviso is a reservation about the comparison of a bid with its job.
type Proviso struct {
	Kind       ProvisoKind // "" where there is none
	FirstPour  record.Date // of [MadeTooLate]
	Job, InBid int         // placements, of [OtherPlacements]
}

// ProvisoKind is what a [Proviso] is about.
type ProvisoKind string

// The reservations.
const (
	Superseded      ProvisoKind = "superseded" // by a later bid on the same job
	MadeTooLate     ProvisoKind = "too late"   // after the first pour
	OtherPlacements ProvisoKind = "placements" // the job has other placements than the bid
)

// Line is one quantity, predicted and actual.
type Line struct {
	What      Quantity
	Unit      string
	Predicted float64
	Low, High float64       // the 80 % interval, P10 and P90
	Actual    record.Number // missing where the records do not tell it
	Held      bool          // the actual lies within
}

// Quantity is one that a bid predicts and a job has.
type Quantity string

// What a bid predicts.
const (
	Hours  Quantity = "hours"
	Yards  Quantity = "yards"
	Costs  Quantity = "cost"
	Margin Quantity = "margin"
)

// Held is how many of the intervals of one quantity held.
type Held struct {
	What    Quantity
	Share   figure.Figure // with Wilson limits; it should be 0.80
	Verdict Calibration
	Bias    Bias
}

// Calibration says whether as many intervals held as should.
type Calibration string

// Whether as many intervals held as should.
const (
	NothingHeld  Calibration = ""
	TooNarrow    Calibration = "too narrow"
	TooWide      Calibration = "too wide"
	AsItShouldBe Calibration = "as it should be" // as far as so many can tell
	heldShould               = 0.8
)

func calibrationOf(f figure.Figure) Calibration {
	switch {
	case !f.Known():
		return NothingHeld
	case f.High < heldShould:
		return TooNarrow
	case f.Low > heldShould:
		return TooWide
	}
	return AsItShouldBe
}

// heldLevel is the confidence of the limits on how many intervals held.
const heldLevel = 0.90

// Outcomes holds kept bids against what their jobs turned out to be.
func Outcomes(h *record.History, kept []Kept) *Record {
	r := &Record{Outcomes: []Outcome{}, Held: []Held{}}
	last, later := lastOfJobs(kept), laterVersions(kept)
	for i := range kept {
		k := &kept[i]
		o := Outcome{ID: k.ID, MadeOn: k.MadeOn, Name: k.Bid.Name, JobNo: k.job(), Fate: k.Fate, FateOn: k.FateOn, Lines: []Line{},
			Version: k.Version, Revises: k.Revises, ReplacedBy: later[k.ID], Days: int(h.AsOf - k.MadeOn), Asked: cmp.Or(k.Bid.Price.Asked, k.Bid.Price.Price)}
		o.compare(h, k, last[k.job()] == k)
		o.stand(last[o.JobNo])
		r.Outcomes = append(r.Outcomes, o)
	}
	r.count()
	r.Wins = WinsOf(kept)
	return r
}

// lastOfJobs are the last bids on each job, but those that are void or replaced by a
// later version.
func lastOfJobs(kept []Kept) map[string]*Kept {
	last, later := map[string]*Kept{}, laterVersions(kept)
	for i := range kept {
		k := &kept[i]
		if l := last[k.job()]; k.Fate != Void && later[k.ID] == 0 && (l == nil || cmp.Or(cmp.Compare(k.MadeOn, l.MadeOn), cmp.Compare(k.ID, l.ID)) > 0) {
			last[k.job()] = k
		}
	}
	return last
}

func (o *Outcome) compare(h *record.History, k *Kept, isLast bool) {
	if k.Fate == Void {
		o.Why = Voided
		return
	}
	if o.ReplacedBy != 0 {
		o.Why = Revised
		return
	}
	if o.JobNo == "" {
		o.Why = NoJobNo
		return
	}
	j, found := h.FindJob(o.JobNo)
	if !found {
		o.Why = NoRecords
		return
	}
	from, to := h.PlacementsOf(j)
	o.Lines = k.Bid.lines(h, j)
	first := h.Placements.PlacedOn.At(from)
	for i := from; i < to; i++ {
		first = min(first, h.Placements.PlacedOn.At(i))
	}
	switch {
	case !isLast:
		o.But.Kind = Superseded
	case k.MadeOn > first:
		o.But = Proviso{Kind: MadeTooLate, FirstPour: first}
	default:
		o.Counted = true
	}
	if n := len(k.Bid.Placements); o.Counted && n != to-from {
		o.But = Proviso{Kind: OtherPlacements, Job: to - from, InBid: n}
	}
}

// lines are the quantities of a bid beside those of its job j.
func (b *Bid) lines(h *record.History, j int) []Line {
	c, job := b.Cost.Total, h.Jobs.At(j)
	hours, used := record.Some(0.0), record.Some(0.0)
	for i, to := h.PlacementsOf(j); i < to; i++ {
		p := h.Placements.At(i)
		hours = plus(hours, p.LaborHours())
		used = plus(used, p.Used())
	}
	lines := []Line{
		{What: Hours, Unit: "person-hours", Predicted: b.Labor.Mean.Figure.Value, Low: b.Labor.Hours.P10, High: b.Labor.Hours.P90, Actual: hours},
		{What: Yards, Unit: "yd", Predicted: b.UsedYd.Mean, Low: b.UsedYd.P10, High: b.UsedYd.P90, Actual: used},
		{What: Costs, Unit: "$", Predicted: c.Mean, Low: c.P10, High: c.P90, Actual: dollars(job.ActualCost())},
		{What: Margin, Unit: "share of the price", Predicted: b.Price.ExpectedMargin},
	}
	if m := &lines[3]; b.Price.Price > 0 {
		m.Low, m.High = 1-c.P90/b.Price.Price, 1-c.P10/b.Price.Price
		if price := job.Revenue(); price.OK && price.V > 0 && job.ActualCost().OK {
			m.Actual = record.Some(1 - job.ActualCost().V.Dollars()/price.V.Dollars())
		}
	}
	for i := range lines {
		l := &lines[i]
		if l.Actual.OK {
			l.Held = l.Actual.V >= l.Low && l.Actual.V <= l.High
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
	for _, what := range []Quantity{Hours, Yards, Costs, Margin} {
		held, n := 0, 0
		var lines []Line
		for _, o := range r.Outcomes {
			r.Begun = r.Begun || len(o.Lines) > 0
			for _, l := range o.Lines {
				if l.What == what && o.Counted && l.Actual.OK {
					n++
					lines = append(lines, l)
					if l.Held {
						held++
					}
				}
			}
		}
		f := figure.Unknown(NoBidWith{What: what})
		if n > 0 {
			f = figure.Estimated(interval.Wilson(held, n, heldLevel))
		}
		r.Held = append(r.Held, Held{what, f, calibrationOf(f), biasOf(what, lines)})
		r.Compared = max(r.Compared, n)
	}
}
