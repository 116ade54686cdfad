package visits

import (
	"math"

	"pourback/analysis/cracks"
)

// conclude picks the age at which the three ways of counting are told, and the
// one at which the dating of cracks matters most.
func (s *SeenCracks) conclude() {
	if s.Year = s.yearly(); s.Year == nil {
		s.Dating = Dating{Code: DatingEarly}
		return
	}
	s.Dating = s.dating()
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

// hardlyApart is how far, as a share, the simple count may lie outside what the
// visits leave open before that is worth saying.
const hardlyApart = 0.005

// dating says how far the simple count lies outside what Turnbull's estimate
// leaves open, where it lies farthest.
func (s *SeenCracks) dating() Dating {
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
		return Dating{Code: DatingUntold}
	case math.Abs(most) < hardlyApart:
		return Dating{Code: DatingHardly, At: worst}
	}
	return Dating{Code: DatingMatters, At: worst}
}
