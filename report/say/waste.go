package say

import (
	"math"

	"pourback/analysis/concrete"
	"pourback/analysis/figure"
)

// Waste says how much concrete to order over the drawing, and where the rest
// goes.
type Waste struct{ *Voice }

// Title names the page.
func (w Waste) Title() string { return w.text("Waste") }

// Will is what the page will say once there are records, and Takes what that
// takes.
func (w Waste) Will() string { return w.text("how much concrete to order over the drawing") }

// Takes is what the answer rests on.
func (w Waste) Takes() string {
	return w.text("the area and thickness of each placement, what was delivered and what was left over")
}

// Answer says what to order for the job that comes most often, and how many
// such jobs that covers.
func (w Waste) Answer(o *concrete.Overage) string {
	switch {
	case o.All.N == 0:
		return w.text("The records cannot say how much to order: no pour has its volumes drawn, delivered and left over.")
	case len(o.First) == 0:
		return w.early(o.Why)
	}
	first := o.Groups[o.First[0]]
	s, short := w.nextOrder(first), first.ChanceShort.Value
	if len(o.First) > 1 {
		other := o.Groups[o.First[1]]
		s += " " + w.otherOrder(other)
		if math.Abs(short-other.ChanceShort.Value) >= apart {
			return s + " " + w.say("They cover {first} and {other}.", with{"first": w.Percent(1 - short), "other": w.Percent(1 - other.ChanceShort.Value)})
		}
		short = math.Max(short, other.ChanceShort.Value)
	}
	return s + " " + w.covers(1-short)
}

// apart is how far two orders' chances of running short must lie apart to be said
// each by itself.
const apart = 0.05

// early says why there is no order yet.
func (w Waste) early(why figure.Reason) string {
	if few, ok := why.(concrete.FewVolumes); ok {
		return w.plural(few.N, "Too early to say how much to order. 1 pour has all its volumes on record; it takes {least}.|Too early to say how much to order. {n} pours have all their volumes on record; it takes {least}.",
			with{"least": Count(figure.LeastForRate)})
	}
	return w.say("Your records give no order yet: {why}.", with{"why": w.Reason(why)})
}

// nextOrder: "Order 9¼ yd for the next 8.2 yd driveway off the chute."
func (w Waste) nextOrder(g concrete.Group) string {
	values := with{"order": w.Yards(g.OrderYd.Value), "neat": w.Yards(g.TypicalYd), "job": w.job(g.Use)}
	switch g.Method {
	case "chute":
		return w.say("Order {order} for the next {neat} {job} off the chute.", values)
	case "unknown":
		return w.say("Order {order} for the next {neat} {job}.", values)
	}
	values["method"] = w.Word(g.Method)
	return w.say("Order {order} for the next {neat} {job} by {method}.", values)
}

// otherOrder is the order of the same use placed in another way.
func (w Waste) otherOrder(g concrete.Group) string {
	values := with{"order": w.Yards(g.OrderYd.Value), "neat": w.Yards(g.TypicalYd)}
	switch g.Method {
	case "chute":
		return w.say("Off the chute, {order} for {neat}.", values)
	case "unknown":
		return w.say("Placed another way, {order} for {neat}.", values)
	}
	values["method"] = w.Word(g.Method)
	return w.say("By {method}, {order} for {neat}.", values)
}

// job is a use as a thing to order for.
func (w Waste) job(use string) string {
	if use == "unknown" || use == "other" {
		return w.text("job")
	}
	return w.Word(use)
}

// covers says for how many jobs an order is enough.
func (w Waste) covers(p float64) string {
	switch n := int(math.Round(100 * p)); {
	case n >= 100:
		return w.text("That covers more than 99 jobs in 100.")
	case n%10 == 0 && n > 10:
		return w.say("That covers {n} jobs in 10.", with{"n": Count(n / 10)})
	default:
		return w.plural(n, "That covers 1 job in 100.|That covers {n} jobs in 100.", nil)
	}
}

// Notes say what the figures rest on and what may mislead them.
func (w Waste) Notes(o *concrete.Overage) []string {
	var notes []string
	add := func(said ...string) {
		for _, s := range said {
			if s != "" {
				notes = append(notes, s)
			}
		}
	}
	if o.Why != nil {
		add(w.text("Write down what was drawn, delivered and left over at each pour."), w.until(o))
	}
	if o.All.N > 0 {
		add(w.soFar(o.All.RatioOfTotals))
	}
	add(w.leftOut(o.LeftOut))
	if o.Why == nil {
		add(w.alike(o.Alike), w.odd(o), w.cut(o), w.under(o.Checks.Under), w.crewsApart(o.Apart),
			w.text("Leftovers are often guessed by eye. The figures are no better than those guesses."), w.notByAverage(o))
	}
	if o.All.N > 0 {
		add(w.text("Extra concrete is not always spilled: a slab thicker than drawn shows as waste too.") + " " + w.eighth())
	}
	return notes
}

// until says what to add until there is an order.
func (w Waste) until(o *concrete.Overage) string {
	p := o.Assumptions.Priors
	return w.say("Until then add {share} to the drawing, and {chute} on every job or {pump} by pump. That is assumed, not from your records.",
		with{"share": w.Percent(p.Share.Mean), "chute": w.hundredths(p.FixedYd.Mean), "pump": w.hundredths(p.PumpYd.Mean)})
}

// hundredths is a small volume, as it is set: "0.35 yd".
func (w Waste) hundredths(yd float64) string {
	if w.Units.Si {
		return trimmed(yd*w.Units.Volume.Factor, 2) + " m³"
	}
	return w.unit(trimmed(yd, 2), " yd")
}

// soFar is what all placements together used over the drawing.
func (w Waste) soFar(ratio figure.Figure) string {
	if ratio.Value < 0 {
		ratio.Value, ratio.Low, ratio.High = -ratio.Value, -ratio.High, -ratio.Low
		return w.say("So far all jobs together used {share} less concrete than drawn.", with{"share": w.Long(Percent, ratio)})
	}
	return w.say("So far all jobs together used {share} more concrete than drawn.", with{"share": w.Long(Percent, ratio)})
}

// leftOut says which placements the figures do without, and what they lack.
func (w Waste) leftOut(l concrete.LeftOut) string {
	if l.Placements == 0 {
		return ""
	}
	var lack []string
	for _, says := range []struct {
		n    int
		what string
	}{
		{l.NoNeat, w.plural(l.NoNeat, "1 placement without a volume on the drawing|{n} placements without a volume on the drawing", nil)},
		{l.NoDelivered, w.plural(l.NoDelivered, "1 placement without what was delivered|{n} placements without what was delivered", nil)},
		{l.NoLeftover, w.plural(l.NoLeftover, "1 placement without what was left over|{n} placements without what was left over", nil)},
		{l.Impossible, w.plural(l.Impossible, "1 placement with more left over than delivered|{n} placements with more left over than delivered", nil)},
	} {
		if says.n > 0 {
			lack = append(lack, says.what)
		}
	}
	return w.say("Not counted: {lack}.", with{"lack": w.List(lack)})
}

// notByAverage warns of the past average, by the order for a small job.
func (w Waste) notByAverage(o *concrete.Overage) string {
	for _, k := range o.First {
		if s, ok := o.SmallerThan(o.Groups[k]); ok {
			return w.say("Do not order by the past average. Part of the loss is the same on every job, so a small job needs a larger share added: {share} on {neat} ({job}).",
				with{"share": w.Percent(s.OrderYd.Value/s.NeatYd - 1), "neat": w.Yards(s.NeatYd), "job": w.SizeKind(s)})
		}
	}
	return w.text("Do not order by the past average. Part of the loss is the same on every job, so a small job needs a larger share added.")
}

// eighth says what an eighth of an inch is worth.
func (w Waste) eighth() string {
	if w.Units.Si {
		return w.text("Three millimeters on a 100 mm slab are 3%.")
	}
	return w.text("An eighth of an inch on a 4 in slab is 3%.")
}
