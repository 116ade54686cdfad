package trade

// FootSquareInchesPerYd3 is the ft²·in in a cubic yard: 27 ft³ × 12 in.
const FootSquareInchesPerYd3 = 324

// Published allowances, as shares of the neat volume. They are what the trade
// has printed; a company's own records say better.
const (
	OrderAllowanceLow   = 0.04 // NRMCA CIP 8: order 4 to 10 % over plan
	OrderAllowanceHigh  = 0.10
	WasteOnGround       = 0.03 // estimating textbooks, quoted in the trade press
	WasteFoundations    = 0.05
	WasteSuperstructure = 0.02
	HardenedShrinkage   = 0.02 // NRMCA CIP 8: hardened volume is about 2 % below fresh
)

const thickestSlabIn = 120 // beyond this it is no slab

// checkThickness refuses a thickness in inches that no slab has.
func checkThickness(in float64) error {
	return firstOf(positive("thickness", "in", in), within("thickness", "in", in, 0, thickestSlabIn))
}

// ThickerBy is the overage caused by a slab that lies extraIn inches thicker
// than the drawn thicknessIn (NRMCA CIP 8: 1/8 in on 4 in is over 3 %).
func ThickerBy(thicknessIn, extraIn float64) (float64, error) {
	err := firstOf(
		checkThickness(thicknessIn),
		within("extra thickness", "in", extraIn, -thicknessIn, thickestSlabIn))
	if err != nil {
		return 0, err
	}
	return extraIn / thicknessIn, nil
}
