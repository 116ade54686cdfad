package trade

import "math"

// Magnus coefficients over water, as used by the weather services
// (Alduchov & Eskridge 1996).
const (
	magnusA = 17.625
	magnusB = 243.04 // °C
)

// RelativeHumidity is the humidity in percent of air at tempC °C whose dew
// point is dewC °C: 100·exp(a·Td/(b+Td) − a·T/(b+T)), a 17.625, b 243.04 °C.
// A dew point up to half a degree above the temperature is rounding and gives
// 100; a higher one is refused.
func RelativeHumidity(tempC, dewC float64) (float64, error) {
	err := firstOf(
		within("temperature", "°C", tempC, -90, 60),
		within("dew point", "°C", dewC, -90, tempC+0.5))
	if err != nil {
		return 0, err
	}
	return min(100, 100*math.Exp(magnus(dewC)-magnus(tempC))), nil
}

func magnus(c float64) float64 { return magnusA * c / (magnusB + c) }
