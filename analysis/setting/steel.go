package setting

import (
	"fmt"
	"math"
)

// SteelCosts are what the choice of reinforcement rests on besides cracks, in
// the currency's unit. The zero value stands for [DefaultSteelCosts].
type SteelCosts struct {
	MeshPerSqft  float64 `mapstructure:"mesh_per_sqft"` // material, per ft²
	RebarPerSqft float64 `mapstructure:"rebar_per_sqft"`
	MeshHours    float64 `mapstructure:"mesh_hours"` // person-hours to place it, per 100 ft²
	RebarHours   float64 `mapstructure:"rebar_hours"`
	Callback     float64 `mapstructure:"callback"`    // mean cost of a crack callback, where fewer than 5 are recorded
	Goodwill     float64 `mapstructure:"goodwill"`    // what a callback costs beside its repair
	Years        float64 `mapstructure:"years"`       // for which the choice is made
	PriorSD      float64 `mapstructure:"prior_sd"`    // of the log hazard ratio before the records: 0.5 is 0.38 to 2.7 times
	Power        float64 `mapstructure:"power"`       // with which a difference at break-even is to be shown
	PriceRange   float64 `mapstructure:"price_range"` // 9 times in 10 a price given here is off by no more than this share
	Alternated   bool    `mapstructure:"alternated"`  // mesh and rebar took turns, so that nothing unrecorded goes with the one
}

// DefaultSteelCosts are assumptions: common practice, no published source.
func DefaultSteelCosts() SteelCosts {
	return SteelCosts{MeshPerSqft: 0.40, RebarPerSqft: 0.80, MeshHours: 0.5, RebarHours: 1.0,
		Callback: 750, Goodwill: 250, Years: 3, PriorSD: PriorSD, Power: 0.80, PriceRange: 0.10}
}

// Complete fills in the default and says which setting cannot be.
func (c SteelCosts) Complete() (SteelCosts, error) {
	if c == (SteelCosts{}) {
		return DefaultSteelCosts(), nil
	}
	for _, v := range []float64{c.MeshPerSqft, c.RebarPerSqft, c.MeshHours, c.RebarHours, c.Goodwill} {
		if !(v >= 0) || math.IsInf(v, 0) {
			return c, fmt.Errorf("costs of reinforcement %+v: want none below 0", c)
		}
	}
	for _, v := range []float64{c.Callback, c.Years, c.PriorSD} {
		if !(v > 0) || math.IsInf(v, 0) {
			return c, fmt.Errorf("costs of reinforcement %+v: want callback, years and prior above 0", c)
		}
	}
	if !(c.PriceRange >= 0 && c.PriceRange < 1) {
		return c, fmt.Errorf("price range %v: want a share such as 0.10", c.PriceRange)
	}
	if !(c.Power > 0.05 && c.Power < 1) {
		return c, fmt.Errorf("power %v: want a chance such as 0.80 to show a difference that is there", c.Power)
	}
	return c, nil
}

// PriorSD is that of a log hazard ratio with few events: 0.38 to 2.7 times.
const PriorSD = 0.5
