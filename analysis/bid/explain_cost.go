package bid

import (
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/figure"
)

// line is a line of cost. Its mean is that of the simulated jobs, so what a pencil
// makes of its parts is short of it by the luck of the draws.
func (e *explainer) line(item CostItem) {
	terms, s := [][]Input(nil), item.Cost
	if !item.Named {
		terms = e.termsOf(item)
	}
	rest := InOther
	if slices.Contains([]CostName{CostConcrete, CostShortLoads, CostPump, CostLabor, CostDelay, CostCallbacks, CostLean}, item.Item) && !item.Named {
		rest = InRest
	}
	if len(terms) == 0 {
		terms = [][]Input{{in(InEntered, s.Mean, "$", s.Basis)}}
	}
	e.add(Working{Figure: WorkCost, Section: SectionCost, Item: item, Terms: terms, Is: in(InCost, s.Mean, "$", s.Basis)}, rest)
}

// termsOf are what a line is made of; none where it stands as it was entered.
func (e *explainer) termsOf(item CostItem) [][]Input {
	used := in(InUsed, e.b.UsedYd.Mean, "yd", e.b.UsedYd.Basis)
	switch item.Item {
	case CostConcrete:
		return e.concreteCost()
	case CostShortLoads:
		var terms [][]Input
		for _, d := range e.b.Days {
			if d.Order.ShortFee > 0 {
				terms = append(terms, []Input{in(InShortFee, d.Order.ShortFee, "$", e.b.Setting(SetShortLoadPerYd).Basis)})
			}
		}
		return terms
	case CostPump:
		return e.pumpTerms()
	case CostLabor:
		return e.laborCost(item)
	case CostDelay:
		return [][]Input{e.waitCost()}
	case CostSteel:
		return e.steelCost()
	case CostJoints:
		var terms [][]Input
		for i, p := range e.b.Placements {
			if cut := p.Joints.CutFt; e.sawn(i) && cut.Figure.Value > 0 {
				terms = append(terms, []Input{in(InCut, cut.Figure.Value, "ft", cut.Basis), e.set(SetCut)})
			}
		}
		return terms
	case CostCallbacks:
		return [][]Input{e.reserve()}
	case CostLean:
		return [][]Input{{in(InBeforeLean, e.beforeLean(), "$", e.b.Cost.Total.Basis), in(InLean, leanOnAverage(e.b.Lean.Share), "share", item.Cost.Basis)}}
	case CostCold:
		return [][]Input{{used, e.set(SetCold)}, {e.area(), e.set(SetBlankets)}, {e.area(), over(100, InHundred), e.set(SetBlanketHours), e.set(SetWage)}}
	}
	return e.byArea(item)
}

func (e *explainer) area() Input { return in(InArea, e.b.AreaSqft.Figure.Value, "ft²", inSpec) }

// leanOnAverage is what past bids add on average: more than their middle value, for what
// is not known of it weighs more above than below (the mean of a lognormal law).
func leanOnAverage(f figure.Figure) float64 {
	if !f.Bounded {
		return f.Value
	}
	z := distuv.UnitNormal.Quantile((1 + f.Level) / 2)
	sd := math.Log((1+f.High)/(1+f.Low)) / (2 * z)
	return (1+f.Value)*math.Exp(sd*sd/2) - 1
}

// byArea are the lines that go by the area, the forms or the base.
func (e *explainer) byArea(item CostItem) [][]Input {
	prices := e.b.Spec.Prices
	switch item.Item {
	case CostExcavation:
		return [][]Input{{e.area(), in(InPrice, prices.ExcavationPerSqft, "$/ft²", inSpec)}}
	case CostSeal:
		return [][]Input{{e.area(), in(InPrice, prices.SealPerSqft, "$/ft²", inSpec)}}
	case CostCure:
		return [][]Input{{e.area(), e.set(SetCure)}}
	case CostForms:
		ft := 0.0
		for _, p := range e.slabs {
			ft += p.formFt()
		}
		return [][]Input{{in(InForms, ft, "ft", drawing), e.set(SetForms)}}
	case CostBase:
		var terms [][]Input
		for i, p := range e.b.Placements {
			if i < len(e.slabs) {
				if price := e.setOf(SetBase, e.slabs[i].Base); price.Value > 0 {
					terms = append(terms, []Input{in(InArea, p.AreaSqft, "ft²", inSpec), price})
				}
			}
		}
		return terms
	}
	return nil
}

// concreteCost is the order and the extra load if it runs short, at the price; what is
// left over, to dispose of; and what running short costs, by its chance.
func (e *explainer) concreteCost() [][]Input {
	var terms [][]Input
	price := e.set(SetConcrete)
	for _, d := range e.b.Days {
		o := d.Order
		b := o.ChanceShort.Basis
		terms = append(terms, []Input{in(InOrder, o.Yd, "yd", b), price})
		if o.BalanceYd >= 0.005 {
			terms = append(terms, []Input{in(InExtraYd, o.BalanceYd, "yd", b), price})
		}
		if disposal := e.set(SetDisposal); o.LeftoverYd*disposal.Value >= 0.005 {
			terms = append(terms, []Input{in(InLeftover, o.LeftoverYd, "yd", b), disposal})
		}
		if o.ChanceShort.Figure.Value*d.RunningShort.Cost >= 0.005 {
			terms = append(terms, []Input{in(InChanceShort, o.ChanceShort.Figure.Value, "share", b), in(InRunsShort, d.RunningShort.Cost, "$", e.b.Setting(SetExtraFee).Basis)})
		}
	}
	return terms
}

// pumpTerms are the hire of each pumped placement, its yards and its hours.
func (e *explainer) pumpTerms() [][]Input {
	var terms [][]Input
	has := func(name SettingName) bool {
		return slices.ContainsFunc(e.b.Settings, func(s Setting) bool { return s.Name == name })
	}
	for _, p := range e.b.Placements {
		if p.Method != "pump" {
			continue
		}
		used := in(InPumped, p.UsedYd.Mean, "yd", p.UsedYd.Basis)
		if has(SetPumpHire) {
			terms = append(terms, []Input{e.set(SetPumpHire)})
		}
		switch price := e.b.Spec.Prices.PumpPerYd; {
		case has(SetPumpPerYd):
			terms = append(terms, []Input{used, e.set(SetPumpPerYd)})
		case price > 0:
			terms = append(terms, []Input{used, in(InPrice, price, "$/yd", inSpec)})
		}
		if has(SetPumpHour) {
			hours := (e.b.Setting(SetPlaceMin).Value*p.UsedYd.Mean + p.Delay.ClogMin.Figure.Value + e.b.Delay.OtherMin.Figure.Value/float64(len(e.b.Placements))) / 60
			terms = append(terms, []Input{in(InPumpHours, max(hours, e.b.Setting(SetPumpMinimum).Value), "h", e.b.Delay.OtherMin.Basis), e.set(SetPumpHour)})
		}
	}
	return terms
}

// laborCost is hours at the wage, less the waiting that is in the hours on record and
// stands under delays.
func (e *explainer) laborCost(item CostItem) [][]Input {
	l, wage := e.b.Labor, e.set(SetWage)
	hours := in(InHours, l.Mean.Figure.Value, "person-hours", l.Mean.Basis)
	share := l.Waiting
	if share == 0 && e.b.Delay.InHours { // kept before bids said it
		share = 1 - item.Cost.Mean/(hours.Value*wage.Value)
	}
	terms := [][]Input{{hours, wage}}
	if share > 0 {
		less := hours
		less.Value = -less.Value
		terms = append(terms, []Input{less, in(InWaitShare, share, "share", e.b.Delay.OtherMin.Basis), wage})
	}
	return terms
}

func (e *explainer) steelCost() [][]Input {
	var terms [][]Input
	for _, p := range e.b.Placements {
		for _, way := range p.Steel {
			cost := way.Material.Figure.Value
			if !way.Chosen || cost == 0 {
				continue
			}
			switch name := map[string]SettingName{"mesh": SetMesh, "rebar": SetRebar, "fiber": SetFiber}[way.Way]; {
			case way.Way == "fiber":
				terms = append(terms, []Input{in(InUsed, p.UsedYd.Mean, "yd", p.UsedYd.Basis), e.set(name)})
			case way.Material.Basis.Scaled != nil: // by weight from the usual grid
				price := e.set(name)
				terms = append(terms, []Input{in(InArea, p.AreaSqft, "ft²", inSpec), price, in(InByWeight, cost/p.AreaSqft/price.Value, "", drawing)})
			default:
				terms = append(terms, []Input{in(InArea, p.AreaSqft, "ft²", inSpec), e.set(name)})
			}
		}
	}
	return terms
}

// total is the sum of the lines, with overhead and contingency on it.
func (e *explainer) total() {
	c, terms := e.b.Cost, [][]Input{}
	for _, item := range c.Items {
		name := InLine + InputName(item.Item)
		terms = append(terms, []Input{{Name: name, Value: item.Cost.Mean, Unit: "$", Basis: item.Cost.Basis}})
	}
	total := in(InTotal, c.Total.Mean, "$", c.Total.Basis)
	e.add(Working{Figure: WorkTotal, Section: SectionCost, Terms: terms, Is: total}, InOther)
	if !(c.Loaded.Mean > c.Total.Mean) {
		return
	}
	terms = [][]Input{{total}}
	for _, more := range []SettingName{SetOverhead, SetContingency} {
		if share := e.set(more); share.Value > 0 {
			terms = append(terms, []Input{total, share})
		}
	}
	e.add(Working{Figure: WorkLoaded, Section: SectionCost, Terms: terms, Is: in(InLoaded, c.Loaded.Mean, "$", c.Loaded.Basis)}, InOther)
}

// price is the cost that so many simulated jobs in 100 stay under, over what the margin
// leaves of the price.
func (e *explainer) price() {
	p, b := e.b.Price, e.b.Price.Basis
	price := in(InThePrice, p.Price, "$", b)
	keep := e.set(SetTarget)
	rest := Input{Name: InLessMargin, Value: 1 - p.Target, Unit: "share", Over: true, Basis: keep.Basis}
	e.add(Working{Figure: WorkPrice, Section: SectionPrice, Is: price, Terms: [][]Input{{e.costAt(), rest}}}, InRoundedUp)
	asked := Working{Figure: WorkAsked, Section: SectionPrice, Is: in(InAsked, p.Asked, "$", b), Terms: [][]Input{{price}}}
	if p.Asked > 0 {
		e.add(asked, InRoundedUp)
	}
	cost := e.b.Cost.Loaded
	if cost.Mean == 0 { // kept before bids had it
		cost = e.b.Cost.Total
	}
	left := in(InLeft, p.Price-cost.Mean, "$", b)
	e.add(Working{Figure: WorkLeft, Section: SectionPrice, Is: left, Terms: [][]Input{{price}, {in(InLoaded, -cost.Mean, "$", cost.Basis)}}}, InOther)
	byPrice := price
	byPrice.Over = true
	e.add(Working{Figure: WorkMargin, Section: SectionPrice, Is: in(InMargin, p.ExpectedMargin, "share", b), Terms: [][]Input{{left, byPrice}}}, InOther)
	area := e.area()
	area.Over = true
	e.add(Working{Figure: WorkPerArea, Section: SectionPrice, Is: in(InPerArea, p.PerSqft, "$/ft²", b), Terms: [][]Input{{price, area}}}, InOther)
	if n := float64(e.b.Draws); n > 0 {
		e.add(Working{Figure: WorkLoss, Section: SectionPrice, Is: in(InLoss, p.ChanceOfLoss, "share", b),
			Terms: [][]Input{{in(InLosing, p.ChanceOfLoss*n, "", b), {Name: InDrawn, Value: n, Over: true, Basis: b}}}}, InOther)
	}
}

// costAt is the cost at the certainty that was asked for.
func (e *explainer) costAt() Input {
	p, c := e.b.Price, e.b.Cost.Loaded
	at := in(InCostAt+InputName(strconv.FormatFloat(p.Certainty, 'g', -1, 64)), p.Price*(1-p.Target), "$", e.b.Cost.Total.Basis)
	for _, known := range []struct{ certainty, cost float64 }{{.5, c.P50}, {.8, c.P80}, {.9, c.P90}} {
		if p.Certainty == known.certainty && known.cost > 0 {
			at.Value = known.cost
		}
	}
	return at
}
