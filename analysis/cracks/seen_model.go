package cracks

import (
	"errors"
	"math"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/stat"
	"pourback/analysis/stat/survival"
)

// CompareLooks tests that groups of slabs crack alike, from the looks between
// which they did; a slab whose group is −1 is left out.
func (s *Slabs) CompareLooks(group, stratum []int) LogRank {
	var rows []survival.Interval
	var groups, strata, jobs []int
	for i, at := range s.looked {
		if at < 0 || group[i] < 0 {
			continue
		}
		l := &s.looks[at]
		rows, groups, jobs = append(rows, l.Interval), append(groups, group[i]), append(jobs, l.Job)
		if stratum != nil {
			strata = append(strata, stratum[i])
		}
	}
	const draws = 999
	t, err := survival.IntervalLogRankTest(rows, groups, strata, jobs, draws, s.seed)
	if err != nil {
		return LogRank{Figure: figure.Unknown(figure.ReasonOf(err))}
	}
	return LogRank{Figure: figure.Total(t.P, len(rows), "log-rank test between looks (Finkelstein 1986), p by 999 permutations of jobs"),
		ChiSq: t.ChiSq, DF: t.DF, Groups: t.DF + 1, label: t.Label, observed: t.Observed, expected: t.Expected}
}

// between is what a comparison knows of when slab i cracked: another kind of
// callback before that ends its watch.
func (s *Slabs) between(i int) survival.Interval {
	l := s.looks[s.looked[i]].Interval
	if !s.First[i] {
		return survival.Interval{Left: min(l.Left, s.Alone[i]), Right: math.Inf(1)}
	}
	return l
}

// LookedTerms are the terms of a frame of cracks seen at visits, by grouped
// proportional hazards: with a prior where there are few events, or few on one
// side of a yes-or-no. Columns that tell nothing that those before them do not
// are left off from the end.
func (s *Slabs) LookedTerms(f *Frame, sd, level float64) ([]CoxTerm, error) {
	d := survival.GroupedData{Stratum: f.Stratum, Cluster: f.Job, Weight: f.Weight}
	for _, i := range f.Row {
		d.Rows = append(d.Rows, s.between(i))
	}
	d.Grid = stretches(d.Rows)
	for {
		var priors []survival.NormalPrior
		if f.Events <= EventsForFirth || f.lopsided() {
			priors = shrunk(len(f.X), sd).Priors
		}
		d.X = f.X
		fit, err := survival.FitGrouped(d, priors)
		if errors.Is(err, stat.ErrCollinear) && len(f.X) > 1 {
			f.Cut(len(f.X) - 1)
			continue
		}
		if err != nil {
			return nil, err
		}
		terms := make([]CoxTerm, len(f.Terms))
		for j := range terms {
			ratio, err := fit.Ratio(j, level)
			if ratio.Method += ", by job"; priors != nil {
				ratio.Method += ", normal prior"
			}
			terms[j] = f.term(j, figure.Estimated(ratio, err))
		}
		return terms, nil
	}
}

// stretches are the ends of the stretches of age within which the hazard of a
// model is one: those of the usual visits, as far as one of them holds the end
// of a look that found a crack.
func stretches(rows []survival.Interval) []float64 {
	var found []float64
	for _, r := range rows {
		if !math.IsInf(r.Right, 1) {
			found = append(found, max(r.Right, halfDay))
		}
	}
	slices.Sort(found)
	var grid []float64
	last := 0.0
	for _, end := range []float64{28, 90, 180, OneYear, 2 * OneYear, 3 * OneYear, 5 * OneYear, 10 * OneYear, 20 * OneYear} {
		if at, _ := slices.BinarySearch(found, last+1e-9); at < len(found) && found[at] <= end {
			grid, last = append(grid, end), end
		}
	}
	if n := len(found); n > 0 && found[n-1] > last {
		grid = append(grid, found[n-1])
	}
	return grid
}
