package setting

import (
	"fmt"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// VisitOptions are what the owner may ask about visits.
type VisitOptions struct {
	Asked bool        // answer them beside the other topics
	Plan  VisitPlan   // DefaultVisitPlan where zero
	DueBy record.Date // the last day to look ahead to; a week after the data date where 0
	Slab  string      // JOB/PLACEMENT whose story is to be told; the worthiest where ""

	StoryAlone bool // answer what that story rests on, and not how cracks were seen by age

	NoSites bool // name no site anywhere, and show no note, which may name anybody
}

// VisitPlan is when finished slabs are looked at, in days after the pour. The
// end of each slab's warranty is always among them.
type VisitPlan struct {
	Days      []int   `mapstructure:"days"`       // of every slab
	ExtraDays []int   `mapstructure:"extra_days"` // further ones of hot pours, and of slabs whose risk is high
	HotAirF   float64 `mapstructure:"hot_air_f"`  // air from which a pour is hot, however slowly it dried
	HighRisk  float64 `mapstructure:"high_risk"`  // times the usual risk from which it is high
	AheadDays int     `mapstructure:"ahead_days"` // how far ahead the worth of a visit looks

	// The drive there and back; 0 minutes and 0 miles where none is to be weighed.
	DriveMinutes float64 `mapstructure:"drive_minutes"` // of one person
	DriveMiles   float64 `mapstructure:"drive_miles"`
	MileCost     float64 `mapstructure:"mile_cost"` // dollars a mile
}

// DriveCost is what a drive there and back costs at a price of labor an hour, in
// dollars.
func (p *VisitPlan) DriveCost(laborPerHour record.Cents) float64 {
	return p.DriveMinutes/60*laborPerHour.Dollars() + p.DriveMiles*p.MileCost
}

// DefaultVisitPlan is common practice, no published source.
func DefaultVisitPlan() VisitPlan {
	return VisitPlan{Days: []int{1, 7, 28, 180, 365}, ExtraDays: []int{3, 14, 90}, HotAirF: 90, HighRisk: 2, AheadDays: 90,
		DriveMinutes: 40, DriveMiles: 20, MileCost: 0.70}
}

// mostVisitDays bounds a plan: ten years, and so many visits a slab.
const (
	mostVisitDays = 3653
	mostVisits    = 50
	mostDrive     = 1000
)

func (o VisitOptions) Complete() (VisitOptions, error) {
	p := &o.Plan
	if p.Days == nil && p.ExtraDays == nil && p.HotAirF == 0 && p.HighRisk == 0 && p.AheadDays == 0 {
		*p = DefaultVisitPlan()
	}
	for name, days := range map[string][]int{"days": p.Days, "extra_days": p.ExtraDays} {
		if len(days) > mostVisits || slices.ContainsFunc(days, func(d int) bool { return d < 0 || d > mostVisitDays }) {
			return o, fmt.Errorf("visits: %s %v: want at most %d days from 0 to %d after the pour", name, days, mostVisits, mostVisitDays)
		}
	}
	if !(p.HighRisk > 1 && p.HighRisk < 1000) {
		return o, fmt.Errorf("visits: high_risk %v: want times the usual risk, such as 2", p.HighRisk)
	}
	if !(p.HotAirF > -100 && p.HotAirF < 200) {
		return o, fmt.Errorf("visits: hot_air_f %v: want an air temperature such as 90", p.HotAirF)
	}
	if p.AheadDays < 1 || p.AheadDays > mostVisitDays {
		return o, fmt.Errorf("visits: ahead_days %d: want 1 to %d", p.AheadDays, mostVisitDays)
	}
	for name, v := range map[string]float64{"drive_minutes": p.DriveMinutes, "drive_miles": p.DriveMiles, "mile_cost": p.MileCost} {
		if !(v >= 0 && v <= mostDrive) {
			return o, fmt.Errorf("visits: %s %v: want 0 to %d, there and back; 0 for none", name, v, mostDrive)
		}
	}
	if o.Slab != "" && !strings.Contains(o.Slab, "/") {
		return o, fmt.Errorf("slab %q: want a job and a placement, such as J-104/A", o.Slab)
	}
	return o, nil
}
