package survival

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"pourback/analysis/stat"
)

// Interval holds an event that came after Left and by Right: between a visit
// that saw none and the one that found it. Right is +Inf for an event not seen
// yet; equal ends are a time known exactly.
type Interval struct{ Left, Right float64 }

// Turnbull is the nonparametric maximum likelihood estimate of when events
// come, from interval-censored times. All mass lies in innermost intervals,
// those that begin where some row's interval does, end where the next to end
// does, and hold no other end. Where in them it lies the data cannot tell.
type Turnbull struct {
	stat.Fit
	N      int
	At     []Interval // innermost intervals with mass, ascending
	Mass   []float64  // of each; they sum to 1
	LogLik float64

	// Gap bounds from above what the log likelihood of any distribution could
	// gain on this one: n·log(max_j D_j/n), D_j = Σ_i 1[row i may be in j]/P_i.
	// It is 0 exactly under the Kuhn-Tucker conditions.
	Gap float64
}

const (
	certain       = 1e-9 // gap at which a fit has converged, per thousand rows if there are more
	mostRounds    = 20_000
	negligibleGap = 1e-4
)

// TurnbullNPMLE maximises Σ_i log P_i, P_i the mass in the interval of row i
// (Peto 1973, Appl. Stat. 22, 86-91; Turnbull 1976, J. R. Stat. Soc. B 38,
// 290-295). It takes Turnbull's self-consistency steps and iterative convex
// minorant steps in turn (Groeneboom & Wellner 1992; Wellner & Zhan 1997, J.
// Am. Stat. Assoc. 92, 945-959) until the Kuhn-Tucker conditions certify the
// top (Gentleman & Geyer 1994, Biometrika 81, 618-623). The masses are unique.
//
// Assumption: visits are not timed by the event about to come. There are no
// confidence limits: resample rows.
//
// Errors: [stat.ErrNoData]; [stat.ErrNotFinite] for NaN or an infinite Left;
// [stat.ErrDomain] for an end before its beginning or a time below 0;
// [stat.ErrNotConverged]. A gap of up to 1e-4 that would close no further is a
// warning.
func TurnbullNPMLE(rows []Interval) (*Turnbull, error) {
	if err := checkIntervals(rows); err != nil {
		return nil, fmt.Errorf("Turnbull: %w", err)
	}
	innermost := innermostIntervals(rows)
	m := newMixture(rows, innermost)
	t := &Turnbull{N: len(rows)}
	t.Fit, t.Gap = m.maximise()
	if !(t.Gap <= negligibleGap) {
		return nil, fmt.Errorf("Turnbull: %d rounds left a gap of %g: %w", t.Iterations, t.Gap, stat.ErrNotConverged)
	}
	t.LogLik = m.logLik(m.mass)
	for j, p := range m.mass {
		if p > 0 {
			t.At, t.Mass = append(t.At, innermost[j]), append(t.Mass, p)
		}
	}
	return t, nil
}

// checkIntervals refuses rows that hold no time.
func checkIntervals(rows []Interval) error {
	if len(rows) == 0 {
		return stat.ErrNoData
	}
	for i, r := range rows {
		if math.IsNaN(r.Left) || math.IsNaN(r.Right) || math.IsInf(r.Left, 0) {
			return fmt.Errorf("row %d is (%v, %v]: %w", i, r.Left, r.Right, stat.ErrNotFinite)
		}
		if r.Left < 0 || r.Right < r.Left {
			return fmt.Errorf("row %d is (%v, %v]: %w", i, r.Left, r.Right, stat.ErrDomain)
		}
	}
	return nil
}

// SurvivalAt bounds S(t): the mass of the intervals that t cuts may lie on
// either side of it. The two agree wherever t cuts none.
func (t *Turnbull) SurvivalAt(at float64) (low, high float64) {
	var surely, maybe float64
	for j, i := range t.At {
		switch {
		case i.Right <= at:
			surely += t.Mass[j]
		case i.Left < at:
			maybe += t.Mass[j]
		}
	}
	return max(0, 1-surely-maybe), max(0, 1-surely)
}

// endpoint is one end of a row's interval. At equal times the beginning of an
// exactly known time comes first, then ends, then the open beginnings.
type endpoint struct {
	time  float64
	order int
}

const (
	exactBegin = iota
	end
	openBegin
)

func (e endpoint) compare(f endpoint) int {
	return cmp.Or(cmp.Compare(e.time, f.time), cmp.Compare(e.order, f.order))
}

func (i Interval) ends() (begin, finish endpoint) {
	if i.Left == i.Right {
		return endpoint{i.Left, exactBegin}, endpoint{i.Right, end}
	}
	return endpoint{i.Left, openBegin}, endpoint{i.Right, end}
}

// innermostIntervals finds each beginning that the next endpoint ends.
func innermostIntervals(rows []Interval) []Interval {
	all := make([]endpoint, 0, 2*len(rows))
	for _, r := range rows {
		b, e := r.ends()
		all = append(all, b, e)
	}
	slices.SortFunc(all, endpoint.compare)
	var out []Interval
	for k, e := range all[1:] {
		if e.order == end && all[k].order != end {
			out = append(out, Interval{all[k].time, e.time})
		}
	}
	return out
}
