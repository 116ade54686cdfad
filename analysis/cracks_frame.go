package analysis

import (
	"math"
	"slices"

	"pourback/analysis/stat/survival"
)

// frame is the slabs of a hazard model: those that have everything it asks.
// Follow-up is that of comparisons: another kind of callback ends it.
type frame struct {
	row     []int // of the slabs
	time    []float64
	event   []bool
	job     []int
	stratum []int
	weight  []float64 // nil: 1 each
	terms   []term    // of the columns of x
	x       [][]float64
	events  int
}

// newFrame takes the slabs that are wanted and have all terms.
func (s *slabs) newFrame(terms []term, want func(i int) bool) *frame {
	f := &frame{terms: terms, x: make([][]float64, len(terms))}
	values := make([]float64, len(terms))
	for i := range s.days {
		if !want(i) || !fill(values, terms, i) {
			continue
		}
		f.row = append(f.row, i)
		f.time, f.event, f.job = append(f.time, s.alone[i]), append(f.event, s.first[i]), append(f.job, s.job[i])
		for j, v := range values {
			f.x[j] = append(f.x[j], v)
		}
		if s.first[i] {
			f.events++
		}
	}
	return f
}

// fill computes the terms of slab i and says whether they are all known.
func fill(values []float64, terms []term, i int) bool {
	for j := range terms {
		values[j] = terms[j].value(i)
		if math.IsNaN(values[j]) {
			return false
		}
	}
	return true
}

// Sizes past which a frame is thinned before it is fitted again and again.
const (
	mostThinEvents = 300  // jobs with a crack
	mostThinRows   = 2500 // slabs of other jobs
	mostFirthRows  = 5000 // slabs in a fit that is made few times
	mostFirth      = 200  // events up to which Firth's penalty changes anything
	everyEvent     = 1 << 30
)

// thin keeps every k-th job with a crack and every m-th of the others, so that
// about mostEvents and mostRows are left, and lets each stand for those left
// out. kept is the part of the jobs with a crack that was kept: resampling the
// thinned frame shows √(1/kept) times the error of the whole.
func (f *frame) thin(mostEvents, mostRows int) (thinned *frame, kept float64) {
	cracked := f.crackedJobs()
	jobs, rows := 0, 0
	last := -1
	for _, j := range f.job {
		if j != last && cracked[j] {
			jobs++
		}
		last = j
		if !cracked[j] {
			rows++
		}
	}
	everyJob, everyRow := (jobs+mostEvents-1)/mostEvents, (rows+mostRows-1)/mostRows
	if everyJob <= 1 && everyRow <= 1 {
		return f, 1
	}
	everyJob, everyRow = max(1, everyJob), max(1, everyRow)
	out := &frame{terms: f.terms, x: make([][]float64, len(f.x)), weight: []float64{}}
	last = -1
	seen := [2]int{-1, -1}
	for i, j := range f.job {
		kind, every := 0, everyRow
		if cracked[j] {
			kind, every = 1, everyJob
		}
		if j != last {
			seen[kind]++
		}
		last = j
		if seen[kind]%every == 0 {
			out.take(f, i, float64(every))
		}
	}
	return out, 1 / float64(everyJob)
}

// crackedJobs says of each job whether one of its slabs cracked.
func (f *frame) crackedJobs() []bool {
	cracked := make([]bool, 0)
	if len(f.job) > 0 {
		cracked = make([]bool, slices.Max(f.job)+1)
	}
	for i, e := range f.event {
		if e {
			cracked[f.job[i]] = true
		}
	}
	return cracked
}

// take adds row i of another frame with a weight.
func (f *frame) take(from *frame, i int, weight float64) {
	f.row, f.time, f.event, f.job = append(f.row, from.row[i]), append(f.time, from.time[i]), append(f.event, from.event[i]), append(f.job, from.job[i])
	f.weight = append(f.weight, weight)
	if from.stratum != nil {
		f.stratum = append(f.stratum, from.stratum[i])
	}
	for j := range f.x {
		f.x[j] = append(f.x[j], from.x[j][i])
	}
	if from.event[i] {
		f.events++
	}
}

// cox fits the frame with its penalty.
func (f *frame) cox(o survival.CoxOptions) (*survival.Cox, error) {
	names := make([]string, len(f.terms))
	for j := range f.terms {
		names[j] = f.terms[j].name
	}
	return survival.FitCox(survival.CoxData{Time: f.time, Event: f.event, X: f.x, Names: names,
		Stratum: f.stratum, Weight: f.weight, Cluster: f.job}, o)
}

// varying drops the columns that are the same on every slab.
func (f *frame) varying() {
	kept := 0
	for j, x := range f.x {
		if len(x) > 0 && slices.Max(x) > slices.Min(x) {
			f.x[kept], f.terms[kept] = x, f.terms[j]
			kept++
		}
	}
	f.x, f.terms = f.x[:kept], f.terms[:kept]
}

// shrunk is the normal prior of METHODS on every log ratio, for few events.
func shrunk(columns int, sd float64) survival.CoxOptions {
	var o survival.CoxOptions
	for j := range columns {
		contrast := make([]float64, columns)
		contrast[j] = 1
		o.Priors = append(o.Priors, survival.NormalPrior{Contrast: contrast, SD: sd})
	}
	return o
}

// firth are the options for so many events: Firth's penalty, or none where it
// no longer changes anything.
func firth(events int) survival.CoxOptions {
	if events > mostFirth {
		return survival.CoxOptions{}
	}
	return survival.CoxOptions{Firth: true, Ties: survival.Breslow}
}
