package survival

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"pourback/analysis/stat"
)

// KM is a Kaplan-Meier curve. Its slices run over the distinct times at which
// follow-up of any row ended, by an event or by censoring, in ascending order.
type KM struct {
	N      int // rows
	Events int

	Time      []float64
	AtRisk    []int     // rows followed to Time[i] or beyond
	Event     []int     // events at Time[i]; they come before the censorings there
	Survival  []float64 // S(Time[i]), the events at Time[i] counted
	Greenwood []float64 // Σ d/(n(n−d)) over times up to Time[i]; +Inf once S is 0
}

// KaplanMeier estimates S(t) = Π_{t_j ≤ t} (1 − d_j/n_j) from the time to the
// event, or to the end of follow-up where event is false (Kaplan & Meier 1958,
// J. Am. Stat. Assoc. 53, 457-481). Times are at least 0, in any one unit.
// Whole-number times are counted in O(n), others sorted.
//
// Errors: [stat.ErrNoData], [stat.ErrShape], [stat.ErrNotFinite], and
// [stat.ErrDomain] for a time below 0. No events is an answer: S stays 1.
func KaplanMeier(times []float64, event []bool) (*KM, error) {
	if len(times) == 0 {
		return nil, fmt.Errorf("Kaplan-Meier: %w", stat.ErrNoData)
	}
	if len(times) != len(event) {
		return nil, fmt.Errorf("Kaplan-Meier: %d times and %d events: %w", len(times), len(event), stat.ErrShape)
	}
	if tabs, ok := countDays(times, event, nil, 0, 1); ok {
		return tabs[0].curve(), nil
	}
	if err := checkTimes("time", times); err != nil {
		return nil, fmt.Errorf("Kaplan-Meier: %w", err)
	}
	return fromSorted(times, event), nil
}

// checkTimes demands finite times of at least 0.
func checkTimes(name string, times []float64) error {
	for i, t := range times {
		if t >= 0 && t <= math.MaxFloat64 {
			continue
		}
		if t < 0 && t >= -math.MaxFloat64 {
			return fmt.Errorf("%s[%d] is %v, below 0: %w", name, i, t, stat.ErrDomain)
		}
		return fmt.Errorf("%s[%d] is %v: %w", name, i, t, stat.ErrNotFinite)
	}
	return nil
}

// builder adds the distinct times of a curve one after another.
type builder struct {
	km      *KM
	risk    int
	s, gree float64
}

func newBuilder(n, distinct int) *builder {
	return &builder{risk: n, s: 1, km: &KM{
		N:         n,
		Time:      make([]float64, 0, distinct),
		AtRisk:    make([]int, 0, distinct),
		Event:     make([]int, 0, distinct),
		Survival:  make([]float64, 0, distinct),
		Greenwood: make([]float64, 0, distinct),
	}}
}

// add takes the next time, the rows that end there and the events among them.
func (b *builder) add(t float64, ended, events int) {
	if events > 0 {
		n, d := float64(b.risk), float64(events)
		b.s *= (n - d) / n
		b.gree += d / (n * (n - d)) // +Inf when all at risk have the event
	}
	k := b.km
	k.Events += events
	k.Time = append(k.Time, t)
	k.AtRisk = append(k.AtRisk, b.risk)
	k.Event = append(k.Event, events)
	k.Survival = append(k.Survival, b.s)
	k.Greenwood = append(k.Greenwood, b.gree)
	b.risk -= ended
}

// fromSorted makes the curve of times in any unit: the times of all rows and
// those of the events are sorted apart and walked together.
func fromSorted(times []float64, event []bool) *KM {
	all := slices.Clone(times)
	sortTimes(all)
	var with []float64
	for i, e := range event {
		if e {
			with = append(with, times[i])
		}
	}
	sortTimes(with)
	b := newBuilder(len(all), distinct(all))
	for i, e := 0, 0; i < len(all); {
		t, from, events := all[i], i, e
		for i < len(all) && all[i] == t {
			i++
		}
		for e < len(with) && with[e] == t {
			e++
		}
		b.add(t, i-from, e-events)
	}
	return b.km
}

// sortTimes sorts numbers of at least 0 as their bits, whose order is the same
// and quicker to tell.
func sortTimes(times []float64) {
	bits := make([]uint64, len(times))
	for i, t := range times {
		bits[i] = math.Float64bits(t + 0) // −0 becomes 0
	}
	slices.Sort(bits)
	for i, b := range bits {
		times[i] = math.Float64frombits(b)
	}
}

// distinct counts the different values of a sorted slice.
func distinct(sorted []float64) int {
	n := 0
	for i, t := range sorted {
		if i == 0 || t != sorted[i-1] {
			n++
		}
	}
	return n
}

// at is the index of the last time ≤ t, or −1 before the first.
func (k *KM) at(t float64) int { return lastAtOrBefore(k.Time, t) }

// AtRiskAt counts the rows followed to t or beyond, before any event at t.
func (k *KM) AtRiskAt(t float64) int {
	i := sort.SearchFloat64s(k.Time, t)
	if i == len(k.Time) {
		return 0
	}
	return k.AtRisk[i]
}

// EventsBy counts the events at times ≤ t.
func (k *KM) EventsBy(t float64) int {
	n := 0
	for _, d := range k.Event[:k.at(t)+1] {
		n += d
	}
	return n
}

// lastAtOrBefore is the position of the last of the ascending times ≤ t, or −1.
func lastAtOrBefore(times []float64, t float64) int {
	i, exact := slices.BinarySearch(times, t)
	if !exact {
		i--
	}
	return i
}

// Last is the longest follow-up; S is unknown beyond it unless it is 0.
func (k *KM) Last() float64 { return k.Time[len(k.Time)-1] }
