package say

import (
	"strings"

	"pourback/analysis/visits"
	"pourback/ingest/record"
)

// signName is a way in which a pour lies outside a guide.
func (v *Voice) signName(code visits.SignCode) string {
	switch code {
	case visits.DriedUncured:
		return v.text("dried fast without curing")
	case visits.SawnLate:
		return v.text("sawn late")
	case visits.WideJoints:
		return v.text("joints too wide")
	case visits.WaterAdded:
		return v.text("water added")
	case visits.PastTime:
		return v.text("past the time limit")
	}
	return v.text("thin")
}

// signSaid says what was recorded, beside the limit and its source.
func (v *Voice) signSaid(s visits.Sign) string {
	values := with{"source": v.source(s.Limit.Source)}
	set := func(measure func(float64) string) with {
		values["is"], values["limit"] = measure(s.Value), measure(s.Limit.Value)
		return values
	}
	switch s.Code {
	case visits.DriedUncured:
		return v.say("dried at {is} with no curing (guide: under {limit}, {source})", set(v.Drying))
	case visits.SawnLate:
		if set(hoursSign); s.Air.OK {
			values["air"] = v.Degrees(s.Air.V)
			return v.say("sawn after {is} in {air} air (guide: by {limit}, {source})", values)
		}
		return v.say("sawn after {is} (guide: by {limit}, {source})", values)
	case visits.WideJoints:
		return v.say("joints {is} apart (guide: {limit}, {source})", set(v.Feet))
	case visits.WaterAdded:
		return v.say("{is} of water added (guide: under {limit}, {source})", set(v.waterPerYard))
	case visits.PastTime:
		return v.say("a load placed {is} after batching (limit: {limit}, {source})", set(minutesSign))
	}
	set(v.Inches)
	values["less"] = v.Inches(visits.Guide.TooLow.Value)
	return v.say("{is} thick on average, bid at {limit} (allowed: under {less} less, {source})", values)
}

// Guide says the limit beyond which a pour has a sign, with its source.
func (v *Voice) Guide(code visits.SignCode) string {
	g := &visits.Guide
	switch code {
	case visits.DriedUncured:
		return v.say("evaporation of {limit} or more with no curing ({source})", with{"limit": v.Drying(g.Drying.Value), "source": v.source(g.Drying.Source)})
	case visits.SawnLate:
		return v.sawGuide(&g.Saw)
	case visits.WideJoints:
		return v.say("wider than {small}, {large} or {stiff} times the thickness by mix ({source}; for slabs without steel), or than {most} ({other})", with{
			"small": trimmed(g.JointTimes[0], 0), "large": trimmed(g.JointTimes[1], 0), "stiff": trimmed(g.JointTimes[2], 0), "source": v.source(g.JointTimesFrom),
			"most": v.Feet(g.JointFt.Value), "other": v.source(g.JointFt.Source)})
	case visits.WaterAdded:
		return v.say("{limit} or more in a load: about {slump} of slump, and {low} to {high} less strength ({source})", with{"limit": v.waterPerYard(g.Water.Value),
			"slump": v.Inches(g.WaterSlumpIn), "low": v.strength(g.WaterPSI[0]), "high": v.strength(g.WaterPSI[1]), "source": v.source(g.Water.Source)})
	case visits.PastTime:
		return v.say("over {limit} from batching to discharge ({source}; may be waived)", with{"limit": v.Minutes(g.Time.Value), "source": v.source(g.Time.Source)})
	}
	return v.say("a mean of the probes {limit} or more under the thickness ({source})", with{"limit": v.Inches(g.TooLow.Value), "source": v.source(g.TooLow.Source)})
}

func (v *Voice) sawGuide(g *visits.SawGuide) string {
	return v.say("cut after {warm} in air of {air} or hotter, after {cold} in the cold ({ufc}), after {other} otherwise ({csa}), after {early} with an early-entry saw ({press})", with{
		"warm": hoursSign(g.Warm.Value), "air": v.Degrees(g.WarmF), "cold": hoursSign(g.Cold.Value), "ufc": v.source(g.Warm.Source),
		"other": hoursSign(g.Other.Value), "csa": v.source(g.Other.Source), "early": hoursSign(g.EarlyEntry.Value), "press": v.source(g.EarlyEntry.Source)})
}

// source is where a limit comes from: a publication by its name.
func (v *Voice) source(s visits.Source) string {
	switch s.How {
	case visits.FromMemory:
		return v.say("{name}, from memory", with{"name": s.Name})
	case visits.OlderEditions:
		return v.say("{name}, older editions", with{"name": s.Name})
	case visits.TradePress:
		return v.text("trade press")
	}
	return s.Name
}

// signs joins what was recorded of a pour.
func (v *Voice) signs(all []visits.Sign) string {
	said := make([]string, len(all))
	for i, s := range all {
		said[i] = v.signSaid(s)
	}
	return strings.Join(said, "; ")
}

// hoursSign are hours with their sign, as limits have them: "18 h".
func hoursSign(h float64) string { return trimmed(h, 1) + " h" }

// minutesSign are minutes with their sign.
func minutesSign(m float64) string { return trimmed(m, 0) + " min" }

// waterPerYard is water added to a load, of gal to the yard: "1.2 gal/yd", "6.1 L/m³".
func (v *Voice) waterPerYard(gal float64) string {
	if v.Units.Si {
		return trimmed(gal*Shown(record.Gallon, true).Factor/v.Units.Volume.Factor, 1) + " L/m³"
	}
	return v.unit(trimmed(gal, 1), " gal/yd")
}

// strength is of psi: "150 psi", "1 MPa".
func (v *Voice) strength(psi float64) string {
	m := Shown(record.PSI, v.Units.Si)
	return v.unit(trimmed(psi*m.Factor, 1), m.Unit)
}
