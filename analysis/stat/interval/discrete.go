package interval

// discrete is a distribution on the whole numbers lo..hi with one peak, known
// by the ratio of each probability to the one before. Weights are built
// outward from the mode, so none overflows and the far tails go quietly to 0.
type discrete struct {
	lo, hi, mode int
	ratio        func(k int) float64 // P(k+1)/P(k)
}

// tails are the probabilities about an observed count.
type tails struct {
	below, at, above float64
	notAbove         float64 // sum of all probabilities not above that at the count
}

// tieTolerance is the relative slack within which two probabilities count as
// equal, as in R's fisher.test and binom.test.
const tieTolerance = 1e-7

// about returns the tails at the count obs in lo..hi.
func (d discrete) about(obs int) tails {
	limit := d.weight(obs) * (1 + tieTolerance)
	var t tails
	var total float64
	d.each(func(k int, w float64) {
		total += w
		switch {
		case k < obs:
			t.below += w
		case k > obs:
			t.above += w
		default:
			t.at = w
		}
		if w <= limit {
			t.notAbove += w
		}
	})
	return tails{t.below / total, t.at / total, t.above / total, t.notAbove / total}
}

// weight is P(k)/P(mode).
func (d discrete) weight(k int) float64 {
	w := 1.0
	for j := d.mode; j < k && w > 0; j++ {
		w *= d.ratio(j)
	}
	for j := d.mode; j > k && w > 0; j-- {
		w /= d.ratio(j - 1)
	}
	return w
}

// each visits the counts whose weight is above 0, first from the mode up and
// then from below it down.
func (d discrete) each(visit func(k int, w float64)) {
	for k, w := d.mode, 1.0; k <= d.hi && w > 0; k++ {
		visit(k, w)
		w *= d.ratio(k)
	}
	for k, w := d.mode, 1.0; k > d.lo; k-- {
		w /= d.ratio(k - 1)
		if w == 0 {
			return
		}
		visit(k-1, w)
	}
}

// twoSided is the p-value that sums every probability not above the observed.
func (t tails) twoSided() float64 { return min(1, t.notAbove) }

// midP doubles the smaller tail, half of the observed probability in each.
func (t tails) midP() float64 {
	return min(1, 2*min(t.below, t.above)+t.at)
}

// binomial is the number of successes in n trials at success odds of odds.
func binomial(n int, odds float64) discrete {
	p := odds / (1 + odds)
	return discrete{
		lo: 0, hi: n, mode: min(n, int(float64(n+1)*p)),
		ratio: func(k int) float64 { return float64(n-k) / float64(k+1) * odds },
	}
}
