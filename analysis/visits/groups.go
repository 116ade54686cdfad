package visits

import (
	"cmp"
	"fmt"
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/score"
	"pourback/ingest/record"
)

// callGroups are the calls by kind and by who and what stood behind the pour.
func (a *after) callGroups() []CallbackGroup {
	of := func(name func(p *record.Placement) string) func(i int) string {
		return func(i int) string { return name(&a.h.Placements[i]) }
	}
	groups := []CallbackGroup{
		a.byKind(),
		a.callGroup("crew", "crew", of(func(p *record.Placement) string { return p.Crew })),
		a.callGroup("pump outfit", "pump_outfit", of(func(p *record.Placement) string {
			if !p.Pumped() {
				return "not pumped"
			}
			return p.PumpOutfit
		})),
		a.callGroup("plant and mix", "mix", of(func(p *record.Placement) string { return p.Mix })),
		a.callGroup("use", "use", of(func(p *record.Placement) string { return p.Use })),
	}
	sayAlike(groups)
	return groups
}

// byKind are the calls by what they were about, over the time that all slabs
// were watched.
func (a *after) byKind() CallbackGroup {
	g := CallbackGroup{By: "kind", Rows: []CallbackRow{}, Alike: figure.UnknownFor("every slab may be called about for each kind: there is nothing to compare")}
	by := figure.GroupBy(len(a.calls), func(i int) (string, bool) { return a.calls[i].kind, true })
	days := figure.SumOf(a.slabs.Age)
	for _, kind := range by.Sorted(cmp.Compare) {
		g.Rows = append(g.Rows, a.callRow(kind, len(a.h.Placements), days, by.Rows[kind]))
	}
	mostCalls(g.Rows)
	g.Says = "No customer has called yet."
	if len(g.Rows) > 0 {
		g.Says = fmt.Sprintf("Most calls are about %s: %d of %d.", g.Rows[0].Name, g.Rows[0].Calls, len(a.calls))
	}
	return g
}

// callGroup are the calls by a name that each placement bears.
func (a *after) callGroup(by, column string, name func(i int) string) CallbackGroup {
	g := CallbackGroup{By: by, Rows: []CallbackRow{}}
	placements, days, calls := map[string]int{}, map[string]float64{}, map[string][]int{}
	named := 0
	for i := range a.h.Placements {
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
		g.Says = fmt.Sprintf("No placement records its %s.", column)
		g.Alike = figure.UnknownFor("not recorded")
		return g
	}
	for _, n := range sortedBy(placements, func(n int) int { return n }) {
		g.Rows = append(g.Rows, a.callRow(n, placements[n], days[n], calls[n]))
	}
	mostCalls(g.Rows)
	if g.Alike = alike(g.Rows, days); !g.Alike.Known() {
		g.Says = figure.Capital(figure.Text(g.Alike.Why)) + "."
	}
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
	r := CallbackRow{Name: name, Placements: placements, Calls: len(at), Cost: costOf(calls), Rate: figure.UnknownFor("fewer than %d placements", figure.LeastForRate)}
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
		return figure.UnknownFor("too few calls to compare")
	}
	test, err := interval.EqualRates(rates)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	return figure.Total(test.P, sum, test.Method+", p")
}

// sayAlike puts the tests into words, with all of them looked at.
func sayAlike(groups []CallbackGroup) {
	var at []int
	var ps []float64
	for i := range groups {
		if groups[i].Alike.Known() {
			at, ps = append(at, i), append(ps, groups[i].Alike.Value)
		}
	}
	adjusted, _ := score.BenjaminiHochberg(ps)
	for k, i := range at {
		groups[i].Says = "No difference here that chance alone could not make."
		if k < len(adjusted) && adjusted[k] <= cracks.FalseFinds {
			groups[i].Says = fmt.Sprintf("The rows differ by more than chance. That is no proof that the %s is the cause.", groups[i].By)
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
