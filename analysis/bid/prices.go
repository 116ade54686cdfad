package bid

import (
	"slices"

	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/interval"
	"pourback/analysis/steel"
	"pourback/ingest/record"
)

// resolve is what the spec says, else the median of the records where there are
// enough of them, else the setting. It is kept among the bid's settings.
func (w *bidWork) resolve(name SettingName, unit string, spec float64, records []float64, what Counted, setting, usual float64) sourced {
	return w.setting(name, unit, resolved(spec, records, what, setting, usual))
}

func resolved(spec float64, records []float64, what Counted, setting, usual float64) sourced {
	if spec > 0 {
		return sourced{spec, inSpec}
	}
	if len(records) >= figure.LeastForRate {
		if q, err := interval.Quantiles(records, 0.5); err == nil {
			return sourced{q[0], Basis{From: FromRecords, N: len(records), Of: what, By: ByMedian}}
		}
	}
	return sourced{setting, asSet(setting, usual)}
}

// priceList finds every price of the job.
func (w *bidWork) priceList() {
	p, set, usual := w.spec.Prices, w.opt.Bid, setting.DefaultBidPractice()
	rates, usualRates := w.opt.Rates, setting.DefaultStandardRates()
	w.orderCosts()
	w.wage = w.resolve(SetWage, "$/h", p.LaborPerHour, recentWages(w.h), OfLaborLines, rates.LaborPerHour.Dollars(), usualRates.LaborPerHour.Dollars())
	w.size = w.resolve(SetCrew, "people", w.spec.CrewSize, crewSizes(w.h, w.spec.Crew), OfPlacements, set.CrewSize, usual.CrewSize)
	for _, s := range w.slabs {
		if s.Method == "pump" {
			w.pumpPrices()
		}
	}
	w.shortPrices()
	own, usualSteel := w.opt.Steel, setting.DefaultSteelCosts()
	w.prices["mesh"] = w.resolve(SetMesh, "$/ft²", p.MeshPerSqft, steel.MaterialRates(w.h, "mesh"), OfJobs, own.MeshPerSqft, usualSteel.MeshPerSqft)
	w.prices["rebar"] = w.resolve(SetRebar, "$/ft²", p.RebarPerSqft, steel.MaterialRates(w.h, "rebar"), OfJobs, own.RebarPerSqft, usualSteel.RebarPerSqft)
	w.prices["fiber"] = w.resolve(SetFiber, "$/yd", p.FiberPerYd, nil, "", set.FiberPerYd, usual.FiberPerYd)
	w.prices["mesh hours"] = w.resolve(SetMeshHours, "person-hours/100 ft²", 0, steel.PlacingHours(w.h, "mesh"), OfPlacements, own.MeshHours, usualSteel.MeshHours)
	w.prices["rebar hours"] = w.resolve(SetRebarHours, "person-hours/100 ft²", 0, steel.PlacingHours(w.h, "rebar"), OfPlacements, own.RebarHours, usualSteel.RebarHours)
	w.prices["cut"] = w.resolve(SetCut, "$/ft", p.CutPerFt, nil, "", set.CutPerFt, usual.CutPerFt)
	w.basePrice(p.BasePerSqft)
	w.unpriced()
}

// orderCosts are the costs around an order, with the company's own prices.
func (w *bidWork) orderCosts() {
	c, usual := w.opt.Order, setting.DefaultOrderCosts()
	yard := w.resolve(SetConcrete, "$/yd", w.spec.Prices.ConcretePerYd, concrete.RecentRates(w.h, "concrete"), OfCostLines, c.PricePerYd, usual.PricePerYd)
	disposal := w.resolve(SetDisposal, "$/yd", 0, concrete.RecentRates(w.h, "disposal"), OfCostLines, c.DisposalPerYd, usual.DisposalPerYd)
	c.PricePerYd, c.DisposalPerYd = yard.value, disposal.value
	w.costs, w.prices["concrete"] = c, yard
	for _, v := range []struct {
		name         SettingName
		unit         string
		value, usual float64
	}{{SetLeastBalance, "yd", c.LeastBalanceYd, usual.LeastBalanceYd},
		{SetStep, "yd", c.IncrementYd, usual.IncrementYd}, {SetShortLoad, "yd", c.ShortLoadYd, usual.ShortLoadYd}, {SetShortLoadPerYd, "$/yd", c.ShortLoadPerYd, usual.ShortLoadPerYd}} {
		w.setting(v.name, v.unit, sourced{v.value, asSet(v.value, v.usual)})
	}
	w.costs.TruckYd = w.resolve(SetTruck, "yd", w.spec.TruckYd, nil, "", c.TruckYd, usual.TruckYd).value
}

// unpriced says what jobs on record also cost that this bid leaves out.
func (w *bidWork) unpriced() {
	for _, item := range []string{"equipment", "subcontract", "other"} {
		spent := spentOn(w.h, item)
		sum, n := figure.SumOf(spent), len(spent)
		if item != "other" && w.ofJobs(CostName(item), w.spec.Prices.amount(item)).amount > 0 {
			continue
		}
		named := slices.ContainsFunc(w.spec.Items, func(i Item) bool { return i.Item == item })
		if n >= figure.LeastForRate && !named {
			w.note(Note{Kind: NoteUnpriced, Name: item, N: n, Each: sum / float64(n)})
		}
	}
}

// pumpPrices: what records say is the cost of a pumped placement, whatever its
// yards, so nothing by the yard is added to it.
func (w *bidWork) pumpPrices() {
	p, set, usual := w.spec.Prices, w.opt.Bid, setting.DefaultBidPractice()
	w.prices["pump wait"] = w.resolve(SetPumpWait, "$/h", 0, nil, "", set.PumpWaitPerHour, usual.PumpWaitPerHour)
	if p.PumpPerHour > 0 {
		w.prices["pump hour"] = w.resolve(SetPumpHour, "$/h", p.PumpPerHour, nil, "", 0, 0)
		w.prices["pump minimum"] = w.resolve(SetPumpMinimum, "h", p.PumpMinHours, nil, "", set.PumpMinHours, usual.PumpMinHours)
		if p.PumpHire == 0 { // the hours are the hire
			w.prices["pump hire"], w.prices["pump yard"] = sourced{0, inSpec}, sourced{p.PumpPerYd, inSpec}
			return
		}
	}
	hire := w.resolve(SetPumpHire, "$", p.PumpHire, pumpHires(w.h), OfPumpedJobs, set.PumpHire, usual.PumpHire)
	w.prices["pump hire"], w.prices["pump yard"] = hire, sourced{0, hire.basis}
	if p.PumpPerYd > 0 || hire.basis.From != FromRecords && hire.basis.From != FromSpec {
		w.prices["pump yard"] = w.resolve(SetPumpPerYd, "$/yd", p.PumpPerYd, nil, "", set.PumpPerYd, usual.PumpPerYd)
	}
}

// basePrice is that of a base that has to be brought; others cost nothing here.
func (w *bidWork) basePrice(spec float64) {
	for _, s := range w.slabs {
		if s.Base == "" || s.Base == "native" || s.Base == "existing slab" {
			if spec == 0 {
				continue
			}
		}
		rates := baseRates(w.h, s.Base)
		if spec == 0 && len(rates) < figure.LeastForRate {
			w.note(Note{Kind: NoteNoBasePrice})
			continue
		}
		w.prices["base "+s.Base] = w.settingOf(SetBase, s.Base, "$/ft²", resolved(spec, rates, OfJobs, 0, 0))
	}
}

// recentWages are the rates of labor of the last year, or of all years where
// those are few.
func recentWages(h *record.History) []float64 {
	var recent, all []float64
	for i := range h.Labor {
		l := &h.Labor[i]
		if !l.Rate.OK || l.Rate.V <= 0 {
			continue
		}
		all = append(all, l.Rate.V.Dollars())
		if l.WorkedOn > h.AsOf-concrete.PriceDays {
			recent = append(recent, l.Rate.V.Dollars())
		}
	}
	if len(recent) >= figure.LeastForRate {
		return recent
	}
	return all
}

// crewSizes are those of the crew's placements, or of all where the crew has few.
func crewSizes(h *record.History, crew string) []float64 {
	var own, all []float64
	for i := range h.Placements.Len() {
		p := h.Placements.At(i)
		if !p.CrewSize().OK {
			continue
		}
		all = append(all, float64(p.CrewSize().V))
		if p.Crew() == crew {
			own = append(own, float64(p.CrewSize().V))
		}
	}
	if len(own) >= figure.LeastForRate {
		return own
	}
	return all
}

// pumpHires are what pumped placements cost to pump, a job's cost shared evenly
// among its own.
func pumpHires(h *record.History) []float64 {
	return jobRates(h, "pump", func(p record.PlacementRow) float64 {
		if p.Pumped() {
			return 1
		}
		return 0
	})
}

// baseRates are what jobs paid for this base by its ft².
func baseRates(h *record.History, base string) []float64 {
	return jobRates(h, "base", func(p record.PlacementRow) float64 {
		if p.Base() == base {
			return p.AreaSqft().Or(0)
		}
		return 0
	})
}

// jobRates are the jobs' actual costs of an item over the sum of what it is for.
func jobRates(h *record.History, item string, of func(record.PlacementRow) float64) (rates []float64) {
	for j := range h.Jobs.Len() {
		for _, c := range h.CostsOf(j) {
			spent := c.Actual()
			if c.Item != item || !spent.OK || spent.V <= 0 {
				continue
			}
			sum := 0.0
			from, to := h.PlacementsOf(j)
			for i := from; i < to; i++ {
				sum += of(h.Placements.At(i))
			}
			if sum > 0 {
				rates = append(rates, spent.V.Dollars()/sum)
			}
		}
	}
	return rates
}
