package report

import (
	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// units are the measures of quantities that have a unit, in the system that
// the owner reads.
type units struct {
	si          bool
	area        measure // of ft²
	volume      measure // of yd³
	spacing     measure // of ft
	speed       measure // of ft² per person-hour
	clogs       measure // of clogs per 100 yd³
	evaporation measure // of lb/ft²/h
	limit       string  // on evaporation, where precautions begin
}

func unitsOf(system string) units {
	si := system == "si"
	area, volume := shown(record.SquareFoot, si), shown(record.CubicYard, si)
	u := units{
		si: si, area: area, volume: volume, spacing: shown(record.Foot, si),
		speed:       measure{factor: area.factor, unit: area.unit + " per person-hour"},
		clogs:       measure{factor: 1 / volume.factor, unit: " per 100" + volume.unit},
		evaporation: measure{factor: 1, unit: " lb/ft²/h"},
		limit:       "0.2 lb/ft²/h",
	}
	if si {
		u.evaporation = measure{factor: trade.KgPerM2PerLbPerF2, unit: " kg/m²/h"}
		u.limit = "1.0 kg/m²/h"
	}
	return u
}

// shown brings values of a record's unit to the one that is read.
func shown(u *record.Unit, si bool) measure {
	if !si {
		return measure{factor: 1, unit: " " + u.Label}
	}
	one, _ := u.Convert(1, u.SI) // every unit knows its own metric one
	return measure{factor: 1 / one, unit: " " + u.SI}
}
