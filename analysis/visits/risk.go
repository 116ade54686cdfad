package visits

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// callRisk is the chance of a callback in the days to come. Slabs that nobody
// has called about have a hazard that is constant within bands of age, times a
// ratio for what they are like; those with a crack that was seen, and those
// that were called about before, have one rate each. Every rate is a gamma
// posterior whose prior is worth one callback at the rate of all slabs, and that
// of all is drawn to what is usual by one more, so that few events are drawn to
// the whole, and neither none nor few days make a certainty.
type callRisk struct {
	slabs  *cracks.Slabs
	usual  float64 // callbacks a placement-year where nothing is on record
	events int
	rates  []gammaRate // by band of age
	state  map[state]gammaRate
	counts map[state][2]float64 // events and days, for the words

	terms []cracks.Term
	coef  []float64
	mean  []float64
	ends  [][2]float64 // least and most of each term that the model saw
	cov   *mat.SymDense
	ratio []float64 // of each slab: its hazard over the usual one
}

// gammaRate is the law of a rate a day.
type gammaRate struct{ shape, days float64 }

func (g gammaRate) mean() float64 { return g.shape / g.days }

// ageBands are the lower ends of the bands of age in days: the time between the
// usual visits.
var ageBands = []float64{0, 28, 90, 180, 365}

// mostRatio bounds how far a slab's ratio may lead away from the usual one.
const mostRatio = 10

func (a *after) callRisk() *callRisk {
	r := &callRisk{slabs: a.slabs, usual: a.usual, state: map[state]gammaRate{}, counts: map[state][2]float64{}}
	for _, e := range a.slabs.First {
		if e {
			r.events++
		}
	}
	r.fit()
	r.ratio = make([]float64, a.slabs.N())
	for i := range r.ratio {
		r.ratio[i] = r.ratioOf(i)
	}
	events, days := make([]float64, len(ageBands)), make([]float64, len(ageBands))
	for i, watched := range a.slabs.Alone {
		ratio := r.ratio[i]
		for j, from := range ageBands {
			if watched > from || j == 0 {
				days[j] += ratio * (min(watched, bandEnd(j)) - from)
			}
		}
		if a.slabs.First[i] {
			events[ageBand(watched)]++
		}
	}
	r.counts[quiet] = [2]float64{figure.SumOf(events), figure.SumOf(days)}
	all := r.overall().mean()
	for j := range ageBands {
		r.rates = append(r.rates, drawn(events[j], days[j], all))
	}
	r.others(a, all)
	return r
}

func bandEnd(j int) float64 {
	if j+1 < len(ageBands) {
		return ageBands[j+1]
	}
	return math.Inf(1)
}

// ageBand is the band that a day belongs to: its end included.
func ageBand(day float64) int {
	j := 0
	for j+1 < len(ageBands) && day > ageBands[j+1] {
		j++
	}
	return j
}

// overall is the rate of all bands together, drawn to the usual one.
func (r *callRisk) overall() gammaRate {
	return drawn(r.counts[quiet][0], r.counts[quiet][1], r.usual/cracks.DaysPerYear)
}

// drawn is a rate drawn to another by the weight of one event.
func drawn(events, days, all float64) gammaRate {
	return gammaRate{events + 1, days + 1/all}
}

// others are the rates after a crack was seen and after a repair.
func (r *callRisk) others(a *after, all float64) {
	var seen, again [2]float64
	for i := range a.slab {
		f := &a.slab[i]
		calls := a.callsOf(i)
		if f.crackOn != 0 && (len(calls) == 0 || calls[0].on > f.crackOn) {
			until := a.h.AsOf
			if len(calls) > 0 {
				until = calls[0].on
				if calls[0].kind == "crack" {
					seen[0]++
				}
			}
			seen[1] += float64(until - f.crackOn)
		}
		if len(calls) > 0 && calls[0].closed != 0 {
			until := a.h.AsOf
			if len(calls) > 1 {
				until = max(calls[0].closed, calls[1].on)
				again[0]++
			}
			again[1] += float64(until - calls[0].closed)
		}
	}
	r.counts[cracked], r.counts[repaired] = seen, again
	r.state[cracked], r.state[repaired] = drawn(seen[0], seen[1], all), drawn(again[0], again[1], all)
}

// fit tells slabs apart by what the hazard model of the crack page would, where
// there are events enough for one.
func (r *callRisk) fit() {
	if r.events < cracks.EventsForAny {
		return
	}
	var m cracks.CrackModel
	base, terms := r.slabs.Candidates(&m)
	f := r.slabs.NewFrame(terms, func(int) bool { return true })
	f.Cut(cracks.MostTerms(f.Events))
	f.Stratum = r.slabs.Baselines(f, base)
	if f.Events < cracks.EventsForAny || len(f.X) == 0 {
		return
	}
	f = f.Fewer()
	fit, _, err := f.Fit(setting.PriorSD)
	if err != nil {
		return
	}
	r.terms, r.coef, r.cov = f.Terms, fit.Coef, fit.Cov
	for _, x := range f.X {
		r.mean = append(r.mean, figure.SumOf(x)/float64(len(x)))
		r.ends = append(r.ends, [2]float64{slices.Min(x), slices.Max(x)})
	}
}

// apart is how far term j of slab i lies from the mean, in logs of the hazard;
// what was not recorded is taken to be usual.
func (r *callRisk) apart(j, i int) (from, log float64) {
	v := r.terms[j].Value(i)
	if math.IsNaN(v) {
		return 0, 0
	}
	from = min(max(v, r.ends[j][0]), r.ends[j][1]) - r.mean[j]
	return from, from * r.coef[j]
}

// ratioOf is the hazard of slab i over the usual one.
func (r *callRisk) ratioOf(i int) float64 {
	sum := 0.0
	for j := range r.terms {
		_, log := r.apart(j, i)
		sum += log
	}
	return math.Exp(min(max(sum, -math.Log(mostRatio)), math.Log(mostRatio)))
}

// ratioVariance is the variance of the log of slab i's ratio.
func (r *callRisk) ratioVariance(i int) float64 {
	x := make([]float64, len(r.terms))
	for j := range x {
		x[j], _ = r.apart(j, i)
	}
	v := 0.0
	for j := range x {
		for k := range x {
			v += x[j] * x[k] * r.cov.At(j, k)
		}
	}
	return max(0, v)
}

const chanceMethod = "hazard of crack callbacks constant within bands of age, drawn to that of all and that to the usual one, times the ratio of the hazard model; approximate limits"

// expected is the law of the number of callbacks that slab i brings between two
// ages in days.
func (r *callRisk) expected(i int, s state, from, to float64) (mean, variance float64) {
	if to <= from {
		return 0, 0
	}
	if g, own := r.state[s]; own {
		w := to - from
		return w * g.mean(), w * w * g.shape / (g.days * g.days)
	}
	ratio := r.ratio[i]
	for j := range ageBands {
		w := ratio * (min(to, bandEnd(j)) - max(from, ageBands[j]))
		if w <= 0 {
			continue
		}
		g := r.rates[j]
		mean += w * g.mean()
		variance += w * w * g.shape / (g.days * g.days)
	}
	if r.cov != nil {
		variance += mean * mean * r.ratioVariance(i)
	}
	return mean, variance
}

// chance is the probability of a callback of slab i between two ages in days.
func (r *callRisk) chance(i int, s state, from, to, level float64) figure.Figure {
	mean, variance := r.expected(i, s, from, to)
	if mean <= 0 {
		return figure.Total(0, 0, "no time is left within the warranty")
	}
	law := distuv.Gamma{Alpha: mean * mean / variance, Beta: mean / variance}
	p := func(m float64) float64 { return -math.Expm1(-m) }
	n := r.counts[quiet][0]
	if _, own := r.state[s]; own {
		n = r.counts[s][0]
	}
	return figure.Figure{Value: p(mean), Low: p(law.Quantile((1 - level) / 2)), High: p(law.Quantile((1 + level) / 2)), Level: level,
		N: int(n), Method: chanceMethod, Bounded: true, OK: true}
}
