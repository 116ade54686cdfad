package findings

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// crewFindings look through the crews for one that needs more hours than an
// average one on the same job.
func crewFindings(y *lastYear) []candidate {
	var out []candidate
	hours := y.by(func(p record.PlacementRow) string { return p.Crew() }, func(p record.PlacementRow) record.Number { return p.LaborHours() })
	for _, c := range y.f.Crews {
		v := c.HoursVsAverage
		if !v.Known() || len(y.f.Crews) < 2 || !(v.Low > 0) || c.Crew == "unknown" {
			continue
		}
		p, more := crewTail(v)
		worth := per(v, func(ratio float64) float64 { return y.perHour * y.scale * hours[c.Crew] * (1 - 1/ratio) }, "hours against an average crew on the same job × hours of the last twelve months")
		out = append(out, compared(gain("crews", "crew "+c.Crew, worth, SlowCrew{c.Crew, v.Value - 1, c.N}), more, p))
	}
	return out
}

// crewTail is the two-sided tail of a ratio against 1, and the probability that
// it is above, taking its interval for a lognormal one.
func crewTail(v figure.Figure) (p, above float64) {
	sd := math.Log(v.High/v.Low) / (2 * distuv.UnitNormal.Quantile((1+v.Level)/2))
	if !(sd > 0) {
		return 1, 0.5
	}
	above = distuv.UnitNormal.CDF(math.Log(v.Value) / sd)
	return 2 * min(above, 1-above), above
}

// pumpFindings look through the outfits for one whose line clogs more often
// than the others'.
func pumpFindings(y *lastYear) []candidate {
	pump := y.f.Pump
	if pump == nil || !pump.PerClog.Known() || !pump.All.ClogsPer100.Known() || pump.All.Clogs < figure.LeastEvents {
		return nil
	}
	crew := y.each(func(p record.PlacementRow) (float64, bool) {
		return float64(p.CrewSize().V), p.Pumped() && p.CrewSize().OK
	})
	if crew.n < figure.LeastForRate {
		return nil
	}
	aClog := pump.PerClog.Value / 60 * crew.sum / float64(crew.n) * y.perHour
	yards := y.by(func(p record.PlacementRow) string { return p.PumpOutfit() }, func(p record.PlacementRow) record.Number {
		if !work.Counted(p) {
			return record.Number{}
		}
		return p.DeliveredYd()
	})
	var out []candidate
	for _, o := range pump.Outfits {
		rest := interval.Rate{Events: pump.All.Clogs - o.Clogs, Exposure: (pump.All.PumpedYd - o.PumpedYd) / 100}
		if o.Outfit == "unknown" || !o.Pooled.Known() || o.Placements < figure.LeastForRate || !(rest.Exposure > 0) {
			continue
		}
		test, err := interval.CompareRates(interval.Rate{Events: o.Clogs, Exposure: o.PumpedYd / 100}, rest, y.level)
		if err != nil {
			continue
		}
		others := float64(rest.Events) / rest.Exposure
		worth := per(o.Pooled, func(rate float64) float64 { return (rate - others) * yards[o.Outfit] / 100 * y.scale * aClog }, "pooled clog rate less that of the others × yards of the last twelve months × cost of a clog")
		out = append(out, compared(gain("pump", "outfit "+o.Outfit, worth, CloggingOutfit{o.Outfit, o.Pooled.Value, others, o.Placements}), sureOf(worth), test.P))
	}
	return out
}

// delayFindings say what waiting costs.
func delayFindings(y *lastYear) []candidate {
	hours := y.each(func(p record.PlacementRow) (float64, bool) {
		return float64(p.DelayMin().V) / 60 * float64(p.CrewSize().V), p.DelayMin().OK && p.CrewSize().OK
	})
	worth := hours.dollars(y.perHour)
	if !worth.Known() {
		return nil
	}
	return []candidate{y.asBooked(sum("delays", "waiting", worth, Waiting{hours.sum, hours.events, hours.n}))}
}
