package trade

import "math"

// Time and temperature of delivery.
const (
	DischargeMinutes     = 90  // ASTM C94, older editions: batching to discharge; may be waived or shortened
	DischargeRevolutions = 300 // the same; the present edition lets the parties agree (from memory)
	DischargeMaxF        = 95  // ACI 305.1-14: concrete at discharge in hot weather, unless agreed
)

// Cost in minutes of one plug in hose or reducer; one in the manifold takes
// longer (common practice, no published source).
const (
	PlugMinutesLow  = 15
	PlugMinutesHigh = 20
)

// LateMinutes is how far a load is past [DischargeMinutes], 0 if it is not.
func LateMinutes(batchingToDischarge float64) (float64, error) {
	if err := within("batching to discharge", "min", batchingToDischarge, 0, 24*60); err != nil {
		return 0, err
	}
	return max(0, batchingToDischarge-DischargeMinutes), nil
}

// Retempered is what water added at the site does, to about ±30 %.
type Retempered struct {
	SlumpIn                       float64 // rise of slump
	StrengthLowPsi, StrengthHiPsi float64 // loss of strength, between these
}

// Retempering estimates the effect of gallons of water added to yd3 cubic
// yards: a gallon a yard gives about 1 in of slump and costs 150 to 200 psi
// (NRMCA, from memory).
func Retempering(gallons, yd3 float64) (Retempered, error) {
	err := firstOf(
		within("added water", "gal", gallons, 0, 1000),
		positive("load", "yd³", yd3))
	if err != nil {
		return Retempered{}, err
	}
	perYard := gallons / yd3
	return Retempered{SlumpIn: perYard, StrengthLowPsi: 150 * perYard, StrengthHiPsi: 200 * perYard}, nil
}

// LineVolume is the yd³ that a pump line of insideIn inches holds over
// lengthFt ft: π/4·d²·L.
func LineVolume(insideIn, lengthFt float64) (float64, error) {
	if err := firstOf(checkLine(insideIn), within("line length", "ft", lengthFt, 0, huge)); err != nil {
		return 0, err
	}
	d := insideIn / 12
	return math.Pi / 4 * d * d * lengthFt / 27, nil
}

// LargestAggregate is the largest aggregate in inches that a line of insideIn
// inches passes: a third of it, a quarter to be safer (ACI 304).
func LargestAggregate(insideIn float64) (limit, safer float64, err error) {
	if err := checkLine(insideIn); err != nil {
		return 0, 0, err
	}
	return insideIn / 3, insideIn / 4, nil
}

// LubricatingGrout is the yd³ of grout that coats a line of lengthFt ft before
// concrete follows: about 1/2 yd³ per 1,000 ft (pumping literature, as quoted
// elsewhere).
func LubricatingGrout(lengthFt float64) (float64, error) {
	if err := within("line length", "ft", lengthFt, 0, huge); err != nil {
		return 0, err
	}
	return 0.5 * lengthFt / 1000, nil
}

func checkLine(insideIn float64) error {
	return within("inside diameter of the line", "in", insideIn, 0.5, 24)
}
