package trade

import "fmt"

// Exposure is the place a slab lives in, as far as crack width goes.
type Exposure int

const (
	DryAir Exposure = iota
	SoilOrMoistAir
	Deicing
	Seawater
	WaterRetaining
)

var crackGuideIn = map[Exposure]float64{
	DryAir: 0.016, SoilOrMoistAir: 0.012, Deicing: 0.007, Seawater: 0.006, WaterRetaining: 0.004,
}

// ReasonableCrackIn is the crack width in inches called reasonable for
// reinforced structural concrete under service loads (ACI 224R-01 Table 4.1).
// A general guide, and no warranty line for flatwork.
func ReasonableCrackIn(e Exposure) (float64, error) {
	w, known := crackGuideIn[e]
	if !known {
		return 0, fmt.Errorf("exposure %d is not in the guide: %w", e, ErrRange)
	}
	return w, nil
}
