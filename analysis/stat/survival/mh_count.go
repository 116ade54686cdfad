package survival

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
)

// CountStratum holds, for two arms that are alike in what defines the stratum,
// how many rows of how many had the event.
type CountStratum struct {
	Events1, N1 int
	Events0, N0 int
}

// table gives the cells a, b (arm 1 with and without the event), c, d (arm 0),
// the sizes of the arms and of both.
func (s CountStratum) table() (a, b, c, d, n1, n0, n float64) {
	a, c, n1, n0 = float64(s.Events1), float64(s.Events0), float64(s.N1), float64(s.N0)
	return a, n1 - a, c, n0 - c, n1, n0, n1 + n0
}

// MantelHaenszelOR pools the odds ratio over strata: ΣR/ΣS, R = ad/N and
// S = bc/N (Mantel & Haenszel 1959, J. Natl. Cancer Inst. 22, 719-748), with
// the variance of its logarithm by Robins, Breslow & Greenland (1986,
// Biometrics 42, 311-323):
// ΣPR/2(ΣR)² + Σ(PS+QR)/2ΣRΣS + ΣQS/2(ΣS)², P = (a+d)/N, Q = (b+c)/N.
//
// Errors: [stat.ErrNoData], [stat.ErrDomain], and [stat.ErrNoEvents] when a sum
// is 0.
func MantelHaenszelOR(strata []CountStratum, level float64) (Effect, error) {
	const method = "Mantel-Haenszel odds ratio, Robins-Breslow-Greenland"
	strata, events, err := usableCounts(method, strata, level)
	if err != nil {
		return Effect{}, err
	}
	var sumR, sumS, pr, psqr, qs float64
	for _, s := range strata {
		a, b, c, d, _, _, n := s.table()
		p, q, r, t := (a+d)/n, (b+c)/n, a*d/n, b*c/n
		sumR, sumS = sumR+r, sumS+t
		pr, psqr, qs = pr+p*r, psqr+p*t+q*r, qs+q*t
	}
	v := pr/(2*sumR*sumR) + psqr/(2*sumR*sumS) + qs/(2*sumS*sumS)
	return ratio(method, sumR, sumS, v, level, events)
}

// MantelHaenszelRR pools the risk ratio: Σ(a·n₀/N)/Σ(c·n₁/N), with
// var log = Σ[(n₁n₀(a+c) − acN)/N²]/(ΣR·ΣS) (Greenland & Robins 1985,
// Biometrics 41, 55-68). Errors as [MantelHaenszelOR].
func MantelHaenszelRR(strata []CountStratum, level float64) (Effect, error) {
	const method = "Mantel-Haenszel risk ratio, Greenland-Robins"
	strata, events, err := usableCounts(method, strata, level)
	if err != nil {
		return Effect{}, err
	}
	var sumR, sumS, v float64
	for _, s := range strata {
		a, _, c, _, n1, n0, n := s.table()
		sumR += a * n0 / n
		sumS += c * n1 / n
		v += (n1*n0*(a+c) - a*c*n) / (n * n)
	}
	return ratio(method, sumR, sumS, v/sumR/sumS, level, events)
}

// RDVariance names a variance of the pooled risk difference.
type RDVariance int

const (
	// Sato holds with few large strata and with many sparse ones (Sato 1989,
	// Biometrics 45, 1323-1324); the default.
	Sato RDVariance = iota
	// GreenlandRobins holds with few large strata only (1985).
	GreenlandRobins
)

// MantelHaenszelRD pools the risk difference with weights w = n₁n₀/N:
// Σw(a/n₁ − c/n₀)/Σw. Its variance is V/(Σw)², with
//
//	Greenland-Robins: V = Σ(ab·n₀³ + cd·n₁³)/(n₁n₀N²)
//	Sato: V = RD·Σ(n₁²c − n₀²a + n₁n₀(n₀−n₁)/2)/N² + Σ(ad + bc)/2N
//
// Errors as [MantelHaenszelOR], but an arm without events is an answer;
// [stat.ErrNoVariation] when the variance is 0.
func MantelHaenszelRD(strata []CountStratum, level float64, variance RDVariance) (Effect, error) {
	method := "Mantel-Haenszel risk difference, Sato"
	if variance == GreenlandRobins {
		method = "Mantel-Haenszel risk difference, Greenland-Robins"
	} else if variance != Sato {
		return Effect{}, fmt.Errorf("no variance of the risk difference has the number %d: %w", variance, stat.ErrDomain)
	}
	strata, events, err := usableCounts(method, strata, level)
	if err != nil {
		return Effect{}, err
	}
	var sum, weight, gr, p, q float64
	for _, s := range strata {
		a, b, c, d, n1, n0, n := s.table()
		sum += (a*n0 - c*n1) / n
		weight += n1 * n0 / n
		gr += (a*b*n0*n0/n1 + c*d*n1*n1/n0) / (n * n)
		p += (n1*n1*c - n0*n0*a + n1*n0*(n0-n1)/2) / (n * n)
		q += (a*d + b*c) / (2 * n)
	}
	rd, v := sum/weight, gr
	if variance == Sato {
		v = sum/weight*p + q
	}
	return difference(method, rd, v/(weight*weight), level, 1, events)
}

// CMH is a Cochran-Mantel-Haenszel test that no stratum has a difference.
type CMH struct {
	ChiSq     float64 // 1 degree of freedom
	P         float64
	Corrected bool
}

// CMHTest compares Σa with its expectation Σn₁m₁/N: χ² = (|Σ(a−E)| − ½)²/ΣV,
// V = n₁n₀m₁m₀/(N²(N−1)), m₁ and m₀ the rows with and without the event, the
// ½ only if corrected for continuity and never past 0 (Mantel & Haenszel
// 1959). Errors: as [MantelHaenszelOR]; [stat.ErrNoVariation] when no stratum
// has both arms and both outcomes.
func CMHTest(strata []CountStratum, corrected bool) (CMH, error) {
	const method = "Cochran-Mantel-Haenszel"
	strata, _, err := usableCounts(method, strata, .5)
	if err != nil {
		return CMH{}, err
	}
	var delta, v float64
	for _, s := range strata {
		a, b, c, d, n1, n0, n := s.table()
		delta += a - n1*(a+c)/n
		v += n1 / n * n0 / n * (a + c) * (b + d) / (n - 1)
	}
	if v == 0 {
		return CMH{}, fmt.Errorf("%s: no stratum has both outcomes: %w", method, stat.ErrNoVariation)
	}
	delta = math.Abs(delta)
	if corrected {
		delta = max(0, delta-.5)
	}
	x := delta * delta / v
	return CMH{ChiSq: x, P: distuv.ChiSquared{K: 1}.Survival(x), Corrected: corrected}, nil
}

// usableCounts checks all strata, keeps those with rows in both arms, and
// counts their events.
func usableCounts(method string, strata []CountStratum, level float64) (usable []CountStratum, events int, err error) {
	if err := stat.CheckLevel(level); err != nil {
		return nil, 0, fmt.Errorf("%s: %w", method, err)
	}
	for i, s := range strata {
		if s.Events1 < 0 || s.Events1 > s.N1 || s.Events0 < 0 || s.Events0 > s.N0 {
			return nil, 0, fmt.Errorf("%s: stratum %d has %d events among %d and %d among %d: %w",
				method, i, s.Events1, s.N1, s.Events0, s.N0, stat.ErrDomain)
		}
		if s.N1 > 0 && s.N0 > 0 {
			usable = append(usable, s)
			events += s.Events1 + s.Events0
		}
	}
	if len(usable) == 0 {
		return nil, 0, fmt.Errorf("%s: no stratum has rows in both arms: %w", method, stat.ErrNoData)
	}
	return usable, events, nil
}
