package bid

import (
	"fmt"

	"pourback/analysis/concrete"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/ingest/record"
)

// Balance is what to call in for the last load of a bid's pour day, by what
// that day's pour has used so far. Day 0 is the first. At.Covered is the share
// of the day's neat volume; where all of a day is of one thickness that is the
// share of its area.
func Balance(h *record.History, spec Spec, opt setting.Options, day int, at concrete.Progress) (concrete.BalanceCall, error) {
	g, err := GroundOf(h, opt)
	if err != nil {
		return concrete.BalanceCall{}, err
	}
	return g.Balance(spec, day, at)
}

// Balance is [Balance] on this ground.
func (g *Ground) Balance(spec Spec, day int, at concrete.Progress) (concrete.BalanceCall, error) {
	if err := at.Check(); err != nil {
		return concrete.BalanceCall{}, err
	}
	if fatal := Check(spec).Fatal(); len(fatal) > 0 {
		return concrete.BalanceCall{}, fatal
	}
	w, err := g.work(spec)
	if err != nil {
		return concrete.BalanceCall{}, err
	}
	if err := w.orders(); err != nil {
		return concrete.BalanceCall{}, err
	}
	for _, d := range w.days {
		if day == 0 || d.out.Day == day {
			if err := believable(at, d.out.NeatYd, w.thickness(d)); err != nil {
				return concrete.BalanceCall{}, err
			}
			call, err := d.belief.Balance(at, d.costs, w.opt.Level, w.b.Records.Volumes)
			call.DrawnIn = w.thickness(d)
			call.RunningIn = call.Ratio * call.DrawnIn
			return call, err
		}
	}
	return concrete.BalanceCall{}, fmt.Errorf("day %d: the bid pours on %s only", day, w.daysSay())
}

// Underway is how far a pour day of the bid is, where nobody told what is on hand:
// what was ordered first, at once or in the first of two steps, less what is placed.
// Day 0 is the first. More placed than was ordered cannot be, unless more was called
// in since.
func (b *Bid) Underway(day int, at concrete.Progress) (concrete.Progress, error) {
	for i := range b.Days {
		d := &b.Days[i]
		if day != 0 && d.Day != day {
			continue
		}
		const slip = 0.25 // yd³: nobody measures closer than that
		if at.OrderedYd = d.OrderedFirst(); at.PlacedYd > at.OrderedYd+slip {
			return at, fmt.Errorf("%.4g yd placed, and %.4g yd were ordered: one of the two must be a slip, or more was called in since; say what is on hand: %w", at.PlacedYd, at.OrderedYd, stat.ErrDomain)
		}
		at.OnHandYd = max(0, at.OrderedYd-at.PlacedYd)
		return at, nil
	}
	return at, nil
}

// OrderedFirst is what the day's plant is told before the pour, in yd³.
func (d *Day) OrderedFirst() float64 {
	if d.TwoSteps() {
		return d.Hold.FirstYd
	}
	return d.Order.Yd
}

// thickness is that of all a day pours, in inches, or 0 where there are several.
func (w *bidWork) thickness(d *bidDay) float64 {
	in := w.slabs[d.slabs[0]].ThicknessIn
	for _, i := range d.slabs {
		if w.slabs[i].ThicknessIn != in {
			return 0
		}
	}
	return in
}

// believable refuses a slip of the pen, on which a truck would be called in: far
// more or far less placed than is drawn for the share covered. What no slip is,
// a base dug too deep, stays well within (common practice, no published source).
func believable(at concrete.Progress, neatYd, drawnIn float64) error {
	const least, most, startYd = 0.4, 2, 1 // startYd is lost to the line and the first panel, or not measured
	drawn := at.Covered * neatYd
	if at.PlacedYd <= most*drawn+startYd && at.PlacedYd >= least*drawn-startYd {
		return nil
	}
	s := fmt.Sprintf("%.4g yd placed on %.3g %% of the area, where %.3g yd are drawn: one of the two must be a slip", at.PlacedYd, 100*at.Covered, drawn)
	if drawnIn > 0 && drawn > 0 {
		s += fmt.Sprintf("; it would lie %.3g in thick, and %.3g in are drawn", at.PlacedYd/drawn*drawnIn, drawnIn)
	}
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
