package bid

import (
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/figure"
	"pourback/analysis/stat/pool"
)

// rateLaw is what is believed of a rate of events.
type rateLaw struct {
	pool.GammaMixture
	basis Basis

	upTo []float64 // sums of the weights, to draw by
}

func lawAs(law pool.GammaMixture, stands Basis) rateLaw {
	return rateLaw{law, stands, floats.CumSum(make([]float64, len(law.Weight)), law.Weight)}
}

// rateGroup is one group's events and exposure.
type rateGroup struct {
	events, exposure float64
	rows             int
}

// lawOfRate is the law of one group's rate: drawn towards the other groups', and
// all of them towards the usual rate until the records carry them; see
// [pool.BelievedRateGrid]. A group that is not on record is a new one, with shares of
// those that it borrows from.
func lawOfRate(groups map[string]rateGroup, mine string, usual float64, of Counted, borrow map[string]float64) (rateLaw, error) {
	events, exposure := []float64{}, []float64{}
	var all rateGroup
	at, numbers := -1, map[string]int{}
	for _, name := range figure.SortedNames(groups) {
		g := groups[name]
		all = rateGroup{all.events + g.events, all.exposure + g.exposure, all.rows + g.rows}
		if g.exposure > 0 {
			if name == mine {
				at = len(events)
			}
			numbers[name] = len(events)
			events, exposure = append(events, g.events), append(exposure, g.exposure)
		}
	}
	stands := basis(all.rows, of, usual)
	if stands.From == FromRecords && all.events < fewEvents {
		stands.By = ByFewEvents
	}
	grid, err := pool.BelievedRateGrid(events, exposure, pool.RateBelief{Rate: usual, Events: practiceWeight})
	if err != nil {
		return rateLaw{}, err
	}
	var law pool.GammaMixture
	if at >= 0 {
		law, err = grid.Outfit(at)
	} else {
		law, err = borrowedRate(grid, numbers, borrow)
	}
	return lawAs(law, stands), err
}

// borrowedRate is the law of a group that is not on record: in shares as likely one
// of the groups most like it, and for the rest a new one.
func borrowedRate(grid *pool.RateGrid, numbers map[string]int, shares map[string]float64) (pool.GammaMixture, error) {
	var out pool.GammaMixture
	add := func(m pool.GammaMixture, share float64) {
		for k, w := range m.Weight {
			out.Weight, out.Shape, out.Rate = append(out.Weight, share*w), append(out.Shape, m.Shape[k]), append(out.Rate, m.Rate[k])
		}
	}
	rest := 1.0
	for _, name := range figure.SortedNames(shares) {
		if at, known := numbers[name]; known {
			m, err := grid.Outfit(at)
			if err != nil {
				return out, err
			}
			add(m, shares[name])
			rest -= shares[name]
		}
	}
	add(grid.New(), rest)
	return out, nil
}

// fewEvents are so few that the usual rate still counts for more than a tenth of
// the answer.
const fewEvents = 10 * practiceWeight

// draw is a count over an exposure, the rate itself drawn.
func (l rateLaw) draw(rng *rand.Rand, exposure float64) int {
	if exposure <= 0 {
		return 0
	}
	k, _ := slices.BinarySearch(l.upTo, rng.Float64())
	k = min(k, len(l.upTo)-1) // for the rounding of the last sum
	rate := distuv.Gamma{Alpha: l.Shape[k], Beta: l.Rate[k], Src: rng}.Rand()
	mean := rate * exposure
	if !(mean > 0) {
		return 0
	}
	return int(distuv.Poisson{Lambda: mean, Src: rng}.Rand())
}
