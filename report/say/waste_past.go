package say

import (
	"pourback/analysis/concrete"
	"pourback/analysis/figure"
)

// PastTitle and what follows are the words of what past placements used.
func (w Waste) PastTitle() string { return w.text("What past jobs used") }

// PastSay says what it tells.
func (w Waste) PastSay() string { return w.text("Concrete used over the drawing, by kind of job.") }

// PastCaption names the table.
func (w Waste) PastCaption() string { return w.text("Used over the drawing, by kind of job") }

// PastChart says what its chart shows.
func (w Waste) PastChart() string {
	return w.text("A box for each kind of job holds the middle half of its placements, with a line at the middle one. The whiskers reach from the 1 in 10 that used least to the 1 in 10 that used most.")
}

// OverAxis is a scale of shares over the drawing.
func (w Waste) OverAxis() string { return w.text("used over the drawing, %") }

// BoxTip says a kind where its box is pointed at.
func (w Waste) BoxTip(g concrete.Group) string {
	return w.plural(g.N, "{kind}: half stayed under {half}, from 1 placement|{kind}: half stayed under {half}, from {n} placements",
		with{"kind": w.Kind(g, ShortName), "half": w.Value(Percent, g.Past.P50)})
}

// LostTitle and what follows are the words of where the concrete goes.
func (w Waste) LostTitle() string { return w.text("Where the extra concrete goes") }

// LostSay says how much there is.
func (w Waste) LostSay(l *concrete.Loss) string {
	if w.Units.Si {
		return w.say("For each 100 m³ on the drawing, {n} more were delivered. Here is where they went.", with{"n": Grouped(100*l.Delivered.Value, 0)})
	}
	return w.say("For each 100 yd on the drawing, {n} more were delivered. Here is where they went.", with{"n": Grouped(100*l.Delivered.Value, 0)})
}

// LostCaption names the table.
func (w Waste) LostCaption(n int) string {
	return w.plural(n, "Delivered over the drawing, % of the drawing, over 1 measured placement|Delivered over the drawing, % of the drawing, over {n} measured placements", nil)
}

// LostChart says what its chart shows.
func (w Waste) LostChart() string {
	return w.text("A bar for each place where the extra concrete went, with its range.")
}

// LostAxis is its scale.
func (w Waste) LostAxis() string { return w.text("% of the drawing") }

// LostPart is a part of what was delivered over the drawing.
type LostPart struct {
	Name, Means string
	Share       figure.Figure
}

// LostAll is the whole of it.
func (w Waste) LostAll(l *concrete.Loss) LostPart {
	return LostPart{w.text("In all"), w.text("delivered over the drawing"), l.Delivered}
}

// LostParts are where it went.
func (w Waste) LostParts(l *concrete.Loss) []LostPart {
	return []LostPart{
		{w.text("Left over"), w.text("delivered and not placed"), l.Leftover},
		{w.text("Thickness"), w.text("placed thicker than drawn"), l.Thickness},
		{w.text("Area"), w.text("area × thickness over the drawn volume"), l.Area},
		{w.text("Lost on every job"), w.text("pump line, hopper, washout"), l.Fixed},
		{w.text("Not explained"), w.text("base, forms, spills, measuring"), l.Unexplained},
	}
}

// LostTip says a part where it is pointed at.
func (w Waste) LostTip(p LostPart) string {
	return w.say("{part}: {share}", with{"part": p.Name, "share": w.Long(Percent, p.Share)})
}

// FixedTitle and what follows are the words of what every job loses.
func (w Waste) FixedTitle() string { return w.text("Lost on every job, large or small") }

// FixedSay says why it matters.
func (w Waste) FixedSay() string {
	return w.text("This is why a small job needs a larger share added.")
}

// FixedCaption names the table.
func (w Waste) FixedCaption() string {
	return w.say("Lost on every job, {unit}", with{"unit": w.volume()})
}

// CrewsTitle and what follows are the words of the comparison of crews.
func (w Waste) CrewsTitle() string { return w.text("By crew") }

// CrewsSay says what it compares.
func (w Waste) CrewsSay() string {
	return w.text("How much more or less each crew uses than an average crew on the same jobs.")
}

// CrewsCaption names the table.
func (w Waste) CrewsCaption() string {
	return w.text("Concrete used against an average crew, % of the drawing")
}

// LeaningTitle and what follows are the words of orders that few records make.
func (w Waste) LeaningTitle() string { return w.text("Orders that rest on a few jobs") }

// LeaningSay says what is not in the table.
func (w Waste) LeaningSay() string {
	return w.text("All other orders come out the same all three ways.")
}

// LeaningCaption names the table.
func (w Waste) LeaningCaption() string {
	return w.say("Orders at the usual size, {unit}, counted three ways", with{"unit": w.volume()})
}
