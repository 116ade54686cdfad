package say

import "pourback/analysis/bid"

// ofSlab says what is wrong with a thickness or a mix.
func (w Bid) ofSlab(p bid.Problem) (said Problem, ok bool) {
	a := p.Amounts
	guide := func(wrong string) (Problem, bool) {
		return Problem{Wrong: wrong, Right: w.Inches(a.Usual),
			Source: w.say("common practice: {usual} for walks, patios and drives (ACI 332 and ACI 302.1R, from memory)", with{"usual": w.Inches(4)})}, true
	}
	switch p.What {
	case bid.NoThickness:
		return Problem{Wrong: w.text("no thickness"), Right: w.say("such as {usual}", with{"usual": "4"})}, true
	case bid.WrongThickness:
		return Problem{Wrong: w.text("not the thickness of a slab"), Right: w.say("more than 0 and up to {most}; did you mean feet or millimeters?", with{"most": w.Inches(a.Most)})}, true
	case bid.Topping:
		return guide(w.text("thinner than any slab on ground: a topping, which breaks unless it is bonded to a slab"))
	case bid.Thin:
		return guide(w.text("thinner than the usual slab on ground"))
	case bid.ThinForWheels:
		said, ok := guide(w.text("thin for wheels"))
		said.Right = w.say("{usual}; for trucks {least} or {most}", with{"usual": w.Inches(a.Usual), "least": w.Inches(a.Least), "most": w.Inches(a.Most)})
		return said, ok
	case bid.Massive:
		return Problem{Wrong: w.text("so thick that it holds its heat: no longer flatwork"), Right: w.text("ask an engineer"), Source: w.unpublished()}, true
	case bid.WeakMix:
		return Problem{Wrong: w.text("weaker than the least for slabs on ground"),
			Right:  w.say("{usual}; {least} to {most} where it freezes", with{"usual": w.Strength(a.Usual), "least": w.Strength(a.Least), "most": w.Strength(a.Most)}),
			Source: w.say("{source}, from memory", with{"source": "ACI 332"})}, true
	}
	return Problem{}, false
}

func (w Bid) unpublished() string { return w.text("common practice, no published source") }

// ofSteel says what is wrong with the reinforcement.
func (w Bid) ofSteel(p bid.Problem) (said Problem, ok bool) {
	a := p.Amounts
	cover := w.say("ACI 318 cover: {small} for #5 and smaller exposed to weather, {earth} where cast against earth; from memory", with{"small": w.Inches(1.5), "earth": w.Inches(3)})
	switch p.What {
	case bid.NoneAndSome:
		return Problem{Wrong: w.text("“none” and a reinforcement at once"), Right: w.text("give one of the two")}, true
	case bid.TightBars:
		return Problem{Wrong: w.text("closer than concrete can pass"), Right: w.say("{least} to {most}; did you mean feet?", with{"least": w.Inches(a.Least), "most": w.Inches(a.Most)}), Source: w.unpublished()}, true
	case bid.WideBars:
		return Problem{Wrong: w.text("wider than bars are laid in flatwork"), Right: w.say("{least} to {most}", with{"least": w.Inches(12), "most": w.Inches(a.Most)}),
			Source: w.say("common practice, no published source; a structural slab has 3 times its thickness and {structural} at most: {source}, from memory", with{"structural": w.Inches(18), "source": "ACI 318"})}, true
	case bid.NoBar:
		return Problem{Wrong: w.text("not a bar for flatwork"), Right: w.Either([]string{"#3", "#4", "#5", "#6"}), Source: w.say("{source}, from memory", with{"source": "ASTM A615"})}, true
	case bid.IdleBar:
		return Problem{Wrong: w.text("a bar or mesh size, but no reinforcement that uses it"), Right: w.say("write {words}", with{"words": "reinforcement: rebar"})}, true
	case bid.LittleCover:
		return Problem{Wrong: w.say("two layers of #{bar} in {slab} leave less than {cover} of concrete over and under them", with{"bar": Count(a.Bar), "slab": w.Inches(a.Is), "cover": w.Inches(a.Usual)}),
			Right: w.say("{least} or more for #{bar} both ways, or mesh or fiber", with{"least": w.Inches(a.Least), "bar": Count(a.Bar)}), Source: cover}, true
	case bid.LittleMeshCover:
		return Problem{Wrong: w.say("mesh in {slab} leaves less than {cover} of concrete over and under it", with{"slab": w.Inches(a.Is), "cover": w.Inches(a.Usual)}),
			Right: w.say("{least} or more", with{"least": w.Inches(a.Least)}), Source: cover}, true
	}
	return Problem{}, false
}

// ofJoints says what is wrong with the spacing of joints.
func (w Bid) ofJoints(p bid.Problem) (said Problem, ok bool) {
	a := p.Amounts
	switch p.What {
	case bid.WideJoints:
		return Problem{Wrong: w.text("panels that long crack on their own"), Right: w.say("at most {most}, and 24 to 36 times the thickness", with{"most": w.Feet(a.Most)}),
			Source: w.say("{table}: {least} to {most}; {never}, from memory: never above {most}", with{"table": sourceUFCJoint, "least": w.Feet(10), "most": w.Feet(15), "never": "NRMCA CIP 6"})}, true
	case bid.TinyPanels:
		return Problem{Wrong: w.say("panels shorter than {least}", with{"least": w.Feet(1)}), Right: w.text("give the spacing in feet; did you mean thicknesses?")}, true
	case bid.Over36:
		return Problem{Wrong: w.say("more than 36 times the thickness of {slab}", with{"slab": w.Inches(a.Is)}), Right: w.say("at most {most}", with{"most": w.Feet(a.Most)}), Source: sourceCSA}, true
	case bid.OverSlab:
		return Problem{Wrong: w.say("wider than the slab, which is {slab} at most: it gets no joint", with{"slab": w.Feet(a.Is)}), Right: w.text("leave it out, or write a smaller one")}, true
	case bid.SmallPanels:
		return Problem{Wrong: w.text("many small panels"), Right: w.text("24 times the thickness will do"), Source: w.cement()}, true
	case bid.NoJoints:
		return Problem{Wrong: w.text("without joints the slab chooses where to crack"), Right: w.say("one of {words}", with{"words": "saw, early-entry, tooled"}), Source: sourceCSA}, true
	}
	return Problem{}, false
}

// ofPump says what is wrong with the pump, its hose or the aggregate for it.
func (w Bid) ofPump(p bid.Problem) (said Problem, ok bool) {
	a := p.Amounts
	line := w.say("{source}: aggregate at most a third of the line's inside diameter, a quarter to be safer", with{"source": "ACI 304"})
	switch p.What {
	case bid.IdlePump:
		return Problem{Wrong: w.text("a pump outfit, but nothing is pumped"), Right: w.say("write {words}", with{"words": "method: pump"})}, true
	case bid.NoHose:
		return Problem{Wrong: w.text("not a pump hose size"), Right: w.say("{least} to {most}", with{"least": w.Inches(a.Least), "most": w.Inches(a.Most)})}, true
	case bid.WillClog:
		return Problem{Wrong: w.say("too large for a hose of {hose}: it will clog", with{"hose": w.Inches(a.Is)}),
			Right: w.say("at most {most}, or a hose of {hose}", with{"most": w.Inches(a.Most), "hose": w.Inches(a.Usual)}), Source: line}, true
	case bid.MayClog:
		return Problem{Wrong: w.say("more than a quarter of the hose of {hose}", with{"hose": w.Inches(a.Is)}), Right: w.say("at most {most} to be safer", with{"most": w.Inches(a.Most)}), Source: line}, true
	}
	return Problem{}, false
}
