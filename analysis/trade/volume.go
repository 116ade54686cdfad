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

// NeatVolume is the volume in yd³ of a slab of areaFt2 ft², thicknessIn inches
// thick, exactly as drawn: area × thickness / 324.
func NeatVolume(areaFt2, thicknessIn float64) (float64, error) {
	err := firstOf(
		within("area", "ft²", areaFt2, 0, huge),
		within("thickness", "in", thicknessIn, 0, thickestSlabIn))
	if err != nil {
		return 0, err
	}
	return areaFt2 * thicknessIn / FootSquareInchesPerYd3, nil
}

// Coverage is the ft² that one yd³ covers at a thickness in inches.
func Coverage(thicknessIn float64) (float64, error) {
	if err := checkThickness(thicknessIn); err != nil {
		return 0, err
	}
	return FootSquareInchesPerYd3 / thicknessIn, nil
}

// Overage is used/neat − 1, both in yd³: 0.028 means 2.8 % more than drawn.
func Overage(usedYd3, neatYd3 float64) (float64, error) {
	err := firstOf(
		within("used volume", "yd³", usedYd3, 0, huge),
		positive("neat volume", "yd³", neatYd3))
	if err != nil {
		return 0, err
	}
	return usedYd3/neatYd3 - 1, nil
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

// Yield is the volume in yd³ of fresh concrete in a load: its batched weight
// over its measured unit weight (NRMCA CIP 8, after ASTM C138).
func Yield(batchLb, unitWeightLbFt3 float64) (float64, error) {
	err := firstOf(
		within("batch weight", "lb", batchLb, 0, huge),
		within("unit weight", "lb/ft³", unitWeightLbFt3, 10, 500))
	if err != nil {
		return 0, err
	}
	return batchLb / unitWeightLbFt3 / 27, nil
}
