package invented

import (
	"math"
	"time"

	"pourback/ingest/record"
)

// climate is the weather of Low Mesa, day by day.
type climate struct {
	first record.Date
	days  []day
}

// day is a day's weather around the hours of placing.
type day struct {
	airF, humidityPct, windMPH float64
}

// normalF is the season's usual temperature at the hours of placing: coldest
// around the twentieth of January, 38 °F, and hottest half a year later, 86 °F.
func normalF(d record.Date) float64 {
	return 62 - 24*winter(d)
}

// winter runs from 1 in the depth of winter to -1 at the height of summer.
func winter(d record.Date) float64 {
	return math.Cos(2 * math.Pi * float64(d.Time().YearDay()-20) / 365.25)
}

// newClimate draws the weather from first to last. Warm and cold spells last:
// a day's departure from normal keeps 0.7 of the day before's. Some winters are
// colder than others.
func newClimate(dice *dice, first, last record.Date) climate {
	d := dice.of(forYears, 0)
	c := climate{first: first, days: make([]day, last-first+1)}
	departure, cold := d.normal(0, 7), d.normal(0, 4)
	for i := range c.days {
		on := first + record.Date(i)
		if t := on.Time(); t.Month() == time.July && t.Day() == 1 {
			cold = d.normal(0, 4)
		}
		departure = 0.7*departure + d.normal(0, 7*math.Sqrt(1-0.7*0.7))
		air := normalF(on) + departure + cold*max(0, winter(on))
		c.days[i] = day{air, 45 - 0.45*(air-62) + d.normal(0, 14), 8 * d.spread(0.45)}
	}
	return c
}

func (c *climate) on(d record.Date) day { return c.days[d-c.first] }

// observe writes the conditions at placing.
func (c *climate) observe(d *dice, p *pour) {
	today := c.on(p.PlacedOn)
	air := within(round(d.normal(today.airF, 2), 1), 12, 112)
	p.AirTempF = record.Some(air)
	p.ConcreteTempF = record.Some(within(round(d.normal(70+0.55*(air-62), 2), 1), 50, 98))
	p.HumidityPct = record.Some(within(round(d.normal(today.humidityPct, 3), 1), 8, 97))
	p.WindMPH = record.Some(within(round(today.windMPH*d.spread(0.15), 1), 0, 38))
}

// evaporation is the rate in lb/ft²/h at which water leaves a fresh surface,
// (Tc^2.5 − r·Ta^2.5)(1 + 0.4V)·1e-6 with °F and mph, and 0 where it is negative
// (Uno 1998, ACI Materials Journal 95-M34). The analysis has its own; this one
// is part of the invented world, which knows nothing of the analysis.
func evaporation(concreteF, airF, humidityPct, windMPH float64) float64 {
	pull := math.Pow(concreteF, 2.5) - humidityPct/100*math.Pow(airF, 2.5)
	return max(0, pull*(1+0.4*windMPH)*1e-6)
}
