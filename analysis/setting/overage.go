package setting

import (
	"fmt"

	"pourback/analysis/stat"
)

// Belief is a normal belief about a number before the records.
type Belief struct {
	Mean float64 `json:"mean" mapstructure:"mean"`
	SD   float64 `json:"sd" mapstructure:"sd"`
}

// OveragePriors are the beliefs before the records. They are assumptions, and
// printed with the result.
type OveragePriors struct {
	Share   Belief  `json:"share" mapstructure:"share"`           // b, of the neat volume
	FixedYd Belief  `json:"fixed_yd" mapstructure:"fixed_yd"`     // a, by chute and whatever is no pump
	PumpYd  Belief  `json:"pump_fixed_yd" mapstructure:"pump_yd"` // a, by pump
	BaseSD  float64 `json:"base_sd" mapstructure:"base_sd"`       // of c, about 0
	Sigma   float64 `json:"sigma" mapstructure:"sigma"`           // first guess of σ
	Nu      float64 `json:"nu" mapstructure:"nu"`                 // placements that guess is worth
	RScale  float64 `json:"r_scale" mapstructure:"r_scale"`       // spread between uses over σ, its median
}

// DefaultOveragePriors: 5 % of the volume, a tenth of a yard by chute, a third
// of one by pump, each give or take about as much.
func DefaultOveragePriors() OveragePriors {
	return OveragePriors{Share: Belief{.05, .05}, FixedYd: Belief{.10, .25}, PumpYd: Belief{.35, .35}, BaseSD: .02, Sigma: .05, Nu: 4, RScale: .75}
}

// Filled is the default where nothing is set.
func (p OveragePriors) Filled() OveragePriors {
	if p == (OveragePriors{}) {
		return DefaultOveragePriors()
	}
	return p
}

// check refuses beliefs that no fit can be made with.
func (p OveragePriors) check() error {
	for _, v := range []struct {
		key   string
		value float64
	}{{"share: sd", p.Share.SD}, {"fixed_yd: sd", p.FixedYd.SD}, {"pump_yd: sd", p.PumpYd.SD}, {"base_sd", p.BaseSD}, {"sigma", p.Sigma}, {"nu", p.Nu}, {"r_scale", p.RScale}} {
		if !(v.value > 0 && v.value < 1e6) {
			return fmt.Errorf("beliefs about overage: %s is %v: want more than 0", v.key, v.value)
		}
	}
	return stat.Finite("belief about overage", p.Share.Mean, p.FixedYd.Mean, p.PumpYd.Mean)
}

func (p OveragePriors) Fixed(method string) Belief {
	if method == "pump" {
		return p.PumpYd
	}
	return p.FixedYd
}
