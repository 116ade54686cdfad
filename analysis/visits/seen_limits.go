package visits

import (
	"fmt"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/stat/resample"
	"pourback/analysis/stat/survival"
)

// drawnLimits are the bootstrap's limits of the share cracked by each age.
type drawnLimits struct {
	low, high []float64
	level     float64
	why       string // why there are none
}

// turnbull fits the estimator, and draws limits by job where there are not too
// many slabs.
func (s *SeenCracks) turnbull(looks []lookedAt, ages []float64, level float64, seed uint64) (*survival.Turnbull, drawnLimits, string) {
	limits := drawnLimits{level: level}
	note := ""
	if len(looks) > mostTurnbull { // every k-th job, so that slabs of one stay together
		every := (len(looks)-1)/mostTurnbull + 1
		looks = slices.DeleteFunc(slices.Clone(looks), func(l lookedAt) bool { return l.job%every != 0 })
		note = fmt.Sprintf("Turnbull's estimate stands on one job in %d, of %s.", every, figure.CountOf(len(looks), "slab"))
	}
	rows, jobs := make([]survival.Interval, len(looks)), make([]int, len(looks))
	for i, l := range looks {
		rows[i], jobs[i] = l.Interval, l.job
	}
	fit, err := survival.TurnbullNPMLE(rows)
	if err != nil {
		return nil, limits, "Turnbull's estimate has no answer: " + figure.Text(figure.ReasonOf(err)) + "."
	}
	switch {
	case len(rows) > mostDrawn:
		limits.why = fmt.Sprintf("no limits are drawn from more than %d slabs: chance is the least of their doubts", mostDrawn)
	case len(rows) < figure.LeastForRate:
		limits.why = fmt.Sprintf("fewer than %d slabs", figure.LeastForRate)
	default:
		s.drawLimits(&limits, rows, jobs, ages, seed)
	}
	return fit, limits, note
}

// drawLimits resamples whole jobs and takes percentiles: of what surely lies
// before each age for the low end, and of what may for the high one.
func (s *SeenCracks) drawLimits(l *drawnLimits, rows []survival.Interval, jobs []int, ages []float64, seed uint64) {
	k := len(ages)
	sample, err := resample.Bootstrap(resample.Plan{Rows: len(rows), Clusters: jobs, Outputs: 2 * k, Draws: turnbullRuns, Seed: seed}, func() resample.Statistic {
		drawn := make([]survival.Interval, 0, len(rows))
		return func(out, weights []float64) error {
			drawn = drawn[:0]
			for i, w := range weights {
				for range int(w) {
					drawn = append(drawn, rows[i])
				}
			}
			fit, err := survival.TurnbullNPMLE(drawn)
			if err != nil {
				return err
			}
			for j, age := range ages {
				low, high := fit.SurvivalAt(age)
				out[j], out[k+j] = 1-high, 1-low
			}
			return nil
		}
	})
	if err != nil {
		l.why = figure.Text(figure.ReasonOf(err))
		return
	}
	s.Draws = turnbullRuns
	for j := range ages {
		low, err1 := sample.Percentile(j, l.level)
		high, err2 := sample.Percentile(k+j, l.level)
		if err := firstError(err1, err2); err != nil {
			*l = drawnLimits{level: l.level, why: figure.Text(figure.ReasonOf(err))}
			return
		}
		l.low, l.high = append(l.low, low.Low), append(l.high, high.High)
	}
}

// figure reads the share cracked by an age off the fit: the middle of what it
// may be, what it surely is, and what it is at most.
func (l drawnLimits) figure(fit *survival.Turnbull, k int, age float64) (between, least, most figure.Figure) {
	low, high := fit.SurvivalAt(age)
	const method = "Turnbull's estimate"
	least, most = figure.Total(1-high, fit.N, method), figure.Total(1-low, fit.N, method)
	between = figure.Total(1-(low+high)/2, fit.N, method+", middle of what it leaves open")
	if l.low == nil {
		between.Why = figure.Written(l.why)
		return between, least, most
	}
	between.Low, between.High, between.Level, between.Bounded = min(l.low[k], between.Value), max(l.high[k], between.Value), l.level, true
	between.Method += fmt.Sprintf("; %d draws of jobs, approximate", turnbullRuns)
	return between, least, most
}
