package visits

import (
	"strings"

	"pourback/analysis/trade"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// Sign is one way in which a pour lies outside a guide: what was recorded,
// beside the limit and its source. Their unit is that of the limits of its kind.
type Sign struct {
	Code  SignCode
	Value float64
	Limit Limit
	Air   record.Number // °F, of a saw's cut whose air is on record
}

// checked is what a look at a slab's records shows: whether they can tell, and
// whether the pour lies outside the guide.
type checked struct {
	Sign
	known, outside bool
}

// check looks for one sign at slab i.
type check struct {
	code SignCode
	look func(i int) checked
}

func (a *after) checks() []check {
	return []check{{DriedUncured, a.driedUncured}, {SawnLate, a.sawnLate}, {WideJoints, a.wideJoints}, {WaterAdded, a.watered}, {PastTime, a.late}, {Thin, a.thin}}
}

// signs are those of slab i.
func (a *after) signs(i int) []Sign {
	var signs []Sign
	for _, c := range a.checks() {
		if found := c.look(i); found.known && found.outside {
			signs = append(signs, found.Sign)
		}
	}
	return signs
}

func (a *after) driedUncured(i int) checked {
	p, drying := a.h.Placements.At(i), a.slabs.Drying[i]
	if p.Curing() == "" || !(drying >= 0) {
		return checked{}
	}
	return checked{Sign{Code: DriedUncured, Value: drying, Limit: Guide.Drying}, true, drying >= Guide.Drying.Value && p.Curing() == "none"}
}

func (a *after) sawnLate(i int) checked {
	p, saw := a.h.Placements.At(i), Guide.Saw
	if !p.SawHours().OK || !strings.Contains(p.JointCut(), "saw") && !strings.Contains(p.JointCut(), "early-entry") {
		return checked{}
	}
	limit := saw.Other
	switch {
	case !strings.Contains(p.JointCut(), "saw"):
		limit = saw.EarlyEntry
	case p.AirTempF().OK && p.AirTempF().V >= saw.WarmF:
		limit = saw.Warm
	case p.AirTempF().OK && p.AirTempF().V < work.ColdF:
		limit = saw.Cold
	}
	return checked{Sign{Code: SawnLate, Value: p.SawHours().V, Limit: limit, Air: p.AirTempF()}, true, p.SawHours().V > limit.Value}
}

func (a *after) wideJoints(i int) checked {
	p := a.h.Placements.At(i)
	if !p.JointSpacingFt().OK || !p.ThicknessIn().OK {
		return checked{}
	}
	mix := trade.LowSlump // the widest that the guide allows, where nothing is known
	if p.MaxAggregateIn().OK {
		mix = trade.SmallAggregate
		if p.MaxAggregateIn().V >= 0.75 {
			mix = trade.LargeAggregate
		}
	}
	guide, err := trade.JointSpacing(p.ThicknessIn().V, mix)
	if err != nil {
		return checked{}
	}
	limit := Limit{guide.Ft, Guide.JointTimesFrom}
	if guide.Ft < guide.Guide {
		limit.Source = Guide.JointFt.Source
	}
	return checked{Sign{Code: WideJoints, Value: p.JointSpacingFt().V, Limit: limit}, true, p.JointSpacingFt().V > guide.Ft+1e-9}
}

func (a *after) watered(i int) checked {
	most, known := 0.0, false
	for _, l := range a.h.LoadsOf(i) {
		if !l.WaterAddedGal.OK || !(l.Yards.V > 0) {
			continue
		}
		known = true
		most = max(most, l.WaterAddedGal.V/l.Yards.V)
	}
	return checked{Sign{Code: WaterAdded, Value: most, Limit: Guide.Water}, known, most >= Guide.Water.Value}
}

func (a *after) late(i int) checked {
	longest := work.LongestDischarge(a.h, i)
	return checked{Sign{Code: PastTime, Value: longest.V, Limit: Guide.Time}, longest.OK, longest.V > Guide.Time.Value}
}

// thin holds the mean of the probes against the thickness that was bid.
func (a *after) thin(i int) checked {
	p := a.h.Placements.At(i)
	if !p.MeasuredThicknessIn().OK || !p.ThicknessIn().OK {
		return checked{}
	}
	least := p.ThicknessIn().V - Guide.TooLow.Value
	return checked{Sign{Code: Thin, Value: p.MeasuredThicknessIn().V, Limit: Limit{p.ThicknessIn().V, Guide.TooLow.Source}}, true, p.MeasuredThicknessIn().V <= least+1e-9}
}
