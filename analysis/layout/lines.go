package layout

import (
	"slices"

	"pourback/analysis/shape"
)

// Lines are the lengths of bars laid in the slab both ways, spacingFt apart from a
// bar coverFt inside its bounds, each ending coverFt from where it would leave the
// slab; and how often they cross.
func (p *Plan) Lines(spacingFt, coverFt float64) (lengthsFt []float64, crossings int) {
	var wide, high float64
	for _, v := range p.Shape {
		wide, high = max(wide, v.X), max(high, v.Y)
	}
	rings := append([][]shape.Point{p.Shape}, p.Holes...)
	up := func(v shape.Point) (along, across float64) { return v.Y, v.X }
	level := func(v shape.Point) (along, across float64) { return v.X, v.Y }
	for at := coverFt; at <= high-coverFt+1e-9 && spacingFt > 0; at += spacingFt {
		for _, c := range chordsAt(rings, at, level) {
			if from, to := c[0]+coverFt, c[1]-coverFt; to > from {
				lengthsFt = append(lengthsFt, to-from)
				for x := coverFt; x <= to+1e-9; x += spacingFt {
					if x >= from-1e-9 {
						crossings++
					}
				}
			}
		}
	}
	for at := coverFt; at <= wide-coverFt+1e-9 && spacingFt > 0; at += spacingFt {
		for _, c := range chordsAt(rings, at, up) {
			if ft := c[1] - c[0] - 2*coverFt; ft > 0 {
				lengthsFt = append(lengthsFt, ft)
			}
		}
	}
	return lengthsFt, crossings
}

// chordsAt are from where to where a line lies within rings.
func chordsAt(rings [][]shape.Point, at float64, of func(shape.Point) (along, across float64)) [][2]float64 {
	var ends []float64
	for _, ring := range rings {
		for i := range ring {
			u, v := of(ring[i])
			u2, v2 := of(ring[(i+1)%len(ring)])
			if (v > at) != (v2 > at) {
				ends = append(ends, u+(at-v)/(v2-v)*(u2-u))
			}
		}
	}
	slices.Sort(ends)
	out := make([][2]float64, 0, len(ends)/2)
	for i := 0; i+1 < len(ends); i += 2 {
		out = append(out, [2]float64{ends[i], ends[i+1]})
	}
	return out
}
