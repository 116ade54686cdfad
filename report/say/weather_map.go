package say

import "pourback/analysis/trade"

// The words of how fast pours dried beside how warm the air was.
func (w Weather) MapTitle() string { return w.text("Heat, drying and cracks") }
func (w Weather) MapSays() string {
	return w.text("Counts of pours, however long ago they were. Which of them crack more is in the tables below.")
}
func (w Weather) MapCaption() string {
	return w.text("Pours on both sides of the limit, and those called about for cracks")
}

// Map says what is drawn: so many of all pours.
func (w Weather) Map(shown, all int) string {
	if shown < all {
		return w.say("{shown} of {all} pours, taken evenly. In the shaded part the slab needs fog or windbreaks.", with{"shown": Count(shown), "all": Count(all)})
	}
	return w.text("A dot for each pour. In the shaded part the slab needs fog or windbreaks.")
}

// TooFast names the shaded part.
func (w Weather) TooFast() string { return w.say("over {limit}", with{"limit": w.Limit()}) }

// Sound and CalledAbout name the pours.
func (w Weather) Sound() string       { return w.text("no call") }
func (w Weather) CalledAbout() string { return w.text("called about a crack") }

// RateAxis and AirAxis name the scales; Air is a temperature in °F on them.
func (w Weather) RateAxis() string {
	return w.say("drying rate, {unit}", with{"unit": w.sign(w.Units.Evaporation)})
}
func (w Weather) AirAxis() string {
	if w.Units.Si {
		return w.text("air temperature, °C")
	}
	return w.text("air temperature, °F")
}
func (w Weather) Air(f float64) float64 {
	if w.Units.Si {
		return trade.Celsius(f)
	}
	return f
}

// MapHeads are the heads of the table.
type MapHeads struct{ Side, Pours, Cracked string }

// MapHeads are the heads of the table.
func (w Weather) MapHeads() MapHeads {
	return MapHeads{w.text("Drying"), w.text("Pours"), w.text("Called about for cracks")}
}
