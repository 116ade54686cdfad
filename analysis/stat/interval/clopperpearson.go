package interval

import "pourback/analysis/stat"

// ClopperPearson returns successes/trials with the exact tail interval: the
// limits are the quantiles α/2 of Beta(x, n−x+1) and 1−α/2 of Beta(x+1, n−x).
// It holds at least the level everywhere, and usually more. Inputs and errors
// are those of [Wilson].
//
// Source: Clopper & Pearson (1934), Biometrika 26:404; method 5 of Newcombe
// (1998), Stat. Med. 17:857.
func ClopperPearson(successes, trials int, level float64) (stat.Estimate, error) {
	if err := checkProportion(successes, trials, level); err != nil {
		return stat.Estimate{}, err
	}
	low, high := clopperPearsonLimits(successes, trials, level)
	return stat.Estimate{
		Value: float64(successes) / float64(trials), Low: low, High: high,
		Level: level, N: trials, Method: "Clopper-Pearson exact interval",
	}, nil
}

func clopperPearsonLimits(successes, trials int, level float64) (low, high float64) {
	x, n, tail := float64(successes), float64(trials), (1-level)/2
	low, high = 0, 1
	if successes > 0 {
		low = betaQuantile(x, n-x+1, tail)
	}
	if successes < trials {
		high = betaQuantile(x+1, n-x, 1-tail)
	}
	return low, high
}
