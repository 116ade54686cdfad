package score

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// CRPSNormal is the continuous ranked probability score of a forecast
// N(mean, sd²) for what came out as y, in the unit of y:
//
//	σ(z(2Φ(z)−1) + 2φ(z) − 1/√π), z = (y−μ)/σ
//
// At sd 0 it is the absolute error. Source: Gneiting & Raftery (2007) eq. 21.
func CRPSNormal(y, mean, sd float64) (float64, error) {
	if err := stat.Finite("value, mean and spread", y, mean, sd); err != nil {
		return 0, err
	}
	if sd < 0 {
		return 0, fmt.Errorf("standard deviation is %v, want 0 or more: %w", sd, stat.ErrDomain)
	}
	return crpsNormal(y, mean, sd), nil
}

func crpsNormal(y, mean, sd float64) float64 {
	z := (y - mean) / sd
	if sd == 0 || math.Abs(z) > 1e8 { // the rest vanishes beside the error
		return math.Abs(y - mean)
	}
	density := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
	return sd * max(0, z*math.Erf(z/math.Sqrt2)+2*density-1/math.SqrtPi)
}
