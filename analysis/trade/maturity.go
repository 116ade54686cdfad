package trade

import (
	"fmt"
	"math"
)

// Warmth is a span of hours at one mean temperature of the concrete.
type Warmth struct{ Hours, TempC float64 }

const kelvin = 273.15

// EquivalentAge is the age in hours at the reference temperature that gives
// the same maturity, te = Σ exp(−Q(1/T − 1/Ts))Δt with T and Ts in kelvin and
// Q the activation energy over the gas constant (ASTM C1074).
func EquivalentAge(spans []Warmth, qKelvin, referenceC float64) (float64, error) {
	err := firstOf(
		within("activation energy over gas constant", "K", qKelvin, 0, 20_000),
		within("reference temperature", "°C", referenceC, -50, 100),
		checkSpans(spans))
	if err != nil {
		return 0, err
	}
	var age float64
	for _, s := range spans {
		age += math.Exp(-qKelvin*(1/(s.TempC+kelvin)-1/(referenceC+kelvin))) * s.Hours
	}
	return age, nil
}

func checkSpans(spans []Warmth) error {
	for i, s := range spans {
		err := firstOf(
			within("hours", "h", s.Hours, 0, huge),
			within("temperature", "°C", s.TempC, -90, 150))
		if err != nil {
			return fmt.Errorf("span %d: %w", i+1, err)
		}
	}
	return nil
}
