package resample

import (
	"fmt"
	"math"
	"math/rand/v2"

	"pourback/analysis/stat"
)

// Statistic computes answers from weighted rows: it fills out from a sample in
// which row i was drawn weights[i] times, 0 for not at all. An error means that
// this sample has no answer. It must be a function of weights alone, and must
// not keep or change them.
type Statistic func(out, weights []float64) error

// Plan says what to draw.
type Plan struct {
	Rows     int    // rows of the data
	Clusters []int  // the cluster of each row; nil when each row is its own
	Outputs  int    // answers per sample; 0 means 1
	Draws    int    // samples, 999 by custom
	Seed     uint64 // the same seed gives the same draws
	Workers  int    // goroutines; 0 means one a core, the result is the same
}

// Sample is what resampling found.
type Sample struct {
	Estimate []float64   // answers from the data as they are
	Draws    [][]float64 // for each answer, its values over the samples that had one
	Units    int         // rows or clusters drawn from
	Failed   int         // samples without an answer
	Warnings []string
}

// manyFailed is the share of failed samples above which the rest are a chosen
// lot and the limits are to be doubted.
const manyFailed = 0.05

// Bootstrap draws plan.Draws samples and computes the statistic on each. The
// function start makes the statistic, once for each goroutine, so that scratch
// space can live in its closure.
//
// No rows give [stat.ErrNoData], fewer than 2 draws or answers
// [stat.ErrTooFew], labels of another length [stat.ErrShape]; an error of the
// statistic on the data themselves is passed on.
func Bootstrap(plan Plan, start func() Statistic) (*Sample, error) {
	u, err := unitsOf(plan.Rows, plan.Clusters)
	if err != nil {
		return nil, err
	}
	return plan.run(u, start, func() func(int, []float64) {
		var src rand.PCG
		return func(replicate int, counts []float64) {
			stream(&src, plan.Seed, replicate)
			drawCounts(counts, &src)
		}
	})
}

// Given computes the statistic on samples drawn elsewhere: samples[b] lists
// the rows, counted from 0, of sample b. Plan's Clusters, Draws and Seed play
// no part. A row that is not there gives [stat.ErrDomain].
func Given(plan Plan, samples [][]int, start func() Statistic) (*Sample, error) {
	for b, rows := range samples {
		for _, row := range rows {
			if row < 0 || row >= plan.Rows {
				return nil, fmt.Errorf("sample %d holds row %d of %d: %w", b, row, plan.Rows, stat.ErrDomain)
			}
		}
	}
	plan.Clusters, plan.Draws = nil, len(samples)
	u, err := unitsOf(plan.Rows, nil)
	if err != nil {
		return nil, err
	}
	return plan.run(u, start, func() func(int, []float64) {
		return func(replicate int, counts []float64) {
			clear(counts)
			for _, row := range samples[replicate] {
				counts[row]++
			}
		}
	})
}

// Stateless makes a start function of a statistic that needs no scratch space.
func Stateless(s Statistic) func() Statistic { return func() Statistic { return s } }

// run computes the answers on the data and on every sample. Values of failed
// samples are NaN until [collect] drops them.
func (plan Plan) run(u units, start func() Statistic, source func() func(replicate int, counts []float64)) (*Sample, error) {
	if plan.Draws < 2 {
		return nil, fmt.Errorf("%d draws, want at least 2: %w", plan.Draws, stat.ErrTooFew)
	}
	k := max(1, plan.Outputs)
	estimate, err := onData(plan.Rows, k, start)
	if err != nil {
		return nil, err
	}
	flat := make([]float64, k*plan.Draws)
	stat.Workers(plan.Draws, plan.Workers, func() func(int) {
		draw, compute := source(), start()
		weights, counts := u.buffers(plan.Rows)
		return func(b int) {
			draw(b, counts)
			u.spread(weights, counts)
			answer(flat[b*k:(b+1)*k], weights, compute)
		}
	})
	return collect(estimate, flat, u.n)
}

// onData computes the answers with every row counted once.
func onData(rows, k int, start func() Statistic) ([]float64, error) {
	ones, estimate := make([]float64, rows), make([]float64, k)
	for i := range ones {
		ones[i] = 1
	}
	if err := start()(estimate, ones); err != nil {
		return nil, fmt.Errorf("on the data themselves: %w", err)
	}
	return estimate, stat.Finite("answer from the data", estimate...)
}

// answer computes one sample's answers; all are NaN if any fails.
func answer(out, weights []float64, compute Statistic) {
	err := compute(out, weights)
	if err != nil || stat.Finite("", out...) != nil {
		for j := range out {
			out[j] = math.NaN()
		}
	}
}

// collect turns the answers, a sample after another, into one list for each.
func collect(estimate, flat []float64, units int) (*Sample, error) {
	k := len(estimate)
	draws := len(flat) / k
	s := &Sample{Estimate: estimate, Draws: make([][]float64, k), Units: units}
	for j := range s.Draws {
		s.Draws[j] = make([]float64, 0, draws)
		for b := range draws {
			if x := flat[b*k+j]; !math.IsNaN(x) {
				s.Draws[j] = append(s.Draws[j], x)
			}
		}
	}
	s.Failed = draws - len(s.Draws[0])
	if len(s.Draws[0]) < 2 {
		return nil, fmt.Errorf("%d of %d samples have no answer: %w", s.Failed, draws, stat.ErrTooFew)
	}
	if float64(s.Failed) > manyFailed*float64(draws) {
		s.Warnings = append(s.Warnings, fmt.Sprintf("%d of %d samples had no answer; the limits rest on the others", s.Failed, draws))
	}
	return s, nil
}

// checkOutput refuses an answer that the sample does not hold.
func (s *Sample) checkOutput(j int) error {
	if s == nil || j < 0 || j >= len(s.Draws) {
		return fmt.Errorf("answer %d is not in the sample: %w", j, stat.ErrShape)
	}
	return nil
}
