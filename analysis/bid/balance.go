package bid

import (
	"fmt"

	"pourback/analysis/concrete"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/ingest/record"
)

// BidBalance is what to call in for the last load of a bid's pour day, by what
// that day's pour has used so far. Day 0 is the first. At.Covered is the share
// of the day's neat volume; where all of a day is of one thickness that is the
// share of its area.
func Balance(h *record.History, spec Spec, opt setting.Options, day int, at concrete.Progress) (concrete.BalanceCall, error) {
	if err := at.Check(); err != nil {
		return concrete.BalanceCall{}, err
	}
	if fatal := Check(spec).Fatal(); len(fatal) > 0 {
		return concrete.BalanceCall{}, fatal
	}
	w, err := bidWorkOf(h, spec, opt)
	if err != nil {
		return concrete.BalanceCall{}, err
	}
	if err := w.orders(); err != nil {
		return concrete.BalanceCall{}, err
	}
	for _, d := range w.days {
		if day == 0 || d.out.Day == day {
			if err := believable(at, d.out.NeatYd); err != nil {
				return concrete.BalanceCall{}, err
			}
			return d.belief.Balance(at, d.costs, w.opt.Level, w.b.Records.Volumes)
		}
	}
	return concrete.BalanceCall{}, fmt.Errorf("day %d: the bid pours on %s only", day, w.daysSay())
}

// believable refuses a slip of the pen, on which a truck would be called in: far
// more or far less placed than is drawn for the share covered. What no slip is,
// a base dug too deep, stays well within (common practice, no published source).
func believable(at concrete.Progress, neatYd float64) error {
	const least, most, startYd = 0.4, 2, 1 // startYd is lost to the line and the first panel, or not measured
	drawn := at.Covered * neatYd
	if at.PlacedYd <= most*drawn+startYd && at.PlacedYd >= least*drawn-startYd {
		return nil
	}
	s := fmt.Sprintf("%.4g yd placed on %.3g %% of the area, where %.3g yd are drawn: one of the two must be a slip", at.PlacedYd, 100*at.Covered, drawn)
	if at.Covered <= 0.01 {
		s += "; half the area covered is 50, not 0.5"
	}
	return fmt.Errorf("%s: %w", s, stat.ErrDomain)
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
