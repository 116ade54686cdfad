package analysis

import (
	"fmt"
	"math"
	"strings"
)

// leastOverlap is how far the weather or the joints of two kinds of slab must
// overlap to be compared: Σ min(share of the one, share of the other) over
// bands, which is 1 for kinds poured alike and 0 for kinds that never meet (the
// overlapping coefficient, Inman & Bradley 1989, Comm. Stat. Theory 18:3851).
const leastOverlap = 0.2

// cannotTell says why slabs of two kinds of reinforcement cannot be compared,
// "" where they can: one is missing, or what they differ in besides steel is
// not recorded, or they were never poured alike in it. A kind is a code, −1 for
// one that no slab has.
func (s *slabs) cannotTell(a, b int, nameA, nameB string) string {
	p := s.pair(a, b)
	var why []string
	if p.n[0] == 0 || p.n[1] == 0 {
		why = append(why, fmt.Sprintf("%s with %s and %s with %s: a comparison needs both",
			countOf(p.n[0], "slab"), nameA, thousands(p.n[1]), nameB))
	}
	n := p.n[0] + p.n[1]
	for _, from := range []struct {
		lacks, cause string
		values       []float64
		width        float64
	}{{"joint spacing", "spacing", s.ratio, 6}, {"air temperature", "heat", s.air, 10}} {
		overlap, known := p.overlap(from.values, from.width)
		lacking := n - known
		switch {
		case n > 0 && float64(lacking) > mostMissing*float64(n):
			why = append(why, fmt.Sprintf("%s is unknown for %s of %s: the records cannot tell the steel from the %s",
				from.lacks, thousands(lacking), countOf(n, "slab"), from.cause))
		case p.n[0] > 0 && p.n[1] > 0 && overlap < leastOverlap:
			why = append(why, fmt.Sprintf("%s and %s were hardly ever poured at the same %s (%s): the records cannot tell the steel from the %s",
				nameA, nameB, from.lacks, p.means(from.values, nameA, nameB, from.lacks), from.cause))
		}
	}
	return strings.Join(why, "; ")
}

// pair is the slabs of two kinds of reinforcement: kind says 0 or 1 of each
// slab, or −1.
type pair struct {
	kind []int8
	n    [2]int
}

func (s *slabs) pair(a, b int) pair {
	p := pair{kind: make([]int8, s.n())}
	for i, c := range s.steel.code {
		switch c {
		case a:
			p.n[0]++
		case b:
			p.kind[i] = 1
			p.n[1]++
		default:
			p.kind[i] = -1
		}
	}
	return p
}

// overlap is the overlapping coefficient of a value in bands so wide, and how
// many slabs' values are known.
func (p pair) overlap(values []float64, width float64) (overlap float64, known int) {
	const most = 64 // bands either way: beyond all weather and all joints
	var in [2*most + 1][2]float64
	var n [2]float64
	for i, k := range p.kind {
		if k >= 0 && !math.IsNaN(values[i]) {
			in[int(max(-most, min(most, math.Floor(values[i]/width))))+most][k]++
			n[k]++
		}
	}
	for _, band := range in {
		overlap += min(band[0]/max(1, n[0]), band[1]/max(1, n[1]))
	}
	return overlap, int(n[0] + n[1])
}

// means says what the two kinds were poured at, on average.
func (p pair) means(values []float64, nameA, nameB, what string) string {
	var sum, n [2]float64
	for i, k := range p.kind {
		if k >= 0 && !math.IsNaN(values[i]) {
			sum[k] += values[i]
			n[k]++
		}
	}
	unit := " °F"
	if what == "joint spacing" {
		unit = " thicknesses"
	}
	return fmt.Sprintf("mean %s %s%s with %s, %s%s with %s", what, signed(sum[0]/max(1, n[0]), 0), unit, nameA, signed(sum[1]/max(1, n[1]), 0), unit, nameB)
}
