package visits

import (
	"errors"
	"math"
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

// SeenCracks sets the cracks that visits saw beside those that customers called
// about, and a crack found on a visit as what it is: one that arose between the
// last look without it and that visit.
type SeenCracks struct {
	Looked      int      `json:"slabs_looked_at"`
	SeenSlabs   int      `json:"slabs_seen_cracked"`
	CalledSlabs int      `json:"slabs_called_about"` // for a crack
	SeenFirst   int      `json:"seen_before_called"` // of those seen cracked: before any call about a crack, or without one
	SoundAgain  int      `json:"sound_after_crack"`  // slabs found sound after a crack, with no repair on record
	Ages        []SeenAt `json:"ages"`
	Draws       int      `json:"draws"` // of the bootstrap

	Curves   []SeenLine    `json:"-"`
	Year     *SeenAt       `json:"-"` // of Ages, the one that tells most; nil where none is known
	Dating   Dating        `json:"-"`
	Unworked figure.Reason `json:"-"` // why the records could not be followed; nil where they could
	OneJobIn int           `json:"-"` // from which the estimate between two looks comes; 1 for all
	OneOf    int           `json:"-"` // slabs of those jobs
}

// Dating is how much it matters when a crack is taken to have arisen.
type Dating struct {
	Code DatingCode
	At   *SeenAt // the age at which it matters most
}

// DatingCode says how much the dating matters.
type DatingCode string

// How much the dating of cracks matters.
const (
	DatingUnlooked DatingCode = "nobody looked"
	DatingEarly    DatingCode = "too early"
	DatingUntold   DatingCode = "untold"
	DatingHardly   DatingCode = "hardly"
	DatingMatters  DatingCode = "matters"
)

// SeenAt is the share of slabs with a crack by an age, three ways.
type SeenAt struct {
	AgeDays int           `json:"age_days"`
	Called  figure.Figure `json:"called"`   // Kaplan-Meier, a crack dated to the call
	Seen    figure.Figure `json:"seen"`     // Kaplan-Meier, a crack dated to the visit that found it
	Between figure.Figure `json:"between"`  // Turnbull, a crack dated between two looks
	AtLeast figure.Figure `json:"at_least"` // what Turnbull's estimate surely puts before this age
	AtMost  figure.Figure `json:"at_most"`  // what it may put before it
}

// LineCode names one of the three ways of counting.
type LineCode string

// The ways of counting cracks.
const (
	LineCalled  LineCode = "called about"
	LineSeen    LineCode = "seen"
	LineBetween LineCode = "between two looks"
)

// SeenLine is one of the three as a line of cracked shares by age.
type SeenLine struct {
	Code LineCode
	Age  []float64 // days
	Risk []float64
}

func (a *after) seenCracks() SeenCracks {
	s := SeenCracks{Ages: []SeenAt{}, OneJobIn: 1, Dating: Dating{Code: DatingUnlooked}}
	called, seen, looks := a.watches(&s)
	if s.Looked == 0 {
		return s
	}
	s.ages(a, called, seen, looks)
	s.conclude()
	return s
}

// watch2 is time followed to the first crack by one definition.
type watch2 struct {
	days    []float64
	cracked []bool
}

func (w *watch2) add(from, on, end record.Date) {
	cracked := on != 0
	if cracked {
		end = on
	}
	w.days, w.cracked = append(w.days, float64(max(0, end-from))), append(w.cracked, cracked)
}

// watches follows each slab by both definitions, and gathers the intervals of
// those that somebody went to look at without being called.
func (a *after) watches(s *SeenCracks) (called, seen watch2, looks []cracks.Look) {
	for i := range a.h.Placements.Len() {
		p, f := a.h.Placements.At(i), &a.slab[i]
		on := cracks.CrackOn(a.h, i, setting.EventCallback)
		called.add(p.PlacedOn(), on, a.h.AsOf)
		if on != 0 {
			s.CalledSlabs++
		}
		if f.look == 0 {
			continue // a slab looked at because somebody called says nothing of those that nobody called about
		}
		s.Looked++
		seen.add(p.PlacedOn(), f.crackOn, f.last)
		if f.crackOn != 0 {
			s.SeenSlabs++
			if on == 0 || f.crackOn < on {
				s.SeenFirst++
			}
		}
		s.SoundAgain += int(cracks.Indicator(a.soundAgain(i)))
		l, _ := cracks.LookAt(a.h, i, f.crackOn, a.visits.Days)
		looks = append(looks, l)
	}
	return called, seen, looks
}

// soundAgain says whether slab i was found sound after a crack that no record
// says was repaired.
func (a *after) soundAgain(i int) bool {
	f := &a.slab[i]
	if f.crackOn == 0 || slices.ContainsFunc(a.callsOf(i), func(c call) bool { return c.closed != 0 || c.logged }) {
		return false
	}
	return slices.ContainsFunc(a.h.VisitsOf(i), func(v record.Visit) bool { return v.SeenOn > f.crackOn && v.Finding == "sound" })
}

// agesOf are the ages at which shares are read: the usual days of the plan, as
// far as enough slabs were followed and from when half of them had been looked at.
func (a *after) agesOf(km *survival.KM) []float64 {
	var first []float64
	for i := range a.slab {
		if f := &a.slab[i]; f.look != 0 {
			first = append(first, float64(f.look-a.h.Placements.At(i).PlacedOn()))
		}
	}
	half, err := interval.Quantiles(first, 0.5)
	if err != nil {
		return nil
	}
	candidates := append([]int{7, 28, 90, 180, 365, 730}, a.visits.Days...)
	for years := 5.; years <= 50; years += 5 {
		candidates = append(candidates, int(math.Round(years*cracks.DaysPerYear)))
	}
	var ages []float64
	for _, d := range candidates {
		if age := float64(d); d > 0 && age >= half[0] && km.AtRiskAt(age) >= figure.LeastForRate {
			ages = append(ages, age)
		}
	}
	slices.Sort(ages)
	return slices.Compact(ages)
}

func (s *SeenCracks) ages(a *after, called, seen watch2, looks []cracks.Look) {
	byCall, err1 := survival.KaplanMeier(called.days, called.cracked)
	bySeen, err2 := survival.KaplanMeier(seen.days, seen.cracked)
	if err := errors.Join(err1, err2); err != nil {
		s.Unworked = figure.ReasonOf(err)
		return
	}
	ages := a.agesOf(bySeen)
	between := cracks.FitBetween(looks, ages, a.level, a.seed)
	s.OneJobIn, s.OneOf, s.Draws = between.OneJobIn, between.OneOf, between.Draws
	for _, age := range ages {
		at := SeenAt{AgeDays: int(age), Called: cracks.RiskAt(byCall, age, a.level), Seen: cracks.RiskAt(bySeen, age, a.level)}
		at.Between, at.AtLeast, at.AtMost = between.By(age)
		s.Ages = append(s.Ages, at)
	}
	end := followedTo(bySeen)
	s.Curves = append(s.Curves, lineOf(LineCalled, byCall, end), lineOf(LineSeen, bySeen, end))
	if between.Why == nil {
		s.Curves = append(s.Curves, betweenLine(between, end))
	}
}
