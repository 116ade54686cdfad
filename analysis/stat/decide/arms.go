package decide

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// ArmsAnswer is the worth, a placement, of trying both arms before choosing.
type ArmsAnswer struct {
	CostNow   float64 // of the arm that looks cheaper now
	CostAfter float64 // expected, choosing after the trial
	EVSI      float64 // the difference, never below 0
}

// mostTrials bounds a trial, whose outcomes are enumerated.
const mostTrials = 1_000_000

// ArmsValue weighs a plain arm that costs C·risk against one that costs
// D + C·risk, for risks believed to be Beta, before and after a trial of n₁
// and n₂ placements whose failures are beta-binomial:
//
//	E min(C·(a₁+x₁)/(a₁+b₁+n₁), D + C·(a₂+x₂)/(a₂+b₂+n₂)) over x₁, x₂
//
// Costs rise with x, so the inner sums are prefix sums and the whole takes
// n₁ + n₂ steps. Source: Raiffa & Schlaifer (1961) ch. 9, preposterior analysis.
func ArmsValue(plain, dear Beta, n1, n2 int, callbackCost, extraCost float64) (ArmsAnswer, error) {
	for _, arm := range []Beta{plain, dear} {
		if err := arm.check(); err != nil {
			return ArmsAnswer{}, err
		}
	}
	if n1 < 0 || n2 < 0 || n1 > mostTrials || n2 > mostTrials {
		return ArmsAnswer{}, fmt.Errorf("trials of %d and %d, want 0 to %d each: %w", n1, n2, mostTrials, stat.ErrDomain)
	}
	if err := stat.Finite("cost", callbackCost, extraCost); err != nil {
		return ArmsAnswer{}, err
	}
	if callbackCost < 0 {
		return ArmsAnswer{}, fmt.Errorf("callback cost is %v, want 0 or more: %w", callbackCost, stat.ErrDomain)
	}
	now := min(callbackCost*plain.Mean(), extraCost+callbackCost*dear.Mean())
	after := expectedMin(plain.costs(n1, callbackCost, 0), dear.costs(n2, callbackCost, extraCost))
	return ArmsAnswer{CostNow: now, CostAfter: after, EVSI: max(0, now-after)}, stat.Finite("cost", now, after)
}

// outcome is a cost that rises through a list, with its probability.
type outcome struct{ cost, prob float64 }

// costs lists, by failures in n trials, the cost then expected of the arm. The
// beta-binomial probabilities follow from
// p(x+1)/p(x) = (n−x)(a+x)/((x+1)(b+n−x−1)) in logs, scaled to a sum of 1.
func (b Beta) costs(n int, callback, extra float64) []outcome {
	out := make([]outcome, n+1)
	logs := make([]float64, n+1)
	top, total := 0.0, 0.0
	for x := range n {
		f, g := float64(x), float64(n-x)
		logs[x+1] = logs[x] + math.Log(g*(b.A+f)/((f+1)*(b.B+g-1)))
		top = max(top, logs[x+1])
	}
	for x := range out {
		out[x].cost = extra + callback*(b.A+float64(x))/(b.A+b.B+float64(n))
		out[x].prob = math.Exp(logs[x] - top)
		total += out[x].prob
	}
	for x := range out {
		out[x].prob /= total
	}
	return out
}

// expectedMin is E min(X, Y) of independent X and Y, each listed upwards.
func expectedMin(xs, ys []outcome) float64 {
	var sum, belowCost, belowProb float64 // of the ys under the x at hand
	k := 0
	for _, x := range xs {
		for ; k < len(ys) && ys[k].cost <= x.cost; k++ {
			belowCost += ys[k].prob * ys[k].cost
			belowProb += ys[k].prob
		}
		sum += x.prob * (belowCost + max(0, 1-belowProb)*x.cost)
	}
	return sum
}
