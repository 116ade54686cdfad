package regress

import "math"

// A law that is asked for thousands of tails keeps its Taylor series about points
// that stand closer than any of its features.
const (
	tableStep  = 1. / 8
	tableReach = 8  // standard units; tails further out are worked out anew
	tableTerms = 14 // of each series: the next is below 1e-17 of the tail at half a step
	leastTable = 3  // degrees of freedom: with fewer the series converge too slowly
)

// tailSeries are the coefficients of P(T > z+d) in powers of d.
type tailSeries [tableTerms]float64

// Tabled is the same law, faster where it is asked for many tails. Making it takes
// as long as some hundred of them.
func (s Student) Tabled() Student {
	if s.series != nil || !(s.Nu >= leastTable) {
		return s
	}
	series := make([]tailSeries, 1+int(tableReach/tableStep))
	for k := range series {
		series[k] = s.seriesAt(float64(k) * tableStep)
	}
	s.series = series
	return s
}

// seriesAt expands the tail about z: less the integral of the density's series,
// which the equation (ν+z²)f′ = −(ν+1)zf gives term by term.
func (s Student) seriesAt(z float64) (out tailSeries) {
	r := 1 / s.Nu // 0 of the normal law
	before, now := 0.0, s.Density(z)
	out[0] = s.Tail(z)
	for k := range tableTerms - 1 {
		n := float64(k)
		out[k+1] = -now / (n + 1)
		before, now = now, -((2*n*r+1+r)*z*now+((n-1)*r+1+r)*before)/((n+1)*(1+z*z*r))
	}
	return out
}

// tabled is the tail at 0 ≤ t ≤ tableReach.
func (s Student) tabled(t float64) float64 {
	k := int(t/tableStep + 0.5)
	d, c := t-float64(k)*tableStep, &s.series[k]
	// Even and odd powers by themselves: two short chains instead of a long one.
	d2 := d * d
	even, odd := c[tableTerms-2], c[tableTerms-1]
	for j := tableTerms - 4; j >= 0; j -= 2 {
		even, odd = even*d2+c[j], odd*d2+c[j+1]
	}
	return math.Max(0, even+d*odd)
}
