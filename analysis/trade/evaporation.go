package trade

import "math"

// Limits on the evaporation of bleed water from fresh concrete (ACI 305R;
// FHWA-HRT-05-038 chapter 5). The estimate itself is good to about ±40 %
// (Hover 2020, ACI SP-338), so a page that shows it should say so.
const (
	PrecautionLbFt2     = 0.2  // lb/ft²/h: take precautions against plastic cracking
	PrecautionKgM2      = 1.0  // kg/m²/h, the same limit
	CautionKgM2         = 0.5  // kg/m²/h: be careful
	EvaporationAccuracy = 0.40 // relative
)

// WindTenToHalfMeter turns a weather station's wind at 10 m into the wind at
// 0.5 m that the formulas want: a log profile over ground of 0.03 m roughness,
// ln(0.5/0.03)/ln(10/0.03). The roughness is an assumption: show it.
const WindTenToHalfMeter = 0.484

// Evaporation is the rate in lb/ft²/h at which water leaves a fresh surface:
//
//	E = (Tc^2.5 − r·Ta^2.5)(1 + 0.4V)·1e-6
//
// with concrete and air in °F (0 to 212), relative humidity in percent and
// wind at 0.5 m in mph. A negative rate (dew) is reported as 0.
// (Uno 1998, ACI Materials Journal 95-M34.)
func Evaporation(concreteF, airF, humidityPct, windMph float64) (float64, error) {
	err := firstOf(
		within("concrete temperature", "°F", concreteF, 0, 212),
		within("air temperature", "°F", airF, 0, 212),
		checkHumidity(humidityPct),
		within("wind", "mph", windMph, 0, 300))
	if err != nil {
		return 0, err
	}
	return uno(1, concreteF, airF, humidityPct, 1+0.4*windMph), nil
}

func uno(scale, concrete, air, humidityPct, wind float64) float64 {
	pull := to2half(concrete) - humidityPct/100*to2half(air)
	return max(0, scale*pull*wind*1e-6)
}

// to2half is x to the power of 2.5.
func to2half(x float64) float64 { return x * x * math.Sqrt(x) }

func checkHumidity(pct float64) error {
	return within("relative humidity", "%", pct, 0, 100)
}
