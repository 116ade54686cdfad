package bid

import (
	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/analysis/trade"
	"pourback/analysis/work"
)

// weather is how fast slabs have dried in the bid's month.
func (w *bidWork) weather() Weather {
	out := Weather{Month: w.month, Limit: trade.PrecautionLbFt2, Accy: trade.EvaporationAccuracy}
	var rates []float64
	hot := 0
	for i := range w.h.Placements.Len() {
		p := w.h.Placements.At(i)
		if int(p.PlacedOn().Time().Month()) != w.month {
			continue
		}
		if e := work.EvaporationOf(p); e.Rate.OK {
			rates = append(rates, e.Rate.V)
			if e.Rate.V >= trade.PrecautionLbFt2 {
				hot++
			}
		}
	}
	out.Pours = len(rates)
	b := basis(len(rates), OfMonthsPours, 0)
	out.Share = Number{figure.Unknown(TooFewPours{N: len(rates), Least: figure.LeastForRate}), "share", b}
	out.Rate.Unit, out.Rate.Basis = "lb/ft²/h", b
	if len(rates) >= figure.LeastForRate {
		out.Share.Figure = figure.Estimated(interval.Wilson(hot, len(rates), w.opt.Level))
		if s, err := spreadOf(rates); err == nil {
			s.Unit, s.Basis = "lb/ft²/h", b
			out.Rate = s
		}
	}
	return out
}

// spreadOf are the mean and the type-7 quantiles of values, whose order it may change.
func spreadOf(xs []float64) (Spread, error) {
	mean := figure.SumOf(xs) / float64(len(xs))
	q, err := interval.QuantilesInPlace(xs, .1, .5, .8, .9)
	if err != nil {
		return Spread{}, err
	}
	return Spread{Mean: mean, P10: q[0], P50: q[1], P80: q[2], P90: q[3]}, nil
}
