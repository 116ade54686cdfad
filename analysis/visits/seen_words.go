package visits

import (
	"fmt"
	"math"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
)

// conclude says what the three ways of counting come to.
func (s *SeenCracks) conclude(a *after) {
	s.Notes = append(s.Notes,
		"Slabs that nobody went to look at are left out of what was seen; what customers called about counts all slabs.",
		"A slab counts as looked at up to its last visit; one that was looked at only because a customer called would count cracks alone, and is left out.")
	if s.SoundAgain > 0 {
		s.Notes = append(s.Notes, fmt.Sprintf("%s found sound after a crack, with no repair on record: somebody overlooked it, or did not write the repair down. The crack counts.", wereCount(s.SoundAgain, "slab")))
	}
	at := s.yearly()
	if at == nil || !at.Seen.Known() {
		s.Answer = fmt.Sprintf("Visits saw a crack on %d of %s looked at; customers called about %d: too short a time to say more.", s.SeenSlabs, figure.CountOf(s.Looked, "slab"), s.CalledSlabs)
		s.Says = "Too few slabs have been followed to say how much it matters when a crack is taken to have arisen."
		return
	}
	by := ageWords(at.AgeDays)
	s.Answer = fmt.Sprintf("By %s visits had seen a crack on about %s", by, cracks.Of100(at.Seen, "slabs"))
	if at.Called.Known() {
		s.Answer += fmt.Sprintf(", and customers had called about one on %s", cracks.OutOf100(at.Called))
	}
	s.Answer += fmt.Sprintf("; of %s seen cracked, %d were seen before anybody called.", figure.CountOf(s.SeenSlabs, "slab"), s.SeenFirst)
	s.Says = s.matters()
}

// wereCount is "1 slab was" or "3 slabs were".
func wereCount(n int, thing string) string {
	if n == 1 {
		return "1 " + thing + " was"
	}
	return figure.CountOf(n, thing) + " were"
}

// yearly is the age at which the three are told: a year, or the last one below
// it that is known, or else the first.
func (s *SeenCracks) yearly() *SeenAt {
	var best *SeenAt
	for i := range s.Ages {
		at := &s.Ages[i]
		if at.Seen.Known() && (best == nil || at.AgeDays <= cracks.OneYear) {
			best = at
		}
	}
	return best
}

// matters says how far the simple count lies outside what Turnbull's estimate
// leaves open, where it lies farthest.
func (s *SeenCracks) matters() string {
	var worst *SeenAt
	most := 0.0
	for i := range s.Ages {
		at := &s.Ages[i]
		if !at.Between.Known() || !at.Seen.Known() {
			continue
		}
		gap := max(0, at.AtLeast.Value-at.Seen.Value) - max(0, at.Seen.Value-at.AtMost.Value)
		if worst == nil || math.Abs(gap) > math.Abs(most) {
			worst, most = at, gap
		}
	}
	switch {
	case worst == nil:
		return "How much it matters when a crack is taken to have arisen cannot be told."
	case math.Abs(most) < 0.005:
		return "How cracks are dated hardly matters: dating a crack to the visit that found it moves no figure here by as much as 1 in 200 beyond what the visits leave open."
	}
	return fmt.Sprintf("How cracks are dated matters most by %s: dated to the visit that found them, slabs with one are %s; dated to any time since the look before, %s.",
		ageWords(worst.AgeDays), cracks.OutOf100(worst.Seen), cracks.OutOf100(worst.Between))
}

// ageWords is an age in days as an owner says it: "day 28", "1 year".
func ageWords(days int) string {
	years := float64(days) / cracks.DaysPerYear
	if whole := math.Round(years); whole >= 1 && math.Abs(years-whole) < 0.01 {
		return figure.CountOf(int(whole), "year")
	}
	return fmt.Sprintf("day %d", days)
}
