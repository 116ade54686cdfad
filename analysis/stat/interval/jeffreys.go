package interval

import "pourback/analysis/stat"

// Jeffreys returns successes/trials with the equal-tailed interval of the
// posterior Beta(x+½, n−x+½), its low limit 0 when x = 0 and its high limit 1
// when x = n. Inputs and errors are those of [Wilson].
//
// Source: Brown, Cai & DasGupta (2001), Statistical Science 16:101, §3.1.2
// and 4.1.2.
func Jeffreys(successes, trials int, level float64) (stat.Estimate, error) {
	if err := checkProportion(successes, trials, level); err != nil {
		return stat.Estimate{}, err
	}
	x, n, tail := float64(successes), float64(trials), (1-level)/2
	low, high := 0.0, 1.0
	if successes > 0 {
		low = betaQuantile(x+0.5, n-x+0.5, tail)
	}
	if successes < trials {
		high = betaQuantile(x+0.5, n-x+0.5, 1-tail)
	}
	return stat.Estimate{
		Value: x / n, Low: low, High: high,
		Level: level, N: trials, Method: "Jeffreys interval",
	}, nil
}
