package analysis

import (
	"fmt"

	"pourback/ingest/record"
)

// BidBalance is what to call in for the last load of a bid's pour day, by what
// that day's pour has used so far. Day 0 is the first. At.Covered is the share
// of the day's neat volume; where all of a day is of one thickness that is the
// share of its area.
func BidBalance(h *record.History, spec BidSpec, opt Options, day int, at Progress) (BalanceCall, error) {
	if err := at.check(); err != nil {
		return BalanceCall{}, err
	}
	if fatal := CheckBid(spec).Fatal(); len(fatal) > 0 {
		return BalanceCall{}, fatal
	}
	w, err := bidWorkOf(h, spec, opt)
	if err != nil {
		return BalanceCall{}, err
	}
	if err := w.orders(); err != nil {
		return BalanceCall{}, err
	}
	for _, d := range w.days {
		if day == 0 || d.out.Day == day {
			return d.belief.balance(at, w.costs, w.opt.Level, w.b.Records.Volumes)
		}
	}
	return BalanceCall{}, fmt.Errorf("day %d: the bid pours on %s only", day, w.daysSay())
}

func (w *bidWork) daysSay() string {
	s := ""
	for i, d := range w.days {
		if i > 0 {
			s += ", "
		}
		s += fmt.Sprintf("day %d", d.out.Day)
	}
	return s
}
