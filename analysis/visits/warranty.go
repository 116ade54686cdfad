package visits

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

// Warranty is what slabs still under warranty may cost.
type Warranty struct {
	Placements int             `json:"placements"`         // under warranty, and not called about yet
	Called     int             `json:"called_about"`       // under warranty, called about already: not in what is to come
	Callbacks  figure.Figure   `json:"expected_callbacks"` // first calls of any kind, still to come
	CostEach   figure.Figure   `json:"cost_each"`          // mean of slabs called about, all their calls together
	Cost       figure.Figure   `json:"expected_cost"`
	Cracks     figure.Figure   `json:"expected_crack_callbacks"` // of those, about cracks
	OpenCost   figure.Figure   `json:"open_cost"`                // of open callbacks, at that mean
	Months     []WarrantyMonth `json:"months"`                   // by the month in which the warranty ends
	Booked     Booked          `json:"margin_booked"`
	Open       int             `json:"-"` // callbacks, behind OpenCost
}

// WarrantyMonth is the slabs whose warranty ends in one month.
type WarrantyMonth struct {
	Month      string        `json:"month"`
	Placements int           `json:"placements"`
	Callbacks  figure.Figure `json:"expected_callbacks"`
	Cost       figure.Figure `json:"expected_cost"`
}

// Booked is the margin of the jobs with a slab under warranty.
type Booked struct {
	Jobs     int           `json:"jobs"`     // with a price and a cost on record
	Unpriced int           `json:"unpriced"` // without
	Margin   figure.Figure `json:"margin"`
	Share    figure.Figure `json:"cost_of_margin_pct"` // what is to come, in percent of it
}

// horizon is a length of warranty, with the slabs that have it.
type horizon struct {
	days float64
	ages []float64
	ends []record.Date
}

func (a *after) warranty() Warranty {
	w := Warranty{Months: []WarrantyMonth{}}
	by, km, crack := a.inForce(&w), a.firstCalls(""), a.firstCalls("crack")
	w.CostEach = a.costEach()
	w.Callbacks = a.toCome(km, by)
	w.Cracks = a.toCome(crack, by)
	w.Cost = costly(w.Callbacks, w.CostEach)
	for i := range a.calls {
		w.Open += int(cracks.Indicator(a.calls[i].open() && int(a.h.AsOf-a.calls[i].on) <= LongOpenDays))
	}
	w.OpenCost = costly(figure.Total(float64(w.Open), w.Open, "open callbacks"), w.CostEach)
	w.months(a, by, km)
	w.Booked = a.booked(w.Cost)
	return w
}

// inForce gathers the slabs under warranty that nobody has called about, by the
// length of their warranty, ascending.
func (a *after) inForce(w *Warranty) []horizon {
	by := map[float64]*horizon{}
	for i := range a.slab {
		f, on := &a.slab[i], a.h.Placements.At(i).PlacedOn()
		if f.warrantyEnd <= a.h.AsOf {
			continue
		}
		if f.to > f.from {
			w.Called++
			continue
		}
		w.Placements++
		days := float64(f.warrantyEnd - on)
		h := by[days]
		if h == nil {
			h = &horizon{days: days}
			by[days] = h
		}
		h.ages, h.ends = append(h.ages, a.slabs.Age[i]), append(h.ends, f.warrantyEnd)
	}
	var out []horizon
	for _, h := range by {
		out = append(out, *h)
	}
	slices.SortFunc(out, func(x, y horizon) int { return cmp.Compare(x.days, y.days) })
	return out
}

// firstCalls is the time to a slab's first call, of any kind or of one; a first
// call of another kind ends the watch.
func (a *after) firstCalls(kind string) *survival.KM {
	days, called := make([]float64, len(a.slab)), make([]bool, len(a.slab))
	for i := range a.slab {
		days[i] = a.slabs.Age[i]
		if calls := a.callsOf(i); len(calls) > 0 {
			days[i] = float64(max(0, calls[0].on-a.h.Placements.At(i).PlacedOn()))
			called[i] = kind == "" || calls[0].kind == kind
		}
	}
	km, err := survival.KaplanMeier(days, called)
	if err != nil {
		return nil
	}
	return km
}

// costEach is the mean cost of the slabs called about, from the records where
// there are enough of them.
func (a *after) costEach() figure.Figure {
	sum, n := 0.0, 0
	for i := range a.slab {
		if p := a.h.Placements.At(i); p.CallbackOn() != 0 && p.CallbackCost().OK {
			sum += p.CallbackCost().V.Dollars()
			n++
		}
	}
	if n < figure.LeastForRate {
		return figure.Total(a.cost.Value, n, "cost of a crack callback: setting")
	}
	return figure.Total(sum/float64(n), n, "mean of slabs called about")
}

// toCome adds up the reserves of all lengths of warranty. They share one curve:
// its errors go together, those of chance do not.
func (a *after) toCome(km *survival.KM, by []horizon) figure.Figure {
	var sum figure.Figure
	curve, chance := 0.0, 0.0
	for _, h := range by {
		f, r := a.toComeOf(km, h.ages, h.days)
		if !f.Known() {
			return f
		}
		sum.Value, sum.N = sum.Value+f.Value, sum.N+len(h.ages)
		curve, chance = curve+r.SECurve, math.Hypot(chance, r.SEChance)
	}
	if len(by) == 0 {
		return figure.Total(0, 0, "no slab is under warranty without a call")
	}
	half := distuv.UnitNormal.Quantile((1+a.level)/2) * math.Hypot(curve, chance)
	return figure.Figure{Value: sum.Value, Low: max(0, sum.Value-half), High: min(float64(sum.N), sum.Value+half), Level: a.level, N: sum.N,
		Method: "Kaplan-Meier remaining risk, normal limits", Bounded: true, OK: true}
}

// toComeOf is what slabs of these ages may still bring by the end of a warranty.
func (a *after) toComeOf(km *survival.KM, ages []float64, days float64) (figure.Figure, *survival.Reserve) {
	switch {
	case km == nil:
		return figure.Unknown(figure.NoData{}), nil
	case km.N < figure.LeastForRate:
		return figure.Unknown(figure.FewPlacements{N: km.N}), nil
	case km.AtRiskAt(days) == 0 && km.Survival[len(km.Survival)-1] > 0:
		return figure.Unknown(NotFollowed{Days: days, Longest: km.Last()}), nil
	}
	r, err := km.Reserve(ages, days, 1, a.level)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err)), nil
	}
	return figure.Estimated(r.Estimate, nil), r
}

// months sets out what is to come by the month in which a warranty ends.
func (w *Warranty) months(a *after, by []horizon, km *survival.KM) {
	rows := map[string][]horizon{}
	for _, h := range by {
		at := map[string]int{}
		for k, end := range h.ends {
			m := end.Month()
			if _, met := at[m]; !met {
				at[m] = len(rows[m])
				rows[m] = append(rows[m], horizon{days: h.days})
			}
			r := &rows[m][at[m]]
			r.ages = append(r.ages, h.ages[k])
		}
	}
	for _, m := range sortedBy(rows, func([]horizon) int { return 0 }) {
		row := WarrantyMonth{Month: m, Callbacks: a.toCome(km, rows[m])}
		for _, h := range rows[m] {
			row.Placements += len(h.ages)
		}
		row.Cost = costly(row.Callbacks, w.CostEach)
		w.Months = append(w.Months, row)
	}
}

// booked is the margin of jobs with a slab under warranty, exact to the cent.
func (a *after) booked(cost figure.Figure) Booked {
	var b Booked
	var sum record.Cents
	for j := range a.h.Jobs.Len() {
		from, to := a.h.PlacementsOf(j)
		under := false
		for i := from; i < to; i++ {
			under = under || a.slab[i].warrantyEnd > a.h.AsOf
		}
		job := a.h.Jobs.At(j)
		revenue := job.Revenue()
		switch {
		case !under:
		case revenue.OK && job.ActualCost().OK:
			b.Jobs++
			sum += revenue.V - job.ActualCost().V
		default:
			b.Unpriced++
		}
	}
	b.Margin, b.Share = figure.Unknown(NotPriced{}), figure.Unknown(NoMargin{})
	if b.Jobs > 0 {
		b.Margin = figure.Total(sum.Dollars(), b.Jobs, "contract prices with change orders less actual costs")
		if sum > 0 && cost.Known() {
			b.Share = cracks.Scaled(cost, 100/sum.Dollars())
		}
	}
	return b
}

// costly turns callbacks into money at a mean cost that counts as known.
func costly(callbacks, each figure.Figure) figure.Figure {
	if !callbacks.Known() {
		return callbacks
	}
	f := cracks.Scaled(callbacks, each.Value)
	f.Method += ", times the mean cost"
	return f
}
