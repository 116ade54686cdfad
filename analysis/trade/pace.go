package trade

// Setting by temperature.
const (
	SettingQ   = 5000 // K, activation energy over the gas constant: ASTM C1074 for Type I cement without admixtures, from memory
	PaceBaseF  = 70   // °F, at which hours of setting are told
	lowestSetF = 15   // about where concrete does not set at all (common practice, no published source)
)

// Pace is how many times as fast as at [PaceBaseF] concrete of a temperature in °F
// sets: its hour of equivalent age (ASTM C1074). From 70 to 90 °F that is 1.9
// times, between two rules of the trade: a third less time for each 20 °F, which
// is 1.5 times, and a third less for each 10 °F, 2.3 times (both from memory).
func Pace(concreteF float64) (float64, error) {
	if err := within("concrete temperature", "°F", concreteF, lowestSetF, 212); err != nil {
		return 0, err
	}
	return EquivalentAge([]Warmth{{1, Celsius(concreteF)}}, SettingQ, Celsius(PaceBaseF))
}
