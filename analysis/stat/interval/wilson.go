package interval

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Wilson returns successes/trials with the score interval
//
//	(p + z²/2n ± z √(p(1−p)/n + z²/4n²)) / (1 + z²/n)
//
// N is the number of trials. Trials under 1 give [stat.ErrNoData]; counts out
// of range or a level outside (0, 1) give [stat.ErrDomain].
//
// Source: Wilson (1927), J. Am. Stat. Assoc. 22:209; method 3 of Newcombe
// (1998), Stat. Med. 17:857.
func Wilson(successes, trials int, level float64) (stat.Estimate, error) {
	if err := checkProportion(successes, trials, level); err != nil {
		return stat.Estimate{}, err
	}
	low, high := wilsonLimits(successes, trials, zTwoSided(level))
	return stat.Estimate{
		Value: float64(successes) / float64(trials), Low: low, High: high,
		Level: level, N: trials, Method: "Wilson score interval",
	}, nil
}

// wilsonLimits gives the limits for the deviate z; at no successes and at
// nothing but successes the outer one is exact, which rounding would blur.
func wilsonLimits(successes, trials int, z float64) (low, high float64) {
	n := float64(trials)
	p := float64(successes) / n
	mid := p + z*z/(2*n)
	half := z * math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	scale := 1 + z*z/n
	low, high = (mid-half)/scale, (mid+half)/scale
	if successes == 0 {
		low = 0
	}
	if successes == trials {
		high = 1
	}
	return low, high
}

func checkProportion(successes, trials int, level float64) error {
	if err := checkCounts(successes, trials); err != nil {
		return err
	}
	return checkLevel(level)
}

func checkCounts(successes, trials int) error {
	if trials < 1 {
		return fmt.Errorf("%d trials, want at least 1: %w", trials, stat.ErrNoData)
	}
	if successes < 0 || successes > trials {
		return fmt.Errorf("%d successes in %d trials, want 0 to %d: %w", successes, trials, trials, stat.ErrDomain)
	}
	return nil
}
