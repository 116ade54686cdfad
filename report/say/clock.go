package say

import (
	"strconv"
	"strings"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
)

// Time is a time of the pour day. Of a morning it stands alone, as it is said on
// site: "6:25", "1:40 pm", "12:40 am the next day"; in metric "13:40".
func (w Bid) Time(t clock.Time) string {
	hour, minute, _ := strings.Cut(t.Clock, ":")
	h, err := strconv.Atoi(hour)
	if err != nil {
		return "—" // a bid kept before there were clocks
	}
	const early = 5
	said := t.Clock
	if !w.Units.Si {
		of := strconv.Itoa((h+11)%12+1) + ":" + minute
		switch {
		case h >= 12:
			said = w.say("{time} pm", with{"time": of})
		case h < early:
			said = w.say("{time} am", with{"time": of})
		default:
			said = of
		}
	}
	switch {
	case t.Day == 1:
		return w.say("{time} the next day", with{"time": said})
	case t.Day == -1:
		return w.say("{time} the day before", with{"time": said})
	case t.Day != 0:
		return w.say("{time}, day {n}", with{"time": said, "n": Count(1 + t.Day)})
	}
	return said
}

// Until is a stretch of the day.
func (w Bid) Until(from, to clock.Time) string { return w.to(w.Time(from), w.Time(to)) }

// ClockAnswer says when trucks come and when the day is done.
func (w Bid) ClockAnswer(d *clock.Day) string {
	if len(d.Trucks) == 0 {
		return ""
	}
	first := d.Trucks[0]
	said := w.say("First truck on site at {on}, batched at {batched}.", with{"on": w.Time(first.Arrives), "batched": w.Time(first.Batched)})
	if len(d.Trucks) == 1 {
		said = w.say("The truck is on site at {on}, batched at {batched}.", with{"on": w.Time(first.Arrives), "batched": w.Time(first.Batched)})
	}
	said += " " + w.say("The last concrete is placed by {end}.", with{"end": w.Time(d.LastEmpty)})
	if call := w.CallBy(d.Call); call != "" {
		said = call + " " + said
	}
	return said
}

// CallBy says by when to call the last load in, "" where nothing is held back.
func (w Bid) CallBy(c *clock.Call) string {
	if c == nil {
		return ""
	}
	return w.say("Call the last load by {time}, with {yards} down.", with{"time": w.Time(c.By), "yards": w.Ordered(c.DownYd)})
}

// CallComes says what comes of that call.
func (w Bid) CallComes(c *clock.Call) string {
	if c == nil {
		return ""
	}
	said := w.say("It is on site about {time}.", with{"time": w.Time(c.Arrives)})
	if c.IdleMin > 0 {
		said += " " + w.say("The crew waits {minutes} for it.", with{"minutes": w.Minutes(float64(c.IdleMin))})
	}
	if c.Latest.Min > c.By.Min {
		said += " " + w.say("Called after {time}, it comes to an edge that has set.", with{"time": w.Time(c.Latest)})
	}
	return said
}

// BidTrucks heads the table of a day's trucks.
type BidTrucks struct {
	Title, Caption                                                                      string
	Truck, Load, Batched, Leaves, Arrives, Starts, Empty, Gone, Ends, Slack, Down, Hold string
}

// TrucksHeads says what the table of a day's trucks holds.
func (w Bid) TrucksHeads(d *bid.Day, several bool) BidTrucks {
	t := BidTrucks{Title: w.text("Trucks by the clock"), Caption: w.text("When each truck is where"), Truck: w.text("Truck"), Load: w.text("Load"), Batched: w.text("Batched"), Leaves: w.text("Leaves"),
		Arrives: w.text("On site"), Starts: w.text("Starts"), Empty: w.text("Empty"), Gone: w.text("Washed out, gone"), Slack: w.text("To spare"), Down: w.text("Placed by then"), Hold: w.text("called in"),
		Ends: w.say("{minutes} end", with{"minutes": w.Minutes(float64(d.Clock.Going.LimitMin))})}
	if several {
		t.Title = w.say("Trucks by the clock, day {day}", with{"day": Count(d.Day)})
		t.Caption = w.say("When each truck is where on day {day}", with{"day": Count(d.Day)})
	}
	return t
}

// NoTrucks says that none is still to come.
func (w Bid) NoTrucks() string { return w.text("No more trucks are to come.") }

// Truck names a truck.
func (w Bid) Truck(t clock.Truck) string {
	if t.Held {
		return w.say("{n}, when called", with{"n": Count(t.N)})
	}
	return Count(t.N)
}

// TruckLoad is what a truck brings.
func (w Bid) TruckLoad(t clock.Truck) string {
	if t.Held {
		return w.say("about {yards}", with{"yards": w.Tenths(t.Yd)})
	}
	return w.Ordered(t.Yd)
}

// Slack is what a truck has to spare of its time.
func (w Bid) Slack(t clock.Truck) string {
	if t.SlackMin < 0 {
		return w.say("{minutes} late", with{"minutes": w.Minutes(float64(-t.SlackMin))})
	}
	return w.Minutes(float64(t.SlackMin))
}

// TruckNotes are what is to be said below the trucks: the call, what the clock does
// not allow, and what the times rest on.
func (w Bid) TruckNotes(d *clock.Day) []string {
	var said []string
	if d.Call != nil {
		said = append(said, w.CallBy(d.Call)+" "+w.CallComes(d.Call))
	}
	for _, n := range d.Notes {
		if !ofTheAir(n.Kind) {
			said = append(said, w.ClockNote(n))
		}
	}
	if d.PrimedYd > 0 {
		said = append(said, w.say("Priming the pump takes {minutes} and {yards} of the first truck. The order has it in.", with{"minutes": w.Minutes(float64(d.Going.PrimeMin)), "yards": w.Ordered(d.PrimedYd)}))
	}
	return append(said, w.reckonedBy(d))
}

// reckonedBy says what the trucks' times rest on.
func (w Bid) reckonedBy(d *clock.Day) string {
	g := d.Going
	said := w.say("Reckoned with {place} minutes a {yard}, {haul} of haul, {load} to load a truck and {wash} to wash out.",
		with{"place": trimmed(g.PlaceMinPerYd/w.Units.Volume.Factor, 1), "yard": w.oneYard(), "haul": w.Minutes(float64(g.HaulMin)), "load": w.Minutes(float64(g.LoadMin)), "wash": w.Minutes(float64(g.WashMin))})
	if g.WashesOnSpot {
		said += " " + w.text("Each truck washes out before the next pulls up.")
	}
	return said + " " + w.say("The plant sends trucks {spacing} apart at the closest. Each is to be empty within {limit} of batching ({source}).",
		with{"spacing": w.Minutes(float64(g.SpacingMin)), "limit": w.Minutes(float64(g.LimitMin)), "source": w.text("ASTM C94, older editions: 90 unless agreed")})
}

// ofTheAir says whether a note is about the air and the slab, not the trucks.
func ofTheAir(k clock.Caution) bool {
	switch k {
	case clock.DriesFast, clock.DriesSome, clock.HotConcrete, clock.FastSet, clock.NextDay, clock.ClockChange:
		return true
	}
	return false
}

// ClockNote says what the clock does not allow, or what the air asks for.
func (w Bid) ClockNote(n clock.Note) string {
	minutes, limit := w.Minutes(float64(n.Min)), w.Minutes(float64(n.Limit))
	switch n.Kind {
	case clock.TooFar:
		return w.say("Loading and haul take {minutes} of the {limit} a truck has. Use a nearer plant, or agree a retarder and a longer limit with the plant.", with{"minutes": minutes, "limit": limit})
	case clock.TooSlow:
		if n.Yd <= 0 {
			return w.say("Truck {n} is {minutes} past its {limit}. No load is small enough: agree a longer limit, or place faster.", with{"n": Count(n.Truck), "minutes": minutes, "limit": limit})
		}
		return w.say("Truck {n} is {minutes} past its {limit}. Loads of {yards} would do.", with{"n": Count(n.Truck), "minutes": minutes, "limit": limit, "yards": w.Ordered(n.Yd)})
	case clock.SmallLoads:
		return w.say("The trucks carry {yards} at most, so that each is empty within its {limit}.", with{"yards": w.Ordered(n.Yd), "limit": limit})
	case clock.Late:
		return w.say("Truck {n}, on its way, will be {minutes} past its {limit}. Check its slump and temperature, and ask the plant before you place it.", with{"n": Count(n.Truck), "minutes": minutes, "limit": limit})
	case clock.SlowPlant:
		return w.say("The crew waits {minutes} in all: the plant sends a truck each {limit} only. Ask for them closer together.", with{"minutes": minutes, "limit": limit})
	case clock.BetweenTrucks:
		return w.say("The edge waits {minutes} for truck {n}, and sets in {limit}. Plan a joint there, or bring the trucks closer together.", with{"minutes": minutes, "n": Count(n.Truck), "limit": limit})
	case clock.ColdCall:
		return w.say("The last load comes {minutes} after the one before is empty, and the edge sets in {limit}. Order it all at once.", with{"minutes": minutes, "limit": limit})
	}
	return w.airNote(n)
}

// airNote says what the air asks for.
func (w Bid) airNote(n clock.Note) string {
	switch n.Kind {
	case clock.NextDay:
		return w.say("The last cut may be as late as {time}.", with{"time": w.Time(n.At)})
	case clock.ClockChange:
		if n.Min > 0 {
			return w.say("Clocks go forward to {time}: times after that are by the new clock.", with{"time": w.Time(n.At)})
		}
		return w.say("Clocks go back to {time}: times after that are by the new clock.", with{"time": w.Time(n.At)})
	case clock.DriesFast:
		return w.say("From {time} the slab may dry at up to {rate}, where cracks form while it is soft ({source}). Have fog, windbreaks or evaporation retarder ready, and cure at once.",
			with{"time": w.Time(n.At), "rate": w.Drying(n.Rate), "source": "ACI 305R"})
	case clock.DriesSome:
		return w.say("From {time} the slab may dry at up to {rate}: keep curing at hand ({source}).", with{"time": w.Time(n.At), "rate": w.Drying(n.Rate), "source": "FHWA-HRT-05-038"})
	case clock.HotConcrete:
		return w.say("Concrete at {degrees} is over the {most} of {source}, unless agreed. Ask for chilled water or ice, or start earlier.", with{"degrees": w.Degrees(n.F), "most": w.Degrees(95), "source": "ACI 305.1"})
	case clock.FastSet:
		return w.say("The first concrete is ready to float at {time}, before the last is placed. Put finishers on it then.", with{"time": w.Time(n.At)})
	}
	return ""
}
