package survival

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"pourback/analysis/stat"
)

const (
	longestStep = 2     // with Firth's penalty, in spreads of the columns
	finalStep   = 1e-10 // likewise: a fit whose next step is shorter has converged,
	finalGain   = 1e-18 // and so has one that would gain less, 1e-9 of a standard error
	lastStep    = 1e-6  // after a whole step of Newton's so short the next would be of the order of its square
	mostSteps   = 100
	mostHalves  = 30
)

// climber climbs a target with step-halving: by Newton's method or, with
// Firth's penalty, whose bend the information does not hold, by a quasi-Newton
// one that starts from it. Steps are measured in spreads of the columns, so
// that the path does not depend on units.
type climber struct {
	*coxTarget
	scale []float64
	fixed int // column whose coefficient stays, or −1
	learn quasi

	learned bool // whether the last step came from what was learned
}

// maximise climbs from beta, which it moves to the top.
func (c *climber) maximise(beta []float64) (stat.Fit, error) {
	var fit stat.Fit
	c.learn = quasi{}
	value := c.value(beta)
	if math.IsInf(value, -1) {
		return fit, fmt.Errorf("the likelihood cannot be computed at the start: %w", stat.ErrNotConverged)
	}
	last, slow := math.Inf(1), 0
	for fit.Iterations = 1; fit.Iterations <= mostSteps; fit.Iterations++ {
		step, gain, longest, ok := c.step(beta)
		if !ok {
			return fit, c.flat()
		}
		if longest <= finalStep || gain <= finalGain {
			fit.Converged = true
			return fit, nil
		}
		// The gain of a step falls ever faster on the way to a top. On the way up
		// a likelihood without one it falls by a fixed factor, about e, for ever.
		if gain < 1e-9 && gain > .1*last {
			slow++
		} else {
			slow = 0
		}
		if slow == 3 && !c.options.Firth {
			return fit, c.flat()
		}
		last = gain
		if value, ok = c.climb(beta, step, value); !ok {
			if c.learned { // try again with the information
				c.learn.inverse = nil
				continue
			}
			if gain < 1e-14*(1+math.Abs(value)) { // rounding hides what is left
				fit.Converged = true
				return fit, nil
			}
			return fit, c.flat()
		}
		if longest <= lastStep && !c.options.Firth {
			fit.Converged = true
			return fit, nil
		}
	}
	return fit, c.flat()
}

// climb takes the step or the largest half, quarter, … of it that does not go
// down, moving beta.
func (c *climber) climb(beta, step []float64, value float64) (float64, bool) {
	slack := 1e-12 * (1 + math.Abs(value))
	next := make([]float64, len(beta))
	for range mostHalves {
		floats.AddTo(next, beta, step)
		if v := c.value(next); v >= value-slack {
			copy(beta, next)
			return v, true
		}
		floats.Scale(.5, step)
	}
	return c.value(beta), false
}

// step is the next one, shortened to longestStep with Firth's penalty; gain is
// twice the rise it promises. It fails where the information is not positive
// definite.
func (c *climber) step(beta []float64) (step []float64, gain, longest float64, ok bool) {
	score, info := c.slope()
	if c.fixed >= 0 {
		score[c.fixed] = 0
		for j := range score {
			info.SetSym(c.fixed, j, 0)
		}
		info.SetSym(c.fixed, c.fixed, 1)
	}
	step = c.learn.direction(beta, score)
	c.learned = step != nil
	if !c.learned {
		f, ok := factor(info)
		if !ok {
			return nil, 0, 0, false
		}
		step = f.solve(score)
		if c.options.Firth {
			c.learn.restart(f.inverse(), beta, score)
		}
	}
	gain = floats.Dot(step, score)
	for j, d := range step {
		longest = max(longest, math.Abs(d)*c.scale[j])
	}
	if !(longest <= math.MaxFloat64) {
		return nil, 0, 0, false
	}
	if c.options.Firth && longest > longestStep {
		floats.Scale(longestStep/longest, step)
	}
	return step, gain, longest, true
}

// flat says why no top was found. Without Firth's penalty the likelihood is
// concave, so that Newton's method fails only where there is none in reach.
func (c *climber) flat() error {
	if c.options.Firth {
		return fmt.Errorf("the penalised likelihood has no top in reach: %w", stat.ErrNotConverged)
	}
	return fmt.Errorf("the likelihood rises for ever, as when all events are in one arm; Firth's penalty or a prior gives an answer: %w",
		stat.ErrSeparated)
}

// inverse of a positive definite matrix.
func inverse(info *mat.SymDense) (*mat.SymDense, error) {
	f, ok := factor(info)
	if !ok {
		return nil, fmt.Errorf("the information is singular: %w", stat.ErrNotConverged)
	}
	return f.inverse(), nil
}
