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
