package score

import (
	"fmt"

	"pourback/analysis/stat"
)

// Pinball is the loss of having forecast q as the tau-quantile of what came
// out as y: τ(y−q) when y is above, (1−τ)(q−y) when below.
//
// Source: Koenker & Bassett (1978), Econometrica 46:33.
func Pinball(y, q, tau float64) (float64, error) {
	if err := stat.Finite("value and forecast", y, q); err != nil {
		return 0, err
	}
	if err := checkTau(tau); err != nil {
		return 0, err
	}
	return pinball(y, q, tau), nil
}

func pinball(y, q, tau float64) float64 {
	if y < q {
		return (1 - tau) * (q - y)
	}
	return tau * (y - q)
}

func checkTau(tau float64) error {
	if !(tau > 0 && tau < 1) {
		return fmt.Errorf("quantile %v is not between 0 and 1: %w", tau, stat.ErrDomain)
	}
	return nil
}
