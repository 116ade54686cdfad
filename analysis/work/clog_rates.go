package work

import (
	"slices"
	"sync"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/figure"
	"pourback/analysis/stat/pool"
	"pourback/ingest/record"
)

// ClogRates are the laws of how often a line clogs, in clogs a 100 yd³, of groups
// of pumped placements: a gamma-Poisson model, with what is not known of their
// common law averaged out, and how much more than by chance clogs come together
// on a job.
type ClogRates struct {
	Clogs, Placements int  // of all groups
	Believed          bool // drawn to a belief, the clogs being few

	names            []string
	events, exposure []float64 // of each group
	jobs             jobCounts
	dispersion       pool.Dispersion
	prior            func(events, exposure []float64) (*pool.RateGrid, error)

	mu    sync.Mutex
	grids map[float64]*pool.RateGrid // of the dispersions that count
	laws  map[int]pool.GammaMixture  // of the groups that were asked for
}

// jobCounts are the clogs and the yards of each group job by job: loads of one
// job share its mix, hose and line, so that its clogs come together.
type jobCounts struct {
	events, exposure []float64
	group, job       []int
	last             []int // the place of each group's last job, and one
}

func newJobCounts(groups, rows int) jobCounts {
	return jobCounts{make([]float64, 0, rows), make([]float64, 0, rows), make([]int, 0, rows), make([]int, 0, rows), make([]int, groups)}
}

// add counts a placement. A job's placements come one after the other.
func (j *jobCounts) add(group, job int, events, exposure float64) {
	at := j.last[group] - 1
	if at < 0 || j.job[at] != job {
		at = len(j.events)
		j.last[group] = at + 1
		j.events, j.exposure, j.group, j.job = append(j.events, 0), append(j.exposure, 0), append(j.group, group), append(j.job, job)
	}
	j.events[at] += events
	j.exposure[at] += exposure
}

// carried are so many clogs that they need no belief beside them.
const carried = 20

// ClogRatesOf are the laws by pump outfit. Where there are fewer clogs than carry
// a rate they are drawn to the belief; from there on they are those of [PumpOf].
func ClogRatesOf(h *record.History, belief pool.RateBelief) (*ClogRates, error) {
	rows := countedRows(h)
	r := clogRates(h, rows, figure.LabelsIn(&h.Placements.PumpOutfit, len(rows), func(k int) int { return rows[k] }))
	if r.Believed = r.Clogs < carried; r.Believed {
		r.prior = func(events, exposure []float64) (*pool.RateGrid, error) {
			return pool.BelievedRateGrid(events, exposure, belief)
		}
	}
	return r, r.disperse()
}

// clogRates counts, by groups of rows.
func clogRates(h *record.History, rows []int, by figure.Labels) *ClogRates {
	r := &ClogRates{Placements: len(rows), names: by.Names, events: make([]float64, len(by.Names)), exposure: make([]float64, len(by.Names)),
		jobs: newJobCounts(len(by.Names), len(rows)), grids: map[float64]*pool.RateGrid{}, laws: map[int]pool.GammaMixture{}}
	for k, i := range rows {
		g, p := int(by.Of[k]), h.Placements.At(i)
		clogs, exposure := float64(p.Clogs().V), p.DeliveredYd().V/100
		r.jobs.add(g, h.JobIndex(i), clogs, exposure)
		r.Clogs += int(clogs)
		r.events[g] += clogs
		r.exposure[g] += exposure
	}
	r.prior = func(events, exposure []float64) (*pool.RateGrid, error) {
		return pool.GammaPoissonGrid(events, exposure, pool.WideRatePrior())
	}
	return r
}

func (r *ClogRates) disperse() (err error) {
	r.dispersion, err = pool.CountDispersion(r.jobs.events, r.jobs.exposure, r.jobs.group)
	return err
}

// Outfit is the law of an outfit, of one that is not on record where it has no
// rows.
func (r *ClogRates) Outfit(name string) (pool.GammaMixture, error) {
	return r.group(slices.Index(r.names, name))
}

// group is the law of a group, of a new one where that is −1.
func (r *ClogRates) group(i int) (law pool.GammaMixture, err error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if law, known := r.laws[i]; known {
		return law, nil
	}
	law, err = r.dispersion.Dispersed(func(phi float64) (pool.GammaMixture, error) {
		grid, err := r.grid(phi)
		switch {
		case err != nil:
			return pool.GammaMixture{}, err
		case i < 0:
			return grid.New(), nil
		}
		return grid.Outfit(i)
	})
	if err == nil {
		r.laws[i] = law
	}
	return law, err
}

func (r *ClogRates) grid(phi float64) (g *pool.RateGrid, err error) {
	if g = r.grids[phi]; g == nil {
		g, err = r.prior(each(r.events, 1/phi), each(r.exposure, 1/phi))
		r.grids[phi] = g
	}
	return g, err
}

// each multiplies every number.
func each(xs []float64, by float64) []float64 {
	out := slices.Clone(xs)
	floats.Scale(by, out)
	return out
}
