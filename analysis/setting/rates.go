package setting

import (
	"fmt"

	"pourback/ingest/record"
)

// StandardRates turn yards and hours into money. A job log holds no prices
// paid, so these are settings, the same for all jobs and months: what is worth
// more or less because of a price shows elsewhere. A rate of 0 is the default.
type StandardRates struct {
	ConcretePerYd record.Cents // a yd³ of concrete, delivered
	LaborPerHour  record.Cents // a person-hour with its burden
}

// DefaultStandardRates are round figures to be replaced by the owner's own
// (common practice, no published source).
func DefaultStandardRates() StandardRates {
	return StandardRates{ConcretePerYd: 165_00, LaborPerHour: 48_00}
}

// complete fills in defaults and refuses what is no price.
func (r StandardRates) complete() (StandardRates, error) {
	d := DefaultStandardRates()
	for _, rate := range []struct {
		name  string
		is    *record.Cents
		usual record.Cents
	}{{"concrete price per yd³", &r.ConcretePerYd, d.ConcretePerYd}, {"labor rate per hour", &r.LaborPerHour, d.LaborPerHour}} {
		if *rate.is == 0 {
			*rate.is = rate.usual
		}
		if *rate.is < 0 || *rate.is > mostRate {
			return r, fmt.Errorf("%s %s: want an amount above 0 such as %s", rate.name, *rate.is, rate.usual)
		}
	}
	return r, nil
}

// mostRate keeps products of rates and quantities within what cents can hold.
const mostRate = 1_000_000_00

// MarshalJSON writes the rates in the currency's unit.
func (r StandardRates) MarshalJSON() ([]byte, error) {
	b := append([]byte(`{"concrete_per_yd":`), r.ConcretePerYd.String()...)
	b = append(append(b, `,"labor_per_hour":`...), r.LaborPerHour.String()...)
	return append(b, '}'), nil
}
