// Package clock puts a pour day on the clock: when each truck is batched, comes,
// is empty and is gone, where its time to discharge ends, by when to call in the
// last load, and from placing to the last cut what the heat leaves time for. It
// reads no clock: all follows from its input, in whole minutes.
package clock

import (
	"fmt"
	"time"
)

// Time is a time of the pour day. Min counts the minutes that have passed since
// the midnight with which the day of the pour began, so that a later time has
// more of them even where the clocks change; Clock is what a clock on site shows,
// in 24 hours, and Day how many days after that of the pour.
type Time struct {
	Min   int    `json:"min"`
	Clock string `json:"clock"` // 06:25
	Day   int    `json:"day"`   // 0 on the day of the pour, 1 the day after
}

// Day is a pour day by the clock.
type Day struct {
	Date  string `json:"date"`      // of the pour, 2026-07-14; "" where it is not known
	Zone  string `json:"time_zone"` // "" for that of the machine
	Start Time   `json:"start"`     // the first truck is to be on site

	Trucks    []Truck `json:"trucks"` // in their order; the last may be held back
	Call      *Call   `json:"call"`   // of the load held back, nil where there is none
	PlacedYd  float64 `json:"placed_yd"`
	PrimedYd  float64 `json:"primed_yd"` // that went through the pump's line and was thrown away
	LastEmpty Time    `json:"last_empty"`
	IdleMin   int     `json:"crew_idle_min"` // that the crew waits for trucks
	EdgeMin   int     `json:"edge_min"`      // that a fresh edge may wait

	Going Going  `json:"going_by"`
	Air   Air    `json:"air"`
	Line  []Span `json:"line"`     // what is done when, by placement
	Saw   []Saw  `json:"saw"`      // none where joints are tooled, or there are none
	Notes []Note `json:"cautions"` // what the clock does not allow, and what the air asks for
}

// Truck is one load.
type Truck struct {
	N       int     `json:"n"` // from 1
	Yd      float64 `json:"yd"`
	Held    bool    `json:"held_back"` // until the call; Yd is then what is expected
	Batched Time    `json:"batched"`   // its time to discharge begins
	Leaves  Time    `json:"leaves"`
	Arrives Time    `json:"arrives"`
	Starts  Time    `json:"starts"` // to discharge
	Empty   Time    `json:"empty"`
	Gone    Time    `json:"gone"` // washed out

	LimitEnds Time    `json:"limit_ends"`      // its time to discharge
	SlackMin  int     `json:"slack_min"`       // from empty to that end; below 0 where it is late
	WaitsMin  int     `json:"truck_waits_min"` // for the truck ahead
	CrewWaits int     `json:"crew_waits_min"`  // for this truck, after the one ahead is empty
	DownYd    float64 `json:"down_yd"`         // in place once it is empty
}

// Call is the load held back: when to call it in.
type Call struct {
	By      Time    `json:"by"`
	DownYd  float64 `json:"down_yd"`  // in place by then
	Yd      float64 `json:"yd"`       // expected
	LeadMin int     `json:"lead_min"` // from the call to its arrival
	Arrives Time    `json:"arrives"`
	IdleMin int     `json:"crew_idle_min"` // until it comes
	EdgeMin int     `json:"edge_min"`      // that the edge may wait
	Latest  Time    `json:"latest"`        // a call after this comes to an edge that has set
	InTime  bool    `json:"in_time"`       // it comes before the edge has set
}

// Going is what the day was reckoned with, in minutes where not said otherwise.
type Going struct {
	PlaceMinPerYd float64 `json:"place_min_per_yd"`
	HaulMin       int     `json:"haul_min"`
	LoadMin       int     `json:"load_min"` // from batching to leaving the plant
	WashMin       int     `json:"wash_out_min"`
	WashesOnSpot  bool    `json:"wash_on_spot"` // the next truck waits for it
	SpacingMin    int     `json:"plant_spacing_min"`
	LimitMin      int     `json:"discharge_limit_min"`
	PrimeMin      int     `json:"prime_min"` // 0 where nothing is pumped
}

// AirFrom is what the day's air was taken from.
type AirFrom string

// What the air was taken from.
const (
	FromForecast AirFrom = "forecast"
	FromRecords  AirFrom = "records" // of pours of the month
	FromSetting  AirFrom = "setting"
	FromSeason   AirFrom = "practice" // a temperature usual for the season
)

// Air is the air of the day and what it does to the concrete.
type Air struct {
	From      AirFrom `json:"from"`
	Pours     int     `json:"pours"`            // of the month on record, where it is from these
	AirF      float64 `json:"air_f"`            // mean over the first hours of the first concrete
	ConcreteF float64 `json:"concrete_f"`       // as delivered
	Pace      float64 `json:"pace"`             // how many times as fast as at 70 °F it sets
	Hours     []Hour  `json:"hours"`            // the forecast, or one hour that stands for all
	MostRate  float64 `json:"most_evaporation"` // lb/ft²/h, from the first concrete until it is cured; 0 where not known
	RateKnown bool    `json:"evaporation_known"`
}

// Hour is the air at a time. Rate is the evaporation from fresh concrete in
// lb/ft²/h, good to about 40 %.
type Hour struct {
	At          Time    `json:"at"`
	AirF        float64 `json:"air_f"`
	HumidityPct float64 `json:"humidity_pct"` // below 0 where not known
	WindMph     float64 `json:"wind_mph"`     // as a weather station measures it, at 10 m; below 0 where not known
	Rate        float64 `json:"evaporation"`  // below 0 where not known
}

// Work is a stage of the slab.
type Work string

// The stages, in their order.
const (
	Placing  Work = "place"
	Striking Work = "strike off and bull float"
	Bleeding Work = "bleed" // keep off: water still rises
	Floating Work = "float and edge"
	Brooming Work = "finish"
	Setting  Work = "initial set"
	Curing   Work = "curing on"
)

// Span is a stage of one placement: it begins where its first concrete lies, and
// ends where its last does.
type Span struct {
	Placement string `json:"placement"`
	Work      Work   `json:"work"`
	From      Time   `json:"from"`
	To        Time   `json:"to"`
}

// Saw is when to cut the joints of a placement with one kind of saw.
type Saw struct {
	Placement string `json:"placement"`
	Early     bool   `json:"early_entry"` // else a conventional saw
	From      Time   `json:"from"`        // where the first concrete lies
	FirstTo   Time   `json:"first_to"`    // the cuts there are made by then
	LastFrom  Time   `json:"last_from"`   // where the last concrete lies
	To        Time   `json:"to"`
}

// Caution is what a note is about.
type Caution string

// What may be said of a day.
const (
	TooFar        Caution = "too far"        // a truck's time is over before it comes: Min on the road, Limit
	TooSlow       Caution = "too slow"       // truck N is Min late; loads of Yd would do
	SmallLoads    Caution = "small loads"    // trucks carry no more than Yd, to be empty within Limit
	Late          Caution = "late"           // truck N, batched already, is Min past its Limit
	SlowPlant     Caution = "slow plant"     // the crew waits Min for truck N, by the plant's spacing
	BetweenTrucks Caution = "between trucks" // the edge waits Min for truck N, more than Limit
	ColdCall      Caution = "cold call"      // the load held back comes Min after the edge's Limit
	NextDay       Caution = "next day"       // the saw runs past midnight
	ClockChange   Caution = "clock change"   // clocks change by Min minutes, at At
	DriesFast     Caution = "dries fast"     // Rate and more, from At on
	DriesSome     Caution = "dries some"     // Rate, where care begins
	HotConcrete   Caution = "hot concrete"   // at Degrees, above the limit
	FastSet       Caution = "fast set"       // the first concrete is to be finished before the last is placed, Min before
)

// Note is a caution with its amounts; those it does not use are 0.
type Note struct {
	Kind  Caution `json:"kind"`
	Truck int     `json:"truck"`
	At    Time    `json:"at"`
	Min   int     `json:"min"`
	Limit int     `json:"limit_min"`
	Yd    float64 `json:"yd"`
	Rate  float64 `json:"evaporation"`
	F     float64 `json:"degrees_f"`
}

// face turns minutes of the day into times as a clock on site shows them.
type face struct {
	midnight time.Time // the day's first; zero where the day is not known
	kept     *Day      // whose clock it is, where that is all that is known of it
}

// faceOf is the clock of a day (zero where it is not known) in a place.
func faceOf(day time.Time, place *time.Location) face {
	if day.IsZero() || place == nil {
		return face{}
	}
	y, m, d := day.Date()
	return face{midnight: time.Date(y, m, d, 0, 0, 0, 0, place)}
}

// at is the time so many minutes into the day.
func (f face) at(min int) Time {
	if f.kept != nil {
		return f.kept.Wall(min)
	}
	if f.midnight.IsZero() {
		day := min / dayMin
		if min < 0 && min%dayMin != 0 {
			day--
		}
		of := min - day*dayMin
		return Time{min, fmt.Sprintf("%02d:%02d", of/60, of%60), day}
	}
	t := f.midnight.Add(time.Duration(min) * time.Minute)
	y, m, d := t.Date()
	y0, m0, d0 := f.midnight.Date()
	days := time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Sub(time.Date(y0, m0, d0, 0, 0, 0, 0, time.UTC)).Hours() / 24
	return Time{min, t.Format("15:04"), int(days)}
}

// since are the minutes into the day at which the clock shows so many of them.
func (f face) since(wall int) int {
	if f.midnight.IsZero() {
		return wall
	}
	y, m, d := f.midnight.Date()
	return int(time.Date(y, m, d, 0, wall, 0, 0, f.midnight.Location()).Sub(f.midnight).Minutes())
}

const dayMin = 24 * 60

// Wall is what a clock on site shows at a minute of the day. Of a day that was kept
// it goes by the clocks of its times.
func (d *Day) Wall(min int) Time {
	shift := 0 // of the clocks since midnight
	at := func(t Time) {
		if t.Clock != "" && t.Min <= min {
			h, m := t.hands()
			shift = 60*h + m + t.Day*dayMin - t.Min
		}
	}
	for _, t := range d.Trucks {
		at(t.Batched)
		at(t.Gone)
	}
	for _, s := range d.Saw {
		at(s.From)
		at(s.To)
	}
	t := face{}.at(min + shift)
	t.Min = min
	return t
}

// hands are the hour and the minute that a clock shows.
func (t Time) hands() (hour, minute int) {
	if _, err := fmt.Sscanf(t.Clock, "%d:%d", &hour, &minute); err != nil {
		return 0, 0
	}
	return hour, minute
}
