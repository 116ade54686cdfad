package bid

import (
	"math"
	"strings"

	"pourback/ingest/record"
)

// day checks what is said of the pour day.
func (c *bidCheck) day(s Spec) {
	if s.Start != "" {
		if _, err := record.ParseClock(s.Start); err != nil {
			c.bad("start", s.Start, NoClock)
		}
	}
	const largest = 20 // yd³
	if c.number("truck_yd", s.TruckYd, largest) && s.TruckYd > 0 && s.TruckYd < 1 {
		c.bad("truck_yd", plain(s.TruckYd), NoTruck, Amounts{Least: 1, Most: largest})
	}
	c.number("plant_spacing_min", s.PlantSpacingMin, 600)
	c.number("discharge_limit_min", s.DischargeLimitMin, 600)
	c.number("concrete_temp_f", s.ConcreteTempF, 130)
	c.forecast(s)
	for _, p := range s.Placements {
		if p.Day > 1 && len(s.Forecast) > 0 {
			c.care("forecast", "", ForeignAir)
			break
		}
	}
}

// mix checks what is asked of the plant.
func (c *bidCheck) mix(p Placement) {
	c.number("slump_in", p.SlumpIn, 11)
	c.number("fiber_lb_per_yd", p.FiberLbPerYd, 200)
	if r := strings.ToLower(strings.TrimSpace(p.Retarder)); r != "" && r != "yes" && r != "no" && !strings.ContainsAny(r, "0123456789") {
		c.bad("retarder", p.Retarder, UnknownWord, Amounts{Word: p.Retarder, Words: []string{"yes", "no", "3 oz/cwt"}})
	}
	if p.AirPct != nil {
		c.number("air_pct", *p.AirPct, 12)
	}
}

// forecast checks its hours.
func (c *bidCheck) forecast(s Spec) {
	last := record.ClockTime(-1)
	for i, h := range s.Forecast {
		at, err := record.ParseClock(h.At)
		if err != nil {
			c.bad("forecast", h.At, NoClock)
			return
		}
		within := func(v *float64, most float64) bool { return v == nil || *v >= 0 && *v <= most }
		if !(math.Abs(h.AirF) <= 140) || !within(h.HumidityPct, 100) || !within(h.WindMph, 150) {
			c.bad("forecast", h.At, NoForecast, Amounts{Is: float64(i + 1)})
			return
		}
		if at <= last {
			c.bad("forecast", h.At, EarlyHour, Amounts{Is: float64(i + 1)})
			return
		}
		last = at
	}
}
