package trade

import "math"

// Other forms of the rate of evaporation, for [Evaporation] to agree with.

// roundedSI is the same in kg/m²/h from °C and km/h, with rounded constants:
// E = 5([Tc+18]^2.5 − r[Ta+18]^2.5)(V+4)·1e-6 (Uno 1998). The rounding puts it
// about 3 % below.
func roundedSI(concreteC, airC, humidityPct, windKmh float64) (float64, error) {
	return uno(5, concreteC+18, airC+18, humidityPct, windKmh+4), nil
}

// exactSI is the same without rounding: constants 5.275, 17.778 and 4.02336 to
// four figures.
func exactSI(concreteC, airC, humidityPct, windKmh float64) (float64, error) {
	fahrenheit := func(c float64) float64 { return c*1.8 + 32 }
	e := uno(1, fahrenheit(concreteC), fahrenheit(airC), humidityPct, 1+0.4*windKmh/KmPerMile)
	return e * KgPerM2PerLbPerF2, nil
}

// menzel is the older estimate in lb/ft²/h, W = 0.44(e0 − r·ea)(0.253 + 0.096V),
// with vapour pressures at the concrete and in the air in psi, here by Magnus.
// (Menzel 1954, from memory; it agrees with Lerch's table.)
func menzel(concreteF, airF, humidityPct, windMph float64) (float64, error) {
	psi := func(f float64) float64 { return 6.1094 * math.Exp(magnus(Celsius(f))) / 68.9475729 }
	pull := psi(concreteF) - humidityPct/100*psi(airF)
	return max(0, 0.44*pull*(0.253+0.096*windMph)), nil
}
