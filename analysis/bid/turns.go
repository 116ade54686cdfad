package bid

import "pourback/analysis/figure"

// turnedBy are the two unknowns that most easily bring the margin under its
// target: what it comes to is what is left above the target, in $, where one of
// them turns out so and the rest as expected. Ranges are from P10 to P90, as those
// of the drivers. What is nothing more often than not turns nothing by its middle
// value, and counts with its mean.
func (w *bidWork) turnedBy(p Price) []figure.Lever {
	base := bidState{yards: make([]float64, len(w.slabs))}
	for _, d := range w.unsure {
		d.set(&base, d.at[1])
	}
	rest := w.b.Cost.Total.Mean - w.totalOf(base)
	var inputs []figure.Input
	for _, d := range w.unsure {
		if d.at[1] <= 0 || d.name == UnsureLean {
			continue
		}
		inputs = append(inputs, figure.Input{What: figure.Assumed(d.name), Unit: figure.Unit(d.unit), Value: d.at[1], Low: d.at[0], High: d.at[2], Comes: func(v float64) float64 {
			at := base
			at.yards = append([]float64{}, base.yards...)
			d.set(&at, v)
			return (1-p.Target)*p.Price - w.totalOf(at) - rest
		}})
	}
	return figure.First(figure.Levers(inputs))
}
