package survival

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"pourback/analysis/stat"
)

// GroupedData are times known between two looks, for proportional hazards.
// Ends of rows are taken to ends of the grid: a beginning back, an end on.
type GroupedData struct {
	Rows    []Interval
	X       [][]float64 // columns
	Stratum []int       // whose baselines are their own; nil: one
	Cluster []int       // rows that go together; nil: each by itself
	Weight  []float64   // cases a row stands for; nil: 1 each
	Grid    []float64   // ends of the stretches of time, ascending, above 0
}

// Grouped is a fitted model of grouped proportional hazards.
type Grouped struct {
	stat.Fit
	N, Events int
	Coef      []float64     // log hazard ratios
	Cov       *mat.SymDense // inverse of the information, the priors' included
	Robust    *mat.SymDense // sandwich over clusters
	Baseline  [][]float64   // of each stratum in the order of its label: log of what the hazard adds up to in each stretch
	LogLik    float64
}

// FitGrouped fits h(t|x) = h₀(t)·e^{x'β} to times of which it is known only
// between which two looks they fell, by maximum likelihood (Prentice & Gloeckler
// 1978, Biometrics 34, 57-67): with γ_k the log of the baseline hazard over
// stretch k, a row that was sound through stretch l and cracked by stretch r adds
//
//	−Σ_{k≤l} e^{γ_k+x'β} + log(1 − exp(−Σ_{l<k≤r} e^{γ_k+x'β}))
//
// Where each row cracked within one stretch that is a binomial model of the
// stretches with the complementary log-log link. Priors add −½(c'β−m)²/SD².
// Stretches in which nothing can have happened have no hazard.
//
// Errors: [stat.ErrNoData], [stat.ErrShape], [stat.ErrNotFinite],
// [stat.ErrDomain]; [stat.ErrNoEvents]; [stat.ErrCollinear] where a column tells
// nothing that others, or the strata, do not; [stat.ErrNotConverged].
func FitGrouped(d GroupedData, priors []NormalPrior) (*Grouped, error) {
	m, err := newGroupedModel(d, priors)
	if err != nil {
		return nil, fmt.Errorf("grouped hazards: %w", err)
	}
	g, err := m.fit()
	if err != nil {
		return nil, fmt.Errorf("grouped hazards: %w", err)
	}
	return g, nil
}

// groupedRow is a row with the stretches it was sound through, and those in one
// of which it cracked: of its stratum, by the places of their baselines.
type groupedRow struct {
	sound, cracked []int
	weight         float64
}

type groupedModel struct {
	d      GroupedData
	priors []NormalPrior
	rows   []groupedRow
	at     [][]int // place of a stratum's stretch among the parameters, −1 where it has no hazard
	base   int     // baselines; the coefficients follow
	events int
}

const groupedRounds = 200

func newGroupedModel(d GroupedData, priors []NormalPrior) (*groupedModel, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	if err := (CoxOptions{Priors: priors}).check(len(d.X)); err != nil {
		return nil, err
	}
	if d.Stratum == nil {
		d.Stratum = make([]int, len(d.Rows))
	}
	label, stratum := labels(d.Stratum)
	m := &groupedModel{d: d, priors: priors, rows: make([]groupedRow, len(d.Rows)), at: make([][]int, len(label))}
	possible := make([][]bool, len(label)) // stretches that an event may have fallen in
	for s := range possible {
		possible[s] = make([]bool, len(d.Grid))
	}
	for i, r := range d.Rows {
		if l, e := d.stretches(r); e >= 0 {
			m.events++
			for k := l; k < e; k++ {
				possible[stratum[i]][k] = true
			}
		}
	}
	if m.events == 0 {
		return nil, stat.ErrNoEvents
	}
	for s := range m.at {
		m.at[s] = make([]int, len(d.Grid))
		for k := range m.at[s] {
			if m.at[s][k] = -1; possible[s][k] {
				m.at[s][k] = m.base
				m.base++
			}
		}
	}
	for i, r := range d.Rows {
		l, e := d.stretches(r)
		row := groupedRow{weight: 1}
		if d.Weight != nil {
			row.weight = d.Weight[i]
		}
		for k, at := range m.at[stratum[i]] {
			switch {
			case at < 0:
			case k < l:
				row.sound = append(row.sound, at)
			case k < e:
				row.cracked = append(row.cracked, at)
			}
		}
		m.rows[i] = row
	}
	return m, nil
}

func (d *GroupedData) check() error {
	if err := checkIntervals(d.Rows); err != nil {
		return err
	}
	n := len(d.Rows)
	if d.Stratum != nil && len(d.Stratum) != n || d.Cluster != nil && len(d.Cluster) != n || d.Weight != nil && len(d.Weight) != n {
		return fmt.Errorf("%d rows, %d strata, %d clusters, %d weights: %w", n, len(d.Stratum), len(d.Cluster), len(d.Weight), stat.ErrShape)
	}
	for j, x := range d.X {
		if len(x) != n {
			return fmt.Errorf("column %d has %d of %d rows: %w", j, len(x), n, stat.ErrShape)
		}
		if err := stat.Finite(fmt.Sprintf("column %d", j), x...); err != nil {
			return err
		}
	}
	last := 0.
	for _, end := range d.Grid {
		if !(end > last) {
			return fmt.Errorf("a grid with the end %v after %v: %w", end, last, stat.ErrDomain)
		}
		last = end
	}
	for i, r := range d.Rows {
		if !math.IsInf(r.Right, 1) && r.Right > last {
			return fmt.Errorf("row %d ends at %v, past the grid: %w", i, r.Right, stat.ErrDomain)
		}
	}
	return nil
}

// stretches is how many stretches the row was sound through, and how many there
// are up to its event, −1 where it had none.
func (d *GroupedData) stretches(r Interval) (sound, event int) {
	at, exact := slices.BinarySearch(d.Grid, r.Left)
	if sound = at; exact {
		sound++
	}
	if math.IsInf(r.Right, 1) {
		return sound, -1
	}
	event, _ = slices.BinarySearch(d.Grid, r.Right)
	return min(sound, event), event + 1
}

// predictor is x'β of row i.
func (m *groupedModel) predictor(i int, theta []float64) float64 {
	sum := 0.
	for j, x := range m.d.X {
		sum += x[i] * theta[m.base+j]
	}
	return sum
}

// logLik is the log likelihood, and what the priors add to it.
func (m *groupedModel) logLik(theta []float64) (l, prior float64) {
	for i := range m.rows {
		r, x := &m.rows[i], m.predictor(i, theta)
		sound, cracked := 0., 0.
		for _, at := range r.sound {
			sound += math.Exp(theta[at] + x)
		}
		for _, at := range r.cracked {
			cracked += math.Exp(theta[at] + x)
		}
		l -= r.weight * sound
		if len(r.cracked) > 0 {
			l += r.weight * math.Log(-math.Expm1(-cracked))
		}
	}
	for _, p := range m.priors {
		c := -p.Mean
		for j, w := range p.Contrast {
			c += w * theta[m.base+j]
		}
		prior -= c * c / (2 * p.SD * p.SD)
	}
	return l, prior
}
