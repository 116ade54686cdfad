package interval

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
)

// MaxTables is the largest number of ways to share the events among the
// groups that [EqualRates] goes through; beyond it the chi-squared
// approximation answers, and a warning says so.
const MaxTables = 2_000_000

// RateTest is the outcome of [EqualRates].
type RateTest struct {
	X2, G2   float64 // Pearson's and the likelihood ratio statistic
	DF       int
	PX2, PG2 float64 // their chi-squared p-values
	P        float64 // exact where Exact, else PX2
	Exact    bool
	Tables   int // ways gone through; 0 when not exact
	N        int // events
	Method   string
	Warnings []string
}

// EqualRates tests whether several Poisson rates are one. Given their total
// the counts are multinomial with probabilities in proportion to exposure;
//
//	X² = Σ(y−e)²/e,  G² = 2Σ y log(y/e),  e = total·exposure/Σexposure
//
// The exact p-value is the probability of all ways to share the events whose
// X² is no less than that observed, found by going through them, up to
// [MaxTables] ways.
//
// Fewer than two groups give [stat.ErrTooFew], no events [stat.ErrNoEvents],
// an exposure not above 0 [stat.ErrDomain].
//
// Source: Cochran (1952), Ann. Math. Stat. 23:315, for X² and G²; Read &
// Cressie (1988), Goodness-of-Fit Statistics for Discrete Multivariate Data,
// for the exact test ordered by X².
func EqualRates(rates []Rate) (RateTest, error) {
	share, n, err := shares(rates)
	if err != nil {
		return RateTest{}, err
	}
	t := RateTest{N: n, DF: len(rates) - 1, Method: "equality of Poisson rates, chi-squared approximation"}
	for i, r := range rates {
		y, e := float64(r.Events), float64(n)*share[i]
		t.X2 += (y - e) * (y - e) / e
		if y > 0 {
			t.G2 += 2 * y * math.Log(y/e)
		}
	}
	t.G2 = max(t.G2, 0)
	if err := stat.Finite("X2 and G2", t.X2, t.G2); err != nil {
		return RateTest{}, err
	}
	chi := distuv.ChiSquared{K: float64(t.DF)}
	t.PX2, t.PG2 = chi.Survival(t.X2), chi.Survival(t.G2)
	t.exact(share)
	return t, nil
}

// shares returns each group's part of the exposure and the total of events.
func shares(rates []Rate) (share []float64, n int, err error) {
	if len(rates) < 2 {
		return nil, 0, fmt.Errorf("%d rates, want at least 2 to compare: %w", len(rates), stat.ErrTooFew)
	}
	var exposure float64
	for i, r := range rates {
		if err := checkRate(r.Events, r.Exposure); err != nil {
			return nil, 0, fmt.Errorf("rate %d: %w", i, err)
		}
		n += r.Events
		exposure += r.Exposure
	}
	if n == 0 {
		return nil, 0, fmt.Errorf("none of %d rates has an event to compare by: %w", len(rates), stat.ErrNoEvents)
	}
	share = make([]float64, len(rates))
	for i, r := range rates {
		share[i] = r.Exposure / exposure
		if !(share[i] > 0) {
			return nil, 0, fmt.Errorf("rate %d: exposure %v vanishes beside the total %v: %w", i, r.Exposure, exposure, stat.ErrDomain)
		}
	}
	return share, n, nil
}

// exact fills in the exact p-value, or the approximation and why.
func (t *RateTest) exact(share []float64) {
	t.P = t.PX2
	tables, ok := compositions(t.N, len(share))
	if !ok {
		t.Warnings = append(t.Warnings, fmt.Sprintf(
			"%d events in %d groups can fall in more than %d ways: the p-value is the chi-squared approximation, not exact", t.N, len(share), MaxTables))
		return
	}
	t.P = min(1, newSharing(t.N, share, t.X2).tail())
	t.Exact, t.Tables = true, tables
	t.Method = "equality of Poisson rates, exact multinomial"
}

// compositions is the binomial coefficient (n+k−1 over k−1), the number of
// ways to share n events among k groups; ok is false above MaxTables.
func compositions(n, k int) (ways int, ok bool) {
	ways = 1
	for j := 1; j < k; j++ {
		if ways > MaxTables*j/(n+j) {
			return 0, false
		}
		ways = ways * (n + j) / j
	}
	return ways, true
}

// sharing goes through the ways to share n events among groups.
type sharing struct {
	share    []float64
	logProb  [][]float64 // [group][count]: count·log share − log count!
	cell     []float64   // 1/expected: a group's count² × this is its part of X² + n
	atLeast  float64     // the X² + n that counts as no less than observed
	logTotal float64     // log n!
	sum      float64
}

func newSharing(n int, share []float64, x2 float64) *sharing {
	s := &sharing{share: share, atLeast: (x2 + float64(n)) * (1 - 1e-10)}
	s.logTotal, _ = math.Lgamma(float64(n + 1))
	for _, p := range share {
		logs := make([]float64, n+1)
		for y := range logs {
			f, _ := math.Lgamma(float64(y + 1))
			logs[y] = float64(y)*math.Log(p) - f
		}
		s.logProb = append(s.logProb, logs)
		s.cell = append(s.cell, 1/(float64(n)*p))
	}
	return s
}

// tail is the probability of an X² no less than that observed.
func (s *sharing) tail() float64 {
	s.sum = 0
	s.visit(0, len(s.logProb[0])-1, s.logTotal, 0)
	return s.sum
}

// visit shares what is left among group and those after it.
func (s *sharing) visit(group, left int, logProb, x2 float64) {
	if group == len(s.share)-1 {
		if x2+float64(left)*float64(left)*s.cell[group] >= s.atLeast {
			s.sum += math.Exp(logProb + s.logProb[group][left])
		}
		return
	}
	for y := 0; y <= left; y++ {
		s.visit(group+1, left-y, logProb+s.logProb[group][y], x2+float64(y)*float64(y)*s.cell[group])
	}
}
