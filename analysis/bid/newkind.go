package bid

import (
	"cmp"
	"math"
	"slices"

	"pourback/analysis/figure"
)

// How alike two kinds of job are falls off as a normal curve with the logarithms of
// thickness and volume, and by a factor where the method is another; a use of few
// placements tells less of its kind, and no kind tells all of another. (Common
// practice, no published source.)
const (
	likeThickness  = 0.25 // standard deviation, of the logarithm
	likeVolume     = 1.0  // the same
	likeOtherWay   = 0.4  // where the method is another
	likePlacements = 5.0  // that are as much as not knowing the kind
	likeMost       = 0.8  // of the effect of others that a kind takes
)

// newKinds has each use of the bid that is not on record borrow from those that are
// like it, in waste, hours and callbacks, and says so.
func (w *bidWork) newKinds() {
	w.like = map[string]map[string]float64{}
	known := map[string]bool{}
	for i := range w.h.Placements.Len() {
		known[w.h.Placements.At(i).Use()] = true
	}
	if len(known) == 0 {
		return
	}
	for _, s := range w.slabs {
		if s.Use == "" || known[s.Use] || w.like[s.Use] != nil {
			continue
		}
		shares := w.alike(s)
		if len(shares) == 0 {
			continue
		}
		w.like[s.Use] = shares
		w.overage.Borrow(s.Use, shares)
		w.hours.Borrow(s.Use, shares)
		names := figure.SortedNames(shares)
		slices.SortStableFunc(names, func(a, b string) int { return cmp.Compare(shares[b], shares[a]) })
		n := Note{Kind: NoteNewKind, Name: s.Use, Like: names[0]}
		if len(names) > 1 && shares[names[1]] > shares[names[0]]/2 {
			n.AndLike = names[1]
		}
		w.note(n)
	}
}

// alike are the shares that a kind takes of the uses on record: in all as much as the
// most like of them is like it, and between them as they are.
func (w *bidWork) alike(s *bidSlab) map[string]float64 {
	sum, count := map[string]float64{}, map[string]float64{}
	for i := range w.h.Placements.Len() {
		p := w.h.Placements.At(i)
		neat, thick := p.Neat(), p.ThicknessIn()
		if p.Use() == "" || !neat.OK || neat.V <= 0 || !thick.OK || thick.V <= 0 {
			continue
		}
		k := math.Exp(-(math.Pow(math.Log(thick.V/s.ThicknessIn)/likeThickness, 2) + math.Pow(math.Log(neat.V/s.neatYd)/likeVolume, 2)) / 2)
		if p.Method() != s.Method {
			k *= likeOtherWay
		}
		sum[p.Use()] += k
		count[p.Use()]++
	}
	most, all := 0.0, 0.0
	for _, use := range figure.SortedNames(sum) {
		sum[use] /= count[use] + likePlacements
		most, all = max(most, sum[use]), all+sum[use]
	}
	if most < 0.01 { // nothing on record is like it
		return nil
	}
	for use := range sum {
		sum[use] *= likeMost * most / all
	}
	return sum
}
