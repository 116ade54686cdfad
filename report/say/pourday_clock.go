package say

import (
	"strings"
	"time"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
)

// OClock is a time of the pour day as a clock on site shows it: "6:25 am".
func (v *Voice) OClock(t clock.Time) string {
	at, err := time.Parse("15:04", t.Clock)
	if err != nil {
		return Clean(t.Clock, ShortName)
	}
	values := with{"time": at.Format("3:04")}
	switch morning := at.Hour() < 12; {
	case t.Day > 0 && morning:
		return v.say("{time} am next day", values)
	case t.Day > 0:
		return v.say("{time} pm next day", values)
	case morning:
		return v.say("{time} am", values)
	}
	return v.say("{time} pm", values)
}

// Window is from one time to another; the half of the day is said once where both
// lie in the same.
func (v *Voice) Window(from, to clock.Time) string {
	a, err1 := time.Parse("15:04", from.Clock)
	b, err2 := time.Parse("15:04", to.Clock)
	switch {
	case err1 != nil || err2 != nil || from.Day != to.Day || (a.Hour() < 12) != (b.Hour() < 12):
		return v.to(v.OClock(from), v.OClock(to))
	case from.Clock == to.Clock:
		return v.OClock(to)
	}
	return v.to(a.Format("3:04"), v.OClock(to))
}

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
		return w.OClock(t.Arrives), w.say("about {yards}, once called", with{"yards": w.Tenths(t.Yd)})
	}
	return w.OClock(t.Arrives), w.Yards(t.Yd)
}

// Load is a truck's load; of one that is held back what is expected.
func (w PourDay) Load(t clock.Truck) string {
	if t.Held {
		return w.say("about {value}", with{"value": w.Tenths(t.Yd)})
	}
	return w.Yards(t.Yd)
}

// CallBy is by when to call in the last load, and at how much in place. Without a
// clock it is the latter alone.
func (w PourDay) CallBy(d *bid.Day) (big, says string) {
	if !d.TwoSteps() {
		return w.text("Nothing held back"), w.say("It runs short {times}: call the plant at the first sign.", with{"times": w.TimesIn100(d.Order.ChanceShort.Figure.Value)})
	}
	at, expect := w.say("at {yards} placed", with{"yards": w.Ordered(d.Hold.CallAtYd)}), w.say("Expect about {yards}.", with{"yards": w.Tenths(d.Hold.HoldYd)})
	if d.Clock == nil || d.Clock.Call == nil {
		return at, expect
	}
	c := d.Clock.Call
	says = w.say("When {yards} are placed. It comes {lead} after the call.", with{"yards": w.Ordered(d.Hold.CallAtYd), "lead": w.Minutes(float64(c.LeadMin))}) + " " + expect
	return w.say("by {time}", with{"time": w.OClock(c.By)}), says
}

// FirstCut is where the first joint is cut, of so many ft.
func (w PourDay) FirstCut(placement string, lengthFt float64) string {
	if lengthFt == 0 {
		return Clean(placement, ShortName)
	}
	return w.say("{placement}: the joint of {length}, marked 1.", with{"placement": Clean(placement, ShortName), "length": w.Side(lengthFt)})
}

// TimesRest is what the times rest on.
func (w PourDay) TimesRest(d *clock.Day) string {
	values := with{"start": w.OClock(d.Start), "haul": w.Minutes(float64(d.Going.HaulMin)), "air": w.Degrees(d.Air.AirF)}
	switch d.Air.From {
	case clock.FromForecast:
		return w.say("Times go by a first truck at {start}, {haul} on the road and the forecast, {air}. If the day runs otherwise, shift them.", values)
	case clock.FromRecords:
		return w.say("Times go by a first truck at {start}, {haul} on the road and {air}, as your pours of that month had it. If the day runs otherwise, shift them.", values)
	}
	return w.say("Times go by a first truck at {start}, {haul} on the road and {air}. If the day runs otherwise, shift them.", values)
}

// SawKind is the kind of saw.
func (w PourDay) SawKind(s clock.Saw) string {
	if s.Early {
		return w.text("early-entry saw")
	}
	return w.text("wet saw")
}

// Work is a stage of the slab.
func (w PourDay) Work(k clock.Work) string {
	switch k {
	case clock.Placing:
		return w.text("Place")
	case clock.Bleeding:
		return w.text("Keep off: it bleeds")
	case clock.Floating:
		return w.text("Float and edge")
	case clock.Brooming:
		return w.text("Finish")
	}
	return w.text("Curing on")
}

// Mix is the concrete as asked of the plant; several says whether the day has
// more than one.
func (w PourDay) Mix(m *bid.Mix, several bool) string {
	said := []string{}
	add := func(n bid.Number, say func(float64) string) {
		if n.Figure.Known() && n.Figure.Value > 0 {
			said = append(said, say(n.Figure.Value))
		}
	}
	if m.Name != "" {
		said = append(said, Clean(m.Name, ShortName))
	}
	add(m.PSI, w.Strength)
	add(m.AggregateIn, func(in float64) string { return w.say("{size} rock", with{"size": w.Inches(in)}) })
	add(m.SlumpIn, func(in float64) string {
		slump := w.Inches(in)
		if f := m.SlumpIn.Figure; f.Bounded && f.High > f.Low {
			slump = w.to(w.Inches(f.Low), w.Inches(f.High))
		}
		return w.say("slump {slump}", with{"slump": slump})
	})
	switch air := m.AirPct.Figure; {
	case air.Known() && air.Value > 0:
		said = append(said, w.say("{share} air", with{"share": trimmed(air.Value, 1) + "%"}))
	case air.Known():
		said = append(said, w.text("no added air"))
	}
	if m.Pumped {
		said = append(said, w.text("pump mix"))
	}
	add(m.FiberLbYd, w.fiber)
	for _, a := range m.Admixtures {
		said = append(said, strings.TrimSpace(w.admixture(a.Word)+" "+Clean(a.Dose, ShortName)))
	}
	values := with{"mix": strings.Join(said, ", "), "placements": Clean(strings.Join(m.Placements, ", "), LongName)}
	switch {
	case len(said) == 0:
		return ""
	case several:
		return w.say("Ask the plant for ({placements}): {mix}.", values)
	}
	return w.say("Ask the plant for: {mix}.", values)
}

// admixture is one by the trade's word.
func (w PourDay) admixture(word string) string {
	switch word {
	case "retarder":
		return w.text("retarder")
	case "accelerator":
		return w.text("accelerator")
	case "water reducer":
		return w.text("water reducer")
	}
	return Clean(word, ShortName)
}
