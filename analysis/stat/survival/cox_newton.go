package survival

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"pourback/analysis/stat"
)

const (
	longestStep = 2     // in spreads of the columns
	finalStep   = 1e-10 // likewise: a fit whose next step is shorter has converged
	mostSteps   = 100
	mostHalves  = 30
)

// objective is a log likelihood with whatever penalties it bears.
type objective interface {
	// value moves to β; −∞ where it cannot be computed.
	value(beta []float64) float64
	// slope gives the gradient at the β last moved to, and the information
	// that stands for minus the second derivative there.
	slope() (score []float64, info *mat.SymDense)
}

// climber climbs an objective by Newton's method with step-halving. Columns
// are measured by their spreads, so that the path does not depend on units.
type climber struct {
	objective
	scale []float64
	fixed int // column whose coefficient stays, or −1
	// runaway says whether the objective may rise for ever: a likelihood without
	// a penalty on each column.
	runaway bool
}

// maximise climbs from beta, which it moves to the top.
func (c *climber) maximise(beta []float64) (stat.Fit, error) {
	var fit stat.Fit
	value := c.value(beta)
	if math.IsInf(value, -1) {
		return fit, fmt.Errorf("the likelihood cannot be computed at the start: %w", stat.ErrNotConverged)
	}
	next := make([]float64, len(beta))
	last, slow := math.Inf(1), 0
	for fit.Iterations = 1; fit.Iterations <= mostSteps; fit.Iterations++ {
		step, gain, longest, ok := c.step()
		if !ok {
			return fit, c.flat()
		}
		if longest <= finalStep {
			fit.Converged = true
			return fit, nil
		}
		// Newton's gain falls ever faster near a top. That of a likelihood
		// without one falls by a fixed factor, about e, for ever.
		if gain < 1e-4 && gain > .1*last {
			slow++
		} else {
			slow = 0
		}
		if c.runaway && slow == 3 {
			return fit, c.flat()
		}
		last = gain
		if value, ok = c.climb(beta, next, step, value); !ok {
			if gain < 1e-14*(1+math.Abs(value)) { // rounding hides what is left
				fit.Converged = true
				return fit, nil
			}
			return fit, fmt.Errorf("no step raises the likelihood: %w", stat.ErrNotConverged)
		}
	}
	return fit, fmt.Errorf("%d steps did not suffice: %w", mostSteps, stat.ErrNotConverged)
}

// climb takes the step or the largest half, quarter, … of it that does not go
// down, moving beta.
func (c *climber) climb(beta, next, step []float64, value float64) (float64, bool) {
	slack := 1e-12 * (1 + math.Abs(value))
	for range mostHalves {
		for j, b := range beta {
			next[j] = b + step[j]
		}
		if v := c.value(next); v >= value-slack {
			copy(beta, next)
			return v, true
		}
		for j := range step {
			step[j] /= 2
		}
	}
	return c.value(beta), false
}

// step is Newton's, shortened to longestStep; gain is the rise it promises,
// twice over. It fails where the information is not positive definite.
func (c *climber) step() (step []float64, gain, longest float64, ok bool) {
	score, info := c.slope()
	p := len(score)
	scaled, u := mat.NewSymDense(p, nil), mat.NewVecDense(p, nil)
	for j := range p {
		if j == c.fixed {
			scaled.SetSym(j, j, 1)
			continue
		}
		u.SetVec(j, score[j]/c.scale[j])
		for i := 0; i <= j; i++ {
			if i != c.fixed {
				scaled.SetSym(i, j, info.At(i, j)/c.scale[i]/c.scale[j])
			}
		}
	}
	var chol mat.Cholesky
	var x mat.VecDense
	if !chol.Factorize(scaled) || chol.Cond() > 1e14 || chol.SolveVecTo(&x, u) != nil {
		return nil, 0, 0, false
	}
	gain = mat.Dot(&x, u)
	for j := range p {
		longest = max(longest, math.Abs(x.AtVec(j)))
	}
	if !(longest <= math.MaxFloat64) {
		return nil, 0, 0, false
	}
	shorten := min(1, longestStep/longest)
	step = make([]float64, p)
	for j := range step {
		step[j] = x.AtVec(j) * shorten / c.scale[j]
	}
	return step, gain, longest, true
}

// flat says why there is no top.
func (c *climber) flat() error {
	if !c.runaway {
		return fmt.Errorf("the information is singular: %w", stat.ErrNotConverged)
	}
	return fmt.Errorf("the likelihood rises for ever, as when all events are in one arm; Firth's penalty or a prior gives an answer: %w",
		stat.ErrSeparated)
}

// dependent is the first column that is a linear combination of those before
// it, as the information sees it, or −1.
func dependent(info *mat.SymDense) int {
	p := info.SymmetricDim()
	l := mat.NewTriDense(p, mat.Lower, nil)
	for j := range p {
		for i := 0; i <= j; i++ {
			left := info.At(i, j)
			for k := range i {
				left -= l.At(i, k) * l.At(j, k)
			}
			if i < j {
				l.SetTri(j, i, left/l.At(i, i))
				continue
			}
			if !(left > 1e-11*info.At(j, j)) {
				return j
			}
			l.SetTri(j, j, math.Sqrt(left))
		}
	}
	return -1
}
