package trade

// TrowelHoursPer100Ft2 is the labor-hours of machine trowelling per 100 ft²
// (Estimating in Building Construction, 7th ed., Fig. 10.30).
const TrowelHoursPer100Ft2 = 1.0

// TrowelHours is the labor-hours that machine trowelling of areaFt2 takes.
func TrowelHours(areaFt2 float64) (float64, error) {
	if err := within("area", "ft²", areaFt2, 0, huge); err != nil {
		return 0, err
	}
	return areaFt2 / 100 * TrowelHoursPer100Ft2, nil
}

// CrewHours is the hours that a crew of people takes over laborHours.
func CrewHours(laborHours, people float64) (float64, error) {
	if err := firstOf(within("labor", "h", laborHours, 0, huge), positive("crew size", "people", people)); err != nil {
		return 0, err
	}
	return laborHours / people, nil
}

// Productivity is the ft² finished per hour, of a person or of a crew as the
// hours are.
func Productivity(areaFt2, hours float64) (float64, error) {
	if err := firstOf(within("area", "ft²", areaFt2, 0, huge), positive("hours", "h", hours)); err != nil {
		return 0, err
	}
	return areaFt2 / hours, nil
}
