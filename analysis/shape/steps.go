package shape

import "math"

func (s Steps) check() *Problem {
	switch {
	case s == (Steps{}):
		return nil
	case !(s.Risers > 0 && s.RiseIn > 0 && s.TreadIn > 0 && s.WidthFt > 0):
		return &Problem{What: NoSteps}
	case !s.Solid && !(s.WaistIn > 0):
		return &Problem{What: ThickerWaist}
	}
	return nil
}

// AreaFt2 is the area of the treads.
func (s Steps) AreaFt2() float64 { return float64(s.Risers) * s.TreadIn / 12 * s.WidthFt }

// pieces: solid steps are a tread deep and one rise high, the next two rises, and
// so on. On fill the concrete is a slab along the slope with a triangle for each
// step on it.
func (s Steps) pieces() []Piece {
	n := float64(s.Risers)
	switch {
	case s.Risers == 0:
		return nil
	case s.Solid:
		return []Piece{{Kind: OfSteps, Count: s.Risers, Sizes: []float64{s.WidthFt, s.RiseIn, s.TreadIn}, Ft3: n * (n + 1) / 2 * s.RiseIn * s.TreadIn / 144 * s.WidthFt}}
	}
	slope := math.Hypot(s.RiseIn, s.TreadIn)
	return []Piece{
		{Kind: OfWaist, Count: s.Risers, Sizes: []float64{s.WidthFt, s.RiseIn, s.TreadIn, s.WaistIn}, Ft3: n * slope * s.WaistIn / 144 * s.WidthFt},
		{Kind: OfRisers, Count: s.Risers, Sizes: []float64{s.WidthFt, s.RiseIn, s.TreadIn}, Ft3: n * s.RiseIn * s.TreadIn / 2 / 144 * s.WidthFt}}
}
