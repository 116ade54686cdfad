package bid

import (
	"math"
	"math/rand/v2"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// delays fills what waiting may cost: clogs of the pump line, and all else.
func (w *bidWork) delays() error {
	w.clogs, w.others = delayPast(w.h)
	w.waiting = waitingShare(w.h)
	rates, err := w.ground.clogs()
	if err != nil {
		return err
	}
	stands := basis(rates.Placements, OfClogCounts, w.opt.Bid.ClogsPer100Yd)
	if stands.From == FromRecords && rates.Believed {
		stands.By = ByFewEvents
	}
	job := &w.b.Delay
	none := 1.0 // chance of no clog at all
	for _, s := range w.slabs {
		law, err := rates.Outfit(s.PumpOutfit)
		if err != nil {
			return err
		}
		s.clogs = lawAs(law, stands)
		w.delay(&s.part.Delay, s)
		if s.Method == "pump" {
			none *= 1 - s.part.Delay.ClogChance.Figure.Value
			job.ClogChance = s.part.Delay.ClogChance
		}
		job.Clogs += s.part.Delay.Clogs
	}
	sum := func(of func(*Delay) *Number) Number {
		out := *of(&w.slabs[0].part.Delay)
		value := 0.0
		for _, s := range w.slabs {
			value += of(&s.part.Delay).Figure.Value
		}
		out.Figure = figure.Total(value, out.Basis.N, "sum over the placements")
		return out
	}
	job.ClogMin = sum(func(d *Delay) *Number { return &d.ClogMin })
	job.OtherMin = sum(func(d *Delay) *Number { return &d.OtherMin })
	job.CrewCost = sum(func(d *Delay) *Number { return &d.CrewCost })
	job.InHours, w.b.Labor.Waiting = w.waiting > 0, w.waiting
	if len(w.slabs) > 1 && none < 1 {
		job.ClogChance.Figure = figure.Total(1-none, job.ClogChance.Basis.N, "one less the chances of none, placement by placement")
	} else if none == 1 {
		job.ClogChance = w.slabs[0].part.Delay.ClogChance
	}
	if job.InHours {
		w.note(Note{Kind: NoteWaitingInHours})
	}
	return nil
}

// delay is one placement's.
func (w *bidWork) delay(d *Delay, s *bidSlab) {
	each, eachBasis := w.opt.Bid.ClogMin, basis(len(w.clogs), OfClogMinutes, w.opt.Bid.ClogMin)
	if len(w.clogs) >= figure.LeastForRate {
		each = figure.SumOf(w.clogs) / float64(len(w.clogs))
	}
	d.ClogChance = Number{figure.Unknown(NothingPumped{}), "chance", drawing}
	if s.Method == "pump" {
		d.ClogChance = Number{s.clogs.chance(s.part.UsedYd.Mean/100, w.opt.Level), "chance", s.clogs.basis}
		d.Clogs = s.clogs.Mean() * s.part.UsedYd.Mean / 100
	}
	d.ClogMin = number(d.Clogs*each, "min", eachBasis, "expected clogs × minutes each")
	d.OtherMin = number(w.opt.Bid.OtherDelayMin, "min", basis(len(w.others), OfDelays, w.opt.Bid.OtherDelayMin), "setting")
	if len(w.others) >= figure.LeastForRate {
		mean, err := interval.MeanT(w.others, w.opt.Level)
		d.OtherMin = Number{figure.OrBare(mean, err, figure.SumOf(w.others)/float64(len(w.others)), len(w.others), "mean"), "min", d.OtherMin.Basis}
	}
	d.CrewCost = number((d.ClogMin.Figure.Value+d.OtherMin.Figure.Value)*w.perMinute(), "$", d.OtherMin.Basis, "minutes × people × wage")
	d.InHours = w.waiting > 0
}

// perMinute is what a minute of the waiting crew costs.
func (w *bidWork) perMinute() float64 { return w.size.value * w.wage.value / 60 }

// chance is that of one event or more over an exposure, its range that of the
// rate's interval.
func (l rateLaw) chance(exposure, level float64) figure.Figure {
	next, err := l.Next(exposure)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	e, err := l.Interval(level)
	f := figure.Figure{Value: next.AtLeastOne(), N: l.basis.N, Method: "gamma-Poisson, chance of one or more", OK: true}
	if err == nil {
		f.Low, f.High, f.Level, f.Bounded = 1-math.Exp(-e.Low*exposure), 1-math.Exp(-e.High*exposure), level, true
	}
	return f
}

// delayPast are the minutes of each clog on record, a placement's shared evenly
// among its own, and the minutes of all other causes of each placement that
// records its delays.
func delayPast(h *record.History) (clogs, others []float64) {
	for i := range h.Placements.Len() {
		p := h.Placements.At(i)
		if p.Pumped() && p.Clogs().Or(0) > 0 && p.ClogMin().OK {
			each := float64(p.ClogMin().V) / float64(p.Clogs().V)
			clogs = append(clogs, slices.Repeat([]float64{each}, int(p.Clogs().V))...)
		}
		if p.DelayMin().OK && (p.ClogMin().OK || p.Clogs().Or(0) == 0) {
			others = append(others, max(0, float64(p.DelayMin().V-p.ClogMin().V)))
		}
	}
	return clogs, others
}

// waitingShare is the share of the hours on record that the crew waited, 0 where
// too few placements tell.
func waitingShare(h *record.History) float64 {
	waited, hours, n := 0.0, 0.0, 0
	for i := range h.Placements.Len() {
		p := h.Placements.At(i)
		if p.LaborHours().Or(0) > 0 && p.DelayMin().OK && p.CrewSize().OK {
			waited += float64(p.DelayMin().V*p.CrewSize().V) / 60
			hours += p.LaborHours().V
			n++
		}
	}
	if n < figure.LeastForRate {
		return 0
	}
	return min(0.5, waited/hours)
}

// drawDelay draws the minutes of a placement's clogs and of its other delays.
func (w *bidWork) drawDelay(rng *rand.Rand, s *bidSlab, yards float64) (clogMin, otherMin float64) {
	if s.Method == "pump" {
		for range s.clogs.draw(rng, yards/100) {
			if n := len(w.clogs); n >= figure.LeastForRate {
				clogMin += w.clogs[rng.IntN(n)]
			} else {
				clogMin += w.opt.Bid.ClogMin * (0.85 + 0.3*rng.Float64()) // 15 to 20 min around 17.5
			}
		}
	}
	if n := len(w.others); n >= figure.LeastForRate {
		return clogMin, w.others[rng.IntN(n)]
	}
	return clogMin, w.opt.Bid.OtherDelayMin * rng.ExpFloat64()
}
