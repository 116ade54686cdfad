package trade

import (
	"fmt"
	"math"
)

// steelLbPerFtIn2 is the weight of a foot of steel one square inch thick:
// 490 lb/ft³ over 144.
const steelLbPerFtIn2 = 490.0 / 144

// DragSteel is the steel in in² per foot of width that holds a slab together
// while it slides on its base,
//
//	As = F·L·w / (2·fs)
//
// with friction F, L the distance in ft between free joints, w the slab's
// weight in lb/ft² and fs the working stress in psi (CRSI; ACI 360R-92
// Eq. 6-3). Steel of this order does not prevent cracks, it holds them tight
// (UFC 3-250-04 §9-3.1.3).
func DragSteel(friction, lengthFt, weightLbFt2, stressPsi float64) (float64, error) {
	err := firstOf(
		within("friction", "", friction, 0, 10),
		within("length", "ft", lengthFt, 0, huge),
		within("slab weight", "lb/ft²", weightLbFt2, 0, huge),
		positive("steel stress", "psi", stressPsi))
	if err != nil {
		return 0, err
	}
	return friction * lengthFt * weightLbFt2 / (2 * stressPsi), nil
}

// Bar is a deformed reinforcing bar (ASTM A615, from memory).
type Bar struct {
	Number     int     // eighths of an inch
	DiameterIn float64 // nominal
	AreaIn2    float64 // nominal, as rounded in the standard
	LbPerFt    float64
}

var bars = []Bar{
	{3, 0.375, 0.11, 0.376},
	{4, 0.500, 0.20, 0.668},
	{5, 0.625, 0.31, 1.043},
	{6, 0.750, 0.44, 1.502},
}

// BarSize returns the bar of a number, #3 to #6, the sizes of flatwork.
func BarSize(number int) (Bar, error) {
	for _, b := range bars {
		if b.Number == number {
			return b, nil
		}
	}
	return Bar{}, fmt.Errorf("bar #%d, want #3 to #6: %w", number, ErrRange)
}

// ExactAreaIn2 is π/4·d², which some tables use in place of the rounded area.
func (b Bar) ExactAreaIn2() float64 { return math.Pi / 4 * b.DiameterIn * b.DiameterIn }

// SteelArea is the in² per foot of width of bars or wires of areaIn2 each,
// spacingIn inches apart.
func SteelArea(areaIn2, spacingIn float64) (float64, error) {
	err := firstOf(
		within("bar area", "in²", areaIn2, 0, 10),
		within("bar spacing", "in", spacingIn, 0.25, 240))
	if err != nil {
		return 0, err
	}
	return areaIn2 * 12 / spacingIn, nil
}

// SteelSpacing is the spacing in inches at which bars or wires of areaIn2 each
// supply perFtIn2 in² per foot of width.
func SteelSpacing(areaIn2, perFtIn2 float64) (float64, error) {
	err := firstOf(
		positive("bar area", "in²", areaIn2),
		positive("steel area", "in²/ft", perFtIn2))
	if err != nil {
		return 0, err
	}
	return areaIn2 * 12 / perFtIn2, nil
}

// MeshAreaIn2 is the in² per foot of width, each way, of square welded wire of
// size W (hundredths of a square inch) spaced spacingIn: 6×6-W2.9 is
// MeshAreaIn2(6, 2.9) = 0.058. (ASTM A1064, from memory; exact by definition.)
func MeshAreaIn2(spacingIn, w float64) (float64, error) {
	if err := checkMesh(spacingIn, w); err != nil {
		return 0, err
	}
	return SteelArea(w/100, spacingIn)
}

// MeshLbPer100Ft2 is the weight of square welded wire per 100 ft² by the
// custom of the style tables (ASTM A1064 and the wire institute's tables, from
// memory): a sheet 60 in wide has one more wire than it has spaces, and the
// cross wires stand out 1 in at both edges.
func MeshLbPer100Ft2(spacingIn, w float64) (float64, error) {
	if err := checkMesh(spacingIn, w); err != nil {
		return 0, err
	}
	const widthIn, overhangIn = 60.0, 1.0
	along := (widthIn/spacingIn + 1) * 12                  // in of wire per ft of sheet
	across := (widthIn + 2*overhangIn) * 12 / spacingIn    // the same
	feetPerFt2 := (along + across) / 12 / (widthIn / 12.0) // ft of wire per ft²
	return 100 * feetPerFt2 * w / 100 * steelLbPerFtIn2, nil
}

func checkMesh(spacingIn, w float64) error {
	return firstOf(
		within("mesh spacing", "in", spacingIn, 2, 24),
		within("wire size W", "", w, 0.5, 45))
}
