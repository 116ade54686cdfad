package say

import (
	"math"
	"strings"

	"pourback/analysis/trade"
	"pourback/analysis/visits"
	"pourback/ingest/record"
)

// What stands on record, each in a line.

// TruckLine is a truck: what it brought, and its times.
func (s Site) TruckLine(l *record.Load) string {
	parts := []string{s.say("Truck {ticket}", with{"ticket": Clean(l.TicketNo, ShortName)})}
	if l.Yards.OK {
		parts = append(parts, s.Yards(l.Yards.V))
	}
	if l.ArrivedAt != 0 {
		parts = append(parts, s.say("on site {time}", with{"time": s.ClockOf(l.ArrivedAt)}))
	}
	switch {
	case l.PourStart != 0 && l.PourEnd != 0:
		parts = append(parts, s.say("poured {from} to {to}", with{"from": s.ClockOf(l.PourStart), "to": s.ClockOf(l.PourEnd)}))
	case l.PourStart != 0:
		parts = append(parts, s.say("pouring since {time}", with{"time": s.ClockOf(l.PourStart)}))
	case l.PourEnd != 0:
		parts = append(parts, s.say("empty {time}", with{"time": s.ClockOf(l.PourEnd)}))
	}
	if l.SlumpIn.OK {
		parts = append(parts, s.say("slump {slump}", with{"slump": s.Inches(l.SlumpIn.V)}))
	}
	if l.WaterAddedGal.Or(0) > 0 {
		parts = append(parts, s.say("water {water}", with{"water": s.Gallons(l.WaterAddedGal.V)}))
	}
	return strings.Join(parts, ", ")
}

// TruckNow is the button that notes the next time of a truck by one tap.
func (s Site) TruckNow(column, ticket string) string {
	values := with{"ticket": Clean(ticket, ShortName)}
	switch column {
	case "arrived_at":
		return s.say("Truck {ticket} is here", values)
	case "pour_start":
		return s.say("Truck {ticket} starts pouring", values)
	}
	return s.say("Truck {ticket} is empty", values)
}

// DelayLine is a clog or another delay.
func (s Site) DelayLine(d *record.Delay) string {
	what := Capital(s.Word(d.Cause))
	if d.Spot != "" {
		what = s.say("{cause} in the {spot}", with{"cause": what, "spot": s.Word(d.Spot)})
	}
	if d.StartedAt != 0 {
		what += ", " + s.ClockOf(d.StartedAt)
	}
	if d.Minutes.OK {
		what += ", " + s.Minutes(float64(d.Minutes.V))
	}
	return what
}

// HoursLine is the hours of a task on a day.
func (s Site) HoursLine(l *record.Labor) string {
	return s.say("{task}, {day}: {hours}", with{"task": Capital(s.Word(l.Task)), "day": s.Day(l.WorkedOn), "hours": s.personHours(l.Hours.Or(0))})
}

func (s Site) personHours(h float64) string {
	return s.say("{hours} person-hours", with{"hours": trimmed(h, 2)})
}

// WeatherLine is the air and the concrete as they were read.
func (s Site) WeatherLine(p *record.Placement) string {
	var parts []string
	if p.AirTempF.OK {
		parts = append(parts, s.say("air {degrees}", with{"degrees": s.Degrees(p.AirTempF.V)}))
	}
	if p.ConcreteTempF.OK {
		parts = append(parts, s.say("concrete {degrees}", with{"degrees": s.Degrees(p.ConcreteTempF.V)}))
	}
	if p.HumidityPct.OK {
		parts = append(parts, s.say("humidity {share}", with{"share": s.Percent(p.HumidityPct.V / 100)}))
	}
	if p.WindMPH.OK {
		parts = append(parts, s.say("wind {speed}", with{"speed": s.wind(p.WindMPH.V)}))
	}
	return Capital(strings.Join(parts, ", "))
}

func (s Site) wind(mph float64) string {
	m := Shown(record.MilesPerHour, s.Units.Si)
	return trimmed(mph*m.Factor, 0) + m.Unit
}

// DryingNow says how fast the slab dries by what was read, and what to do.
func (s Site) DryingNow(rate float64) string {
	values := with{"rate": s.Drying(math.Round(rate*100) / 100), "limit": s.Drying(trade.PrecautionLbFt2), "source": "ACI 305R"}
	if rate >= trade.PrecautionLbFt2 {
		return s.say("The slab dries at {rate}, and from {limit} on precautions are due ({source}). Fog or break the wind, spray evaporation retarder, and cure as soon as the surface takes it.", values)
	}
	return s.say("The slab dries at {rate}. Precautions are due from {limit} on ({source}).", values)
}

// DryingAccuracy says how good that is.
func (s Site) DryingAccuracy() string {
	return s.text("That is good to about 40% either way.")
}

// ProbesLine says how thick a slab was measured, beside its plan.
func (s Site) ProbesLine(measured float64, plan record.Number) string {
	values := with{"mean": s.Inches(math.Round(measured*100) / 100), "plan": s.Inches(plan.V)}
	switch {
	case !plan.OK:
		return s.say("Measured {mean} thick.", values)
	case plan.V-measured > visits.Guide.TooLow.Value:
		values["less"], values["allowed"], values["source"] = s.Inches(math.Round((plan.V-measured)*100)/100), s.Inches(visits.Guide.TooLow.Value), s.source(visits.Guide.TooLow.Source)
		return s.say("Measured {mean} thick for {plan} planned: {less} thin, and {allowed} is allowed ({source}).", values)
	}
	return s.say("Measured {mean} thick for {plan} planned.", values)
}

// LeftoverLine is what was left over.
func (s Site) LeftoverLine(yd float64) string {
	return s.say("Left over: {yards}", with{"yards": s.Yards(yd)})
}

// SawLine is how and when joints were cut.
func (s Site) SawLine(p *record.Placement) string {
	parts := []string{s.text("Joints")}
	for _, word := range strings.Split(p.JointCut, "+") {
		if word != "" {
			parts = append(parts, s.Word(word))
		}
	}
	if p.JointDepthIn.OK {
		parts = append(parts, s.say("{depth} deep", with{"depth": s.Inches(p.JointDepthIn.V)}))
	}
	if p.SawHours.OK {
		parts = append(parts, s.say("first cut after {hours}", with{"hours": hoursSign(p.SawHours.V)}))
	}
	return strings.Join(parts, ", ")
}

// SawFrom says from when the hours to the saw cut are counted.
func (s Site) SawFrom(finished bool) string {
	if finished {
		return s.text("Counted from the end of finishing.")
	}
	return s.text("Counted from the end of the last load: no time of finishing was given.")
}

// CuringLine is how a slab was cured.
func (s Site) CuringLine(word string) string {
	return s.say("Curing: {how}", with{"how": s.Word(word)})
}

// Kept is a line that is on record now.
func (s Site) Kept(line string) string {
	return s.say("On record: {what}.", with{"what": strings.TrimSuffix(line, ".")})
}
func (s Site) NoteKept() string { return s.text("The note is on record.") }
func (s Site) BegunBefore() string {
	return s.text("This placement was started before: it is on record as it was.")
}

// BegunLine is a placement that was started.
func (s Site) BegunLine(p *record.Placement) string {
	return s.say("placement {placement}, {use}, {facts}", with{"placement": Clean(p.Placement, ShortName), "use": s.Word(p.Use), "facts": s.PourFacts(0, p.AreaSqft, p.ThicknessIn)})
}
