package say

import (
	"strings"

	"pourback/analysis/bid"
	"pourback/analysis/concrete"
)

// BidOrder names what a table on a day's order holds.
type BidOrder struct {
	Title, Caption                                 string
	Neat, Used, AtOnce, Allowance, RunsShort, Left string
	Cost, First, Hold, CallIn, ShortThen, Saves    string
	Wait                                           string
}

// Order says what the order of a day is about.
func (w Bid) Order(d *bid.Day, several bool) BidOrder {
	o := BidOrder{Title: w.text("The order"), Caption: w.text("The order and what may come of it"),
		Neat: w.text("Neat volume, as drawn"), Used: w.text("What it will use"), AtOnce: w.text("Order all at once"), Allowance: w.text("Over neat"),
		RunsShort: w.text("Chance to run short"), Left: w.text("Left over on average"), Cost: w.text("Cost on average, with disposal and short loads"),
		First: w.text("Better in two steps: order first"), Hold: w.text("Hold back for the last load, about"), CallIn: w.text("Call it in when this much is placed"),
		ShortThen: w.text("Chance to run short then"), Saves: w.text("Saves on average"), Wait: w.text("The crew waits for it, about")}
	if several {
		day := Count(d.Day)
		o.Title = w.say("The order of day {day}: {placements}", with{"day": day, "placements": Clean(strings.Join(d.Placements, ", "), ShortName)})
		o.Caption = w.say("The order of day {day} and what may come of it", with{"day": day})
	}
	return o
}

// Loads is an order with its trucks, where it takes several: "13½ yd (9 + 4½)".
func (w Bid) Loads(yd float64, loads []float64) string {
	if len(loads) < 2 {
		return w.Ordered(yd)
	}
	return w.say("{order} ({loads})", with{"order": w.Ordered(yd), "loads": w.Trucks(loads)})
}

// Trucks are the loads of an order, without their unit: "10 + 3½".
func (w Bid) Trucks(loads []float64) string {
	texts := make([]string, len(loads))
	for i, l := range loads {
		texts[i] = w.bareYards(l)
	}
	return strings.Join(texts, " + ")
}

// bareYards is a volume under a head that has its unit.
func (w Bid) bareYards(yd float64) string {
	number, _, _ := strings.Cut(w.Ordered(yd), " ")
	return number
}

// Ordered is an order or a load, as the plant batches it: in quarters of a yard,
// which in m³ are hundredths, so that loads add up to their order.
func (w Bid) Ordered(yd float64) string {
	if w.Units.Si {
		return w.Volume(yd)
	}
	return w.Yards(yd)
}

// CallAt is when to call the last load in.
func (w Bid) CallAt(h bid.Hold) string {
	return w.say("{placed}, {share} covered", with{"placed": w.Ordered(h.CallAtYd), "share": w.Percent(h.CallAt)})
}

// WhyThisOrder says why the order is no larger, and what a larger one costs;
// nothing where the prices are not known.
func (w Bid) WhyThisOrder(b *bid.Bid, d *bid.Day) []string {
	yard, short := b.Setting(bid.SetConcrete).Value+b.Setting(bid.SetDisposal).Value, d.RunningShort
	if yard == 0 || short.Cost == 0 {
		return nil
	}
	said := []string{
		w.say("Why not more: each {unit} too many costs {yard} every time. Running short costs {extra} plus the concrete, but only when it happens.",
			with{"unit": w.oneYard(), "yard": w.Exactly(yard / w.Units.Volume.Factor), "extra": w.Exactly(short.Cost)}) + " " + w.leastOrCapped(b, d)}
	if !short.AsSet {
		said = append(said, w.runningShort(short))
	}
	if why := w.AtOnce(d); why != "" {
		said = append(said, why)
	}
	if len(d.Safer) == 0 {
		return said
	}
	safer := make([]string, len(d.Safer))
	for i, s := range d.Safer {
		safer[i] = w.say("{order} runs short {times} and costs {more} more on average", with{"order": w.Ordered(s.Yd), "times": w.TimesIn100(s.ChanceShort), "more": w.Exactly(max(0, s.CostsMore))})
	}
	return append(said, w.say("To be safer, order at once: {orders}.", with{"orders": strings.Join(safer, "; ")}))
}

// leastOrCapped says by which rule the order was chosen, and what a cap costs.
func (w Bid) leastOrCapped(b *bid.Bid, d *bid.Day) string {
	most := b.Setting(bid.SetMostShort).Value
	times, more := w.TimesIn100(most), w.Exactly(d.Order.CapCosts)
	switch {
	case most == 0:
		return w.text("Over many pours this order costs least.")
	case d.Order.CapCosts < 0.5:
		return w.say("The cheapest order keeps to your limit anyway: it runs short {times} at most.", with{"times": times})
	}
	return w.say("You set that it may run short {times} at most. That costs {more} more on average than the cheapest order.", with{"times": times, "more": more})
}

// runningShort says what the cost of running short is made of.
func (w Bid) runningShort(s bid.RunningShort) string {
	parts := []string{w.say("{fee} for a load nobody planned", with{"fee": w.Exactly(s.Fee)}),
		w.say("{crew} for the crew that waits {minutes}", with{"crew": w.Exactly(s.Crew), "minutes": w.Minutes(s.WaitMin)})}
	if s.Pump > 0 {
		parts = append(parts, w.say("{pump} for the pump that waits", with{"pump": w.Exactly(s.Pump)}))
	}
	if s.ColdJoint > 0 {
		parts = append(parts, w.say("{joint} for the risk of a cold joint", with{"joint": w.Exactly(s.ColdJoint)}))
	}
	return w.say("Running short: {parts}.", with{"parts": w.List(parts)})
}

// AtOnce says why nothing is held back for a last load, "" where something is.
func (w Bid) AtOnce(d *bid.Day) string {
	switch h := d.Hold; h.Not {
	case concrete.OneTruck:
		return w.text("Order it all at once: one truck holds it.")
	case concrete.TooLate:
		return w.text("Order it all at once: a last load would come too late and leave a cold joint.")
	case concrete.OffTheClock:
		return w.text("Order it all at once: by the clock a last load would come after the edge has set.")
	case concrete.SavesLittle:
		if h.WouldSave < 1 {
			return w.text("Order it all at once: holding a last load back saves nothing.")
		}
		return w.say("Order it all at once: holding a last load back would save only {saves} on average.", with{"saves": w.Exactly(h.WouldSave)})
	}
	return ""
}

// oneYard is the unit of a volume by itself.
func (w Bid) oneYard() string {
	if w.Units.Si {
		return "m³"
	}
	return w.text("yard")
}

// BidHours names what the table on labor holds.
type BidHours struct{ Title, Caption, Task, Hours, Share, All string }

// LaborHours says what the hours of a job are of.
func (w Bid) LaborHours(l *bid.Labor) BidHours {
	return BidHours{Title: w.text("Hours by task"),
		Caption: w.say("Person-hours for {crew}: {people} at {wage} an hour", with{"crew": w.crew(l.Crew), "people": w.People(l.Size.Figure.Value), "wage": w.Amount(l.Wage.Figure.Value, 2)}),
		Task:    w.text("Task"), Hours: w.text("Person-hours"), Share: w.text("Share"), All: w.text("all tasks")}
}

// People are those of a crew: "3 people", "3½ people".
func (w Bid) People(n float64) string {
	whole, part, ok := fraction(n, 2)
	switch {
	case !ok:
		return w.say("{n} people", with{"n": trimmed(n, 1)})
	case part == 0:
		return w.plural(whole, "1 person|{n} people", nil)
	}
	return w.say("{n} people", with{"n": mixed(whole, part, 2)})
}

// BidWaiting names what the table on delays holds.
type BidWaiting struct{ Title, Caption, Clog, ClogMin, Other, Cost string }

// Waiting says what delays are of; beside clogs, where something is pumped.
func (w Bid) Waiting(pumped bool) BidWaiting {
	b := BidWaiting{Title: w.text("Delays and clogs"), Caption: w.text("What delays may take"), Clog: w.text("Chance of a clogged line"),
		ClogMin: w.text("Minutes lost to clogs, on average"), Other: w.text("Minutes lost to delays, on average"), Cost: w.text("What the waiting crew costs")}
	if pumped {
		b.Other = w.text("Minutes lost to all other delays, on average")
	}
	return b
}

// Volume is an exact volume to a hundredth: "13.33 yd³".
func (w Bid) Volume(yd float64) string {
	return trimmed(yd*w.Units.Volume.Factor, 2) + w.Units.Volume.Unit
}

// Share is an exact share to a tenth of a percent: "12.5%".
func (w Bid) Share(share float64) string { return w.unit(trimmed(100*share, 1), "%") }
