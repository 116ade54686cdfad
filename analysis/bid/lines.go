package bid

import (
	"slices"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// fixedLine is a line of cost that does not swing with how the pour goes.
type fixedLine struct {
	name   CostName
	amount float64
	basis  Basis
}

// owed are the lines that a job of flatwork may have beside those that are drawn,
// in the order of the sheet, each with the stems by which the spec's own items and
// none_needed name it.
var owed = []struct {
	name  CostName
	stems []string
}{
	{CostExcavation, []string{"excav", "dig", "grad"}}, {CostBase, []string{"base", "gravel", "rock"}}, {CostForms, []string{"form"}}, {CostHaulOff, []string{"haul", "dump"}},
	{CostCure, []string{"cur"}}, {CostSeal, []string{"seal"}}, {CostEquipment, []string{"equip", "rent"}}, {CostSubcontract, []string{"sub"}},
	{CostPermits, []string{"permit", "inspect"}}, {CostTravel, []string{"travel", "mile", "mobil"}}, {CostCleanUp, []string{"clean"}},
	{CostCold, []string{"cold", "winter", "blanket"}}, {CostOverhead, []string{"overhead"}}, {CostContingency, []string{"conting"}},
}

func owedNames() []string {
	names := make([]string, len(owed))
	for i, l := range owed {
		names[i] = string(l.name)
	}
	return names
}

// lineNamed is the line that a word of the spec means, "" for none.
func lineNamed(word string) CostName {
	word = record.Fold(word)
	for _, l := range owed {
		if slices.ContainsFunc(l.stems, func(stem string) bool { return strings.Contains(word, stem) }) {
			return l.name
		}
	}
	return ""
}

// lines reckons every line that is not drawn, and says of those that are missing
// whether the owner needs none or the bid leaves them out.
func (w *bidWork) lines() {
	c := &w.b.Cost
	c.NotIncluded, c.NoneNeeded = []CostName{}, []CostName{}
	named := map[CostName]bool{}
	for _, item := range w.spec.Items {
		named[lineNamed(item.Item)] = true
	}
	for _, word := range w.spec.NoneNeeded {
		c.NoneNeeded = append(c.NoneNeeded, lineNamed(word))
	}
	w.coldAsks()
	for _, l := range owed {
		known := w.lineOf(l.name)
		none := slices.Contains(c.NoneNeeded, l.name)
		switch {
		case l.name == CostBase && !none && w.bareGround():
			c.NoneNeeded = append(c.NoneNeeded, l.name)
		case none:
			if l.name == CostBase {
				for _, s := range w.slabs {
					delete(w.prices, "base "+s.Base)
				}
			}
		case known.amount > 0:
			if l.name != CostBase && l.name != CostOverhead && l.name != CostContingency { // those stand elsewhere
				w.fixedLines = append(w.fixedLines, known)
			}
		case l.name == CostCold && !w.coldMonth():
		case !named[l.name]:
			c.NotIncluded = append(c.NotIncluded, l.name)
		}
	}
	if len(w.slabs) > 0 && !slices.ContainsFunc(w.slabs, func(s *bidSlab) bool { return s.Method == "pump" }) {
		c.NoneNeeded = append(c.NoneNeeded, CostPump)
	}
}

// lineOf is what a line comes to; nothing where nobody knows.
func (w *bidWork) lineOf(name CostName) fixedLine {
	p, set, usual := w.spec.Prices, w.opt.Bid, setting.DefaultBidPractice()
	area := w.b.AreaSqft.Figure.Value
	lump := func(amount float64) fixedLine { return fixedLine{name, amount, inSpec} }
	by := func(s sourced, n float64) fixedLine { return fixedLine{name, s.value * n, s.basis} }
	switch name {
	case CostExcavation:
		return lump(p.ExcavationPerSqft * area)
	case CostForms:
		return by(w.resolve(SetForms, "$/ft", p.FormsPerFt, nil, "", set.FormsPerFt, usual.FormsPerFt), w.formFt())
	case CostCure:
		return by(w.resolve(SetCure, "$/ft²", p.CurePerSqft, nil, "", set.CurePerSqft, usual.CurePerSqft), area)
	case CostSeal:
		return lump(p.SealPerSqft * area)
	case CostHaulOff:
		return lump(p.HaulOff)
	case CostEquipment:
		return w.ofJobs(name, p.Equipment)
	case CostSubcontract:
		return w.ofJobs(name, p.Subcontract)
	case CostPermits:
		return lump(p.Permits)
	case CostTravel:
		return lump(p.Travel)
	case CostCleanUp:
		return lump(p.CleanUp)
	case CostCold:
		return w.coldLine()
	case CostBase:
		return fixedLine{name, w.baseOf(), w.baseBasis()}
	case CostOverhead:
		return by(w.overhead(), 1)
	case CostContingency:
		return by(w.contingency(), 1)
	}
	return fixedLine{}
}

// baseOf is what the bases cost.
func (w *bidWork) baseOf() float64 {
	sum := 0.0
	for _, s := range w.slabs {
		sum += w.prices["base "+s.Base].value * s.part.AreaSqft
	}
	return sum
}

// bareGround says whether the spec names a ground that needs no base.
func (w *bidWork) bareGround() bool {
	return !slices.ContainsFunc(w.slabs, func(s *bidSlab) bool { return s.Base != "native" && s.Base != "existing slab" })
}

// formFt is the length of form of all placements.
func (w *bidWork) formFt() float64 {
	sum := 0.0
	for _, s := range w.slabs {
		sum += s.formFt()
	}
	return sum
}

// formFt is the length of form: around the slab but for the sides that it is
// poured against, around holes, a board for each riser, one along a curb.
func (p Placement) formFt() float64 {
	sum, o := 0.0, p.outline()
	for i := range o {
		if !slices.Contains(p.Against, i+1) {
			sum += o.SideFt(i)
		}
	}
	for _, h := range p.holes() {
		sum += h.PerimeterFt()
	}
	return sum + float64(p.Steps.Risers)*p.Steps.WidthFt + p.Curb.LengthFt
}

// ofJobs is what the spec says of an item, else the median of the jobs that paid
// for it, where at least half of all did.
func (w *bidWork) ofJobs(name CostName, spec float64) fixedLine {
	if spec > 0 {
		return fixedLine{name, spec, inSpec}
	}
	spent := spentOn(w.h, string(name))
	if len(spent) < figure.LeastForRate || 2*len(spent) < w.h.Jobs.Len() {
		return fixedLine{}
	}
	q, err := interval.Quantiles(spent, 0.5)
	if err != nil {
		return fixedLine{}
	}
	return fixedLine{name, q[0], Basis{From: FromRecords, N: len(spent), Of: OfJobs, By: ByMedian}}
}

// spentOn is what each job that paid for an item spent on it.
func spentOn(h *record.History, item string) []float64 {
	var spent []float64
	for j := range h.Jobs.Len() {
		sum := 0.0
		for _, c := range h.CostsOf(j) {
			if paid := c.Actual(); c.Item == item && paid.OK {
				sum += paid.V.Dollars()
			}
		}
		if sum > 0 {
			spent = append(spent, sum)
		}
	}
	return spent
}

// overhead and contingency are shares of the job's cost; 0 where nobody set them.
func (w *bidWork) overhead() sourced {
	return w.shareOf(SetOverhead, w.spec.Overhead, w.opt.Bid.Overhead)
}

func (w *bidWork) contingency() sourced {
	return w.shareOf(SetContingency, w.spec.Contingency, w.opt.Bid.Contingency)
}

func (w *bidWork) shareOf(name SettingName, spec, set float64) sourced {
	if lineOf := map[SettingName]CostName{SetOverhead: CostOverhead, SetContingency: CostContingency}[name]; slices.ContainsFunc(w.spec.NoneNeeded, func(word string) bool { return lineNamed(word) == lineOf }) {
		return sourced{0, inSpec}
	}
	s := sourced{set, asSet(set, 0)}
	if spec > 0 {
		s = sourced{spec, inSpec}
	}
	if s.value > 0 {
		w.setting(name, "share", s)
	}
	return s
}

// coldF is the air at and below which concrete is protected: ACI 306R, 40 °F.
const coldF = 40

// coldMonth says whether cold is to be reckoned with in the month of the pour: the
// company's own pours of that month say so, or, where they do not tell, it is one
// of November to March.
func (w *bidWork) coldMonth() bool {
	if air := w.monthsAir(); air.OK {
		return air.V <= coldF
	}
	return w.month >= 11 || w.month >= 1 && w.month <= 3
}

// coldLine is heated mix, blankets and the hours to lay and lift them, where the
// records or the spec say that it will be cold.
func (w *bidWork) coldLine() fixedLine {
	p, set, usual := w.spec.Prices, w.opt.Bid, setting.DefaultBidPractice()
	if air := w.monthsAir(); p.ColdPerYd == 0 && p.BlanketsPerSqft == 0 && !(air.OK && w.coldMonth()) {
		return fixedLine{}
	}
	mix := w.resolve(SetCold, "$/yd", p.ColdPerYd, nil, "", set.ColdPerYd, usual.ColdPerYd)
	blankets := w.resolve(SetBlankets, "$/ft²", p.BlanketsPerSqft, nil, "", set.BlanketsPerSqft, usual.BlanketsPerSqft)
	hours := w.resolve(SetBlanketHours, "person-hours/100 ft²", 0, nil, "", set.BlanketHours, usual.BlanketHours)
	area := w.b.AreaSqft.Figure.Value
	return fixedLine{CostCold, mix.value*w.b.UsedYd.Mean + blankets.value*area + hours.value*area/100*w.wage.value, mix.basis}
}

// coldAsks notes what cold asks for in the month of the pour.
func (w *bidWork) coldAsks() {
	if air := w.monthsAir(); w.coldMonth() {
		w.note(Note{Kind: NoteCold, Each: air.Or(0), N: w.month})
	}
}
