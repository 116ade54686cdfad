package say

import (
	"pourback/analysis/figure"
	"pourback/ingest/record"
)

// CrackWidths shows the widths of cracks, in inches or millimetres.
func (v *Voice) CrackWidths() Measure { return Shown(record.Inch, v.Units.Si) }

// crackWidth is a width of in, to the last digit that a crack gauge has:
// "0.012 in", "0.305 mm".
func (v *Voice) crackWidth(in float64) string {
	m := v.CrackWidths()
	return v.unit(Grouped(in*m.Factor, 3), m.Unit)
}

// CrackWidth is a width under a head that has the unit, or how far a crack
// opened; blank where it was not measured.
func (v *Voice) CrackWidth(in record.Number) Cell {
	if !in.OK {
		return Cell{}
	}
	m := v.CrackWidths()
	return Cell{Text: Grouped(in.V*m.Factor, 3), Number: v.numberOf(m, figure.Figure{Value: in.V})}
}
