package analysis

import (
	"errors"
	"math"
	"slices"

	"pourback/analysis/stat"
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
	n := s.n()
	f := &frame{terms: terms, x: make([][]float64, len(terms)), row: make([]int, 0, n), job: make([]int, 0, n),
		time: make([]float64, 0, n), event: make([]bool, 0, n)}
	for j := range f.x {
		f.x[j] = make([]float64, 0, n)
	}
	values := make([]float64, len(terms))
	for i := range n {
		if !want(i) || !fill(values, terms, i) {
			continue
		}
		f.row, f.job = append(f.row, i), append(f.job, s.job[i])
		f.time, f.event = append(f.time, s.alone[i]), append(f.event, s.first[i])
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

// size is how much of a frame is kept where it is thinned.
type size struct {
	cracked int // jobs with a crack
	others  int // slabs of other jobs
}

var (
	forDraws = size{300, 2500}       // to be fitted hundreds of times
	forFirth = size{2000, 5000}      // to be fitted along a profile
	forFit   = size{20_000, 100_000} // to be fitted once or twice
)

// fewer is the frame that a model of its size is fitted to: all of it for any
// company there is, and a fair part of it for records of hundreds of thousands.
func (f *frame) fewer() *frame {
	to := forFit
	if f.sparse() {
		to = forFirth
	}
	thinned, _ := f.thin(to)
	return thinned
}

// thin keeps every k-th job with a crack and every m-th of the others, so that
// no more is left than the size says, and lets each stand for those left out.
// kept is the part of the jobs with a crack that was kept: resampling the
// thinned frame shows √(1/kept) times the error of the whole.
func (f *frame) thin(to size) (thinned *frame, kept float64) {
	cracked := f.crackedJobs()
	var have [2]int
	last := -1
	for _, j := range f.job {
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
	out := &frame{terms: slices.Clone(f.terms), x: make([][]float64, len(f.x)), weight: []float64{}}
	seen := [2]int{-1, -1}
	last = -1
	for i, j := range f.job {
		kind := int(indicator(cracked[j]))
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
	if from.weight != nil {
		weight *= from.weight[i]
	}
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

// fit fits the frame with the penalty that the ladder asks, leaving off its
// last columns for as long as one tells nothing that those before it do not.
func (f *frame) fit(sd float64) (*survival.Cox, survival.CoxOptions, error) {
	for {
		o := f.penalty(sd)
		c, err := f.cox(o)
		if !errors.Is(err, stat.ErrCollinear) && !errors.Is(err, stat.ErrNoVariation) || len(f.x) == 1 {
			return c, o, err
		}
		f.cut(len(f.x) - 1)
	}
}

// varying drops the columns that are the same on every slab of a stratum, in
// all of them: they tell nothing.
func (f *frame) varying() {
	kept := 0
	for j, x := range f.x {
		if f.varies(x) {
			f.x[kept], f.terms[kept] = x, f.terms[j]
			kept++
		}
	}
	f.x, f.terms = f.x[:kept], f.terms[:kept]
}

// varies says whether a column differs within a stratum.
func (f *frame) varies(x []float64) bool {
	first := map[int]float64{}
	for i, v := range x {
		s := 0
		if f.stratum != nil {
			s = f.stratum[i]
		}
		if was, met := first[s]; !met {
			first[s] = v
		} else if v != was {
			return true
		}
	}
	return false
}

// cut keeps the first columns that vary, so many at most.
func (f *frame) cut(most int) {
	f.varying()
	most = min(len(f.x), most)
	f.x, f.terms = f.x[:most], f.terms[:most]
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
func (f *frame) penalty(sd float64) survival.CoxOptions {
	if f.events <= eventsForFirth {
		return shrunk(len(f.x), sd)
	}
	return f.firth()
}

// firth is Firth's penalty, or none where it no longer matters.
func (f *frame) firth() survival.CoxOptions {
	if !f.sparse() {
		return survival.CoxOptions{}
	}
	return survival.CoxOptions{Firth: true, Ties: survival.Breslow}
}

// sparse says whether there are few events, or few on one side of a yes-or-no.
func (f *frame) sparse() bool {
	if f.events <= mostFirth {
		return true
	}
	for _, x := range f.x {
		low, high := slices.Min(x), slices.Max(x)
		atLow, atHigh := 0, 0
		for i, v := range x {
			if !f.event[i] {
				continue
			}
			atLow += int(indicator(v == low))
			atHigh += int(indicator(v == high))
		}
		if atLow+atHigh == f.events && min(atLow, atHigh) < leastASide {
			return true
		}
	}
	return false
}
