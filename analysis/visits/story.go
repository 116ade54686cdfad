package visits

import (
	"cmp"
	"fmt"
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// SlabStory is one slab from its pour to the data date.
type SlabStory struct {
	JobNo, Placement, Site string
	PlacedOn, WarrantyEnds record.Date
	What                   string   // use, area, thickness, reinforcement
	Pour                   []string // conditions at the pour, in words
	Signs                  []string // what went against a guide
	Looks                  []StoryLook
	Cost                   figure.Figure // of its callbacks
	Chance, Worth          figure.Figure
	Stands                 string // how it stands
}

// StoryLook is one visit.
type StoryLook struct {
	On       record.Date
	Day      int // from the pour
	Why      string
	Finding  string
	Kind     string // of crack
	AtJoint  record.Flag
	Width    record.Number // in
	Length   record.Number // ft
	Opened   record.Number // in, since the measurement before
	Cost     record.Money
	Resolved record.Date
	Note     string
}

// mostStories is how many slabs are told of unless one is asked for.
const mostStories = 20

// stories tells of the slab asked for, or of those with a finding or a callback
// that are worth most: first those that may still cost, then those that did.
func (a *after) stories(asked string) (told []SlabStory, with int) {
	if asked != "" {
		if i := a.find(asked); i >= 0 {
			return []SlabStory{a.story(i)}, 1
		}
		return nil, 0
	}
	type candidate struct {
		slab         int
		worth, spent float64
	}
	var all []candidate
	for i := range a.slab {
		if f := &a.slab[i]; f.crackOn == 0 && f.from == f.to && !a.otherFinding(i) {
			continue
		}
		_, worth := a.ahead(i)
		c := candidate{slab: i, worth: worth.Value}
		if a.slab[i].state == open {
			c.worth = max(c.worth, a.cost.Value)
		}
		if cost := costOf(a.callsOf(i)); cost.Known() {
			c.spent = cost.Value
		}
		all = append(all, c)
	}
	slices.SortFunc(all, func(x, y candidate) int {
		return cmp.Or(cmp.Compare(y.worth, x.worth), cmp.Compare(y.spent, x.spent), cmp.Compare(x.slab, y.slab))
	})
	for _, c := range all[:min(len(all), mostStories)] {
		told = append(told, a.story(c.slab))
	}
	return told, len(all)
}

// otherFinding says whether a visit found something that is no crack.
func (a *after) otherFinding(i int) bool {
	return slices.ContainsFunc(a.h.VisitsOf(i), func(v record.Visit) bool { return v.Finding != "sound" && v.Finding != "crack" })
}

func (a *after) story(i int) SlabStory {
	p, f := &a.h.Placements[i], &a.slab[i]
	s := SlabStory{JobNo: p.JobNo, Placement: p.Placement, Site: a.site(i), PlacedOn: p.PlacedOn, WarrantyEnds: f.warrantyEnd,
		What: a.what(p), Pour: a.pourWords(i), Cost: costOf(a.callsOf(i))}
	s.Chance, s.Worth = a.ahead(i)
	for _, sign := range a.signs() {
		if _, wrong, says := sign.look(i); wrong {
			s.Signs = append(s.Signs, says)
		}
	}
	visits := a.h.VisitsOf(i)
	var last record.Number
	for k := range visits {
		v := &visits[k]
		l := StoryLook{On: v.SeenOn, Day: int(v.SeenOn - p.PlacedOn), Why: v.Why, Finding: v.Finding, Kind: v.CrackKind, AtJoint: v.AtJoint,
			Width: v.WidthIn, Length: v.LengthFt, Cost: v.Cost, Resolved: v.ResolvedOn}
		if !a.bare { // a note may name anybody
			l.Note = v.Note
		}
		if v.Finding == "crack" && v.WidthIn.OK {
			if last.OK {
				l.Opened = record.Some(v.WidthIn.V - last.V)
			}
			last = v.WidthIn
		}
		s.Looks = append(s.Looks, l)
	}
	if len(visits) == 0 && p.CallbackOn != 0 {
		s.Looks = append(s.Looks, StoryLook{On: p.CallbackOn, Day: int(p.CallbackOn - p.PlacedOn), Why: "callback", Finding: p.CallbackKind, Cost: p.CallbackCost})
	}
	s.Stands = a.stands(i)
	return s
}

// what says what the slab is.
func (a *after) what(p *record.Placement) string {
	s := figure.OrUnknown(p.Use)
	if p.AreaSqft.OK && p.ThicknessIn.OK {
		s += fmt.Sprintf(", %s ft² of %s in", cracks.Signed(p.AreaSqft.V, 0), cracks.Signed(p.ThicknessIn.V, 1))
	}
	switch p.Reinforcement {
	case "":
	case "none":
		s += ", without reinforcement"
	default:
		s += ", " + p.Reinforcement
	}
	return s
}

// pourWords are the conditions of the pour that are on record.
func (a *after) pourWords(i int) []string {
	p := &a.h.Placements[i]
	var s []string
	add := func(ok bool, format string, args ...any) {
		if ok {
			s = append(s, fmt.Sprintf(format, args...))
		}
	}
	add(p.AirTempF.OK, "air %s °F", cracks.Signed(p.AirTempF.V, 0))
	add(p.ConcreteTempF.OK, "concrete %s °F", cracks.Signed(p.ConcreteTempF.V, 0))
	add(a.slabs.Drying[i] >= 0, "evaporation %s lb/ft²/h", cracks.Signed(a.slabs.Drying[i], 2))
	var slumps []float64
	water, watered := 0.0, false
	for _, l := range a.h.LoadsOf(i) {
		if l.SlumpIn.OK {
			slumps = append(slumps, l.SlumpIn.V)
		}
		water, watered = water+l.WaterAddedGal.V, watered || l.WaterAddedGal.OK
	}
	if len(slumps) > 0 {
		low, high := slices.Min(slumps), slices.Max(slumps)
		add(low == high, "slump %s in", cracks.Signed(low, 1))
		add(low < high, "slump %s to %s in", cracks.Signed(low, 1), cracks.Signed(high, 1))
	}
	add(watered, "%s gal of water added", cracks.Signed(water, 0))
	add(p.DelayMin.OK, "%s min of delays", figure.Grouped(p.DelayMin.V))
	add(p.JointSpacingFt.OK, "joints each %s ft", cracks.Signed(p.JointSpacingFt.V, 1))
	add(p.JointCut != "", "%s joints", p.JointCut)
	add(p.SawHours.OK, "sawn after %s h", cracks.Signed(p.SawHours.V, 1))
	add(p.Curing != "", "curing: %s", p.Curing)
	add(p.Base != "", "on %s", p.Base)
	add(p.Crew != "", "by %s", p.Crew)
	return s
}

// stands says how the slab stands now.
func (a *after) stands(i int) string {
	f := &a.slab[i]
	var s string
	switch f.state {
	case open:
		s = fmt.Sprintf("a callback (%s) is open since %s", a.latest(i).kind, a.latest(i).on)
	case repaired:
		if a.latest(i).logged {
			s = fmt.Sprintf("called about (%s); a job log does not say when that was closed", a.latest(i).kind)
			break
		}
		if at := slices.IndexFunc(a.callsOf(i), func(c call) bool { return c.open() }); at >= 0 {
			c := a.callsOf(i)[at]
			s = fmt.Sprintf("a callback (%s) was never closed on paper since %s", c.kind, c.on)
			break
		}
		s = fmt.Sprintf("called about %s, the last time for %s, and nothing is open", work.Times(int(f.to-f.from)), a.latest(i).kind)
	case cracked:
		s = fmt.Sprintf("a crack was seen on %s, and nobody has called", f.crackOn)
	default:
		s = "nothing is open"
	}
	if left := f.warrantyEnd - a.h.AsOf; left > 0 {
		return fmt.Sprintf("%s; %s of warranty left", s, figure.CountOf(int(left), "day"))
	}
	return fmt.Sprintf("%s; its warranty ended on %s", s, f.warrantyEnd)
}
