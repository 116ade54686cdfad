package cracks

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/resample"
	"pourback/analysis/stat/survival"
)

// Between is the share of slabs that had cracked by an age, from looks between
// which cracks arose (Turnbull 1976), with limits by drawing whole jobs.
type Between struct {
	OneJobIn int // from which the estimate comes; 1 for all
	OneOf    int // slabs of those jobs
	Draws    int // of the bootstrap

	fit       *survival.Turnbull
	Why       figure.Reason // why there is no estimate; nil where there is one
	looks     []Look
	level     float64
	ages      []float64 // at which limits were drawn
	low, high []float64
	unbound   figure.Reason // why there are no limits
}

const (
	mostTurnbull = 20_000 // slabs to which the estimator is fitted
	mostDrawn    = 3_000  // slabs up to which limits are drawn
	turnbullRuns = 199
)

// FitBetween fits the estimator to looks, and draws limits at some ages where
// there are not too many slabs.
func FitBetween(looks []Look, ages []float64, level float64, seed uint64) *Between {
	b := &Between{OneJobIn: 1, OneOf: len(looks), level: level, ages: slices.Concat(ages, []float64{28, 90, 180}, roundAges), looks: looks}
	slices.Sort(b.ages)
	b.ages = slices.Compact(b.ages)
	if len(looks) > mostTurnbull { // every k-th job, so that slabs of one stay together
		b.OneJobIn = (len(looks)-1)/mostTurnbull + 1
		b.looks = slices.DeleteFunc(slices.Clone(looks), func(l Look) bool { return l.Job%b.OneJobIn != 0 })
		b.OneOf = len(b.looks)
	}
	if len(b.looks) == 0 {
		b.Why = NobodyLooked{}
		return b
	}
	rows, jobs := make([]survival.Interval, len(b.looks)), make([]int, len(b.looks))
	for i, l := range b.looks {
		rows[i], jobs[i] = l.Interval, l.Job
	}
	var err error
	if b.fit, err = survival.TurnbullNPMLE(rows); err != nil {
		b.Why = NoEstimate{Why: figure.ReasonOf(err)}
		return b
	}
	switch {
	case len(rows) > mostDrawn:
		b.unbound = ManySlabs{Most: mostDrawn}
	case len(rows) < figure.LeastForRate:
		b.unbound = figure.FewPlacements{N: len(rows)}
	default:
		b.draw(rows, jobs, seed)
	}
	return b
}

// draw resamples whole jobs and takes percentiles: of what surely lies before
// each age for the low end, and of what may for the high one.
func (b *Between) draw(rows []survival.Interval, jobs []int, seed uint64) {
	k := len(b.ages)
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
			for j, age := range b.ages {
				low, high := fit.SurvivalAt(age)
				out[j], out[k+j] = 1-high, 1-low
			}
			return nil
		}
	})
	if err != nil {
		b.unbound = figure.ReasonOf(err)
		return
	}
	low, high := make([]float64, k), make([]float64, k)
	for j, age := range b.ages {
		least, err1 := sample.Percentile(j, b.level)
		most, err2 := sample.Percentile(k+j, b.level)
		if err := errors.Join(err1, err2); err != nil {
			b.unbound = figure.ReasonOf(err)
			return
		}
		low[j], high[j] = b.widened(least.Low, most.High, age)
	}
	for j := 1; j < k; j++ { // no fewer have cracked than before, and no more than later
		low[j], high[k-1-j] = max(low[j], low[j-1]), min(high[k-1-j], high[k-j])
	}
	b.Draws, b.low, b.high = turnbullRuns, low, high
}

// widened keeps limits from being closer than those of a plain share of the
// slabs that were looked at about that age: where none of few had cracked, none
// of the draws knows of a crack either.
func (b *Between) widened(low, high, age float64) (float64, float64) {
	least, most := b.fit.SurvivalAt(age)
	n := b.Near(age)
	share, err := interval.Wilson(int(math.Round((1-(least+most)/2)*float64(n))), n, b.level)
	if err != nil {
		return 0, 1
	}
	return min(low, max(0, share.Low)), max(high, min(1, share.High))
}

// By is the share cracked by an age: the middle of what the looks leave open,
// what they surely show, and what they leave possible.
func (b *Between) By(age float64) (between, least, most figure.Figure) {
	if b.Why != nil {
		why := figure.Unknown(b.Why)
		return why, why, why
	}
	low, high := b.fit.SurvivalAt(age)
	const method = "Turnbull's estimate"
	least, most = figure.Total(1-high, b.fit.N, method), figure.Total(1-low, b.fit.N, method)
	between = figure.Total(1-(low+high)/2, b.fit.N, method)
	if high-low > 1e-9 {
		between.Method += ", middle of what it leaves open"
	}
	at := slices.Index(b.ages, age)
	if at < 0 || b.low == nil {
		between.Why = b.unbound
		return between, least, most
	}
	between.Low, between.High, between.Level, between.Bounded = min(b.low[at], least.Value), max(b.high[at], most.Value), b.level, true
	between.Method += fmt.Sprintf("; %d draws of jobs, approximate", turnbullRuns)
	return between, least, most
}

// Near is how many slabs were looked at about an age, or found cracked by it.
func (b *Between) Near(age float64) int {
	n := 0
	for i := range b.looks {
		n += int(Indicator(b.looks[i].near(age)))
	}
	return n
}

// Risk is the share cracked by an age, where enough slabs were looked at about
// then to say.
func (b *Between) Risk(age float64) figure.Figure {
	f, least, most := b.By(age)
	if !f.Known() {
		return f
	}
	if n := b.Near(age); n < figure.LeastForRate {
		return figure.Unknown(FewLooked{N: n, Of: len(b.looks), Days: int(age)})
	}
	if most.Value-least.Value > vague {
		return figure.Unknown(LeftOpen{Least: least.Value, Most: most.Value, Days: int(age)})
	}
	return f
}

// Steps are the ages at which the share cracked rises, and the shares.
func (b *Between) Steps() (ages, shares []float64) {
	if b.Why != nil {
		return nil, nil
	}
	sum := 0.0
	for j, at := range b.fit.At {
		if math.IsInf(at.Right, 1) {
			break
		}
		sum += b.fit.Mass[j]
		ages, shares = append(ages, at.Right), append(shares, sum)
	}
	return ages, shares
}
