package say

import (
	"math"
	"strings"

	"pourback/analysis/bid"
	"pourback/ingest/record"
)

// Proposal says a bid to the customer: what is done and what it is asked for,
// and nothing of what it costs.
type Proposal struct{ PourDay }

// ProposalWords are the words of the proposal that no figure stands in.
type ProposalWords struct {
	Lang, Title, For, Job, Written, Holds, When, Ref            string
	Work, Where, Size, Thick, Base, Steel, Joints, Surface      string
	Price, PriceOf, Paid, In, Out                               string
	Cracks, Care, Agree, Agreed, Customer, Sign, SignName, Date string
	Drawings, Lines, Unreviewed                                 string
}

// Words are the words of the proposal that no figure stands in.
func (w Proposal) Words() ProposalWords {
	p := ProposalWords{Lang: w.Lang(), Title: w.text("Proposal"), For: w.text("For"), Job: w.text("Job number"), Written: w.text("Written on"), Holds: w.text("Price holds until"), When: w.text("Pour planned for"), Ref: w.text("Our reference"),
		Work: w.text("What we will do"), Where: w.text("Slab"), Size: w.text("Size"), Thick: w.text("Thickness"), Base: w.text("Base"), Steel: w.text("Reinforcement"), Joints: w.text("Joints"), Surface: w.text("Finish"),
		Price: w.text("Price"), PriceOf: w.text("for all of the work described here."), Paid: w.text("Payment"), In: w.text("Included"), Out: w.text("Not included"),
		Cracks: w.text("Cracks and warranty"), Care: w.text("Caring for your new slab"), Agree: w.text("Agreed"), Agreed: w.text("The work, the price and the terms on this page."),
		Customer: w.text("Customer"), Sign: w.text("Signature"), SignName: w.text("Name"), Date: w.text("Date"),
		Drawings: w.text("Drawing"), Lines: w.text("Each slab is drawn to a scale of its own; the written sizes hold. Thin dashes are joints.")}
	p.Unreviewed = w.Unreviewed()
	return p
}

// Pouring is when the pour is planned: a day, or a month.
func (w Proposal) Pouring(b *bid.Bid) string {
	if d, err := record.ParseDate(b.On); err == nil {
		return w.Day(d)
	}
	if len(b.On) == len("2006-01") {
		return w.Month(b.On)
	}
	return w.MonthName(b.Month)
}

// Reference names the kept bid that the proposal is of, "" where it is not kept.
func (w Proposal) Reference(id string) string {
	if id == "" {
		return ""
	}
	return w.say("bid {id}", with{"id": id})
}

// Until is the last of so many days from the day of writing, or "" where that is
// no day.
func (w Proposal) Until(asOf string, days int) string {
	d, err := record.ParseDate(asOf)
	if err != nil {
		return ""
	}
	return w.Day(d + record.Date(days))
}

// Slab is what a placement is called and what it is.
func (w Proposal) Slab(p *bid.Part, several bool) string {
	if name := Clean(p.Name, ShortName); several && name != "" && !strings.EqualFold(name, p.Use) {
		return w.say("{name}: {use}", with{"name": name, "use": w.Word(p.Use)})
	}
	return Capital(w.Word(p.Use))
}

// Base is what the slab is poured on.
func (w Proposal) Base(base string) string {
	switch base {
	case "":
		return w.open()
	case "native":
		return w.text("the ground as it is")
	case "compacted":
		return w.text("compacted ground")
	case "crushed base":
		return w.text("compacted crushed rock")
	}
	return w.Word(base)
}

// open stands where the bid does not say.
func (w Proposal) open() string { return w.text("to be agreed") }

// Steel is the reinforcement of a placement: the bars or the mesh that are asked
// for or, where none are, those that are planned.
func (w Proposal) Steel(asked bid.Placement, ways []bid.SteelWay) string {
	var said []string
	for _, way := range ways {
		if !way.Chosen {
			continue
		}
		switch t := way.Takeoff; {
		case way.Way == "none":
			said = append(said, w.text("no reinforcement"))
		case way.Way == "rebar" && t.Grid.SpacingIn > 0:
			said = append(said, w.say("{bar} rebar, {spacing} apart both ways", with{"bar": "#" + Count(t.Grid.Bar), "spacing": w.Inches(t.Grid.SpacingIn)}))
		case way.Way == "mesh" && t.WireSpacingIn > 0:
			said = append(said, w.say("welded wire mesh, {spacing} by {spacing}, W{wire}", with{"spacing": w.Inches(t.WireSpacingIn), "wire": trimmed(t.Wire, 1)}))
		case way.Way == "fiber":
			said = append(said, w.text("fiber in the mix"))
		default:
			said = append(said, w.Word(way.Way))
		}
	}
	if said == nil {
		said = append(said, w.What("", asked.Reinforcement, asked.Bar, "", ""))
	}
	return strings.Join(said, ", ")
}

// JointsOf is how the slab is divided.
func (w Proposal) JointsOf(asked bid.Placement, j *bid.JointPlan) string {
	switch {
	case asked.StepsOnly():
		return w.text("no joints")
	case len(j.Cuts) == 0:
		return w.text("none inside the slab")
	case j.Tooled:
		return w.say("tooled by hand, panels up to {longest}", with{"longest": w.Side(j.LongestFt)})
	}
	return w.say("sawn, panels up to {longest}", with{"longest": w.Side(j.LongestFt)})
}

// Surface is the finish, and how it is cured where that is said.
func (w Proposal) Surface(asked bid.Placement) string {
	finish := w.open()
	if asked.Finish != "" {
		finish = w.finishing(asked.Finish)
	}
	switch asked.Curing {
	case "compound":
		return w.say("{finish}; cured with a compound", with{"finish": finish})
	case "water":
		return w.say("{finish}; kept wet to cure", with{"finish": finish})
	case "sheet", "blanket":
		return w.say("{finish}; covered to cure", with{"finish": finish})
	}
	return finish
}

// finishing is a finish in words, where it is a usual one.
func (w Proposal) finishing(finish string) string {
	switch strings.ToLower(finish) {
	case "broom", "broomed", "broom finish":
		return w.text("broomed")
	case "trowel", "troweled", "steel trowel", "smooth":
		return w.text("troweled smooth")
	case "exposed", "exposed aggregate":
		return w.text("exposed aggregate")
	case "stamped", "stamp":
		return w.text("stamped")
	}
	return Clean(finish, ShortName)
}

// Also is what is poured with the slab, and the strength of its concrete where
// the bid asks for one.
func (w Proposal) Also(asked bid.Placement) []string {
	said := w.beside(asked)
	if asked.MixPSI > 0 {
		said = append(said, w.say("Concrete of {strength} at 28 days.", with{"strength": w.Strength(asked.MixPSI)}))
	}
	return said
}

// Size is how large a slab is, with its sides where they are drawn; of steps alone,
// how many they are.
func (w Proposal) Size(asked bid.Placement, p *bid.Part) string {
	area := w.Area(p.AreaSqft)
	switch across := asked.CircleFt(); {
	case asked.StepsOnly():
		return w.plural(asked.Steps.Risers, "1 step, {width} wide|{n} steps, {width} wide", with{"width": w.Feet(asked.Steps.WidthFt)})
	case p.AreaSqft == 0:
		return "—"
	case across > 0:
		return w.say("a circle {across} across, {area}", with{"across": w.Feet(across), "area": area})
	}
	var wide, high float64
	for _, v := range p.Joints.Shape {
		wide, high = max(wide, v.X), max(high, v.Y)
	}
	if !p.Joints.Drawn || math.Min(wide, high) <= 0 {
		return area
	}
	return w.say("{long} by {wide}, {area}", with{"long": w.Side(wide), "wide": w.Side(high), "area": area})
}

// Thick is how thick a slab is to be; steps stand on the ground as a block, or are as
// thick as the slab below them.
func (w Proposal) Thick(asked bid.Placement, meanIn float64) string {
	switch {
	case !asked.StepsOnly():
		return w.PourDay.Thick(asked, meanIn)
	case asked.Steps.Solid:
		return w.text("solid to the ground")
	}
	return w.say("{thick} under the steps", with{"thick": w.Inches(asked.ThicknessIn)})
}

// SlabDrawn says what a drawing on the proposal shows.
func (w Proposal) SlabDrawn(slab string, asked bid.Placement, p *bid.Part) string {
	if !p.Joints.Drawn {
		return w.say("{slab}. The shape is not agreed yet: this drawing only stands in for it.", with{"slab": slab})
	}
	return w.say("{slab}: {size}, {panels}.", with{"slab": slab, "size": w.Size(asked, p), "panels": w.plural(len(p.Joints.Panels), "1 panel|{n} panels", nil)})
}
