package say

import (
	"math"

	"pourback/analysis/bid"
	"pourback/analysis/trade"
)

// BidJoints names what the table on a placement's joints holds.
type BidJoints struct {
	Title, Caption                                              string
	Panels, Longest, Worst, Spacing, Cut, Depth, Early, OwnRisk string
}

// Joints says what the joints of a placement are of.
func (w Bid) Joints(part string) BidJoints {
	return BidJoints{Title: w.say("Joints: {placement}", with{"placement": part}), Caption: w.say("Joints and cuts: {placement}", with{"placement": part}),
		Panels: w.text("Panels"), Longest: w.text("Longest side of a panel"), Worst: w.text("Worst panel, long side over short side"), Spacing: w.text("Joint spacing, at most"),
		Cut: w.text("Joints to cut"), Depth: w.text("Depth of the cut"), Early: w.text("Depth of an early-entry cut"), OwnRisk: w.text("Your records: cracks within the warranty at this spacing")}
}

// JointNotes are when to saw, what is published, what the company's own record
// says, and what is to be said about the layout. Where the day's clock tells when
// to saw, with its weather, nothing else does.
func (w Bid) JointNotes(j *bid.JointPlan, clocked bool) []string {
	var said []string
	if s := w.Sawing(j.Saw); s != "" && !clocked {
		said = append(said, w.say("When to saw: {when}", with{"when": s}))
	}
	said = append(said, w.Guide(j.Guide), w.OwnSlabs(j.Slabs))
	return append(said, w.Layout(j)...)
}

// Sawing is when to saw, "" where nothing is sawn.
func (w Bid) Sawing(s bid.Sawing) string {
	values := with{"from": trimmed(s.From, 0), "to": trimmed(s.To, 0), "source": sourceUFCSaw}
	said := ""
	switch s.When {
	case bid.SawEarly:
		values["source"] = sourceACI302
		said = w.say("{from} to {to} hours after placing, early-entry ({source}, from memory).", values)
	case bid.SawWarm:
		said = w.say("{from} to {to} hours after placing in warm weather ({source}).", values)
	case bid.SawCold:
		said = w.say("{from} to {to} hours after placing in cold weather ({source}).", values)
	case bid.SawGeneral:
		values["source"] = sourceCSA
		said = w.say("{from} to {to} hours after placing ({source}).", values)
	default:
		return ""
	}
	return said + " " + w.text("The slab decides: as soon as the cut does not ravel, and before it cracks on its own.")
}

// Guide is what is published of the spacing of joints.
func (w Bid) Guide(g bid.Guidance) string {
	if g.ThicknessIn == 0 {
		return ""
	}
	return w.say("Published guide: for {slab}, joints {from} to {to} apart (24 to 36 times the thickness), never over {cap}.",
		with{"slab": w.Inches(g.ThicknessIn), "from": w.Feet(math.Round(g.FromFt)), "to": w.Feet(math.Round(g.ToFt)), "cap": w.Feet(trade.SpacingCapFt)}) + " " +
		w.say("Keep panels near square: at most {limit} times as long as wide without steel, and never over {loose}.",
			with{"limit": trimmed(trade.AspectLimit, 2), "loose": trimmed(trade.AspectLimitLoose, 2)})
}

// GuideSources are the publications behind the guide, each with what it says.
func (w Bid) GuideSources() []GuideSource {
	return []GuideSource{
		{w.text("24 to 36 thicknesses; cut a quarter to a third of the thickness"), sourceCSA},
		{w.text("24, 30 or 36 times the thickness, by the mix"), w.cement()},
		{w.say("never above {cap}", with{"cap": w.Feet(15)}), w.say("{source}, from memory", with{"source": "NRMCA CIP 6"})},
		{w.say("{least} to {most} under {thick}; length over width at most 1.25 without steel", with{"least": w.Feet(10), "most": w.Feet(15), "thick": w.Inches(9)}), "UFC 3-250-04, Table 9-1, §9-3.1.2"},
		{w.text("length over width at most 1.5"), w.say("{source}, as quoted elsewhere", with{"source": "ACI 360-06"})},
	}
}

// GuideSource is a publication with what it says.
type GuideSource struct {
	Says   string `json:"says"`
	Source string `json:"source"`
}

// OwnSlabs is what the company's own slabs of the kind have shown.
func (w Bid) OwnSlabs(o *bid.OwnSlabs) string {
	if o == nil {
		return w.text("Your records have no such slab yet: keep to the published guide.")
	}
	apart := w.say("{from} apart and more", with{"from": w.Feet(o.FromFt)})
	if o.ToFt > 0 {
		apart = w.say("{from} to {to} apart", with{"from": w.Feet(o.FromFt), "to": w.Feet(o.ToFt)})
	}
	said := w.say("Your records: {slabs} with {steel} and joints {apart} had {callbacks} in {years}.", with{
		"slabs": w.plural(o.N, "1 slab|{n} slabs", nil), "steel": w.Reinforcement(o.Reinforcement), "apart": apart,
		"callbacks": w.plural(o.Callbacks, "1 callback for cracks|{n} callbacks for cracks", nil), "years": w.plural(int(math.Round(o.Years)), "1 year watched, all slabs together|{n} years watched, all slabs together", nil)})
	if o.TooFew {
		return said + " " + w.text("That is too early to say anything.")
	}
	return said
}

// Reinforcement is a way of reinforcing in a sentence.
func (w Bid) Reinforcement(word string) string {
	if word == "none" || word == "" {
		return w.text("no reinforcement")
	}
	return w.Word(word)
}

// Layout is what is to be said about the panels of a placement.
func (w Bid) Layout(j *bid.JointPlan) []string {
	said := make([]string, 0, len(j.Notes))
	for _, n := range j.Notes {
		said = append(said, w.layout(n))
	}
	return said
}

func (w Bid) layout(n bid.JointNote) string {
	switch n.Kind {
	case bid.JointAssumed:
		return w.say("You gave an area without its shape: a slab of {length} by {width} stands in for it.", with{"length": w.Feet(n.LengthFt), "width": w.Feet(n.WidthFt)})
	case bid.JointStrip:
		return w.say("A strip under {narrow} wide keeps to the spacing only: square panels would be too small.", with{"narrow": w.Feet(trade.NarrowFt)})
	case bid.JointLong:
		return w.say("The longest panel is {ratio} times as long as wide. That is over {limit}, the limit without steel, and within {loose}.",
			with{"ratio": Grouped(n.Ratio, 2), "limit": trimmed(trade.AspectLimit, 2), "loose": trimmed(trade.AspectLimitLoose, 2)})
	case bid.JointThrough:
		return w.text("Joints start at inside corners and holes, where a crack would start, and each runs through to an edge.")
	case bid.JointBeyond:
		return w.say("{panels} longer than {loose} times the width, the longest {ratio} times: this shape leaves no better ones. Add a joint or a bar there if it crosses your eye.",
			with{"panels": w.plural(n.N, "1 panel is|{n} panels are", nil), "loose": trimmed(trade.AspectLimitLoose, 2), "ratio": Grouped(n.Ratio, 2)})
	case bid.JointBars:
		return w.plural(n.N, "1 inside corner without joints both ways gets a bar across it, drawn thick: 2 ft, a hand's breadth from the corner.|{n} bars go across inside corners without joints both ways, drawn thick: 2 ft each, a hand's breadth from the corner.", nil)
	case bid.JointMissed:
		return w.plural(n.N, "1 existing joint is not met: isolate the slab there.|{n} existing joints are not met: isolate the slab there.", nil)
	case bid.JointFirst:
		return w.say("Cut the longest joint first, {length}.", with{"length": w.Side(n.LengthFt)})
	case bid.JointFirstCorner:
		return w.say("Cut the joint from the inside corner or the hole first, {length}: a crack would start there.", with{"length": w.Side(n.LengthFt)})
	case bid.JointIsolated:
		return w.text("Dotted lines are isolation joints: full-depth strips, so that slab and neighbor move apart.")
	case bid.JointTooled:
		return w.text("Tool the joints once the bleed water is gone and the groove keeps its edges, before the last pass of the trowel or the broom (common practice, no published source).")
	}
	return ""
}

// Plan says what a drawing of panels shows.
func (w Bid) Plan(part, long, wide string, j *bid.JointPlan) string {
	said := w.say("{placement}, {long} by {wide}: {panels}, drawn to scale.",
		with{"placement": Capital(part), "long": long, "wide": wide, "panels": w.plural(len(j.Panels), "1 panel|{n} panels", nil)})
	switch {
	case len(j.Cuts) == 0:
		return said
	case j.Tooled:
		return said + " " + w.text("Dashes with dots are tooled joints.")
	}
	return said + " " + w.text("Dashed lines are sawn joints.")
}

// Side is a length as it is laid out: 7′ 6″, or 2.29 m.
func (w Bid) Side(ft float64) string {
	if w.Units.Si {
		return trimmed(ft*w.Units.Spacing.Factor, 2) + w.Units.Spacing.Unit
	}
	whole, inches := math.Floor(ft), math.Round((ft-math.Floor(ft))*12)
	if inches == 12 {
		whole, inches = whole+1, 0
	}
	if inches == 0 {
		return Grouped(whole, 0) + "′"
	}
	return Grouped(whole, 0) + "′ " + Grouped(inches, 0) + "″"
}

// EvenSides are several sides of one length, in ft, as a plan is marked.
func (w Bid) EvenSides(n int, ft float64) string { return Count(n) + " × " + w.Side(ft) }

// Depth is the two ends of a depth to cut to, in eighths of an inch: "1 to 1⅜ in".
func (w Bid) Depth(n bid.Number) Cell {
	f := n.Figure
	text, unit := eighths, " in"
	if w.Units.Si {
		text, unit = func(in float64) string { return Grouped(25.4*in, 0) }, " mm"
	}
	switch {
	case !f.Known():
		return w.Cell(Plain, f)
	case f.Bounded && text(f.High) != text(f.Low):
		return Cell{Text: w.unit(w.to(text(f.Low), text(f.High)), unit)}
	}
	return Cell{Text: w.unit(text(f.Value), unit)}
}

// eighths is a length to the nearest eighth: 1⅜.
func eighths(v float64) string {
	n := int(math.Round(v * 8))
	whole, part := n/8, string([]rune(" ⅛¼⅜½⅝¾⅞")[n%8])
	switch {
	case n%8 == 0:
		return Count(whole)
	case whole == 0:
		return part
	}
	return Count(whole) + part
}
