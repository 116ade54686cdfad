package trade

// Exact conversions (NIST SP 811, appendix B).
const (
	KmPerMile         = 1.609344
	KgPerLb           = 0.45359237
	KgPerM2PerLbPerF2 = KgPerLb / (0.3048 * 0.3048) // kg/m² in one lb/ft²
	MetersPerSecToMph = 3600 / (KmPerMile * 1000)
)

// Celsius converts °F.
func Celsius(f float64) float64 { return (f - 32) / 1.8 }
