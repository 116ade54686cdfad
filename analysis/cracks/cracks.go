package cracks

import (
	"math"
	"sync"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// Cracks says how often slabs of each make crack, and how long they have been
// watched: a slab poured last week has proved nothing.
type Cracks struct {
	Event          string              `json:"event"` // what counts as a crack
	WarrantyDays   int                 `json:"warranty_days"`
	All            Cell                `json:"all"`
	Cells          []Cell              `json:"cells"`            // reinforcement × spacing band
	Reinforcements []Cell              `json:"by_reinforcement"` // over all bands
	OneWay         []Table             `json:"one_way"`          // by one thing at a time
	LogRank        LogRank             `json:"logrank"`          // the first of the next two that has an answer
	BySteel        LogRank             `json:"logrank_reinforcement"`
	BySpacing      LogRank             `json:"logrank_spacing"` // within reinforcement
	Cox            []CoxTerm           `json:"cox"`
	Events         int                 `json:"events"` // cracks before any other callback: what the models count
	ModelEvents    int                 `json:"cox_events"`
	PropHazards    PropHazards         `json:"proportional_hazards"`
	Later          Later               `json:"remaining"`
	SpacingUnknown int                 `json:"spacing_unknown"` // placements
	Assumptions    []figure.Assumption `json:"assumptions"`

	Conclusion Conclusion    `json:"-"`
	LeftOut    []LeftOut     `json:"-"` // of the hazard model
	NoModel    figure.Reason `json:"-"` // why it has no answer; nil where it has one, or was not asked
}

// Of answers from what is known of each slab.
func Of(h *record.History, s *Slabs, opt setting.Options) *Cracks {
	months, stated := WarrantyMonths(h)
	horizon := math.Round(float64(months) * DaysPerMonth)
	c := &Cracks{Event: opt.Event, WarrantyDays: int(horizon)}
	var m CrackModel
	var side sync.WaitGroup
	side.Go(func() { c.OneWay = s.crackTables(opt.Level) })
	side.Go(func() { m = s.crackModel(opt) })
	c.All = s.Together(horizon, opt.Level)
	c.Cells = s.BySpacing(opt.Bands, horizon, opt.Level)
	c.Reinforcements = s.bySteel(horizon, opt.Level)
	c.BySteel = s.compare(s.Steel.Code, nil)
	c.BySteel.Across = AcrossReinforcement
	c.BySpacing = s.compare(s.band, s.Steel.Code)
	c.BySpacing.Across = AcrossSpacing
	if c.LogRank = c.BySteel; !c.LogRank.Known() && c.BySpacing.Known() {
		c.LogRank = c.BySpacing
	}
	side.Wait()
	besideTrends(c.OneWay, m.terms)
	c.Cox, c.Events, c.ModelEvents, c.PropHazards = m.terms, m.events, m.used, m.ph
	callback := s.CallbackCost(opt.Steel)
	c.Later = s.later(c.All.Curve, horizon, callback.Value, opt)
	c.Assumptions = []figure.Assumption{
		{What: Warranty, Value: float64(months), Unit: figure.Months, From: figure.WarrantyFrom(stated)},
		callback,
		{What: RatioBelief, Value: math.Exp(setting.PriorSD), Unit: figure.TimesOneSD, From: figure.Setting()},
	}
	for _, b := range s.band {
		if b < 0 {
			c.SpacingUnknown++
		}
	}
	c.LeftOut, c.NoModel, c.Conclusion = m.out, m.failed, c.conclude(m.lead)
	return c
}
