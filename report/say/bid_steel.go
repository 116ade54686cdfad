package say

import (
	"pourback/analysis/bid"
	"pourback/analysis/steel"
	"pourback/analysis/trade"
)

// BidSteel names what the table on a placement's reinforcement holds.
type BidSteel struct{ Title, Caption, Option, Cost, Material, Hours, Risk, Quantity, What string }

// Steel says what the options of reinforcing a placement are of.
func (w Bid) Steel(part string) BidSteel {
	return BidSteel{Title: w.say("Reinforcement: {placement}", with{"placement": part}), Caption: w.say("Options to reinforce {placement}", with{"placement": part}),
		Option: w.text("Option"), Cost: w.text("Material and placing"), Material: w.text("Material"), Hours: w.text("Person-hours"), Risk: w.text("Cracks called about in a year"), Quantity: w.text("Quantity"), What: w.text("What it is")}
}

// Option names a way of reinforcing, and says which one the bid takes.
func (w Bid) Option(s bid.SteelWay) string {
	if s.Chosen {
		return w.say("{option} (this bid)", with{"option": w.Word(s.Way)})
	}
	return w.Word(s.Way)
}

// SteelQuantity is how much of it there is.
func (w Bid) SteelQuantity(s bid.SteelWay) string {
	switch {
	case s.Quantity == 0:
		return "—"
	case s.Sticks > 0:
		return w.say("{sticks} of {length}", with{"sticks": w.plural(s.Sticks, "1 stick|{n} sticks", nil), "length": w.Feet(s.Takeoff.StockFt)})
	case s.Unit == "sheets":
		return w.plural(int(s.Quantity+0.5), "1 sheet|{n} sheets", nil)
	case s.Unit == "lb":
		return w.Pounds(s.Quantity)
	}
	return w.length(s.Quantity)
}

// Pounds is a weight of lb, in whole numbers: "19 lb", "9 kg".
func (w Bid) Pounds(lb float64) string {
	if w.Units.Si {
		return Grouped(lb*trade.KgPerLb, 0) + " kg"
	}
	return w.unit(Grouped(lb, 0), " lb")
}

// length is a length of ft, in whole numbers.
func (w Bid) length(ft float64) string {
	return Grouped(ft*w.Units.Spacing.Factor, 0) + w.Units.Spacing.Unit
}

// Takeoff is what a way of reinforcing is made of.
func (w Bid) Takeoff(s bid.SteelWay) string {
	t := s.Takeoff
	switch s.Way {
	case "none":
		return w.text("joints alone")
	case "mesh":
		return w.say("{sheets}; {rolls} of {length} would do instead; {chairs}", with{"sheets": w.sheetsOf(t),
			"rolls": w.plural(s.Rolls, "1 roll|{n} rolls", nil), "length": w.Feet(trade.RollFt), "chairs": w.plural(s.Chairs, "1 chair|{n} chairs", nil)})
	case "rebar":
		return w.say("{mat}; {chairs}, {ties}", with{"mat": w.barsOf(t), "chairs": w.plural(s.Chairs, "1 chair|{n} chairs", nil), "ties": w.plural(s.Ties, "1 tie|{n} ties", nil)})
	case "fiber":
		return w.fiber(t.LbPerYd)
	}
	return ""
}

func (w Bid) sheetsOf(t bid.Takeoff) string {
	return w.say("sheets of {width} × {length}, {spacing} × {spacing} W{wire}, lapped {lap}, {waste} cut off", with{
		"width": w.Feet(t.SheetWidthFt), "length": w.Feet(t.SheetLengthFt), "spacing": trimmed(t.WireSpacingIn, 1), "wire": trimmed(t.Wire, 1), "lap": w.Inches(t.LapIn), "waste": w.Percent(t.Waste)})
}

func (w Bid) barsOf(t bid.Takeoff) string {
	return w.say("#{bar} at {spacing} both ways: {bars}, {laps} of {diameters} diameters, {waste} cut off", with{
		"bar": Count(t.Grid.Bar), "spacing": w.Inches(t.Grid.SpacingIn), "bars": w.plural(t.Lines, "1 line|{n} lines", nil), "laps": w.plural(t.Laps, "1 lap|{n} laps", nil),
		"diameters": trimmed(t.LapDiameters, 1), "waste": w.Percent(t.Waste)})
}

// SteelNotes say what the company's records settle, and what rules there are for
// the bars of the bid.
func (w Bid) SteelNotes(p *bid.Part) []string {
	said := []string{w.settled(p.Settled)}
	for _, s := range p.Steel {
		if s.Way == "rebar" && s.Chosen {
			said = append(said, w.say("#{bar} at {spacing} is common practice for flatwork, no published source. {source} limits bars to 3 times the thickness and {structural} in structural slabs; a slab on ground is seldom one (from memory).",
				with{"bar": Count(s.Takeoff.Grid.Bar), "spacing": w.Inches(s.Takeoff.Grid.SpacingIn), "source": "ACI 318", "structural": w.Inches(18)}))
		}
	}
	return said
}

func (w Bid) settled(v steel.Verdict) string {
	switch v {
	case steel.ForMesh:
		return w.text("Your records settle it: mesh is the cheaper, callbacks counted, where codes and the engineer leave the choice to you.")
	case steel.ForRebar:
		return w.text("Your records settle it: rebar is the cheaper, callbacks counted, where codes and the engineer leave the choice to you.")
	case steel.NotSettled:
		return w.text("Not settled by your records: whether rebar saves enough callbacks over mesh to pay for itself.")
	}
	return w.text("Too early to say from your records which of these brings fewer callbacks: choose by price, code and engineer.")
}

func (w Bid) fiber(lbPerYd float64) string {
	if w.Units.Si {
		return w.say("{weight} a cubic meter, in the mix", with{"weight": trimmed(lbPerYd*trade.KgPerLb/w.Units.Volume.Factor, 1) + " kg"})
	}
	return w.say("{weight} a yard, in the mix", with{"weight": trimmed(lbPerYd, 2) + " lb"})
}

// BidWeather names what the table on the drying weather of a month holds.
type BidWeather struct{ Title, Caption, Half, Tenth, Over string }

// Weather says what the drying weather of a month is of.
func (w Bid) Weather(o bid.Weather) BidWeather {
	in := with{"month": w.MonthName(o.Month)}
	return BidWeather{Title: w.say("Drying weather in {month}", in), Caption: w.text("How fast the air dries a fresh surface"),
		Half: w.say("Half of your pours in {month} dried slower than", in), Tenth: w.say("1 in 10 of your pours in {month} dried faster than", in),
		Over: w.say("Your pours in {month} at {limit} or faster", with{"month": in["month"], "limit": w.Drying(o.Limit)})}
}

// WeatherCaution says what the weather of the month asks for.
func (w Bid) WeatherCaution(o bid.Weather) string {
	first := w.text("Too few pours of that month have their weather on record to say what to expect.")
	if f := o.Share.Figure; f.Known() {
		first = w.say("In {month}, {share} of your pours dried at {limit} or faster.", with{"month": w.MonthName(o.Month), "share": w.At(Percent, f.Value), "limit": w.Drying(o.Limit)})
	}
	return first + " " + w.text("On the day, read air and concrete temperature, humidity and wind at the slab.") + " " +
		w.say("From {limit} on ({source}), have fog, windbreaks, shade or an evaporation retarder ready before the truck.", with{"limit": w.Drying(o.Limit), "source": "ACI 305R"}) + " " +
		w.say("The estimate itself is good to about {accuracy} either way ({source}).", with{"accuracy": w.Percent(o.Accy), "source": "Hover 2020"})
}

// BidReserve names what the table on callbacks holds.
type BidReserve struct{ Title, Caption, Warranty, Callbacks, Each, Cost string }

// Reserve says what is set aside for callbacks.
func (w Bid) Reserve() BidReserve {
	return BidReserve{Title: w.text("Callback reserve"), Caption: w.text("What is set aside for callbacks within the warranty"), Warranty: w.text("Warranty"),
		Callbacks: w.text("Callbacks to expect, all placements"), Each: w.text("Cost of one, with goodwill"), Cost: w.text("Set aside")}
}

// TooFewSlabs stands where a risk rests on too few slabs.
func (w Bid) TooFewSlabs() Cell { return Cell{Text: w.text("too few to say"), Unknown: true} }
