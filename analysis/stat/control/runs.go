package control

// runSignals applies the run rules of the Western Electric Statistical Quality
// Control Handbook (1956): two of three beyond 2 sigma, four of five beyond
// 1 sigma, eight in a row beyond the centre, each on one side. A point on a
// line is not beyond it. The point that completes a pattern is part of it.
func runSignals(xs []float64, centre, sigma float64) Signals {
	var s Signals
	for _, r := range []struct {
		rule        Rule
		of, in      int
		beyondSigma float64
	}{
		{TwoOfThree, 2, 3, 2},
		{FourOfFive, 4, 5, 1},
		{EightOnOneSide, 8, 8, 0},
	} {
		for i := range xs {
			from := max(0, i+1-r.in)
			if high, ok := gathered(xs[from:i+1], centre, r.beyondSigma*sigma, r.of); ok {
				s = append(s, Signal{i, r.rule, high})
			}
		}
	}
	return s
}

// gathered reports whether the last of window lies more than distance from
// the centre together with others on its side, at least of in all.
func gathered(window []float64, centre, distance float64, of int) (high, ok bool) {
	high = window[len(window)-1] > centre
	beyond := func(x float64) bool {
		if high {
			return x-centre > distance
		}
		return centre-x > distance
	}
	if !beyond(window[len(window)-1]) {
		return high, false
	}
	for _, x := range window {
		if beyond(x) {
			of--
		}
	}
	return high, of <= 0
}
