package work

import (
	"cmp"
	"math"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/pool"
	"pourback/ingest/record"
)

// Pump says how often each outfit's line clogs, and the time that costs.
type Pump struct {
	All         PumpOutfit     `json:"all"`
	Outfits     []PumpOutfit   `json:"outfits"`
	Hoses       []PumpOutfit   `json:"by_hose"` // by inside diameter, in
	Aggregates  []PumpOutfit   `json:"by_aggregate"`
	Mixes       []PumpOutfit   `json:"by_mix"`
	SameRate    figure.Figure  `json:"same_rate_p"`  // chance of counts so unlike if all outfits were alike
	MinutesLost figure.Figure  `json:"minutes_lost"` // to clogs, on pumped placements
	PerClog     figure.Figure  `json:"minutes_per_clog"`
	ClogCost    figure.Figure  `json:"cost_of_clogs"` // of the crews that waited, at the labor rate
	DelayPerJob figure.Figure  `json:"delay_minutes_per_pumped_placement"`
	TurnedBy    []figure.Lever `json:"turned_by"` // the two inputs that turn most easily which outfit to call
	Rivals      Rivals         `json:"-"`         // the outfits that it is about
	Verdict     Verdict        `json:"-"`
	Delays      *Delays        `json:"-"` // known from events alone
}

// PumpOutfit is one group's record over the pumped placements that say both
// how much was delivered and how often the line clogged.
type PumpOutfit struct {
	Outfit      string        `json:"pump_outfit"` // or the hose, aggregate or mix
	Placements  int           `json:"placements"`
	PumpedYd    float64       `json:"pumped_yd"`
	Clogs       int           `json:"clogs"`
	ClogsPer100 figure.Figure `json:"clogs_per_100yd"` // exact interval
	Pooled      figure.Figure `json:"pooled"`          // drawn towards the other groups
	NextClog    figure.Figure `json:"chance_of_clog_10yd"`
}

// nextPumped is the job for which the chance of a clog is given, in yd³.
const nextPumped = 10

func PumpOf(h *record.History, opt setting.Options) *Pump {
	out := &Pump{}
	rows := countedRows(h)
	words := func(column *record.Values[string]) []PumpOutfit {
		return pumpGroups(h, rows, figure.LabelsIn(column, len(rows), func(k int) int { return rows[k] }), opt.Level)
	}
	amounts := func(of func(record.PlacementRow) record.Number) []PumpOutfit {
		return pumpGroups(h, rows, figure.LabelsOf(len(rows), func(k int) string { return amountOrUnknown(of(h.Placements.At(rows[k]))) }), opt.Level)
	}
	out.Outfits, out.Mixes = words(&h.Placements.PumpOutfit), words(&h.Placements.Mix)
	out.Hoses, out.Aggregates = amounts(record.PlacementRow.HoseIn), amounts(record.PlacementRow.MaxAggregateIn)
	all := pumpGroups(h, rows, figure.LabelsOf(len(rows), func(int) string { return "all" }), opt.Level)
	if len(all) == 1 {
		out.All = all[0]
		out.All.Pooled = figure.Unknown(NothingToPool{})
		out.All.NextClog = out.All.Pooled
	} else {
		none := figure.Unknown(NoClogCounts{})
		out.All = PumpOutfit{Outfit: "all", ClogsPer100: none, Pooled: none, NextClog: none}
	}
	out.SameRate = sameRate(out.Outfits)
	out.MinutesLost, out.PerClog = clogMinutes(h, opt.Level)
	out.ClogCost = clogCost(h, opt.Rates.LaborPerHour)
	out.DelayPerJob = delayPerPlacement(h, opt.Level)
	out.Delays = delays(h, opt)
	out.Verdict = out.verdict()
	out.TurnedBy, out.Rivals = out.turnedBy()
	return out
}

func amountOrUnknown(n record.Number) string { return figure.OrUnknown(record.FieldText(&n)) }

// Counted says whether a placement tells of clogs.
func Counted(p record.PlacementRow) bool {
	return p.Pumped() && p.Clogs().OK && p.DeliveredYd().Or(0) > 0
}

func countedRows(h *record.History) []int {
	return figure.Where(h.Placements.Len(), func(i int) bool { return Counted(h.Placements.At(i)) })
}

// pumpGroups are the groups of rows by a label, in the order of the names.
func pumpGroups(h *record.History, rows []int, by figure.Labels, level float64) []PumpOutfit {
	out := make([]PumpOutfit, len(by.Names))
	for k, i := range rows {
		o, p := &out[by.Of[k]], h.Placements.At(i)
		o.Placements++
		o.PumpedYd += p.DeliveredYd().V
		o.Clogs += int(p.Clogs().V)
	}
	rates := clogRates(h, rows, by)
	err := rates.disperse()
	for g := range out {
		out[g].Outfit = by.Names[g]
		out[g].ClogsPer100 = figure.Estimated(interval.Garwood(out[g].Clogs, out[g].PumpedYd/100, level))
		rate, failed := pool.GammaMixture{}, err
		if failed == nil {
			rate, failed = rates.group(g)
		}
		out[g].pool(rate, failed, level)
	}
	return out
}

// pool fills the group's own figures from the law of its rate.
func (g *PumpOutfit) pool(rate pool.GammaMixture, err error, level float64) {
	if err != nil {
		g.Pooled = figure.Unknown(figure.ReasonOf(err))
		g.NextClog = g.Pooled
		return
	}
	e, err := rate.Interval(level)
	e.N, e.Method = g.Clogs, "gamma-Poisson pooling, dispersed by job, central interval"
	g.Pooled = figure.Estimated(e, err)
	next, err := rate.Next(nextPumped / 100.0)
	if err != nil {
		g.NextClog = figure.Unknown(figure.ReasonOf(err))
		return
	}
	g.NextClog = figure.Figure{Value: next.AtLeastOne(), Level: level, N: g.Clogs, OK: true, Bounded: true,
		Low:  1 - math.Exp(-e.Low*nextPumped/100),
		High: 1 - math.Exp(-e.High*nextPumped/100), Method: "gamma-Poisson pooling, dispersed by job, chance of one or more"}
}

// sameRate asks whether the named outfits could all be alike.
func sameRate(outfits []PumpOutfit) figure.Figure {
	var rates []interval.Rate
	for _, o := range outfits {
		if o.Outfit != "unknown" {
			rates = append(rates, interval.Rate{Events: o.Clogs, Exposure: o.PumpedYd / 100})
		}
	}
	if len(rates) < 2 {
		return figure.Unknown(OneOutfit{})
	}
	test, err := interval.EqualRates(rates)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	if test.N < figure.LeastEvents {
		return figure.Unknown(TooFewClogs{Clogs: test.N})
	}
	return figure.Total(test.P, test.N, test.Method)
}

// clogMinutes are the minutes lost to clogs in all, and a clog.
func clogMinutes(h *record.History, level float64) (lost, perClog figure.Figure) {
	var minutes, clogs []float64
	var sum float64
	n := 0
	for i := range h.Placements.Len() {
		p := h.Placements.At(i)
		if !p.Pumped() || !p.ClogMin().OK {
			continue
		}
		n++
		sum += float64(p.ClogMin().V)
		if p.Clogs().Or(0) > 0 {
			minutes = append(minutes, float64(p.ClogMin().V))
			clogs = append(clogs, float64(p.Clogs().V))
		}
	}
	if n == 0 {
		why := figure.Unknown(NoClogMinutes{})
		return why, why
	}
	lost = figure.Total(sum, n, "sum of minutes lost to clogs")
	if len(clogs) == 0 {
		return lost, figure.Unknown(figure.ReasonOf(stat.ErrNoEvents))
	}
	each, err := interval.Ratio(minutes, clogs, level)
	return lost, figure.OrBare(each, err, figure.SumOf(minutes)/figure.SumOf(clogs), len(clogs), "ratio of totals")
}

// clogCost is what the crews cost while they waited for the line, at the labor
// rate, over the pumped placements that record it.
func clogCost(h *record.History, rate record.Cents) figure.Figure {
	pumped := figure.Where(h.Placements.Len(), func(i int) bool { return h.Placements.At(i).Pumped() })
	lost := waited(h, pumped, func(p record.PlacementRow) record.Count { return p.ClogMin() })
	if lost.N == 0 {
		return figure.Unknown(NoClogWait{})
	}
	lost.Method = "minutes lost to clogs × crew size"
	return priced(lost, rate)
}

// delayPerPlacement is the time a pumped placement loses to all causes: the
// plain mean, which many zeros do not mislead.
func delayPerPlacement(h *record.History, level float64) figure.Figure {
	var minutes []float64
	for i := range h.Placements.Len() {
		if p := h.Placements.At(i); p.Pumped() && p.DelayMin().OK {
			minutes = append(minutes, float64(p.DelayMin().V))
		}
	}
	mean, err := interval.MeanT(minutes, level)
	return figure.OrBare(mean, err, figure.SumOf(minutes)/float64(len(minutes)), len(minutes), "mean")
}

// verdict says whether one outfit is to be preferred: only where luck alone
// would rarely make such differences, and between outfits that have names.
func (p *Pump) verdict() Verdict {
	if !p.SameRate.Known() {
		return Verdict{Kind: CannotTell}
	}
	named := slices.DeleteFunc(slices.Clone(p.Outfits), func(o PumpOutfit) bool { return o.Outfit == "unknown" || !o.Pooled.Known() })
	if p.SameRate.Value > leastLuck || len(named) < 2 {
		return Verdict{Kind: NoneBetter}
	}
	byRate := func(x, y PumpOutfit) int { return cmp.Compare(x.Pooled.Value, y.Pooled.Value) }
	least, most := slices.MinFunc(named, byRate), slices.MaxFunc(named, byRate)
	v := Verdict{Kind: OneBetter}
	if least.expected(named) >= leastExpected {
		v.Least = least.Outfit
	}
	if most.Clogs >= figure.LeastEvents {
		v.Most = most.Outfit
	}
	return v
}

// leastExpected is the fewest clogs expected of an outfit that is said to clog
// least.
const leastExpected = 5

// expected are the clogs that an outfit would have at the rate of all.
func (o PumpOutfit) expected(all []PumpOutfit) float64 {
	clogs, yd := 0, 0.0
	for _, other := range all {
		clogs, yd = clogs+other.Clogs, yd+other.PumpedYd
	}
	return float64(clogs) * o.PumpedYd / yd
}

// leastLuck is the chance of differences as large, above which no outfit is
// named (common practice, no published source).
const leastLuck = 0.10

// Verdict is whether one outfit is to be preferred.
type Verdict struct {
	Kind        VerdictKind
	Least, Most string // the outfits that clog least and most, where one is better; "" where too little stands behind it to name one
}

// VerdictKind is what can be said of outfits side by side.
type VerdictKind string

// The verdicts on outfits.
const (
	CannotTell VerdictKind = "cannot tell"
	NoneBetter VerdictKind = "none better"
	OneBetter  VerdictKind = "one better"
)
