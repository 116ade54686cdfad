package say

import "pourback/analysis/clock"

// ClockNote is what the clock of a pour day does not allow, or what its air asks
// for, with its source where it has one.
func (w PourDay) ClockNote(n clock.Note) Term {
	truck, min, limit := Count(n.Truck), w.Minutes(float64(n.Min)), w.Minutes(float64(n.Limit))
	switch n.Kind {
	case clock.TooFar:
		return Term{w.say("The road from the plant takes {min}, and a truck has {limit}. Settle it with the plant before the first one.", with{"min": min, "limit": limit}), "ASTM C94"}
	case clock.TooSlow:
		said := w.say("Truck {n} is empty {min} after its time is up.", with{"n": truck, "min": min})
		if n.Yd > 0 {
			said += " " + w.say("Loads of {yards} would do.", with{"yards": w.Yards(n.Yd)})
		}
		return Term{said, "ASTM C94"}
	case clock.SlowPlant:
		return Term{w.say("The crew waits {min} in all for trucks that come {limit} apart. Ask the plant for them closer together.", with{"min": min, "limit": limit}), ""}
	case clock.BetweenTrucks:
		return Term{w.say("The edge waits {min} for truck {n}, more than {limit}. Plan a joint there, or ask for trucks closer together.", with{"n": truck, "min": min, "limit": limit}), ""}
	case clock.ColdCall:
		return Term{w.say("The last load comes {min} after the one before is placed, and the edge has {limit}. Plan a joint there, or call sooner.", with{"min": min, "limit": limit}), ""}
	case clock.NextDay:
		return Term{w.text("The saw runs past midnight: settle now who cuts."), ""}
	case clock.ClockChange:
		return Term{w.say("The clocks change at {time}. Times here are those of the clock on site.", with{"time": w.OClock(n.At)}), ""}
	}
	return w.airNote(n)
}

// airNote is what the air of the day asks for.
func (w PourDay) airNote(n clock.Note) Term {
	at := w.OClock(n.At)
	switch n.Kind {
	case clock.DriesFast:
		return Term{w.say("From {time} on the slab dries fast, at up to {rate}, and may crack while soft.", with{"time": at, "rate": w.Drying(n.Rate)}) + " " +
			w.text("Have fog or windbreaks, evaporation retarder and curing ready before the first truck."), "ACI 305R"}
	case clock.DriesSome:
		return Term{w.say("The slab dries at up to {rate}: keep evaporation retarder at hand.", with{"rate": w.Drying(n.Rate)}), "ACI 305R"}
	case clock.HotConcrete:
		return Term{w.say("The concrete comes at about {degrees}, over the limit. Ask the plant for cooler, or start earlier.", with{"degrees": w.Degrees(n.F)}), "ACI 305R"}
	case clock.FastSet:
		return Term{w.say("The first concrete wants its finish {min} before the last is placed. Keep finishers free for it.", with{"min": w.Minutes(float64(n.Min))}), ""}
	}
	return Term{}
}
