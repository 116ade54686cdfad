package bid

import (
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/figure"
	"pourback/analysis/stat/pool"
)

// rateLaw is what is believed of a rate of events.
type rateLaw struct {
	pool.GammaMixture
	basis Basis
}

// rateGroup is one group's events and exposure.
type rateGroup struct {
	events, exposure float64
	rows             int
}

// lawOfRate is the law of one group's rate: drawn towards the others' by the
// gamma-Poisson model where the records hold events and placements enough, else
// a common rate worth half an event, moved by all that is on record (gamma
// prior, conjugate: Gelman and others, Bayesian Data Analysis, §2.6). A group
// that is not on record is a new one.
func lawOfRate(groups map[string]rateGroup, mine string, usual float64, thing, having, practice string) rateLaw {
	names := figure.SortedNames(groups)
	events, exposure := make([]float64, len(names)), make([]float64, len(names))
	var all rateGroup
	at := -1
	for k, name := range names {
		g := groups[name]
		events[k], exposure[k] = g.events, g.exposure
		all = rateGroup{all.events + g.events, all.exposure + g.exposure, all.rows + g.rows}
		if name == mine {
			at = k
		}
	}
	law := rateLaw{basis: basis(all.rows, thing, having, practice)}
	if all.rows >= figure.LeastForRate && all.events >= figure.LeastEvents {
		if grid, err := pool.GammaPoissonGrid(events, exposure, pool.WideRatePrior()); err == nil {
			law.GammaMixture = grid.New()
			if at >= 0 {
				law.GammaMixture, err = grid.Outfit(at)
			}
			if err == nil {
				return law
			}
		}
	}
	law.GammaMixture = pool.GammaMixture{Weight: []float64{1}, Shape: []float64{practiceWeight + all.events}, Rate: []float64{practiceWeight/usual + all.exposure}, N: int(all.events)}
	if law.basis.From == FromRecords {
		law.basis.Says += "; with so few events they go together with a common rate worth half of one"
	}
	return law
}

// draw is a count over an exposure, the rate itself drawn.
func (l rateLaw) draw(rng *rand.Rand, exposure float64) int {
	if exposure <= 0 {
		return 0
	}
	k, u := 0, rng.Float64()
	for ; k < len(l.Weight)-1 && u > l.Weight[k]; k++ {
		u -= l.Weight[k]
	}
	rate := distuv.Gamma{Alpha: l.Shape[k], Beta: l.Rate[k], Src: rng}.Rand()
	mean := rate * exposure
	if !(mean > 0) {
		return 0
	}
	return int(distuv.Poisson{Lambda: mean, Src: rng}.Rand())
}
