package cracks

import (
	"errors"
	"math"
	"slices"

	"pourback/analysis/stat"
	"pourback/analysis/stat/survival"
)

// Frame is the slabs of a hazard model: those that have everything it asks.
// Follow-up is that of comparisons: another kind of callback ends it.
type Frame struct {
	Row     []int // of the slabs
	Time    []float64
	Event   []bool
	Job     []int
	Stratum []int
	Weight  []float64 // nil: 1 each
	Terms   []Term    // of the columns of x
	X       [][]float64
	Events  int
}

// NewFrame takes the slabs that are wanted and have all terms.
func (s *Slabs) NewFrame(terms []Term, want func(i int) bool) *Frame {
	n := s.N()
	f := &Frame{Terms: terms, X: make([][]float64, len(terms)), Row: make([]int, 0, n), Job: make([]int, 0, n),
		Time: make([]float64, 0, n), Event: make([]bool, 0, n)}
	for j := range f.X {
		f.X[j] = make([]float64, 0, n)
	}
	values := make([]float64, len(terms))
	for i := range n {
		if !want(i) || !fill(values, terms, i) {
			continue
		}
		f.Row, f.Job = append(f.Row, i), append(f.Job, s.job[i])
		f.Time, f.Event = append(f.Time, s.Alone[i]), append(f.Event, s.First[i])
		for j, v := range values {
			f.X[j] = append(f.X[j], v)
		}
		if s.First[i] {
			f.Events++
		}
	}
	return f
}

// fill computes the terms of slab i and says whether they are all known.
func fill(values []float64, terms []Term, i int) bool {
	for j := range terms {
		values[j] = terms[j].Value(i)
		if math.IsNaN(values[j]) {
			return false
		}
	}
	return true
}

// size is how much of a frame is kept where it is thinned.
type size struct {
	cracked int // jobs with a crack
	others  int // slabs of other jobs
}

var (
	ForDraws = size{300, 2500}       // to be fitted hundreds of times
	forFirth = size{2000, 5000}      // to be fitted along a profile
	forFit   = size{20_000, 100_000} // to be fitted once or twice
)

// Fewer is the frame that a model of its size is fitted to: all of it for any
// company there is, and a fair part of it for records of hundreds of thousands.
func (f *Frame) Fewer() *Frame {
	to := forFit
	if f.sparse() {
		to = forFirth
	}
	thinned, _ := f.Thin(to)
	return thinned
}

// Thin keeps every k-th job with a crack and every m-th of the others, so that
// no more is left than the size says, and lets each stand for those left out.
// kept is the part of the jobs with a crack that was kept: resampling the
// thinned frame shows √(1/kept) times the error of the whole.
func (f *Frame) Thin(to size) (thinned *Frame, kept float64) {
	cracked := f.crackedJobs()
	var have [2]int
	last := -1
	for _, j := range f.Job {
		if !cracked[j] {
			have[0]++
		} else if j != last {
			have[1]++
		}
		last = j
	}
	every := [2]int{max(1, (have[0]-1)/to.others+1), max(1, (have[1]-1)/to.cracked+1)}
	if every == [2]int{1, 1} {
		return f, 1
	}
	out := &Frame{Terms: slices.Clone(f.Terms), X: make([][]float64, len(f.X)), Weight: []float64{}}
	out.reserve(min(len(f.Row), to.others+4*to.cracked))
	seen := [2]int{-1, -1}
	last = -1
	for i, j := range f.Job {
		kind := int(Indicator(cracked[j]))
		if j != last {
			seen[kind]++
		}
		last = j
		if seen[kind]%every[kind] == 0 {
			out.take(f, i, float64(every[kind]))
		}
	}
	return out, 1 / float64(every[1])
}

// crackedJobs says of each job whether one of its slabs cracked.
func (f *Frame) crackedJobs() []bool {
	cracked := make([]bool, 0)
	if len(f.Job) > 0 {
		cracked = make([]bool, slices.Max(f.Job)+1)
	}
	for i, e := range f.Event {
		if e {
			cracked[f.Job[i]] = true
		}
	}
	return cracked
}

// reserve makes room for rows.
func (f *Frame) reserve(rows int) {
	f.Row, f.Job, f.Time, f.Weight = make([]int, 0, rows), make([]int, 0, rows), make([]float64, 0, rows), make([]float64, 0, rows)
	f.Event = make([]bool, 0, rows)
	for j := range f.X {
		f.X[j] = make([]float64, 0, rows)
	}
}

// take adds row i of another frame with a weight.
func (f *Frame) take(from *Frame, i int, weight float64) {
	f.Row, f.Time, f.Event, f.Job = append(f.Row, from.Row[i]), append(f.Time, from.Time[i]), append(f.Event, from.Event[i]), append(f.Job, from.Job[i])
	if from.Weight != nil {
		weight *= from.Weight[i]
	}
	f.Weight = append(f.Weight, weight)
	if from.Stratum != nil {
		f.Stratum = append(f.Stratum, from.Stratum[i])
	}
	for j := range f.X {
		f.X[j] = append(f.X[j], from.X[j][i])
	}
	if from.Event[i] {
		f.Events++
	}
}

// Cox fits the frame with its penalty.
func (f *Frame) Cox(o survival.CoxOptions) (*survival.Cox, error) {
	names := make([]string, len(f.Terms))
	for j := range f.Terms {
		names[j] = string(f.Terms[j].What)
	}
	return survival.FitCox(survival.CoxData{Time: f.Time, Event: f.Event, X: f.X, Names: names,
		Stratum: f.Stratum, Weight: f.Weight, Cluster: f.Job}, o)
}

// Fit fits the frame with the penalty that the ladder asks, leaving off its
// last columns for as long as one tells nothing that those before it do not.
func (f *Frame) Fit(sd float64) (*survival.Cox, survival.CoxOptions, error) {
	for {
		o := f.penalty(sd)
		c, err := f.Cox(o)
		if !errors.Is(err, stat.ErrCollinear) && !errors.Is(err, stat.ErrNoVariation) || len(f.X) == 1 {
			return c, o, err
		}
		f.Cut(len(f.X) - 1)
	}
}

// Varying drops the columns that are the same on every slab of a stratum, in
// all of them: they tell nothing.
func (f *Frame) Varying() {
	kept := 0
	for j, x := range f.X {
		if f.varies(x) {
			f.X[kept], f.Terms[kept] = x, f.Terms[j]
			kept++
		}
	}
	f.X, f.Terms = f.X[:kept], f.Terms[:kept]
}

// varies says whether a column differs within a stratum.
func (f *Frame) varies(x []float64) bool {
	first := map[int]float64{}
	for i, v := range x {
		s := 0
		if f.Stratum != nil {
			s = f.Stratum[i]
		}
		if was, met := first[s]; !met {
			first[s] = v
		} else if v != was {
			return true
		}
	}
	return false
}

// Cut keeps the first columns that vary, so many at most.
func (f *Frame) Cut(most int) {
	f.Varying()
	most = min(len(f.X), most)
	f.X, f.Terms = f.X[:most], f.Terms[:most]
}

// shrunk puts a normal prior of a spread on every log ratio, for few events.
func shrunk(columns int, sd float64) survival.CoxOptions {
	var o survival.CoxOptions
	for j := range columns {
		contrast := make([]float64, columns)
		contrast[j] = 1
		o.Priors = append(o.Priors, survival.NormalPrior{Contrast: contrast, SD: sd})
	}
	return o
}

// Firth's penalty changes nothing past so many events, unless one side of a
// yes-or-no has hardly any of them.
const (
	mostFirth  = 200
	leastASide = 10
)

// penalty is what the ladder asks of a frame: a prior of this spread with few
// events, then Firth's penalty while it matters.
func (f *Frame) penalty(sd float64) survival.CoxOptions {
	if f.Events <= EventsForFirth {
		return shrunk(len(f.X), sd)
	}
	return f.Firth()
}

// Firth is Firth's penalty, or none where it no longer matters.
func (f *Frame) Firth() survival.CoxOptions {
	if !f.sparse() {
		return survival.CoxOptions{}
	}
	return survival.CoxOptions{Firth: true, Ties: survival.Breslow}
}

// sparse says whether there are few events, or few on one side of a yes-or-no.
func (f *Frame) sparse() bool { return f.Events <= mostFirth || f.lopsided() }

// lopsided says whether there are few events on one side of a yes-or-no.
func (f *Frame) lopsided() bool {
	for _, x := range f.X {
		low, high := slices.Min(x), slices.Max(x)
		atLow, atHigh := 0, 0
		for i, v := range x {
			if !f.Event[i] {
				continue
			}
			atLow += int(Indicator(v == low))
			atHigh += int(Indicator(v == high))
		}
		if atLow+atHigh == f.Events && min(atLow, atHigh) < leastASide {
			return true
		}
	}
	return false
}
