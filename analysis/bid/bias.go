package bid

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
)

// Bias is which way the jobs came out beside their bids, of one quantity.
type Bias struct {
	Below, Above int           // jobs that came to less, and to more, than their bid said
	Shift        figure.Figure // actual beside predicted: a share of it, of margins the difference
	Runs         Side          // whether that is more than luck
}

// Side is which way jobs run beside their bids.
type Side string

// Which way jobs run.
const (
	NoSide    Side = "" // as far as so many can tell
	RunsBelow Side = "below"
	RunsAbove Side = "above"
)

// biasOf tests the differences of a quantity two ways, either of which may speak:
// by how many jobs lie on one side (the exact sign test) and by their mean (Student's
// interval). Both want figure.LeastForRate jobs. By the signs seven of eight on one
// side come by luck 7 times in 100.
func biasOf(what Quantity, lines []Line) Bias {
	b := Bias{Shift: figure.Unknown(NoBidWith{What: what})}
	var shifts []float64
	for _, l := range lines {
		shift := l.Actual.V - l.Predicted
		switch {
		case shift < 0:
			b.Below++
		case shift > 0:
			b.Above++
		}
		if what != Margin {
			if l.Predicted <= 0 {
				continue
			}
			shift /= l.Predicted
		}
		shifts = append(shifts, shift)
	}
	n := len(shifts)
	if n == 0 {
		return b
	}
	mean := figure.SumOf(shifts) / float64(n)
	estimate, err := interval.MeanT(shifts, heldLevel)
	b.Shift = figure.OrBare(estimate, err, mean, n, "mean")
	if n < figure.LeastForRate {
		return b
	}
	few, all := float64(min(b.Below, b.Above)), float64(b.Below+b.Above)
	bySign := all > 0 && 2*distuv.Binomial{N: all, P: 0.5}.CDF(few) <= 1-heldLevel
	byMean := b.Shift.Bounded && (b.Shift.Low > 0 || b.Shift.High < 0)
	switch {
	case !bySign && !byMean:
	case mean < 0 && b.Below >= b.Above:
		b.Runs = RunsBelow
	case mean > 0 && b.Above >= b.Below:
		b.Runs = RunsAbove
	}
	return b
}

// Points is the mean shift in hundredths, to the whole.
func (b Bias) Points() int { return int(math.Round(100 * math.Abs(b.Shift.Value))) }
