package survival

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
)

// maxGroups bounds a log-rank test: its work grows with the square.
const maxGroups = 256

// LogRank is a log-rank test that k groups share one hazard.
type LogRank struct {
	Label    []int // group codes, ascending
	N        []int // rows of each
	Observed []float64
	Expected []float64
	Variance *mat.SymDense // of Observed − Expected
	ChiSq    float64
	DF       int // groups ever at risk at an event, less one
	P        float64
}

// LogRankTest compares groups by Σ over event times of (observed − expected),
// with the hypergeometric variance d(N−d)/(N−1)·(n_g/N)(δ_gh − n_h/N) (Mantel
// 1966, Cancer Chemother. Rep. 50, 163-170; Peto & Peto 1972, J. R. Stat. Soc.
// A 135). With strata (nil: none) both are summed over them, so that only rows
// of one stratum are compared. It assumes hazards that do not cross.
//
// Errors: those of [KaplanMeier]; [stat.ErrNoEvents]; [stat.ErrNoVariation]
// when no event sets two groups against each other; [stat.ErrDomain] for more
// than 256 groups.
func LogRankTest(times []float64, event []bool, group, stratum []int) (*LogRank, error) {
	if stratum == nil {
		stratum = make([]int, len(times))
	}
	if len(times) == 0 {
		return nil, fmt.Errorf("log-rank: %w", stat.ErrNoData)
	}
	if len(event) != len(times) || len(group) != len(times) || len(stratum) != len(times) {
		return nil, fmt.Errorf("log-rank: %d times, %d events, %d groups and %d strata: %w",
			len(times), len(event), len(group), len(stratum), stat.ErrShape)
	}
	if err := checkTimes("time", times); err != nil {
		return nil, fmt.Errorf("log-rank: %w", err)
	}
	label, index := labels(group)
	k := len(label)
	if k > maxGroups {
		return nil, fmt.Errorf("log-rank: %d groups, at most %d can be compared: %w", k, maxGroups, stat.ErrDomain)
	}
	l := &LogRank{Label: label, N: make([]int, k), Observed: make([]float64, k), Expected: make([]float64, k),
		Variance: mat.NewSymDense(k, nil)}
	strata, within := labels(stratum)
	cell := make([]int, len(times)) // stratum and group in one code
	for i, g := range index {
		l.N[g]++
		cell[i] = int(within[i])*k + int(g)
	}
	cells, curves, err := KaplanMeierBy(times, event, cell)
	if err != nil {
		return nil, fmt.Errorf("log-rank: %w", err)
	}
	arms := make([]arm, 0, k)
	for s, c := 0, 0; s < len(strata); s++ {
		arms = arms[:0]
		for ; c < len(cells) && cells[c] < (s+1)*k; c++ {
			arms = append(arms, arm{group: cells[c] - s*k, km: curves[c]})
		}
		l.add(arms)
	}
	if err := l.test(); err != nil {
		return nil, fmt.Errorf("log-rank: %w", err)
	}
	return l, nil
}

// arm walks along the curve of one group.
type arm struct {
	group int
	km    *KM
	i     int
}

// at gives the rows at risk and the events at t, and moves past it.
func (a *arm) at(t float64) (risk, events float64) {
	if a.i == len(a.km.Time) {
		return 0, 0
	}
	risk = float64(a.km.AtRisk[a.i])
	if a.km.Time[a.i] == t {
		events = float64(a.km.Event[a.i])
		a.i++
	}
	return risk, events
}

// add takes one stratum, time by time.
func (l *LogRank) add(arms []arm) {
	risk := make([]float64, len(arms))
	for {
		t := math.Inf(1)
		for _, a := range arms {
			if a.i < len(a.km.Time) {
				t = min(t, a.km.Time[a.i])
			}
		}
		if math.IsInf(t, 1) {
			return
		}
		var all, died float64
		for g := range arms {
			n, d := arms[g].at(t)
			risk[g] = n
			all, died = all+n, died+d
			l.Observed[arms[g].group] += d
		}
		if died > 0 {
			l.expect(arms, risk, all, died)
		}
	}
}

// expect adds what one event time would give if all shared one hazard.
func (l *LogRank) expect(arms []arm, risk []float64, all, died float64) {
	factor := 0.
	if all > 1 {
		factor = died * (all - died) / (all - 1)
	}
	for a, n := range risk {
		g := arms[a].group
		l.Expected[g] += died * n / all
		for b := 0; b <= a; b++ {
			v := -n / all * risk[b] / all
			if a == b {
				v += n / all
			}
			h := arms[b].group
			l.Variance.SetSym(g, h, l.Variance.At(g, h)+factor*v)
		}
	}
}

// test fills in χ² over the groups that were at risk at some event, leaving
// out the first of them, which the others determine.
func (l *LogRank) test() error {
	var in []int
	events := 0.
	for g, e := range l.Expected {
		events += l.Observed[g]
		if e > 0 {
			in = append(in, g)
		}
	}
	if events == 0 {
		return stat.ErrNoEvents
	}
	if len(in) < 2 {
		return fmt.Errorf("all events happened with one group at risk: %w", stat.ErrNoVariation)
	}
	in = in[1:]
	v, u := mat.NewSymDense(len(in), nil), mat.NewVecDense(len(in), nil)
	for a, g := range in {
		u.SetVec(a, l.Observed[g]-l.Expected[g])
		for b := 0; b <= a; b++ {
			v.SetSym(a, b, l.Variance.At(g, in[b]))
		}
	}
	var chol mat.Cholesky
	var x mat.VecDense
	if !chol.Factorize(v) || chol.Cond() > 1e12 || chol.SolveVecTo(&x, u) != nil {
		return fmt.Errorf("no event sets some of the groups against the others: %w", stat.ErrNoVariation)
	}
	l.ChiSq, l.DF = mat.Dot(u, &x), len(in)
	l.P = distuv.ChiSquared{K: float64(l.DF)}.Survival(l.ChiSq)
	return nil
}
