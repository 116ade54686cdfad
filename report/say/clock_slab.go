package say

import (
	"strconv"
	"strings"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
)

// BidSlabDay heads the table of a day's slab by the clock.
type BidSlabDay struct{ Title, Caption, What, From, To string }

// SlabDay says what the table of a day's slab holds.
func (w Bid) SlabDay(d *bid.Day, several bool) BidSlabDay {
	s := BidSlabDay{Title: w.text("The slab by the clock"), Caption: w.text("What is done when"), What: w.text("Work"), From: w.text("First concrete, from"), To: w.text("Last concrete, to")}
	if several {
		s.Title = w.say("The slab by the clock, day {day}", with{"day": Count(d.Day)})
		s.Caption = w.say("What is done when on day {day}", with{"day": Count(d.Day)})
	}
	return s
}

// Stage names a stage of the slab.
func (w Bid) Stage(k clock.Work) string {
	switch k {
	case clock.Placing:
		return w.text("Place")
	case clock.Striking:
		return w.text("Strike off, bull float")
	case clock.Bleeding:
		return w.text("Bleed water rises: keep off")
	case clock.Floating:
		return w.text("Float and edge")
	case clock.Brooming:
		return w.text("Finish")
	case clock.Setting:
		return w.text("Initial set")
	case clock.Curing:
		return w.text("Curing on")
	}
	return Clean(string(k), ShortName)
}

// SawKind names a saw.
func (w Bid) SawKind(early bool) string {
	if early {
		return w.text("Saw, early-entry")
	}
	return w.text("Saw, conventional")
}

// SawAt says when to cut with a saw.
func (w Bid) SawAt(s clock.Saw) string {
	values := with{"from": w.Time(s.From), "first": w.Time(s.FirstTo), "to": w.Time(s.To)}
	if s.Early {
		return w.say("Early-entry saw: start where you poured first, from {from}. Be through there by {first}, and everywhere by {to}.", values)
	}
	return w.say("Conventional saw: start where you poured first, from {from}. Be through there by {first}, and everywhere by {to}.", values)
}

// SlabNotes are what is to be said below the slab's day.
func (w Bid) SlabNotes(d *clock.Day) []string {
	said := []string{w.airSays(d)}
	for _, n := range d.Notes {
		if ofTheAir(n.Kind) {
			said = append(said, w.ClockNote(n))
		}
	}
	said = append(said, w.text("The slab decides: no work on bleed water, no saw while the cut ravels, and all cuts before it cracks on its own."))
	return append(said, w.say("Hours to float and finish are common practice, no published source. Heat shortens them by maturity ({maturity}). The saw has 6 to 18 hours from placing at {mild} ({csa}), early-entry 1 to 4 from finishing ({aci}, from memory).",
		with{"maturity": "ASTM C1074", "mild": w.Degrees(70), "csa": sourceCSA, "aci": sourceACI302}))
}

// airSays is the air of the day and what it does to the concrete.
func (w Bid) airSays(d *clock.Day) string {
	a := d.Air
	var from string
	switch a.From {
	case clock.FromForecast:
		from = w.say("By your forecast: air {range}.", with{"range": w.airRange(a.Hours)})
	case clock.FromRecords:
		from = w.plural(a.Pours, "From 1 pour of the month on record: air {air}.|From {n} pours of the month on record: air {air}.", with{"air": w.Degrees(a.AirF)})
	case clock.FromSetting:
		from = w.say("By your settings: air {air}. The day's forecast makes these times better.", with{"air": w.Degrees(a.AirF)})
	default:
		from = w.say("Without a forecast: air taken as {air}, usual for the season. The day's forecast makes these times better.", with{"air": w.Degrees(a.AirF)})
	}
	concrete, mild, times := w.Degrees(a.ConcreteF), w.Degrees(70), Grouped(a.Pace, 1)
	if times == Grouped(1, 1) {
		return from + " " + w.say("In that air, concrete that comes at {concrete} sets as fast as at {mild}.", with{"concrete": concrete, "mild": mild})
	}
	return from + " " + w.say("In that air, concrete that comes at {concrete} sets {times} times as fast as at {mild}.", with{"concrete": concrete, "times": times, "mild": mild})
}

// airRange is from the first hour of a forecast to the hottest, by the clock.
func (w Bid) airRange(hours []clock.Hour) string {
	if len(hours) == 0 {
		return ""
	}
	first, most := hours[0], hours[0]
	for _, h := range hours {
		if h.AirF > most.AirF {
			most = h
		}
	}
	at := func(h clock.Hour) string {
		return w.say("{air} at {time}", with{"air": w.Degrees(h.AirF), "time": w.Time(h.At)})
	}
	if most == first {
		return at(first)
	}
	return w.say("{first}, up to {most}", with{"first": at(first), "most": at(most)})
}

// BidDispatch heads what is read to the dispatcher.
type BidDispatch struct{ Title, Caption string }

// Dispatch heads what is read to the dispatcher.
func (w Bid) Dispatch(d *bid.Day, several bool) BidDispatch {
	s := BidDispatch{Title: w.text("To read to the dispatcher"), Caption: w.text("The concrete as asked of the plant")}
	if several {
		s.Title = w.say("To read to the dispatcher, day {day}", with{"day": Count(d.Day)})
		s.Caption = w.say("The concrete of day {day} as asked of the plant", with{"day": Count(d.Day)})
	}
	return s
}

// MixWords are the lines of the table on a mix.
type MixWords struct{ For, Strength, Rock, Slump, Air, Fiber, Admixtures, NoAir string }

// MixOf names what a mix is made of.
func (w Bid) MixOf() MixWords {
	return MixWords{For: w.text("For"), Strength: w.text("Strength"), Rock: w.text("Largest rock"), Slump: w.text("Slump"), Air: w.text("Air"), Fiber: w.text("Fiber"), Admixtures: w.text("Admixtures"), NoAir: w.text("none asked for")}
}

// Mix says a mix in a sentence: "3,500 psi pump mix, 3/8 in rock, 4 in to 5 in slump."
func (w Bid) Mix(m bid.Mix) string {
	kind := w.say("{strength} mix", with{"strength": w.Strength(m.PSI.Figure.Value)})
	if m.Pumped {
		kind = w.say("{strength} pump mix", with{"strength": w.Strength(m.PSI.Figure.Value)})
	}
	parts := []string{}
	if m.Name != "" {
		parts = append(parts, Clean(m.Name, ShortName))
	}
	parts = append(parts, kind, w.say("{size} rock", with{"size": w.Inches(m.AggregateIn.Figure.Value)}), w.say("{slump} slump", with{"slump": w.Slump(m.SlumpIn)}))
	if m.AirPct.Figure.Value > 0 {
		parts = append(parts, w.say("{air} air", with{"air": w.AirContent(m)}))
	} else {
		parts = append(parts, w.text("no air asked for"))
	}
	if m.FiberLbYd.Figure.Value > 0 {
		parts = append(parts, w.say("{dose} of fiber", with{"dose": w.FiberDose(m)}))
	}
	return strings.Join(append(parts, w.Admixtures(m)...), ", ") + "."
}

// Slump is a slump, or the range of one.
func (w Bid) Slump(n bid.Number) string {
	if f := n.Figure; f.Bounded {
		return w.to(w.Inches(f.Low), w.Inches(f.High))
	}
	return w.Inches(n.Figure.Value)
}

// AirContent is the air of a mix.
func (w Bid) AirContent(m bid.Mix) string {
	return w.unit(trimmed(m.AirPct.Figure.Value, 1), "%")
}

// FiberDose is the fiber of a mix by its volume.
func (w Bid) FiberDose(m bid.Mix) string {
	per, ofOne := w.perUnit("/yd")
	weight := w.Of("lb")
	return trimmed(m.FiberLbYd.Figure.Value*weight.Factor*ofOne, 2) + weight.Unit + per
}

// Admixtures are those of a mix, with their doses.
func (w Bid) Admixtures(m bid.Mix) []string {
	said := []string{}
	for _, a := range m.Admixtures {
		word := w.Word(a.Word)
		if a.Word == bid.Retarder {
			word = w.text("retarder")
		}
		said = append(said, strings.TrimSpace(word+" "+Clean(a.Dose, ShortName)))
	}
	return said
}

// ToDispatcher is what is read to the dispatcher beside the mix.
func (w Bid) ToDispatcher(d *clock.Day) []string {
	var said, later []string
	for _, t := range d.Trucks {
		if t.Held {
			continue
		}
		later = append(later, w.say("{yards} at {time}", with{"yards": w.Ordered(t.Yd), "time": w.Time(t.Arrives)}))
	}
	if len(later) == 0 {
		return nil
	}
	said = append(said, w.say("On site: {trucks}.", with{"trucks": w.List(later)}))
	if c := d.Call; c != nil {
		said = append(said, w.say("Keep a truck for about {yards} more: we call by {time}, for {on}.", with{"yards": w.Tenths(c.Yd), "time": w.Time(c.By), "on": w.Time(c.Arrives)}))
	}
	return append(said, w.say("Each truck is to be empty within {limit} of batching.", with{"limit": w.Minutes(float64(d.Going.LimitMin))}))
}

// DayLineWords are those of the pictures of a pour day.
type DayLineWords struct{ Trucks, Slab, OnRoad, Discharging, LimitEnds, FirstCut, Air, Drying string }

// DayLine says what the pictures of a pour day show.
func (w Bid) DayLine(d *clock.Day) DayLineWords {
	return DayLineWords{Trucks: w.ClockAnswer(d), Slab: w.text("The slab's day by the clock, from placing to the last cut."),
		OnRoad: w.text("batched, on the road, washing out"), Discharging: w.text("discharging"), LimitEnds: w.say("{minutes} end", with{"minutes": w.Minutes(float64(d.Going.LimitMin))}),
		FirstCut: w.text("cut by then where you poured first"), Air: w.say("Air,{unit}", with{"unit": w.degreeSign()}), Drying: w.say("Drying,{unit}", with{"unit": w.Units.Evaporation.Unit})}
}

func (w Bid) degreeSign() string {
	if w.Units.Si {
		return " °C"
	}
	return " °F"
}

// BareDegrees is a temperature under a head that has its unit.
func (w Bid) BareDegrees(f float64) string {
	number, _, _ := strings.Cut(w.Degrees(f), " ")
	return number
}

// TruckRow names a truck in a picture.
func (w Bid) TruckRow(t clock.Truck) string {
	return w.say("{n}: {load}", with{"n": Count(t.N), "load": w.TruckLoad(t)})
}

// CallMark names the time of the call in a picture.
func (w Bid) CallMark(c *clock.Call) string {
	return w.say("call by {time}", with{"time": w.Time(c.By)})
}

// Hour is an hour on the scale of a picture: "7 am", "1 pm"; in metric "13".
func (w Bid) Hour(t clock.Time) string {
	hour, minute, _ := strings.Cut(t.Clock, ":")
	h, _ := strconv.Atoi(hour)
	switch {
	case minute != "00":
		return t.Clock
	case w.Units.Si:
		return t.Clock
	case h == 0:
		return w.text("midnight")
	case h == 12:
		return w.text("noon")
	case h > 12:
		return w.say("{time} pm", with{"time": strconv.Itoa(h - 12)})
	}
	return w.say("{time} am", with{"time": strconv.Itoa(h)})
}
