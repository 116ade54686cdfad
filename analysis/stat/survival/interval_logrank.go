package survival

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
)

// IntervalLogRank is a log-rank test of times known between two looks.
type IntervalLogRank struct {
	Label    []int // group codes, ascending
	Observed []float64
	Expected []float64
	ChiSq    float64 // Σ(O − E)²/(n·s²), s² the variance of the scores
	DF       int     // groups, less one
	P        float64 // by permutation
	Draws    int
}

// IntervalLogRankTest compares groups by the scores of proportional hazards at
// no difference (Finkelstein 1986, Biometrics 42, 845-854): with S from
// [TurnbullNPMLE] a row in (L, R] has
//
//	c = [S(L)·log S(L) − S(R)·log S(R)] / [S(L) − S(R)]
//
// which is 1 − Λ for an event at a known time and −Λ for none, so that
// E = O − Σc. With strata (nil: none) S is that of the row's own, and only rows
// of one stratum are compared. Its p comes from exchanging clusters whole (Fay
// & Shih 1998, J. Am. Stat. Assoc. 93, 387-396): the groups of one go to the
// rows of another with as many rows in each stratum, so that it holds however
// rows of a cluster go together; clusters like no other stay where they are. The
// looks must not have been timed by the group.
//
// Errors: those of [TurnbullNPMLE]; [stat.ErrShape]; [stat.ErrNoEvents];
// [stat.ErrNoVariation] for one group, or rows that tell nothing;
// [stat.ErrTooFew] for no draws.
func IntervalLogRankTest(rows []Interval, group, stratum, cluster []int, draws int, seed uint64) (*IntervalLogRank, error) {
	if stratum == nil {
		stratum = make([]int, len(rows))
	}
	if len(group) != len(rows) || len(stratum) != len(rows) || len(cluster) != len(rows) {
		return nil, fmt.Errorf("interval log-rank: %d rows, %d groups, %d strata and %d clusters: %w", len(rows), len(group), len(stratum), len(cluster), stat.ErrShape)
	}
	if draws < 1 {
		return nil, fmt.Errorf("interval log-rank: %d draws: %w", draws, stat.ErrTooFew)
	}
	scores, err := intervalScores(rows, stratum)
	if err != nil {
		return nil, fmt.Errorf("interval log-rank: %w", err)
	}
	label, index := labels(group)
	t := &IntervalLogRank{Label: label, Draws: draws}
	event := make([]float64, len(rows))
	events, n := 0., make([]float64, len(label))
	for i, r := range rows {
		n[index[i]]++
		if !math.IsInf(r.Right, 1) {
			event[i] = 1
			events++
		}
	}
	switch {
	case events == 0:
		return nil, fmt.Errorf("interval log-rank: %w", stat.ErrNoEvents)
	case len(label) < 2:
		return nil, fmt.Errorf("interval log-rank: one group: %w", stat.ErrNoVariation)
	}
	sum := groupSums{scores: scores, n: n, apart: make([]float64, len(label)), variance: floats.Dot(scores, scores) / float64(len(rows)-1)}
	if !(sum.variance > 0) {
		return nil, fmt.Errorf("interval log-rank: no event sets two rows against each other: %w", stat.ErrNoVariation)
	}
	t.ChiSq, t.DF = sum.chiSq(index), len(label)-1
	t.Observed, t.Expected = make([]float64, len(label)), make([]float64, len(label))
	for i, g := range index {
		t.Observed[g] += event[i]
		t.Expected[g] += event[i] - scores[i]
	}
	asFar := 1
	alike := exchangeable(stratum, cluster)
	rng := rand.New(rand.NewPCG(seed, seed^0x9e3779b97f4a7c15))
	drawn := slices.Clone(index)
	for range draws {
		alike.exchange(rng, index, drawn)
		if x := sum.chiSq(drawn); x >= t.ChiSq*(1-1e-12) {
			asFar++
		}
	}
	t.P = float64(asFar) / float64(draws+1)
	return t, nil
}

// intervalScores are the scores of the rows, by the curves of their strata.
func intervalScores(rows []Interval, stratum []int) ([]float64, error) {
	if len(rows) == 0 {
		return nil, stat.ErrNoData
	}
	scores := make([]float64, len(rows))
	label, index := labels(stratum)
	for s := range label {
		var of []Interval
		for i, at := range index {
			if int(at) == s {
				of = append(of, rows[i])
			}
		}
		fit, err := TurnbullNPMLE(of)
		if err != nil {
			return nil, err
		}
		for i, at := range index {
			if int(at) == s {
				scores[i] = fit.score(rows[i])
			}
		}
	}
	return scores, nil
}

// score is a row's slope of the log likelihood in its log hazard ratio. No mass
// lies across the end of a row, so that S is known there.
func (t *Turnbull) score(r Interval) float64 {
	var before, within float64
	for j, at := range t.At {
		switch {
		case r.holds(at):
			within += t.Mass[j]
		case at.Left < r.Left || at.Right <= r.Left:
			before += t.Mass[j]
		}
	}
	xlogx := func(s float64) float64 {
		if s <= 0 {
			return 0
		}
		return s * math.Log(s)
	}
	left := max(0, 1-before)
	if within <= 0 {
		return 0
	}
	return (xlogx(left) - xlogx(max(0, left-within))) / within
}

// holds says whether a row's event may lie in an innermost interval.
func (i Interval) holds(j Interval) bool {
	if i.Left == i.Right || j.Left == j.Right {
		return i.Left == j.Left && i.Right == j.Right || i.Left < j.Left && j.Right <= i.Right
	}
	return i.Left <= j.Left && j.Right <= i.Right
}

// groupSums adds up scores by group.
type groupSums struct {
	scores, n, apart []float64
	variance         float64
}

// chiSq is Σ U²/(n·s²), which exchanging rows of one stratum would give the mean
// of its degrees of freedom.
func (s *groupSums) chiSq(group []int32) (x float64) {
	clear(s.apart)
	for i, g := range group {
		s.apart[g] += s.scores[i]
	}
	for g, u := range s.apart {
		x += u * u / s.n[g]
	}
	return x / s.variance
}

// clusters are the rows of each cluster in the order of their strata, clusters
// that may be exchanged side by side.
type clusters [][][]int

// exchangeable gathers clusters with as many rows in each stratum.
func exchangeable(stratum, cluster []int) clusters {
	label, index := labels(cluster)
	rows := make([][]int, len(label))
	for i, c := range index {
		rows[c] = append(rows[c], i)
	}
	for _, r := range rows {
		slices.SortStableFunc(r, func(a, b int) int { return cmp.Compare(stratum[a], stratum[b]) })
	}
	compare := func(a, b []int) int {
		return cmp.Or(cmp.Compare(len(a), len(b)), slices.CompareFunc(a, b, func(i, j int) int { return cmp.Compare(stratum[i], stratum[j]) }))
	}
	slices.SortStableFunc(rows, compare)
	var out clusters
	for k, r := range rows {
		if k == 0 || compare(rows[k-1], r) != 0 {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], r)
	}
	return out
}

// exchange hands the groups of each cluster to another that is like it.
func (c clusters) exchange(rng *rand.Rand, group, drawn []int32) {
	for _, alike := range c {
		for k, from := range rng.Perm(len(alike)) {
			for j, row := range alike[k] {
				drawn[row] = group[alike[from][j]]
			}
		}
	}
}
