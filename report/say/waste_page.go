package say

import (
	"pourback/analysis/concrete"
	"pourback/analysis/figure"
)

// Kind names a use and a way of placing.
func (w Waste) Kind(g concrete.Group, most int) string {
	if g.Use == "" {
		return w.text("all")
	}
	return Clean(w.Word(g.Use)+", "+w.Word(g.Method), most)
}

// SizeKind names a row of the table by size: a use and a way of placing, or
// whatever is placed that way.
func (w Waste) SizeKind(s concrete.OverageSize) string {
	if s.Use == concrete.AllUses {
		return w.say("any job, {method}", with{"method": w.Word(s.Method)})
	}
	return Clean(w.Word(s.Use)+", "+w.Word(s.Method), ShortName)
}

// SizeKinds names a row of the table of kinds that are ordered alike: "driveway,
// apron, chute"; whatever is placed so: "any other job, chute".
func (w Waste) SizeKinds(uses []string, any bool, method string) string {
	if any {
		return w.say("any other job, {method}", with{"method": w.Word(method)})
	}
	named := make([]string, len(uses))
	for i, use := range uses {
		named[i] = w.Word(use)
	}
	return Clean(w.say("{uses}, {method}", with{"uses": w.List(named), "method": w.Word(method)}), LongName)
}

// SizesTitle and what follows are the words of the table by size.
func (w Waste) SizesTitle() string { return w.text("What to order next time") }

// SizesSay says how to read it.
func (w Waste) SizesSay(step float64) string {
	return w.text("Find the kind of job and the size nearest to the drawing. The order comes first, then what it adds to the drawing.") + " " +
		w.say("Kinds within {step} of each other share a row.", with{"step": w.Yards(step)})
}

// SizesCaption names the table.
func (w Waste) SizesCaption() string {
	return w.say("Order in {unit} by volume on the drawing, with what that adds", with{"unit": w.volume()})
}

// SizeHead is the head of a size's column.
func (w Waste) SizeHead(yd float64) string { return w.say("For {yards}", with{"yards": w.Yards(yd)}) }

// SizesChart says what its chart shows.
func (w Waste) SizesChart() string {
	return w.text("A line for each way of placing: the size of the job across, how much to add to the drawing upward.")
}

// DrawnAxis is a scale of volumes on the drawing.
func (w Waste) DrawnAxis() string { return w.say("on the drawing, {unit}", with{"unit": w.volume()}) }

// AddAxis is a scale of shares to add.
func (w Waste) AddAxis() string { return w.text("to add, %") }

// OrderTip says an order where it is pointed at.
func (w Waste) OrderTip(s concrete.OverageSize) string {
	return w.say("{job}, {neat}: order {order}", with{"job": w.SizeKind(s), "neat": w.Yards(s.NeatYd), "order": w.Yards(s.OrderYd.Value)})
}

// OrderAt is an order with what it adds: "9¼ (12%)".
func (w Waste) OrderAt(s concrete.OverageSize) Cell {
	if !s.OrderYd.Known() {
		return w.Cell(Percent, s.OrderYd)
	}
	return w.In(w.Units.Volume, Valued(w.YardsBare(s.OrderYd.Value)+" ("+w.Percent(s.OrderYd.Value/s.NeatYd-1)+")", s.OrderYd.Value))
}

// Volume is a volume under a head that bears its unit.
func (w Waste) Volume(f figure.Figure) Cell {
	if !f.Known() {
		return w.Cell(Plain, f)
	}
	return w.In(w.Units.Volume, Valued(w.YardsBare(f.Value), f.Value))
}

// volume is the unit of volumes in a head.
func (w Waste) volume() string {
	if w.Units.Si {
		return "m³"
	}
	return w.lang.sign("yd")
}

// NextTitle and what follows are the words of the table of next jobs.
func (w Waste) NextTitle() string { return w.text("The next job of each kind") }

// NextSay says what it tells.
func (w Waste) NextSay(o *concrete.Overage) string {
	if most := o.Assumptions.Order.MostShort; most > 0 {
		return w.capCosts(o, most)
	}
	return w.text("Each order is the one that costs least over many jobs. It still runs short at times, and most times leaves some over.")
}

// capCosts says what keeping to the owner's limit costs, by the kind spoken of
// first.
func (w Waste) capCosts(o *concrete.Overage, most float64) string {
	said := w.say("Each order is the cheapest one that runs short {times} at most, as you set.", with{"times": w.TimesIn100(most)})
	if len(o.First) == 0 {
		return said
	}
	g := o.Groups[o.First[0]]
	costs := with{"kind": w.Kind(g, ShortName), "more": w.Amount(g.CapCosts.Value, 2)}
	if g.CapCosts.Value < 0.5 {
		return w.sentences(said, w.filled(w.text("For {kind} that costs nothing: the cheapest order keeps to it anyway."), costs))
	}
	return w.sentences(said, w.filled(w.text("For {kind} that limit costs {more} a job on average."), costs))
}

// NextCaption names the table.
func (w Waste) NextCaption() string {
	return w.say("The next job of each kind at its usual size, volumes in {unit}", with{"unit": w.volume()})
}

// PresentTitle and what follows say what the present way of ordering costs.
func (w Waste) PresentTitle() string { return w.text("What your ordering costs now") }

// PresentSay says how much is in it.
func (w Waste) PresentSay(worth figure.Figure) string {
	return w.say("Orders by this page would have saved about {dollars} a year on your own past. The page on the month says more.", with{"dollars": w.Dollars(worth.Value)})
}

// PresentCaption names their table.
func (w Waste) PresentCaption() string {
	return w.text("The facts about waste, among those worth most money")
}

// ModelTitle and what follows are the words of what the next jobs will use.
func (w Waste) ModelTitle() string { return w.text("What the next job will use") }

// ModelSay says how to read it.
func (w Waste) ModelSay() string {
	return w.text("How much more than the drawing the next job uses, whatever is placed. “Half stay under” is the best guess. 8 jobs in 10 fall between “1 in 10” and “9 in 10”.")
}

// ModelCaption names the table.
func (w Waste) ModelCaption() string {
	return w.text("Used over the drawing on the next job, by way of placing and size")
}

// ModelJob names a row.
func (w Waste) ModelJob(s concrete.OverageSize) string {
	return Clean(w.Word(s.Method)+", "+w.Yards(s.NeatYd), ShortName)
}

// ModelChart says what its chart shows.
func (w Waste) ModelChart() string {
	return w.text("What placements used beside the drawing; the dashed line is as drawn. The band holds 8 in 10 of the next jobs.")
}

// UsedAxis is a scale of volumes that were used.
func (w Waste) UsedAxis() string { return w.say("used, {unit}", with{"unit": w.volume()}) }

// AsDrawn names the line of placements that use what the drawing calls for.
func (w Waste) AsDrawn() string { return w.text("as drawn") }

// By names a way of placing in a chart.
func (w Waste) By(method string) string {
	return w.say("by {method}", with{"method": Clean(w.Word(method), LabelName)})
}

// PointTip says one placement.
func (w Waste) PointTip(method string, p concrete.Placement) string {
	return w.say("by {method}: {neat} on the drawing, {used} used", with{"method": w.Word(method), "neat": w.Yards(p.Neat), "used": w.Yards(p.Used)})
}
