package setting

import (
	"errors"
	"fmt"

	"pourback/analysis/trade"
)

// BidPractice is what a bid stands on where the company's records are too few.
// All of it is common practice, no published source, where not said otherwise:
// settings, printed with each bid that uses them. Money is in the currency's
// unit. The zero value stands for [DefaultBidPractice].
type BidPractice struct {
	HoursPer400      float64 `json:"hours_per_400" mapstructure:"hours_per_400"`           // person-hours for 400 ft² at 4 in
	HoursSD          float64 `json:"hours_sd" mapstructure:"hours_sd"`                     // of their logarithm, about the share that companies differ by
	CrewSize         float64 `json:"crew_size" mapstructure:"crew_size"`                   // people
	ClogsPer100Yd    float64 `json:"clogs_per_100yd" mapstructure:"clogs_per_100yd"`       // of pumped yards
	ClogMin          float64 `json:"clog_min" mapstructure:"clog_min"`                     // minutes each
	OtherDelayMin    float64 `json:"other_delay_min" mapstructure:"other_delay_min"`       // minutes a placement, all other causes
	CallbacksPerYear float64 `json:"callbacks_per_year" mapstructure:"callbacks_per_year"` // a placement
	WarrantyMonths   float64 `json:"warranty_months" mapstructure:"warranty_months"`
	PumpHire         float64 `json:"pump_hire" mapstructure:"pump_hire"` // a pour
	PumpPerYd        float64 `json:"pump_per_yd" mapstructure:"pump_per_yd"`
	FiberPerYd       float64 `json:"fiber_per_yd" mapstructure:"fiber_per_yd"`
	FiberLbPerYd     float64 `json:"fiber_lb_per_yd" mapstructure:"fiber_lb_per_yd"`
	CutPerFt         float64 `json:"cut_per_ft" mapstructure:"cut_per_ft"`       // blade and water; the labor is in the hours
	FormsPerFt       float64 `json:"forms_per_ft" mapstructure:"forms_per_ft"`   // lumber, stakes and oil, used again; the labor is in the hours
	CurePerSqft      float64 `json:"cure_per_sqft" mapstructure:"cure_per_sqft"` // curing compound
	ColdPerYd        float64 `json:"cold_per_yd" mapstructure:"cold_per_yd"`     // heated water and accelerator
	BlanketsPerSqft  float64 `json:"blankets_per_sqft" mapstructure:"blankets_per_sqft"`
	BlanketHours     float64 `json:"blanket_hours" mapstructure:"blanket_hours"`   // person-hours for 100 ft², laid and lifted
	PumpMinHours     float64 `json:"pump_min_hours" mapstructure:"pump_min_hours"` // charged at least, where a pump goes by the hour
	Overhead         float64 `json:"overhead" mapstructure:"overhead"`             // share of a job's cost; 0 where the margin has to pay it
	Contingency      float64 `json:"contingency" mapstructure:"contingency"`       // the same
	StepHours        float64 `json:"step_hours" mapstructure:"step_hours"`         // person-hours for a foot of riser, beside its tread as flatwork
	CurbHours        float64 `json:"curb_hours" mapstructure:"curb_hours"`         // for a foot of curb
	PriceStep        float64 `json:"price_step" mapstructure:"price_step"`         // prices are asked in steps of it
	TargetMargin     float64 `json:"target_margin" mapstructure:"target_margin"`
	Certainty        float64 `json:"certainty" mapstructure:"certainty"`
	BarNumber        int     `json:"bar_number" mapstructure:"bar_number"` // eighths of an inch, where the spec says rebar and no more
	LeanSD           float64 `json:"lean_sd" mapstructure:"lean_sd"`       // how far companies' jobs run beside such bids, as a share: 0 for no leaning
	BarSpacingIn     float64 `json:"bar_spacing_in" mapstructure:"bar_spacing_in"`

	// Of running short and of a last load. ExtraLoadFee, the crew that waits, the
	// pump and ColdJoint times its chance make up an extra load as long as
	// balance_load is not set.
	HaulMin         float64 `json:"haul_min" mapstructure:"haul_min"`                   // from plant to site
	BatchMin        float64 `json:"batch_min" mapstructure:"batch_min"`                 // from the call to the truck leaving the plant
	PlaceMinPerYd   float64 `json:"place_min_per_yd" mapstructure:"place_min_per_yd"`   // to place a yard
	EdgeOpenMin     float64 `json:"edge_open_min" mapstructure:"edge_open_min"`         // minutes a fresh edge may wait
	EdgeOpenHotMin  float64 `json:"edge_open_hot_min" mapstructure:"edge_open_hot_min"` // the same on a day that dries fast
	ExtraLoadFee    float64 `json:"extra_load_fee" mapstructure:"extra_load_fee"`       // of the plant, for a load nobody planned
	PumpWaitPerHour float64 `json:"pump_wait_per_hour" mapstructure:"pump_wait_per_hour"`
	ColdJoint       float64 `json:"cold_joint" mapstructure:"cold_joint"` // to make good

	Takeoff trade.Takeoff `json:"takeoff" mapstructure:"takeoff"`
}

// DefaultBidPractice has the hours of [DefaultHoursPriors] and the minutes of a
// clog of the trade's own telling.
func DefaultBidPractice() BidPractice {
	return BidPractice{HoursPer400: 26, HoursSD: 0.3, CrewSize: 4, ClogsPer100Yd: 1, ClogMin: (trade.PlugMinutesLow + trade.PlugMinutesHigh) / 2.0,
		OtherDelayMin: 15, CallbacksPerYear: 0.03, WarrantyMonths: UsualWarranty, PumpHire: 250, PumpPerYd: 12, FiberPerYd: 9, FiberLbPerYd: 1.5, CutPerFt: 0.35,
		FormsPerFt: 0.75, CurePerSqft: 0.10, ColdPerYd: 8, BlanketsPerSqft: 0.25, BlanketHours: 0.5, PumpMinHours: 4, PriceStep: 25, StepHours: 1, CurbHours: 0.2,
		TargetMargin: 0.25, Certainty: 0.80, BarNumber: 4, BarSpacingIn: 18, LeanSD: 0.1,
		HaulMin: 25, BatchMin: 20, PlaceMinPerYd: 3, EdgeOpenMin: 60, EdgeOpenHotMin: 30, ExtraLoadFee: 100, PumpWaitPerHour: 150, ColdJoint: 250, Takeoff: trade.DefaultTakeoff()}
}

// complete is the default where nothing is set, or says which setting cannot be.
func (p BidPractice) complete() (BidPractice, error) {
	if p == (BidPractice{}) {
		return DefaultBidPractice(), nil
	}
	if p.Takeoff == (trade.Takeoff{}) {
		p.Takeoff = trade.DefaultTakeoff()
	}
	var errs []error
	for _, v := range []struct {
		key                string
		value, least, most float64
	}{
		{"hours_per_400", p.HoursPer400, 0.1, 1e4}, {"hours_sd", p.HoursSD, 0.01, 3}, {"crew_size", p.CrewSize, 1, 200},
		{"clogs_per_100yd", p.ClogsPer100Yd, 1e-3, 100}, {"clog_min", p.ClogMin, 0, 1e4}, {"other_delay_min", p.OtherDelayMin, 0, 1e4},
		{"callbacks_per_year", p.CallbacksPerYear, 1e-4, 10}, {"warranty_months", p.WarrantyMonths, 0, 600},
		{"pump_hire", p.PumpHire, 0, 1e6}, {"pump_per_yd", p.PumpPerYd, 0, 1e6}, {"fiber_per_yd", p.FiberPerYd, 0, 1e6},
		{"fiber_lb_per_yd", p.FiberLbPerYd, 0, 200}, {"cut_per_ft", p.CutPerFt, 0, 1e4},
		{"forms_per_ft", p.FormsPerFt, 0, 1e4}, {"cure_per_sqft", p.CurePerSqft, 0, 1e3}, {"cold_per_yd", p.ColdPerYd, 0, 1e4}, {"blankets_per_sqft", p.BlanketsPerSqft, 0, 1e3},
		{"blanket_hours", p.BlanketHours, 0, 100}, {"pump_min_hours", p.PumpMinHours, 0, 24}, {"overhead", p.Overhead, 0, 3}, {"contingency", p.Contingency, 0, 1}, {"price_step", p.PriceStep, 0.01, 1e5}, {"step_hours", p.StepHours, 0, 100}, {"curb_hours", p.CurbHours, 0, 100},
		{"target_margin", p.TargetMargin, 0, 0.95}, {"certainty", p.Certainty, 0.01, 0.99},
		{"lean_sd", p.LeanSD, 0, 1}, {"haul_min", p.HaulMin, 0, 600}, {"batch_min", p.BatchMin, 0, 600}, {"place_min_per_yd", p.PlaceMinPerYd, 0.1, 60},
		{"edge_open_min", p.EdgeOpenMin, 1, 600}, {"edge_open_hot_min", p.EdgeOpenHotMin, 1, 600}, {"extra_load_fee", p.ExtraLoadFee, 0, 1e5},
		{"pump_wait_per_hour", p.PumpWaitPerHour, 0, 1e5}, {"cold_joint", p.ColdJoint, 0, 1e6},
		{"bar_number", float64(p.BarNumber), 3, 6}, {"bar_spacing_in", p.BarSpacingIn, 1, 240},
	} {
		if !(v.value >= v.least && v.value <= v.most) {
			errs = append(errs, fmt.Errorf("what bids stand on: %s is %v: want %v to %v", v.key, v.value, v.least, v.most))
		}
	}
	return p, errors.Join(append(errs, p.Takeoff.Check())...)
}

// UsualWarranty is the warranty in months where no job states one.
const UsualWarranty = 12
