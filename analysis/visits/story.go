package visits

import (
	"cmp"
	"slices"

	"pourback/analysis/figure"
	"pourback/ingest/record"
)

// SlabStory is one slab from its pour to the data date.
type SlabStory struct {
	JobNo, Placement, Site string
	PlacedOn, WarrantyEnds record.Date
	Use, Reinforcement     string
	AreaSqft, ThicknessIn  record.Number
	Pour                   PourRecord
	Signs                  []Sign // in which it lies outside a guide
	Looks                  []StoryLook
	Cost                   figure.Figure // of its callbacks
	Chance, Worth          figure.Figure
	Stands                 Standing
}

// PourRecord is what is on record of the conditions of a pour.
type PourRecord struct {
	AirF, ConcreteF         record.Number
	Drying                  record.Number // lb/ft²/h
	SlumpLowIn, SlumpHighIn record.Number // over its loads
	WaterGal                record.Number // added, in all
	DelayMin                record.Count
	JointFt, SawHours       record.Number
	JointCut, Curing, Base  string
	Crew                    string
}

// Known says whether anything is on record.
func (p PourRecord) Known() bool { return p != PourRecord{} }

// Standing is how a slab stands on the data date.
type Standing struct {
	Code         StandCode
	Kind         string      // of the callback
	On           record.Date // since when it is open, or when the crack was seen
	Calls        int
	DaysLeft     int // of warranty; 0 and less where it has ended
	WarrantyEnds record.Date
}

// StandCode says how a slab stands.
type StandCode string

// How slabs stand.
const (
	StandOpen     StandCode = "open"         // a callback is open
	StandLogged   StandCode = "logged"       // called about; a job log does not say when that was closed
	StandUnclosed StandCode = "never closed" // on paper, for longer than LongOpenDays
	StandClosed   StandCode = "closed"       // called about, and nothing is open
	StandCracked  StandCode = "crack seen"   // and nobody has called
	StandQuiet    StandCode = "quiet"
)

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
const mostStories = 300

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
	p, f := a.h.Placements.At(i), &a.slab[i]
	s := SlabStory{JobNo: p.JobNo(), Placement: p.Placement(), Site: a.site(i), PlacedOn: p.PlacedOn(), WarrantyEnds: f.warrantyEnd,
		Use: p.Use(), Reinforcement: p.Reinforcement(), AreaSqft: p.AreaSqft(), ThicknessIn: p.ThicknessIn(), Pour: a.pourRecord(i), Signs: a.signs(i),
		Cost: costOf(a.callsOf(i)), Stands: a.stands(i)}
	s.Chance, s.Worth = a.ahead(i)
	s.Looks = a.looks(i)
	return s
}

// looks are the visits to slab i, or the callback that a job log knows of.
func (a *after) looks(i int) []StoryLook {
	p, visits := a.h.Placements.At(i), a.h.VisitsOf(i)
	if len(visits) == 0 && p.CallbackOn() != 0 {
		return []StoryLook{{On: p.CallbackOn(), Day: int(p.CallbackOn() - p.PlacedOn()), Why: "callback", Finding: p.CallbackKind(), Cost: p.CallbackCost()}}
	}
	var looks []StoryLook
	var last record.Number
	for k := range visits {
		v := &visits[k]
		l := StoryLook{On: v.SeenOn, Day: int(v.SeenOn - p.PlacedOn()), Why: v.Why, Finding: v.Finding, Kind: v.CrackKind, AtJoint: v.AtJoint,
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
		looks = append(looks, l)
	}
	return looks
}

// pourRecord is what is on record of the pour of slab i.
func (a *after) pourRecord(i int) PourRecord {
	p := a.h.Placements.At(i)
	r := PourRecord{AirF: p.AirTempF(), ConcreteF: p.ConcreteTempF(), DelayMin: p.DelayMin(), JointFt: p.JointSpacingFt(), SawHours: p.SawHours(),
		JointCut: p.JointCut(), Curing: p.Curing(), Base: p.Base(), Crew: p.Crew()}
	if d := a.slabs.Drying[i]; d >= 0 {
		r.Drying = record.Some(d)
	}
	for _, l := range a.h.LoadsOf(i) {
		if l.SlumpIn.OK {
			r.SlumpLowIn = record.Some(min(l.SlumpIn.V, r.SlumpLowIn.Or(l.SlumpIn.V)))
			r.SlumpHighIn = record.Some(max(l.SlumpIn.V, r.SlumpHighIn.Or(l.SlumpIn.V)))
		}
		if l.WaterAddedGal.OK {
			r.WaterGal = record.Some(r.WaterGal.Or(0) + l.WaterAddedGal.V)
		}
	}
	return r
}

// stands says how slab i stands now.
func (a *after) stands(i int) Standing {
	f := &a.slab[i]
	s := Standing{Code: StandQuiet, Calls: int(f.to - f.from), DaysLeft: int(f.warrantyEnd - a.h.AsOf), WarrantyEnds: f.warrantyEnd}
	if last := a.latest(i); last != nil {
		s.Kind, s.On = last.kind, last.on
	}
	switch f.state {
	case open:
		s.Code = StandOpen
	case repaired:
		s.Code = StandClosed
		if a.latest(i).logged {
			s.Code = StandLogged
		} else if at := slices.IndexFunc(a.callsOf(i), func(c call) bool { return c.open() }); at >= 0 {
			c := a.callsOf(i)[at]
			s.Code, s.Kind, s.On = StandUnclosed, c.kind, c.on
		}
	case cracked:
		s.Code, s.On = StandCracked, f.crackOn
	}
	return s
}
