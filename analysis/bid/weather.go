package bid

import (
	"fmt"
	"time"

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
	for i := range w.h.Placements {
		p := &w.h.Placements[i]
		if int(p.PlacedOn.Time().Month()) != w.month {
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
	b := basis(len(rates), "pour", "of that month with its weather", "none: measure on the day")
	out.Share = Number{figure.UnknownFor("%s of that month with the weather on record: it takes %d", figure.CountOf(len(rates), "pour"), figure.LeastForRate), "share", b}
	out.Rate.Unit, out.Rate.Basis = "lb/ft²/h", b
	if len(rates) >= figure.LeastForRate {
		out.Share.Figure = figure.Estimated(interval.Wilson(hot, len(rates), w.opt.Level))
		if s, err := spreadOf(rates); err == nil {
			s.Unit, s.Basis = "lb/ft²/h", b
			out.Rate = s
		}
	}
	out.Caution = out.says()
	return out
}

func (o Weather) says() string {
	const measure = "On the day read air and concrete temperature, humidity and wind at the slab: from 0.2 lb/ft² an hour on (ACI 305R) have fog, windbreaks, shade or an evaporation retarder ready before the truck. The estimate itself is good to about 40 % either way (Hover 2020)."
	if !o.Share.Figure.Known() {
		return "Too few pours of that month have their weather on record for an outlook. " + measure
	}
	return fmt.Sprintf("In %s %.0f in 100 of your pours dried at %v lb/ft² an hour or faster (between %.0f and %.0f in 100, from %s). ",
		time.Month(o.Month), 100*o.Share.Figure.Value, o.Limit, 100*o.Share.Figure.Low, 100*o.Share.Figure.High, figure.CountOf(o.Pours, "pour")) + measure
}

// spreadOf are the mean and the type-7 quantiles of values.
func spreadOf(xs []float64) (Spread, error) {
	q, err := interval.Quantiles(xs, .1, .5, .8, .9)
	if err != nil {
		return Spread{}, err
	}
	return Spread{Mean: figure.SumOf(xs) / float64(len(xs)), P10: q[0], P50: q[1], P80: q[2], P90: q[3]}, nil
}
