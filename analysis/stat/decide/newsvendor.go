package decide

import (
	"fmt"

	"pourback/analysis/stat"
)

// Newsvendor is the order that costs least when each unit short costs one
// thing and each unit over another.
type Newsvendor struct {
	Fractile float64 // c_u/(c_u+c_o), the chance that the order is enough
	Order    float64
	Shortage float64 // E(U−q)⁺
	Leftover float64 // E(q−U)⁺
	Cost     float64 // c_u·Shortage + c_o·Leftover
}

// SolveNewsvendor orders the quantile c_u/(c_u+c_o) of u, for under = c_u > 0
// a unit short and over = c_o > 0 a unit left over.
//
// Source: Arrow, Harris & Marschak (1951), Econometrica 19:250; Silver, Pyke &
// Thomas (2017) ch. 9.
func SolveNewsvendor(u Predictive, under, over float64) (Newsvendor, error) {
	if err := stat.Finite("cost", under, over); err != nil {
		return Newsvendor{}, err
	}
	if under <= 0 || over <= 0 {
		return Newsvendor{}, fmt.Errorf("costs of %v a unit short and %v over, want both above 0: %w", under, over, stat.ErrDomain)
	}
	n := Newsvendor{Fractile: under / (under + over)}
	q, err := u.Quantile(n.Fractile)
	if err != nil {
		return Newsvendor{}, err
	}
	n.Order, n.Shortage, n.Leftover = q, u.Shortage(q), Leftover(u, q)
	n.Cost = under*n.Shortage + over*n.Leftover
	return n, nil
}
