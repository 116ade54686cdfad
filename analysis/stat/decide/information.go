package decide

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// NormalChoice is a choice between two things whose difference in cost by unit
// is believed to be N(Mean, SD²); the one with the better mean is taken.
type NormalChoice struct {
	Mean, SD float64
	AtStake  float64 // units that the choice is for
}

// PWrong is the probability that the other would have been better.
func (c NormalChoice) PWrong() (float64, error) {
	if err := c.check(); err != nil {
		return 0, err
	}
	return upperNormal(math.Abs(c.Mean) / c.SD), nil
}

// EVPI is the worth of knowing the difference: stake·s·L(|m|/s), with the
// unit normal loss L(u) = φ(u) − u(1−Φ(u)).
//
// Source: Raiffa & Schlaifer (1961) §5.5 and table II.
func (c NormalChoice) EVPI() (float64, error) {
	if err := c.check(); err != nil {
		return 0, err
	}
	return c.AtStake * c.SD * unitLoss(math.Abs(c.Mean)/c.SD), nil
}

// EVSI is the worth of more observations when the present belief is worth
// priorN of them: the mean will move by s·√(n/(n₀+n)), returned as moves.
func (c NormalChoice) EVSI(priorN, more float64) (worth, moves float64, err error) {
	if err := c.check(); err != nil {
		return 0, 0, err
	}
	if err := checkScale("observations the belief is worth", priorN); err != nil {
		return 0, 0, err
	}
	if err := stat.Finite("new observations", more); err != nil {
		return 0, 0, err
	}
	if more < 0 {
		return 0, 0, fmt.Errorf("%v new observations, want 0 or more: %w", more, stat.ErrDomain)
	}
	moves = c.SD * math.Sqrt(more/(priorN+more))
	if moves == 0 {
		return 0, 0, nil
	}
	return c.AtStake * moves * unitLoss(math.Abs(c.Mean)/moves), moves, nil
}

func (c NormalChoice) check() error {
	if err := checkScale("standard deviation", c.SD); err != nil {
		return err
	}
	if err := stat.Finite("mean and stake", c.Mean, c.AtStake); err != nil {
		return err
	}
	if c.AtStake < 0 {
		return fmt.Errorf("%v units at stake, want 0 or more: %w", c.AtStake, stat.ErrDomain)
	}
	return nil
}
