package setting

import (
	"errors"
	"fmt"

	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// PourDay is what a pour day is put on the clock with. All of it is common
// practice, no published source, where not said otherwise, and meant to be set.
// The zero value stands for [DefaultPourDay].
type PourDay struct {
	Start    string `json:"start" mapstructure:"start"`         // when the first truck is to be on site
	TimeZone string `json:"time_zone" mapstructure:"time_zone"` // of the site, such as America/Phoenix; the machine's where ""

	LoadMin         float64 `json:"load_min" mapstructure:"load_min"`         // from batching to leaving the plant
	WashOutMin      float64 `json:"wash_out_min" mapstructure:"wash_out_min"` // of a truck that is empty
	WashOnSpot      bool    `json:"wash_on_spot" mapstructure:"wash_on_spot"` // the next truck waits for it
	PlantSpacingMin float64 `json:"plant_spacing_min" mapstructure:"plant_spacing_min"`

	DischargeLimitMin    float64 `json:"discharge_limit_min" mapstructure:"discharge_limit_min"`         // ASTM C94, older editions: 90 from batching, unless agreed
	DischargeLimitHotMin float64 `json:"discharge_limit_hot_min" mapstructure:"discharge_limit_hot_min"` // the same in hot weather; ACI 305R lets it be shortened, from memory
	HotAirF              float64 `json:"hot_air_f" mapstructure:"hot_air_f"`                             // air from which that is

	PrimeMin float64 `json:"prime_min" mapstructure:"prime_min"` // to prime the pump and wash the first of it out
	PrimeYd  float64 `json:"prime_yd" mapstructure:"prime_yd"`   // that are lost so, of the first truck

	AirF    float64 `json:"air_f" mapstructure:"air_f"`     // of a day without forecast and records; by the season where 0
	Freezes bool    `json:"freezes" mapstructure:"freezes"` // slabs outdoors freeze here

	FloatHours  float64 `json:"float_hours" mapstructure:"float_hours"`   // after placing at 70 °F, when the bleed water is gone
	FinishHours float64 `json:"finish_hours" mapstructure:"finish_hours"` // the same, when it is floated
	CureHours   float64 `json:"cure_hours" mapstructure:"cure_hours"`     // the same, when it is finished and curing goes on
	SetHours    float64 `json:"set_hours" mapstructure:"set_hours"`       // the same, initially set
}

// DefaultPourDay has the limit of ASTM C94, not shortened in the heat.
func DefaultPourDay() PourDay {
	return PourDay{Start: "07:00", LoadMin: 10, WashOutMin: 10, PlantSpacingMin: 15, DischargeLimitMin: trade.DischargeMinutes, DischargeLimitHotMin: trade.DischargeMinutes, HotAirF: 90,
		PrimeMin: 10, PrimeYd: 0.25, FloatHours: 2.5, FinishHours: 3.5, CureHours: 4.5, SetHours: 4.5}
}

// complete is the default where nothing is set, or says which setting cannot be.
func (p PourDay) complete() (PourDay, error) {
	if p == (PourDay{}) {
		return DefaultPourDay(), nil
	}
	var errs []error
	start, err := record.ParseClock(p.Start)
	if err != nil {
		errs = append(errs, fmt.Errorf("pour day: start: %w", err))
	}
	p.Start = start.String()
	for _, v := range []struct {
		key                string
		value, least, most float64
	}{
		{"load_min", p.LoadMin, 0, 120}, {"wash_out_min", p.WashOutMin, 0, 240}, {"plant_spacing_min", p.PlantSpacingMin, 0, 600},
		{"discharge_limit_min", p.DischargeLimitMin, 10, 600}, {"discharge_limit_hot_min", p.DischargeLimitHotMin, 10, 600}, {"hot_air_f", p.HotAirF, 40, 200},
		{"prime_min", p.PrimeMin, 0, 120}, {"prime_yd", p.PrimeYd, 0, 3},
		{"float_hours", p.FloatHours, 0.25, 24}, {"finish_hours", p.FinishHours, p.FloatHours, 24}, {"cure_hours", p.CureHours, p.FinishHours, 48}, {"set_hours", p.SetHours, 0.25, 48},
	} {
		if !(v.value >= v.least && v.value <= v.most) {
			errs = append(errs, fmt.Errorf("pour day: %s is %v: want %v to %v", v.key, v.value, v.least, v.most))
		}
	}
	if p.AirF != 0 && !(p.AirF >= -40 && p.AirF <= 130) {
		errs = append(errs, fmt.Errorf("pour day: air_f is %v: want a temperature such as 85, or 0 for what is usual in the season", p.AirF))
	}
	if p.DischargeLimitHotMin > p.DischargeLimitMin {
		errs = append(errs, fmt.Errorf("pour day: discharge_limit_hot_min is %v: want at most discharge_limit_min, %v", p.DischargeLimitHotMin, p.DischargeLimitMin))
	}
	return p, errors.Join(errs...)
}
