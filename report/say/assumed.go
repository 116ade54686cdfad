package say

import (
	"math"
	"strings"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/steel"
	"pourback/analysis/visits"
)

// Assumed says a number that the records do not give, in the units that are
// read: "Cost of a crack callback: $806 (mean of 29 in your records)."
func (v *Voice) Assumed(a figure.Assumption) string {
	if a.Off >= leastOff*a.Value && a.Off > 0 {
		return Capital(v.say("{name}: {value}, give or take {off} ({from}).", with{"name": v.AssumedName(a.What), "value": v.amountOf(a.Value, a.Unit), "off": v.offBy(a), "from": v.AssumedFrom(a.From)}))
	}
	return Capital(v.say("{name}: {value} ({from}).", with{"name": v.AssumedName(a.What), "value": v.amountOf(a.Value, a.Unit), "from": v.AssumedFrom(a.From)}))
}

// leastOff is the share under which nobody need read how far a number is off.
const leastOff = 0.005

// offBy is how far an assumption may be off, as a share of it.
func (v *Voice) offBy(a figure.Assumption) string { return v.Percent(a.Off / a.Value) }

// AssumedName says what is assumed.
func (v *Voice) AssumedName(what figure.Assumed) string {
	switch what {
	case cracks.Warranty:
		return v.text("warranty")
	case cracks.CallbackCost:
		return v.text("cost of a crack callback")
	case cracks.RatioBelief:
		return v.text("how much one thing may change cracks, believed before few records speak")
	case steel.MeshMaterial:
		return v.text("price of mesh")
	case steel.RebarMaterial:
		return v.text("price of rebar")
	case steel.MeshPlacing:
		return v.text("hours to place mesh")
	case steel.RebarPlacing:
		return v.text("hours to place rebar")
	case steel.BurdenedWage:
		return v.text("wage with its burden")
	case steel.Goodwill:
		return v.text("goodwill lost by a callback")
	case steel.ChoiceYears:
		return v.text("years the choice is for")
	case steel.RatioBelief:
		return v.text("how far mesh and rebar may differ, believed before the records speak")
	case steel.BelievedRatio:
		return v.text("mesh callbacks against rebar's")
	case steel.CallbackRisk:
		return v.text("chance of a crack callback within a year")
	case steel.WholeCallback:
		return v.text("cost of a callback with goodwill")
	case steel.BreakEvenPower:
		return v.text("chance to notice a difference that would just pay for rebar")
	case visits.WarrantyUnstated:
		return v.text("warranty where a job states none")
	case visits.UsualCallbacks:
		return v.text("callbacks of a placement before the records speak")
	case visits.DriveCost:
		return v.text("drive to a slab and back (common practice, no published source, unless you entered it)")
	case visits.AheadDays:
		return v.text("how far ahead the worth of a visit looks")
	}
	return string(what)
}

// amountOf is a number with its unit, as a sentence has it.
func (v *Voice) amountOf(x float64, u figure.Unit) string {
	number := Grouped(x, decimalsOf(x))
	switch u {
	case figure.Dollar:
		return v.Amount(x, decimalsOf(x))
	case figure.DollarsPerSqft:
		return v.perArea(x)
	case figure.DollarsAnHour:
		return v.say("{cost} an hour", with{"cost": v.Amount(x, decimalsOf(x))})
	case figure.HoursPer100:
		return v.hoursPer100(x)
	case figure.Months:
		return v.plural(int(x), "1 month|{n} months", nil)
	case figure.Years:
		return v.say("{n} years", with{"n": number})
	case figure.Days:
		return v.Days(int(x))
	case figure.AYear:
		return v.say("{n} a year", with{"n": number})
	case figure.TimesOneSD:
		return v.say("{n} times, one standard deviation", with{"n": number})
	}
	return number
}

// perArea is a cost of an area from one of a ft²: "$0.40 a sq ft", "$4.31 a m²".
func (v *Voice) perArea(perSqft float64) string {
	cost := v.areaCost(perSqft)
	if v.Units.Si {
		return v.say("{cost} a m²", with{"cost": cost})
	}
	return v.say("{cost} a sq ft", with{"cost": cost})
}

// areaCost is the same without the area: "$0.40".
func (v *Voice) areaCost(perSqft float64) string { return v.Number(v.PerArea(), perSqft, 2) }

// hoursPer100 are person-hours for 100 ft², or for 10 m², which is nearly the
// same area.
func (v *Voice) hoursPer100(h float64) string {
	hours := with{"hours": Grouped(v.forArea(h), 2)}
	if v.Units.Si {
		return v.filled(v.text("{hours} person-hours for 10 m²"), hours)
	}
	return v.filled(v.text("{hours} person-hours for 100 sq ft"), hours)
}

// forArea is something of 100 ft² for the area that is read: 100 ft², or 10 m².
func (v *Voice) forArea(x float64) float64 {
	if v.Units.Si {
		x *= 10 / (100 * v.Units.Area.Factor)
	}
	return x
}

// decimalsOf keeps two decimals of small numbers.
func decimalsOf(x float64) int {
	if x < 10 && x != math.Trunc(x) {
		return 2
	}
	return 0
}

// UnitWords are the words or signs of a unit beside a number that is not
// converted.
func (v *Voice) UnitWords(u figure.Unit) string {
	switch u {
	case figure.Dollar:
		return strings.TrimSpace(v.Sign())
	case figure.DollarsPerSqft:
		return strings.TrimSpace(v.Sign()) + v.lang.sign("/ft²")
	case figure.DollarsAnHour:
		return v.say("{sign} an hour", with{"sign": strings.TrimSpace(v.Sign())})
	case figure.HoursPer100:
		return v.text("person-hours per 100 ft²")
	case figure.Chance:
		return v.text("share")
	case figure.Days:
		return v.text("days")
	case figure.Months:
		return v.text("months")
	case figure.Years:
		return v.text("years")
	case figure.AYear:
		return v.text("a year")
	case figure.TimesOneSD:
		return v.text("times, one standard deviation")
	case figure.Hours:
		return v.text("hours")
	case figure.AfterFinishing:
		return v.text("hours after finishing")
	case figure.Thicknesses:
		return v.text("thicknesses")
	}
	return string(u)
}

// AssumedFrom says where the number comes from.
func (v *Voice) AssumedFrom(s figure.Source) string {
	switch s.Kind {
	case figure.MostCommon:
		return v.text("most common among the jobs")
	case figure.NoneStated:
		return v.text("assumed: no job states its warranty")
	case figure.MeanOf:
		return v.plural(s.N, "mean of 1 in your records|mean of {n} in your records", nil)
	case figure.MeanOfJobs:
		return v.plural(s.N, "mean of 1 job in your records|mean of {n} jobs in your records", nil)
	case figure.MeanOfPlacements:
		return v.plural(s.N, "mean of 1 placement in your records|mean of {n} placements in your records", nil)
	case figure.MeanOfLabor:
		return v.plural(s.N, "mean of 1 labor entry in your records|mean of {n} labor entries in your records", nil)
	}
	return v.text("setting")
}
