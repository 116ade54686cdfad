package say

import (
	"math"

	"pourback/analysis/bid"
)

// BidCost names what the table on the cost holds.
type BidCost struct {
	Title, Caption, Item, All, Loaded, Below string
	Mean, Tenth, Half, Eight, Nine           string
}

// Cost says what the cost is of, over so many simulated jobs.
func (w Bid) Cost(draws int) BidCost {
	return BidCost{Title: w.text("Cost"), Caption: w.say("Cost by item, from {n} simulated jobs", with{"n": Count(draws)}), Item: w.text("Item"), Mean: w.text("On average"), Tenth: w.text("1 in 10 cost less"), Half: w.text("Half cost less"), Eight: w.text("8 in 10 cost less"), Nine: w.text("9 in 10 cost less"), All: w.text("all together"), Loaded: w.text("cost with overhead"),
		Below: w.text("The averages add up to the whole. The others do not, since not everything goes wrong at once.")}
}

// Leans says what past bids teach this one, "" where they are too few.
func (w Bid) Leans(l bid.Lean) string {
	if !l.Share.Known() {
		return ""
	}
	said := w.say("Past bids, made anew by today's method on what was known then: {over} of your last {bids} jobs cost more than that; on average they cost {off}. What those bids left out counts in it.",
		with{"over": Count(l.Over), "bids": Count(l.Bids), "off": w.offBy(l.Raw)}) + " "
	switch share := math.Round(100 * l.Share.Value); {
	case share > 0:
		return said + w.say("So {share} is added to this cost; it follows your jobs more closely as there are more.", with{"share": w.Percent(share / 100)})
	case share < 0:
		return said + w.say("So {share} is taken off this cost; it follows your jobs more closely as there are more.", with{"share": w.Percent(-share / 100)})
	}
	return said + w.text("That moves this cost by less than 1%.")
}

func (w Bid) offBy(share float64) string {
	switch n := math.Round(100 * share); {
	case n > 0:
		return w.say("{n}% more", with{"n": Grouped(n, 0)})
	case n < 0:
		return w.say("{n}% less", with{"n": Grouped(-n, 0)})
	}
	return w.text("about the same")
}

// Item names an item of cost.
func (w Bid) Item(i bid.CostItem) string {
	if i.Named {
		return Clean(string(i.Item), ShortName)
	}
	return w.LineName(i.Item)
}

// LineName names a line of cost.
func (w Bid) LineName(name bid.CostName) string {
	switch name {
	case bid.CostConcrete:
		return w.text("concrete")
	case bid.CostPump:
		return w.text("pump")
	case bid.CostLabor:
		return w.text("labor")
	case bid.CostDelay:
		return w.text("delays")
	case bid.CostSteel:
		return w.text("reinforcement")
	case bid.CostJoints:
		return w.text("joints")
	case bid.CostBase:
		return w.text("base")
	case bid.CostCallbacks:
		return w.text("callback reserve")
	case bid.CostLean:
		return w.text("how past bids turned out")
	}
	return w.owedLine(name)
}

// owedLine names a line that a job of flatwork may have beside what is drawn.
func (w Bid) owedLine(name bid.CostName) string {
	switch name {
	case bid.CostExcavation:
		return w.text("excavation")
	case bid.CostForms:
		return w.text("forms")
	case bid.CostHaulOff:
		return w.text("haul-off")
	case bid.CostShortLoads:
		return w.text("short loads")
	case bid.CostCure:
		return w.text("curing")
	case bid.CostSeal:
		return w.text("sealing")
	case bid.CostEquipment:
		return w.text("equipment")
	case bid.CostSubcontract:
		return w.text("subcontract")
	case bid.CostPermits:
		return w.text("permits")
	case bid.CostTravel:
		return w.text("travel")
	case bid.CostCleanUp:
		return w.text("clean-up")
	case bid.CostCold:
		return w.text("cold weather")
	case bid.CostOverhead:
		return w.text("overhead")
	case bid.CostContingency:
		return w.text("contingency")
	}
	return Clean(string(name), ShortName)
}

// Covers says what the cost leaves out, what the job does not need, and what the
// margin is on.
func (w Bid) Covers(c *bid.Cost) []string {
	names := func(lines []bid.CostName) string {
		said := make([]string, len(lines))
		for i, l := range lines {
			said[i] = w.LineName(l)
		}
		return w.List(said)
	}
	var said []string
	if len(c.NotIncluded) > 0 {
		said = append(said, w.say("Not included: {lines}. Enter a price for each that this job has, or write none_needed.", with{"lines": names(c.NotIncluded)}))
	}
	if len(c.NoneNeeded) > 0 {
		said = append(said, w.say("None needed on this job: {lines}.", with{"lines": names(c.NoneNeeded)}))
	}
	return said
}

// MarginOn says what the margin is on, and what it has to pay.
func (w Bid) MarginOn(c *bid.Cost) string {
	if over := c.Overhead.Figure.Value; over > 0 {
		return w.say("The margin is on the cost with {overhead} of overhead: it is profit, before tax.", with{"overhead": w.Asked(over)})
	}
	return w.text("No overhead is in the cost: the margin also has to pay your office, trucks and insurance. Set overhead to see the profit by itself.")
}

// BidDrivers names what the table on what moves the cost holds.
type BidDrivers struct{ Title, Caption, What, From, To, Cost string }

// Drivers says what moves the cost.
func (w Bid) Drivers() BidDrivers {
	return BidDrivers{Title: w.text("What moves the cost"), Caption: w.text("What moves the cost, each by itself"), What: w.text("Not known yet"),
		From: w.text("From"), To: w.text("To"), Cost: w.text("Cost then")}
}

// Unsure names a thing that moves the cost.
func (w Bid) Unsure(u bid.Unsure) string {
	switch u {
	case bid.UnsureYards:
		return w.text("yards used")
	case bid.UnsureHours:
		return w.text("labor hours")
	case bid.UnsureClogs:
		return w.text("clogs")
	case bid.UnsureDelays:
		return w.text("other delays")
	case bid.UnsureCallbacks:
		return w.text("callbacks")
	case bid.UnsureLean:
		return w.text("how past bids turned out")
	}
	return Clean(string(u), LongName)
}

// UnsureAt is a thing that moves the cost at one of its ends.
func (w Bid) UnsureAt(d bid.Driver, v float64) string { return w.Quantity(v, d.Unit, 1) }

// Range is a cost from here to there.
func (w Bid) Range(low, high float64) string {
	return w.to(w.Amount(low, 0), w.Amount(high, 0))
}

// Tornado says what the drawing of what moves the cost shows.
func (w Bid) Tornado(mid float64) string {
	return w.say("With everything at its middle value the job costs {cost}. Each bar is how far that moves when one thing goes from low (1 in 10 is lower) to high (1 in 10 is higher). The widest comes first.",
		with{"cost": w.Amount(mid, 0)})
}

// BidPrice names what the table on the price holds.
type BidPrice struct{ Title, Caption, Asked, Price, Target, Certainty, Margin, Loss, PerArea string }

// Price says what the price is of.
func (w Bid) Price() BidPrice {
	return BidPrice{Title: w.text("Price"), Caption: w.text("What to ask"), Asked: w.text("Ask"), Price: w.text("Price for the target margin"), Target: w.text("Target margin"), Certainty: w.text("Chance to keep it"),
		Margin: w.text("Margin on average"), Loss: w.text("Chance of a loss"), PerArea: w.say("Price per {unit}", with{"unit": w.areaUnit()})}
}

func (w Bid) areaUnit() string {
	if w.Units.Si {
		return "m²"
	}
	return w.lang.sign("ft²")
}

// PriceAt names the price at a certainty.
func (w Bid) PriceAt(certainty float64) string {
	return w.say("Price to be {share} sure of the margin", with{"share": w.Percent(certainty)})
}

// BidSettings names what the table on what the bid goes by holds.
type BidSettings struct{ Title, Caption, Setting, Value string }

// Settings says what the bid goes by.
func (w Bid) Settings() BidSettings {
	return BidSettings{Title: w.text("What the bid goes by"), Caption: w.text("Every rate, price and assumption of this bid"), Setting: w.text("Setting"), Value: w.text("Value")}
}

// BidUnwise names what the table on what to look at again holds.
type BidUnwise struct{ Title, Caption, Where, Matter string }

// Unwise says what to look at again.
func (w Bid) Unwise() BidUnwise {
	return BidUnwise{Title: w.text("Look at this again"), Caption: w.text("What you entered that looks wrong"), Where: w.text("What you entered"), Matter: w.text("What is wrong, and what would be right")}
}

// Again tells of a caution where the sheet went to a file.
func (w Bid) Again(p bid.Problem) string {
	return w.say("Look again: {problem}", with{"problem": w.Line(p)})
}
