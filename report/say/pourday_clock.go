package say

import (
	"strings"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
)

// PourTimes are the words of a pour day by the clock.
type PourTimes struct {
	Trucks, Call, Cut                     string // at a glance
	Truck, Load, Here, Empty, Limit, Down string // of the trucks
	Line, Slab, Date                      string
	FirstCut, LastCut                     string
}

// Times are the words of a pour day by the clock.
func (w PourDay) Times() PourTimes {
	return PourTimes{Trucks: w.text("Trucks"), Call: w.text("Call in the last load"), Cut: w.text("First cut"),
		Truck: w.text("No."), Load: w.text("Load"), Here: w.text("On site"), Empty: w.text("Empty"), Limit: w.text("Time is up"), Down: w.text("In place then"),
		Line: w.text("The day by the clock"), Slab: w.text("Placement"), Date: w.text("Date"), FirstCut: w.text("First cuts"), LastCut: w.text("Last cuts")}
}

// Comes is a truck at a glance: when it comes and with how much.
func (w PourDay) Comes(t clock.Truck) (at, load string) {
	if t.Held {
		return w.Time(t.Arrives), w.say("about {yards}, once called", with{"yards": w.Tenths(t.Yd)})
	}
	return w.Time(t.Arrives), w.TruckLoad(t)
}

// Calling is by when to call in the last load, and at how much in place. Without a
// clock it is the latter alone.
func (w PourDay) Calling(d *bid.Day) (big, says string) {
	if !d.TwoSteps() {
		return w.text("Nothing held back"), w.say("It runs short {times}: call the plant at the first sign.", with{"times": w.TimesIn100(d.Order.ChanceShort.Figure.Value)})
	}
	at, expect := w.say("at {yards} placed", with{"yards": w.Ordered(d.Hold.CallAtYd)}), w.say("Expect about {yards}.", with{"yards": w.Tenths(d.Hold.HoldYd)})
	if d.Clock == nil || d.Clock.Call == nil {
		return at, expect
	}
	c := d.Clock.Call
	says = w.say("When {yards} are placed. It comes {lead} after the call.", with{"yards": w.Ordered(c.DownYd), "lead": w.Minutes(float64(c.LeadMin))}) + " " + expect
	return w.say("by {time}", with{"time": w.Time(c.By)}), says
}

// FirstCut is where the first joint is cut, of so many ft.
func (w PourDay) FirstCut(placement string, lengthFt float64) string {
	if lengthFt == 0 {
		return Clean(placement, ShortName)
	}
	return w.say("{placement}: the joint of {length}, marked 1.", with{"placement": Clean(placement, ShortName), "length": w.Side(lengthFt)})
}

// OtherSaw is when the first joint is cut with a conventional saw, where an
// early-entry saw may begin before it.
func (w PourDay) OtherSaw(conventional clock.Saw) string {
	return w.say("That is for an early-entry saw. Conventional saw: {times}.", with{"times": w.Until(conventional.From, conventional.FirstTo)})
}

// TimesRest is what the times rest on.
func (w PourDay) TimesRest(d *clock.Day) string {
	values := with{"start": w.Time(d.Start), "haul": w.Minutes(float64(d.Going.HaulMin)), "air": w.Degrees(d.Air.AirF)}
	switch d.Air.From {
	case clock.FromForecast:
		values["air"] = w.airRange(d.Air.Hours)
		return w.say("Times go by a first truck at {start}, {haul} on the road and the forecast ({air}). If the day runs otherwise, shift them.", values)
	case clock.FromRecords:
		return w.say("Times go by a first truck at {start}, {haul} on the road and {air}, as your pours of that month had it. If the day runs otherwise, shift them.", values)
	}
	return w.say("Times go by a first truck at {start}, {haul} on the road and {air}. If the day runs otherwise, shift them.", values)
}

// AskFor is a mix as it is asked of the plant, with what it is for where a day has
// several.
func (w PourDay) AskFor(m *bid.Mix, several bool) string {
	if several {
		return w.say("Ask the plant for ({placements}): {mix}", with{"mix": w.Mix(*m), "placements": Clean(strings.Join(m.Placements, ", "), LongName)})
	}
	return w.say("Ask the plant for: {mix}", with{"mix": w.Mix(*m)})
}
