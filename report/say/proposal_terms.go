package say

import (
	"slices"
	"strings"

	"pourback/analysis/bid"
)

// Term is a sentence for the customer with what it rests on, "" where it is our
// own word.
type Term struct{ Text, Source string }

// Included are the lines of the work that the price holds.
func (w Proposal) Included(c *bid.Cost) string {
	var lines []string
	for _, i := range c.Items {
		name := ""
		switch {
		case i.Cost.Mean <= 0:
		case i.Named:
			name = Clean(string(i.Item), ShortName)
		default:
			name = w.customerLine(i.Item)
		}
		if name != "" && !slices.Contains(lines, name) {
			lines = append(lines, name)
		}
	}
	return Capital(w.List(lines)) + "."
}

// customerLine names a line of the work as a customer sees it, "" where it is
// none of theirs.
func (w Proposal) customerLine(name bid.CostName) string {
	switch name {
	case bid.CostConcrete:
		return w.text("concrete delivered and placed")
	case bid.CostPump, bid.CostLabor, bid.CostSteel, bid.CostJoints, bid.CostForms:
		return w.LineName(name)
	case bid.CostCold:
		return w.text("cold weather protection")
	}
	return w.siteLine(name)
}

// siteLine names a line that a job may have or not.
func (w Proposal) siteLine(name bid.CostName) string {
	switch name {
	case bid.CostHaulOff:
		return w.text("hauling off what is dug out")
	case bid.CostBase, bid.CostExcavation, bid.CostCure, bid.CostSeal, bid.CostPermits, bid.CostCleanUp:
		return w.LineName(name)
	}
	return ""
}

// NotIncluded are the lines that the price leaves out, and how what nobody could
// see is settled.
func (w Proposal) NotIncluded(c *bid.Cost) []string {
	var lines []string
	for _, name := range c.NotIncluded {
		if line := w.siteLine(name); line != "" {
			lines = append(lines, line)
		}
	}
	var said []string
	if len(lines) > 0 {
		said = append(said, Capital(w.List(lines))+".")
	}
	return append(said, w.text("Whatever is not named here. Soft ground, rock, roots or buried lines are a change, agreed on in writing first."))
}

// Cracks says which cracks are to be expected, and what the warranty is for so
// many months. own are the owner's words in place of ours on the warranty.
func (w Proposal) Cracks(months float64, steel bool, own string) []Term {
	thin := w.say("Thin cracks may still show beside them. Hairlines, thinner than a credit card ({width}), are usual in sound concrete.", with{"width": w.cardWidth()})
	said := []Term{
		{w.text("Concrete shrinks as it dries, and so it cracks. The joints guide where: most cracks run inside them."), w.text("NRMCA CIP 4 and 6, from memory")},
		{thin, w.text("common practice, no published source")}}
	if steel {
		said = append(said, Term{w.text("Steel does not prevent cracks, it holds them tight."), "UFC 3-250-04 §9-3.1.3"})
	}
	if months > 0 {
		said = append(said, Term{w.plural(int(months+0.5), "Our warranty on this work lasts 1 month from the day of the pour.|Our warranty on this work lasts {n} months from the day of the pour.", nil), ""})
	}
	switch own = Clean(own, LongText); {
	case own != "":
		said = append(said, Term{own, ""})
	case months > 0:
		said = append(said, Term{w.text("Call us about a wider crack, or one with a side that stands higher. We come and look, and put right what our work caused."), ""})
	}
	return append(said, Term{w.text("This is no advice on structure.") + " " + w.CautionsEnd(), ""})
}

// cardWidth is how thick a credit card is: 0.76 mm by ISO/IEC 7810.
func (w Proposal) cardWidth() string {
	if w.Units.Si {
		return w.unit("0.8", " mm")
	}
	return w.unit("1/32", " in")
}

// CareOf says how to treat a new slab, which bears cars or does not.
func (w Proposal) CareOf(cars bool) []Term {
	practice, cured := w.text("common practice, no published source"), w.text("ACI 308R; NRMCA CIP 11, from memory")
	load := Term{w.text("After 7 days: chairs, tables and other heavy things."), practice}
	if cars {
		load = Term{w.text("After 7 days: cars. Keep heavy trucks off for 28 days."), practice}
	}
	return []Term{{w.text("After 1 day: walk on it, without dragging anything."), practice}, load,
		{w.text("The first 7 days: keep it moist, or leave the curing coat alone."), cured},
		{w.text("After 28 days: seal it, if you wish."), practice},
		{w.text("The first year: no deicing salt."), w.text("NRMCA CIP 2, from memory")},
		{w.text("In cold weather all of this takes longer: ask us."), ""}}
}

// ForCompany heads the company's signature.
func (w Proposal) ForCompany(company string) string {
	if company = Clean(company, ShortName); company == "" {
		return w.text("Contractor")
	}
	return w.say("For {company}", with{"company": company})
}

// Phone is what is written before a number of the company's own.
func (v *Voice) Phone(of string) string {
	switch of {
	case "plant":
		return v.text("Plant")
	case "pump":
		return v.text("Pump")
	}
	return v.text("Owner")
}

// License is a contractor's license, as the owner writes it.
func (w Proposal) License(license string) string {
	if license = strings.TrimSpace(Clean(license, ShortName)); license == "" {
		return ""
	}
	return w.say("License {number}", with{"number": license})
}
