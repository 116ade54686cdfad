package say

import (
	"strings"

	"pourback/analysis/visits"
)

// Poured says the conditions of a pour that are on record.
func (s Slabs) Poured(p *visits.PourRecord) string {
	if !p.Known() {
		return s.text("Poured; nothing is recorded of the conditions")
	}
	said := s.weather(p)
	said = append(said, s.loads(p)...)
	said = append(said, s.work(p)...)
	return Clean(s.say("Poured: {conditions}", with{"conditions": strings.Join(said, ", ")}), LongText)
}

func (s Slabs) weather(p *visits.PourRecord) (said []string) {
	if p.AirF.OK {
		said = append(said, s.say("air {degrees}", with{"degrees": s.Degrees(p.AirF.V)}))
	}
	if p.ConcreteF.OK {
		said = append(said, s.say("concrete {degrees}", with{"degrees": s.Degrees(p.ConcreteF.V)}))
	}
	if p.Drying.OK {
		said = append(said, s.say("evaporation {rate}", with{"rate": s.Drying(p.Drying.V)}))
	}
	return said
}

func (s Slabs) loads(p *visits.PourRecord) (said []string) {
	low, high := p.SlumpLowIn, p.SlumpHighIn
	switch {
	case low.OK && low.V == high.V:
		said = append(said, s.say("slump {slump}", with{"slump": s.Inches(low.V)}))
	case low.OK:
		said = append(said, s.say("slump {low} to {high}", with{"low": s.Inches(low.V), "high": s.Inches(high.V)}))
	}
	switch {
	case p.WaterGal.OK && p.WaterGal.V == 0:
		said = append(said, s.text("no water added"))
	case p.WaterGal.OK:
		said = append(said, s.say("{water} of water added", with{"water": s.Gallons(p.WaterGal.V)}))
	}
	switch {
	case p.DelayMin.OK && p.DelayMin.V == 0:
		said = append(said, s.text("no delays"))
	case p.DelayMin.OK:
		said = append(said, s.say("{minutes} of delays", with{"minutes": s.Minutes(float64(p.DelayMin.V))}))
	}
	return said
}

func (s Slabs) work(p *visits.PourRecord) (said []string) {
	if p.JointFt.OK {
		said = append(said, s.say("a joint every {spacing}", with{"spacing": s.Feet(p.JointFt.V)}))
	}
	if p.JointCut != "" {
		said = append(said, s.say("joints: {cut}", with{"cut": s.words(p.JointCut)}))
	}
	if p.SawHours.OK {
		said = append(said, s.say("sawn after {hours}", with{"hours": hoursSign(p.SawHours.V)}))
	}
	if p.Curing != "" {
		said = append(said, s.say("curing: {curing}", with{"curing": s.words(p.Curing)}))
	}
	if p.Base != "" {
		said = append(said, s.say("on {base}", with{"base": s.words(p.Base)}))
	}
	if p.Crew != "" {
		said = append(said, s.say("by {crew}", with{"crew": Clean(p.Crew, ShortName)}))
	}
	return said
}

// words are several words of the records' vocabularies, joined by a +.
func (v *Voice) words(joined string) string {
	all := strings.Split(joined, "+")
	for i := range all {
		all[i] = v.Word(all[i])
	}
	return v.List(all)
}

// Outside says in which ways a pour lies outside a guide.
func (s Slabs) Outside(t *visits.SlabStory) string {
	return s.say("Outside the guide: {signs}", with{"signs": s.signs(t.Signs)})
}

// SlabHeads are the heads of the table of a slab's story.
type SlabHeads struct{ Day, Age, What, Width, Opened, Cost string }

// Heads are those of a slab's story; widths are in the unit that is read.
func (s Slabs) Heads() SlabHeads {
	of := with{"unit": s.sign(s.CrackWidths())}
	return SlabHeads{s.text("Day"), s.text("Age"), s.text("What"), s.say("Width, {unit}", of), s.say("Opened, {unit}", of), s.text("Cost")}
}

// RowsLeft says how many visits a story leaves out.
func (s Slabs) RowsLeft(n int) string {
	return s.plural(n, "And 1 more; the record files have it.|And {n} more; the record files have them all.", nil)
}
