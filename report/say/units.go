package say

import (
	"strings"

	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// units are the measures of quantities that have a unit, in the system that
// the owner reads.
type units struct {
	Si          bool
	Area        Measure // of ft²
	Volume      Measure // of yd³
	Spacing     Measure // of ft
	Speed       Measure // of ft² per person-hour
	Clogs       Measure // of clogs per 100 yd³
	Evaporation Measure // of lb/ft²/h
	Limit       string  // on evaporation, where precautions begin
}

func UnitsOf(system string) units {
	si := system == "si"
	area, volume := Shown(record.SquareFoot, si), Shown(record.CubicYard, si)
	u := units{
		Si: si, Area: area, Volume: volume, Spacing: Shown(record.Foot, si),
		Speed:       Measure{Factor: area.Factor, Unit: area.Unit + " per person-hour", Phrase: "{value} ft² per person-hour"},
		Clogs:       Measure{Factor: 1 / volume.Factor, Unit: " per 100" + volume.Unit, Phrase: "{value} per 100 yd³"},
		Evaporation: Measure{Factor: 1, Unit: " lb/ft²/h"},
		Limit:       "0.2 lb/ft²/h",
	}
	if si {
		u.Speed.Phrase, u.Clogs.Phrase = "{value} m² per person-hour", "{value} per 100 m³"
		u.Evaporation = Measure{Factor: trade.KgPerM2PerLbPerF2, Unit: " kg/m²/h"}
		u.Limit = "1.0 kg/m²/h"
	}
	return u
}

// Shown brings values of a record's unit to the one that is read.
func Shown(u *record.Unit, si bool) Measure {
	if !si {
		return Measure{Factor: 1, Unit: " " + u.Label}
	}
	one, _ := u.Convert(1, u.SI) // every unit knows its own metric one
	return Measure{Factor: 1 / one, Unit: " " + u.SI}
}

// units are the measures with their signs as the language writes them.
func (l *language) units(u units) units {
	for _, m := range []*Measure{&u.Area, &u.Volume, &u.Spacing, &u.Speed, &u.Clogs, &u.Evaporation} {
		m.Unit = l.sign(m.Unit)
	}
	u.Limit = strings.Replace(u.Limit, " lb/ft²/h", l.sign(" lb/ft²/h"), 1)
	return u
}
