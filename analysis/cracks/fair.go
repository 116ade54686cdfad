package cracks

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/stat/survival"
)

// leastOverlap is how far the weather or the joints of two kinds of slab must
// overlap to be compared: Σ min(share of the one, share of the other) over
// bands, which is 1 for kinds poured alike and 0 for kinds that never meet (the
// overlapping coefficient, Inman & Bradley 1989, Comm. Stat. Theory 18:3851).
const leastOverlap = 0.2

// CannotTell says why slabs of two kinds of reinforcement cannot be compared,
// "" where they can: one is missing, or what they differ in besides steel is
// not recorded, or they were never poured alike in it. A kind is a code, −1 for
// one that no slab has.
func (s *Slabs) CannotTell(a, b int, nameA, nameB string) string {
	p := s.Pair(a, b)
	var why, causes []string
	both := p.N[0] > 0 && p.N[1] > 0
	if !both {
		why = append(why, fmt.Sprintf("%s with %s and %s with %s, and a comparison needs both",
			figure.CountOf(p.N[0], "slab"), nameA, figure.Grouped(int64(p.N[1])), nameB))
	}
	n := p.N[0] + p.N[1]
	for _, from := range []struct {
		what, unit, cause string
		values            []float64
		width             float64
	}{{"joint spacing", "thicknesses", "spacing", s.ratio, 6}, {"air temperature", "°F", "heat", s.Air, 10}} {
		overlap, known := p.Overlap(from.values, from.width)
		lacking := n - known
		switch {
		case float64(lacking) > mostMissing*float64(n):
			why = append(why, fmt.Sprintf("%s is unknown for %s of %s", from.what, figure.Grouped(int64(lacking)), figure.CountOf(n, "slab")))
		case both && overlap < leastOverlap:
			mean := p.means(from.values)
			why = append(why, fmt.Sprintf("%s and %s were hardly ever poured at the same %s (on average %.0f %s with %s, %.0f with %s)",
				nameA, nameB, from.what, mean[0], from.unit, nameA, mean[1], nameB))
		default:
			continue
		}
		causes = append(causes, "from the "+from.cause)
	}
	span := 14.0 // days: short against a season
	if min(p.N[0], p.N[1]) < 30 {
		span = 30 // and yet with a slab or two in most
	}
	if apart, _ := p.Overlap(s.season, span); both && apart < leastOverlap && !slices.Contains(causes, "from the heat") {
		why, causes = append(why, fmt.Sprintf("%s and %s were hardly ever poured at the same time of the year", nameA, nameB)), append(causes, "from the heat of the season")
	}
	if len(causes) > 0 {
		return strings.Join(why, "; ") + ": the records cannot tell the steel " + strings.Join(causes, " or ")
	}
	return strings.Join(why, "; ")
}

// Pair is the slabs of two kinds of reinforcement: kind says 0 or 1 of each
// slab, or −1.
type Pair struct {
	Kind []int8
	N    [2]int
}

func (s *Slabs) Pair(a, b int) Pair {
	p := Pair{Kind: make([]int8, s.N())}
	for i, c := range s.Steel.Code {
		switch c {
		case a:
			p.N[0]++
		case b:
			p.Kind[i] = 1
			p.N[1]++
		default:
			p.Kind[i] = -1
		}
	}
	return p
}

// Overlap is the overlapping coefficient of a value in bands so wide, and how
// many slabs' values are known.
func (p Pair) Overlap(values []float64, width float64) (overlap float64, known int) {
	const most = 64 // bands either way: beyond all weather and all joints
	var in [2*most + 1][2]float64
	var n [2]float64
	for i, k := range p.Kind {
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

// means are those of a value with the one kind and with the other.
func (p Pair) means(values []float64) (mean [2]float64) {
	var n [2]float64
	for i, k := range p.Kind {
		if k >= 0 && !math.IsNaN(values[i]) {
			mean[k] += values[i]
			n[k]++
		}
	}
	for k := range mean {
		mean[k] /= max(1, n[k])
	}
	return mean
}

// Rates are the cracks and the years watched of the two kinds in each of
// several strata; slabs whose stratum is −1 are left out.
func (p Pair) Rates(days []float64, cracked []bool, strata int, stratum func(i int) int) []survival.RateStratum {
	rates := make([]survival.RateStratum, strata)
	for i, k := range p.Kind {
		if k < 0 {
			continue
		}
		at := stratum(i)
		if at < 0 {
			continue
		}
		r, years := &rates[at], days[i]/DaysPerYear
		switch {
		case k == 0:
			r.Time1 += years
			r.Events1 += int(Indicator(cracked[i]))
		default:
			r.Time0 += years
			r.Events0 += int(Indicator(cracked[i]))
		}
	}
	return rates
}
