package visits

import (
	"cmp"
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/score"
	"pourback/ingest/record"
)

// callGroups are the calls by kind and by who and what stood behind the pour.
func (a *after) callGroups() []CallbackGroup {
	of := func(name func(p record.PlacementRow) string) func(i int) string {
		return func(i int) string { return name(a.h.Placements.At(i)) }
	}
	groups := []CallbackGroup{
		a.byKind(),
		a.callGroup(ByCrew, "crew", of(func(p record.PlacementRow) string { return p.Crew() })),
		a.callGroup(ByOutfit, "pump_outfit", of(func(p record.PlacementRow) string {
			if !p.Pumped() {
				return NotPumped
			}
			return p.PumpOutfit()
		})),
		a.callGroup(ByMix, "mix", of(func(p record.PlacementRow) string { return p.Mix() })),
		a.callGroup(ByUse, "use", of(func(p record.PlacementRow) string { return p.Use() })),
	}
	holdAlike(groups)
	return groups
}

// byKind are the calls by what they were about, over the time that all slabs
// were watched.
func (a *after) byKind() CallbackGroup {
	g := CallbackGroup{By: ByCallKind, Rows: []CallbackRow{}, Alike: figure.Unknown(EverySlab{}), Stands: GroupNoCalls}
	by := figure.GroupBy(len(a.calls), func(i int) (string, bool) { return a.calls[i].kind, true })
	days := figure.SumOf(a.slabs.Age)
	for _, kind := range by.Sorted(cmp.Compare) {
		g.Rows = append(g.Rows, a.callRow(kind, a.h.Placements.Len(), days, by.Rows[kind]))
	}
	mostCalls(g.Rows)
	if len(g.Rows) > 0 {
		g.Stands = GroupMost
	}
	return g
}

// callGroup are the calls by a name that each placement bears.
func (a *after) callGroup(by GroupKind, column string, name func(i int) string) CallbackGroup {
	g := CallbackGroup{By: by, Rows: []CallbackRow{}, Column: column}
	placements, days, calls := map[string]int{}, map[string]float64{}, map[string][]int{}
	named := 0
	for i := range a.h.Placements.Len() {
		n := name(i)
		if n != "" {
			named++
		}
		n = figure.OrUnknown(n)
		placements[n]++
		days[n] += a.slabs.Age[i]
	}
	for i := range a.calls {
		n := figure.OrUnknown(name(a.calls[i].slab))
		calls[n] = append(calls[n], i)
	}
	if named == 0 {
		g.Stands, g.Alike = GroupUnrecorded, figure.Unknown(NotRecorded{})
		return g
	}
	for _, n := range sortedBy(placements, func(n int) int { return n }) {
		g.Rows = append(g.Rows, a.callRow(n, placements[n], days[n], calls[n]))
	}
	mostCalls(g.Rows)
	g.Alike, g.Stands = alike(g.Rows, days), GroupUntold
	return g
}

// callRow is the row of some calls on so many placements, watched for so long.
func (a *after) callRow(name string, placements int, days float64, at []int) CallbackRow {
	calls := make([]call, len(at))
	var costs []float64
	for k, i := range at {
		calls[k] = a.calls[i]
		if c := calls[k].cost; c.OK {
			costs = append(costs, c.V.Dollars())
		}
	}
	r := CallbackRow{Name: name, Placements: placements, Calls: len(at), Cost: costOf(calls), Rate: figure.Unknown(figure.FewPlacements{N: placements})}
	if placements >= figure.LeastForRate && days > 0 {
		r.Rate = cracks.Garwood(len(at), days, a.level)
	}
	mean, err := interval.MeanT(costs, a.level)
	r.CostEach = figure.OrBare(mean, err, figure.SumOf(costs)/float64(max(1, len(costs))), len(costs), "mean")
	return r
}

func mostCalls(rows []CallbackRow) {
	slices.SortStableFunc(rows, func(x, y CallbackRow) int { return cmp.Compare(y.Calls, x.Calls) })
}

// alike is the p of a test that all groups bring calls at one rate, given their
// time watched, or why there is none.
func alike(rows []CallbackRow, days map[string]float64) figure.Figure {
	var rates []interval.Rate
	for _, r := range rows {
		if r.Name != "unknown" && days[r.Name] > 0 {
			rates = append(rates, interval.Rate{Events: r.Calls, Exposure: days[r.Name] / cracks.DaysPerYear})
		}
	}
	return oneRate(rates)
}

// oneRate is the p of a test that all of these are one rate, or why there is
// none.
func oneRate(rates []interval.Rate) figure.Figure {
	sum := 0
	for _, r := range rates {
		sum += r.Events
	}
	if len(rates) < 2 || sum < figure.LeastEvents {
		return figure.Unknown(FewCalls{})
	}
	test, err := interval.EqualRates(rates)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	return figure.Total(test.P, sum, test.Method+", p")
}

// holdAlike says which tests find a difference, with all of them looked at.
func holdAlike(groups []CallbackGroup) {
	var at []int
	var ps []float64
	for i := range groups {
		if groups[i].Alike.Known() {
			at, ps = append(at, i), append(ps, groups[i].Alike.Value)
		}
	}
	adjusted, _ := score.BenjaminiHochberg(ps)
	for k, i := range at {
		groups[i].Stands = GroupByChance
		if k < len(adjusted) && adjusted[k] <= cracks.FalseFinds {
			groups[i].Stands = GroupDiffers
		}
	}
}

// callMonths are the calls by the month in which the customer called.
func (a *after) callMonths() []CallbackMonth {
	by := figure.GroupBy(len(a.calls), func(i int) (string, bool) { return a.calls[i].on.Month(), true })
	out := []CallbackMonth{}
	for _, month := range by.Sorted(cmp.Compare) {
		m := CallbackMonth{Month: month, Calls: len(by.Rows[month])}
		var calls []call
		for _, i := range by.Rows[month] {
			calls = append(calls, a.calls[i])
			if a.calls[i].open() {
				m.Open++
			}
		}
		m.Cost = costOf(calls)
		out = append(out, m)
	}
	return out
}
