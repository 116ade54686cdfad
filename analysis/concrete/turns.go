package concrete

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/pool"
)

// What makes an order another one.
const (
	RunningShort figure.Assumed = "cost of running short"
	YardTooMany  figure.Assumed = "cost of a yard too many" // its concrete and its disposal
	UsedOnMean   figure.Assumed = "used on average"
	UsedSpread   figure.Assumed = "spread of what is used" // one standard deviation
)

// How far costs may be off, as a factor either way: those that the owner entered,
// and those of common practice (no published source).
const (
	offEntered = 1.1
	offShort   = 2
	offYard    = 1.25
)

// turnedBy are the two inputs that make the order of a kind another one most
// easily: what it comes to, in yd, is found anew at each value. The mean has the
// range of the kind's own; the spread that of a standard deviation of n jobs
// (chi-squared limits).
func (w *overageWork) turnedBy(next Predictive, mean figure.Figure, n int) []figure.Lever {
	used := needOf(next.Used())
	sd := math.Sqrt(used.Var())
	at := func(c setting.OrderCosts, u need, sd float64) float64 {
		best, err := OrderAtOnce(c, u, sd)
		if err != nil {
			return math.NaN()
		}
		return best.Quantity
	}
	c, usual := w.costs, setting.DefaultOrderCosts()
	cost := func(what figure.Assumed, value, off float64, set func(c *setting.OrderCosts, v float64)) figure.Input {
		return figure.Input{What: what, Unit: figure.Dollar, Value: value, Low: value / off, High: value * off, Comes: func(v float64) float64 {
			changed := c
			set(&changed, v)
			return at(changed, used, sd)
		}}
	}
	short, yard := offEntered, offEntered
	if c.ExtraLoad == usual.ExtraLoad {
		short = offShort
	}
	if c.DisposalPerYd == usual.DisposalPerYd && c.PricePerYd == usual.PricePerYd {
		yard = offYard
	}
	each := c.PricePerYd + c.DisposalPerYd
	inputs := []figure.Input{
		cost(RunningShort, c.ExtraLoad, short, func(c *setting.OrderCosts, v float64) { c.ExtraLoad = v }),
		cost(YardTooMany, each, yard, func(c *setting.OrderCosts, v float64) {
			c.PricePerYd, c.DisposalPerYd = c.PricePerYd*v/each, c.DisposalPerYd*v/each
		}),
	}
	if used.Mean() > 0 && mean.Bounded {
		inputs = append(inputs, figure.Input{What: UsedOnMean, Unit: figure.Yards, Value: used.Mean(),
			Low: used.Mean() + next.NeatYd*(mean.Low-mean.Value), High: used.Mean() + next.NeatYd*(mean.High-mean.Value),
			Comes: func(v float64) float64 { return at(c, needOf(next.Used().Affine(v-used.Mean(), 1)), sd) }})
	}
	if n > 1 && sd > 0 && !math.IsInf(sd, 1) {
		low, high := spreadOff(n, w.level)
		inputs = append(inputs, figure.Input{What: UsedSpread, Unit: figure.Yards, Value: sd, Low: sd * low, High: sd * high,
			Comes: func(v float64) float64 { return at(c, needOf(scaled(next.Used(), v/sd)), v) }})
	}
	return figure.First(figure.Choices(inputs))
}

// spreadOff are the factors within which the standard deviation of n normal
// values lies from the one it is estimated at: √((n−1)/χ²).
func spreadOff(n int, level float64) (low, high float64) {
	df := float64(n - 1)
	chi := distuv.ChiSquared{K: df}
	return math.Sqrt(df / chi.Quantile((1+level)/2)), math.Sqrt(df / chi.Quantile((1-level)/2))
}

// scaled is a law drawn out about its mean.
func scaled(law pool.Mixture, times float64) pool.Mixture {
	mean := law.Mean()
	return law.Affine(mean*(1-times), times)
}
