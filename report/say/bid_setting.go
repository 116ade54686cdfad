package say

import (
	"strings"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// SettingName names a rate, price or assumption that a bid goes by.
func (w Bid) SettingName(s bid.Setting) string {
	switch s.Name {
	case bid.SetTarget:
		return w.text("target margin")
	case bid.SetCertainty:
		return w.text("chance to keep it")
	case bid.SetConcrete:
		return w.text("concrete")
	case bid.SetDisposal:
		return w.text("disposal of leftover concrete")
	case bid.SetExtraLoad:
		return w.text("extra load, when you run short")
	case bid.SetExtraFee, bid.SetColdJoint, bid.SetHaul, bid.SetBatch, bid.SetPlaceMin, bid.SetStart, bid.SetLoadMin, bid.SetWashOut, bid.SetSpacing, bid.SetLimit, bid.SetPrimeMin, bid.SetPrimeYd, bid.SetEdge, bid.SetEdgeHot, bid.SetLeanSD, bid.SetHoldFrom, bid.SetMostShort, bid.SetPumpWait:
		return w.lastLoadSetting(s)
	case bid.SetLeastBalance:
		return w.text("smallest extra load")
	case bid.SetStep:
		return w.text("step of an order")
	case bid.SetTruck:
		return w.text("truck")
	case bid.SetShortLoad:
		return w.text("short load, under")
	case bid.SetShortLoadPerYd:
		return w.text("short-load fee, by what is missing")
	case bid.SetWarranty:
		return w.text("warranty")
	case bid.SetCallback:
		return w.text("cost of a callback")
	case bid.SetGoodwill:
		return w.text("goodwill lost by a callback")
	}
	return w.crewSetting(s)
}

// lastLoadSetting names those of running short and of the last load.
func (w Bid) lastLoadSetting(s bid.Setting) string {
	switch s.Name {
	case bid.SetExtraFee:
		return w.text("extra load nobody planned: the plant's fee")
	case bid.SetColdJoint:
		return w.text("a cold joint, to make good")
	case bid.SetHaul:
		return w.text("haul from plant to site")
	case bid.SetBatch:
		return w.text("from the call to the truck leaving the plant")
	case bid.SetPlaceMin:
		if s.Of != "" {
			return w.say("to place {unit} by {method}", with{"unit": w.Yards(1), "method": w.Word(s.Of)})
		}
		return w.say("to place {unit}", with{"unit": w.Yards(1)})
	case bid.SetStart:
		return w.text("first truck on site")
	case bid.SetLoadMin:
		return w.text("from batching to the truck leaving the plant")
	case bid.SetWashOut:
		return w.text("a truck washes out")
	case bid.SetSpacing:
		return w.text("the plant sends a truck each")
	case bid.SetLimit:
		return w.text("from batching to empty, at most")
	case bid.SetPrimeMin:
		return w.text("priming the pump")
	case bid.SetPrimeYd:
		return w.text("lost priming the pump, of the first truck")
	case bid.SetEdge:
		return w.text("a fresh edge may wait, on most days")
	case bid.SetEdgeHot:
		return w.text("a fresh edge may wait, on a day that dries fast")
	case bid.SetLeanSD:
		return w.text("how far jobs run beside such bids, give or take")
	case bid.SetHoldFrom:
		return w.text("a last load is held back only where that saves")
	case bid.SetMostShort:
		return w.text("most chance of running short")
	case bid.SetPumpWait:
		return w.text("pump, waiting")
	}
	return ""
}

// crewSetting names those of the crew, the pump and the material.
func (w Bid) crewSetting(s bid.Setting) string {
	switch s.Name {
	case bid.SetWage:
		return w.text("wage with its burden")
	case bid.SetCrew:
		return w.text("crew")
	case bid.SetPumpHire:
		return w.text("pump, per pour")
	case bid.SetPumpPerYd:
		return w.text("pump, by volume")
	case bid.SetMesh:
		return w.text("mesh")
	case bid.SetRebar:
		return w.text("rebar")
	case bid.SetFiber:
		return w.text("fiber")
	case bid.SetMeshHours:
		return w.text("mesh, placing")
	case bid.SetRebarHours:
		return w.text("rebar, placing")
	case bid.SetCut:
		return w.text("sawn joint: blade and water")
	case bid.SetForms:
		return w.text("forms: lumber, stakes and oil")
	case bid.SetStepHours:
		return w.text("steps: hours beside the flatwork, by the length of riser")
	case bid.SetCurbHours:
		return w.text("curb: hours beside the flatwork, by its length")
	case bid.SetCure:
		return w.text("curing compound")
	case bid.SetCold:
		return w.text("cold: heated water and accelerator")
	case bid.SetBlankets:
		return w.text("cold: blankets")
	case bid.SetBlanketHours:
		return w.text("cold: blankets, laid and lifted")
	case bid.SetPumpHour:
		return w.text("pump, by the hour")
	case bid.SetPumpMinimum:
		return w.text("pump, hours charged at least")
	case bid.SetOverhead:
		return w.text("overhead, of the job's cost")
	case bid.SetContingency:
		return w.text("contingency, of the job's cost")
	case bid.SetBase:
		return w.say("base: {base}", with{"base": w.Word(s.Of)})
	}
	return w.believed(s.Name)
}

// believed names what stands in for records.
func (w Bid) believed(name bid.SettingName) string {
	switch name {
	case bid.SetOverage:
		return w.text("waste, of the neat volume")
	case bid.SetOverageApart:
		return w.text("that waste, from company to company, give or take")
	case bid.SetChuteYd:
		return w.text("waste, fixed by chute")
	case bid.SetPumpYd:
		return w.text("waste, fixed by pump")
	case bid.SetOverageScatter:
		return w.text("that waste, from pour to pour, give or take")
	case bid.SetHours:
		return w.say("hours for {area} at {thickness}", with{"area": w.Area(400), "thickness": w.Inches(4)})
	case bid.SetHoursApart:
		return w.text("those hours, from company to company, give or take")
	case bid.SetClogs:
		return w.say("clogs in {yards} pumped", with{"yards": w.Yards(100)})
	case bid.SetClogMin:
		return w.text("a clog")
	case bid.SetCallbacks:
		return w.text("callbacks of a placement")
	}
	return Clean(string(name), ShortName)
}

// SettingValue is what a setting comes to in its unit.
func (w Bid) SettingValue(s bid.Setting) string {
	if s.Name == bid.SetClogs {
		return trimmed(s.Value, 3)
	}
	if per, isMoney := strings.CutPrefix(s.Unit, moneyUnit); isMoney {
		read, ofOne := w.perUnit(per)
		return w.Amount(s.Value*ofOne, 2) + read
	}
	switch s.Unit {
	case "share of the price":
		return w.say("{share} of the price", with{"share": w.Percent(s.Value)})
	case "share":
		return w.unit(trimmed(100*s.Value, 1), "%")
	case "time":
		at := record.ClockTime(s.Value)
		return w.Time(clock.Time{Min: int(at), Clock: at.String()})
	case "chance":
		return w.TimesIn100(s.Value)
	case "a year":
		return w.say("{n} a year", with{"n": trimmed(s.Value, 3)})
	case "person-hours/ft":
		per, ofOne := w.perUnit("/ft")
		return w.say("{n} person-hours{per}", with{"n": trimmed(s.Value*ofOne, 2), "per": per})
	case "person-hours/100 ft²":
		per, ofOne := w.perUnit("/100 ft²")
		return w.say("{n} person-hours{per}", with{"n": trimmed(s.Value*ofOne, 2), "per": per})
	}
	return w.Quantity(s.Value, s.Unit, 2)
}

// moneyUnit is what the analysis calls the currency's unit.
const moneyUnit = "$"

// perUnit is the end of a rate's unit, behind its slash, as it is read, with
// what brings the rate to it.
func (w Bid) perUnit(unit string) (read string, factor float64) {
	if !w.Units.Si {
		return w.lang.sign(Clean(unit, ShortName)), 1
	}
	for _, u := range []struct {
		end, read string
		m         Measure
	}{{"/yd", "/m³", w.Units.Volume}, {"/100 ft²", "/100 m²", w.Units.Area}, {"/ft²", "/m²", w.Units.Area}, {"/ft", "/m", w.Units.Spacing}} {
		if unit == u.end {
			return u.read, 1 / u.m.Factor
		}
	}
	return Clean(unit, ShortName), 1
}

// Quantity is an exact amount in a unit of the analysis.
func (w Bid) Quantity(v float64, unit string, most int) string {
	switch unit {
	case moneyUnit:
		return w.Amount(v, 0)
	case "people":
		return w.People(v)
	case "months":
		return w.plural(int(v+0.5), "1 month|{n} months", nil)
	}
	m := w.Of(unit)
	return w.dressed(m, trimmed(v*m.Factor, most))
}

// Of is how a figure in a unit of the analysis is shown.
func (w Bid) Of(unit string) Measure {
	switch unit {
	case "", "share", "chance":
		return InHundred
	case "person-hours", "h":
		return Measure{Factor: 1, Unit: " h"}
	case "min":
		return Measure{Factor: 1, Unit: " min"}
	case "months":
		return Measure{Factor: 1, Digits: Round}.As("{value} months")
	case "people":
		return Plain.As("{value} people")
	case "callbacks":
		return Plain.As("{value} callbacks")
	case "%":
		return Measure{Factor: 1, Unit: "%"}
	case "sheets":
		return Measure{Factor: 1, Digits: Round}.As("{value} sheets")
	case "ft²":
		return w.Units.Area
	case "yd", "yd³":
		return w.Units.Volume
	case "ft":
		return w.Units.Spacing
	case "lb/ft²/h":
		return w.Units.Evaporation
	case "in":
		if w.Units.Si {
			return Measure{Factor: 25.4, Unit: " mm"}
		}
		return Measure{Factor: 1, Unit: " in"}
	case "lb":
		if w.Units.Si {
			return Measure{Factor: trade.KgPerLb, Unit: " kg"}
		}
	}
	return Measure{Factor: 1, Unit: " " + Clean(unit, ShortName)}
}
