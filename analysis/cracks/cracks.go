package cracks

import (
	"fmt"
	"math"
	"sync"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// Cracks says how often slabs of each make crack, and how long they have been
// watched: a slab poured last week has proved nothing.
type Cracks struct {
	Answer         string              `json:"answer"`
	Event          string              `json:"event"`       // what counts as a crack
	EventSays      string              `json:"event_means"` // in words
	WarrantyDays   int                 `json:"warranty_days"`
	All            Cell                `json:"all"`
	Cells          []Cell              `json:"cells"`            // reinforcement × spacing band
	Reinforcements []Cell              `json:"by_reinforcement"` // over all bands
	OneWay         []Table             `json:"one_way"`          // by one thing at a time
	LogRank        LogRank             `json:"logrank"`          // by reinforcement
	Cox            []CoxTerm           `json:"cox"`
	Events         int                 `json:"events"` // cracks before any other callback: what the models count
	ModelEvents    int                 `json:"cox_events"`
	PropHazards    PropHazards         `json:"proportional_hazards"`
	Later          Later               `json:"remaining"`
	SpacingUnknown int                 `json:"spacing_unknown"` // placements
	Assumptions    []figure.Assumption `json:"assumptions"`
	Notes          []string            `json:"notes"`
}

func Of(h *record.History, s *Slabs, opt setting.Options) *Cracks {
	months, stated := WarrantyMonths(h)
	horizon := math.Round(float64(months) * DaysPerMonth)
	c := &Cracks{Event: opt.Event, EventSays: eventMeans(opt.Event), WarrantyDays: int(horizon), Notes: []string{}}
	var m CrackModel
	var side sync.WaitGroup
	side.Go(func() { c.OneWay = s.crackTables(opt.Level) })
	side.Go(func() { m = s.crackModel(opt) })
	c.All = s.Together(horizon, opt.Level)
	c.Cells = s.BySpacing(opt.Bands, horizon, opt.Level)
	c.Reinforcements = s.bySteel(horizon, opt.Level)
	c.LogRank = s.compareSteel(c.Reinforcements, c.All.Callbacks)
	side.Wait()
	c.Cox, c.Events, c.ModelEvents, c.PropHazards = m.terms, m.events, m.used, m.ph
	callback := s.CallbackCost(opt.Steel)
	c.Later = s.later(c.All.Curve, horizon, callback.Value, opt)
	c.Assumptions = []figure.Assumption{
		{Name: "warranty", Value: float64(months), Unit: "months", From: figure.FromJobs(stated)},
		callback,
		{Name: "belief about a hazard ratio before the records, with few cracks", Value: math.Exp(setting.PriorSD), Unit: "times, one standard deviation", From: "setting"},
	}
	for _, b := range s.band {
		if b < 0 {
			c.SpacingUnknown++
		}
	}
	c.Notes = append(c.crackNotes(), m.notes...)
	c.Answer = c.answer(m.lead) + c.Later.says()
	return c
}

// compareSteel tests that all kinds of reinforcement crack alike.
func (s *Slabs) compareSteel(kinds []Cell, events int) LogRank {
	return s.compareRows(len(kinds), events, s.Steel.Code, nil)
}

func eventMeans(event string) string {
	if event == setting.EventSeen {
		return "A crack counts from the first visit that saw it; slabs without one are followed to their last visit."
	}
	return "A crack counts from the day the customer called about it; slabs without such a call are followed to the data date."
}

// crackNotes are the reservations that go with every figure here.
func (c *Cracks) crackNotes() []string {
	notes := []string{c.EventSays}
	if c.Event == setting.EventCallback {
		notes = append(notes, "A callback is not a crack: many cracks are never reported, and some customers call about hairlines.")
	} else {
		notes = append(notes, "A visit finds a crack that may be much older: risks by an age stand on how soon and how often somebody looked.")
	}
	notes = append(notes,
		"Slabs of one job share soil, weather and customer: they go together, so there is less to learn from them than their number says.",
		"Spacing and thickness are chosen with the soil and the load in mind: a difference between them may be the soil's doing.",
		"Calls bunch just before a warranty ends: a jump there is the customers' doing, not the concrete's.",
		"In comparisons a slab that was first called back for something else counts only up to that day.")
	if n := c.All.Placements; n > 0 && c.SpacingUnknown > 0 {
		notes = append(notes, fmt.Sprintf("Joint spacing is unknown for %d of %d placements: a difference between reinforcements there may be the spacing's doing, and the records cannot tell the two apart.", c.SpacingUnknown, n))
	}
	return notes
}
