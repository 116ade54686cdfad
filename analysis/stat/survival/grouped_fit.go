package survival

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"pourback/analysis/stat"
)

// fit climbs by Newton's steps, halved until they do not lower the likelihood.
func (m *groupedModel) fit() (*Grouped, error) {
	n := m.base + len(m.d.X)
	theta := make([]float64, n)
	for at := range m.base {
		theta[at] = math.Log(float64(m.events) / float64(len(m.rows)) / float64(m.base))
	}
	g := &Grouped{N: len(m.rows), Events: m.events}
	l, prior := m.logLik(theta)
	now := l + prior
	for g.Iterations = 1; g.Iterations <= groupedRounds; g.Iterations++ {
		slope, info := m.slopes(theta, nil)
		chol, ok := ridged(info)
		var step mat.VecDense
		if !ok || chol.SolveVecTo(&step, mat.NewVecDense(n, slope)) != nil {
			return nil, stat.ErrCollinear
		}
		next, then := m.stepTo(theta, step.RawVector().Data, now)
		gain := then - now
		theta, now = next, then
		if gain < 1e-12*(1+math.Abs(now)) {
			g.Converged = true
			break
		}
	}
	if !g.Converged {
		return nil, fmt.Errorf("%d rounds: %w", groupedRounds, stat.ErrNotConverged)
	}
	g.LogLik, _ = m.logLik(theta)
	g.Coef = theta[m.base:]
	for _, at := range m.at {
		logs := make([]float64, len(at))
		for k, a := range at {
			if logs[k] = math.Inf(-1); a >= 0 {
				logs[k] = theta[a]
			}
		}
		g.Baseline = append(g.Baseline, logs)
	}
	return g, m.errors(g, theta)
}

// stepTo goes the whole step or the largest half, quarter, … that does not lower
// the likelihood.
func (m *groupedModel) stepTo(theta, step []float64, now float64) (next []float64, then float64) {
	const longest = 4. // of a log hazard at a time
	whole := 1.
	for _, s := range step {
		whole = min(whole, longest/math.Abs(s))
	}
	next = make([]float64, len(theta))
	for t := whole; t > 1e-9; t /= 2 {
		for j := range theta {
			next[j] = theta[j] + t*step[j]
		}
		l, prior := m.logLik(next)
		if then = l + prior; then >= now {
			return next, then
		}
	}
	return theta, now
}

// slopes are the first derivatives of the penalised log likelihood and the
// information. Where by is not nil it also gets each row's own slope.
func (m *groupedModel) slopes(theta []float64, by func(row int, slope []float64)) ([]float64, *mat.SymDense) {
	n := len(theta)
	slope, info := make([]float64, n), mat.NewSymDense(n, nil)
	own := make([]float64, n)
	for i := range m.rows {
		clear(own)
		m.addRow(i, theta, own, info)
		for j, v := range own {
			slope[j] += v
		}
		if by != nil {
			by(i, own)
		}
	}
	for _, p := range m.priors {
		c, v := -p.Mean, p.SD*p.SD
		for j, w := range p.Contrast {
			c += w * theta[m.base+j]
		}
		for j, w := range p.Contrast {
			slope[m.base+j] -= w * c / v
			for k := 0; k <= j; k++ {
				info.SetSym(m.base+j, m.base+k, info.At(m.base+j, m.base+k)+w*p.Contrast[k]/v)
			}
		}
	}
	return slope, info
}

// addRow adds a row's slope and information: with h the hazards of its
// stretches, q = 1/(e^B − 1) and B = Σ h over those it cracked in, the slope in
// the log of each is −h where it was sound and q·h where it cracked, and the
// second derivatives −h, and q·h on the diagonal less q(1+q)·h·h'.
func (m *groupedModel) addRow(i int, theta, own []float64, info *mat.SymDense) {
	r, x := &m.rows[i], m.predictor(i, theta)
	sound, b := 0., 0.
	add := func(a, c int, v float64) { info.SetSym(a, c, info.At(a, c)+r.weight*v) }
	for _, at := range r.sound {
		h := math.Exp(theta[at] + x)
		sound += h
		own[at] -= r.weight * h
		add(at, at, h)
		m.addCross(i, at, r.weight*h, info)
	}
	for _, at := range r.cracked {
		b += math.Exp(theta[at] + x)
	}
	q := 0.
	if len(r.cracked) > 0 {
		q = 1 / math.Expm1(b)
	}
	for k, at := range r.cracked {
		h := math.Exp(theta[at] + x)
		own[at] += r.weight * q * h
		add(at, at, -q*h)
		for _, other := range r.cracked[:k+1] {
			add(at, other, q*(1+q)*h*math.Exp(theta[other]+x))
		}
		m.addCross(i, at, r.weight*(q*(1+q)*h*b-q*h), info)
	}
	all := r.weight * (sound - q*b + q*(1+q)*b*b)
	for j, xj := range m.d.X {
		own[m.base+j] += r.weight * xj[i] * (q*b - sound)
		for k := 0; k <= j; k++ {
			v := all * xj[i] * m.d.X[k][i]
			info.SetSym(m.base+j, m.base+k, info.At(m.base+j, m.base+k)+v)
		}
	}
}

// addCross adds information of a baseline and each coefficient.
func (m *groupedModel) addCross(i, at int, v float64, info *mat.SymDense) {
	for j, x := range m.d.X {
		info.SetSym(m.base+j, at, info.At(m.base+j, at)+v*x[i])
	}
}

// ridged factors the information with the least ridge that makes it positive
// definite. Where it is not known in which of several stretches rows cracked the
// likelihood is not concave, so a step may need more; at the maximum the first,
// which moves nothing, keeps stretches whose hazard falls to none from making it
// singular.
func ridged(info *mat.SymDense) (*mat.Cholesky, bool) {
	n := info.SymmetricDim()
	with := mat.NewSymDense(n, nil)
	var chol mat.Cholesky
	for ridge := 1e-9; ridge < 1e9; ridge *= 10 {
		with.CopySym(info)
		for j := range n {
			with.SetSym(j, j, info.At(j, j)+ridge)
		}
		if chol.Factorize(with) {
			return &chol, true
		}
	}
	return nil, false
}

// errors fills in the variances of the coefficients.
func (m *groupedModel) errors(g *Grouped, theta []float64) error {
	n, p := len(theta), len(m.d.X)
	sums := map[int][]float64{}
	_, info := m.slopes(theta, func(row int, slope []float64) {
		c := row
		if m.d.Cluster != nil {
			c = m.d.Cluster[row]
		}
		if sums[c] == nil {
			sums[c] = make([]float64, n)
		}
		for j, v := range slope {
			sums[c][j] += v
		}
	})
	inverse := mat.NewSymDense(n, nil)
	if chol, ok := ridged(info); !ok || chol.InverseTo(inverse) != nil {
		return stat.ErrCollinear
	}
	meat := mat.NewSymDense(n, nil)
	for _, c := range sorted(sums) {
		meat.SymRankOne(meat, 1, mat.NewVecDense(n, sums[c]))
	}
	var half, full mat.Dense
	half.Mul(inverse, meat)
	full.Mul(&half, inverse)
	g.Cov, g.Robust = mat.NewSymDense(max(1, p), nil), mat.NewSymDense(max(1, p), nil)
	for j := range p {
		for k := 0; k <= j; k++ {
			g.Cov.SetSym(j, k, inverse.At(m.base+j, m.base+k))
			g.Robust.SetSym(j, k, full.At(m.base+j, m.base+k))
		}
		if v := g.Cov.At(j, j); !(v > 0) || v > 1e6 {
			return fmt.Errorf("column %d: %w", j, stat.ErrCollinear)
		}
	}
	return nil
}

// sorted are the codes of clusters in ascending order, so that sums over them
// come out the same.
func sorted(of map[int][]float64) []int { return slices.Sorted(maps.Keys(of)) }

// Ratio estimates the hazard ratio e^β of a column with limits e^(β±z·se), by
// the greater of the model's error and that over clusters. N is the number of
// events. Errors: [stat.ErrDomain] for a column there is not, the level, or a
// ratio too great to be a number.
func (g *Grouped) Ratio(column int, level float64) (stat.Estimate, error) {
	if err := stat.CheckLevel(level); err != nil {
		return stat.Estimate{}, err
	}
	if column < 0 || column >= len(g.Coef) {
		return stat.Estimate{}, fmt.Errorf("column %d of %d: %w", column, len(g.Coef), stat.ErrDomain)
	}
	b, half := g.Coef[column], normalQuantile(level)*math.Sqrt(max(g.Cov.At(column, column), g.Robust.At(column, column)))
	e := stat.Estimate{Value: math.Exp(b), Low: math.Exp(b - half), High: math.Exp(b + half), Level: level, N: g.Events,
		Method: "grouped proportional hazards, Wald limits"}
	if math.IsInf(e.Value, 1) {
		return stat.Estimate{}, fmt.Errorf("a hazard ratio of e^%g: %w", b, stat.ErrDomain)
	}
	return e, nil
}
