package pool

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"pourback/analysis/stat"
	"pourback/analysis/stat/regress"
)

// RandomIntercept is a regression with a normal effect for each group.
type RandomIntercept struct {
	stat.Fit
	Tau2, Sigma2 float64 // variances between groups and within
	Coef, SE     []float64
	Effects      []float64 // best linear unbiased predictions of the groups' effects
	RemlLogLik   float64   // −½[(n−p)(log 2πσ²+1) + log|V/σ²| + log|X'(V/σ²)⁻¹X|]
	N, Groups    int       // Groups that have rows
}

// OneWayREML fits y = x'β + u_g + e, u ~ N(0, τ²), e ~ N(0, σ²), by restricted
// maximum likelihood (Patterson & Thompson 1971; Searle, Casella & McCulloch
// 1992, Variance Components, §6.6). The likelihood is a function of λ = τ²/σ²
// alone once β and σ² are put at their best; λ is where its slope is zero, or
// zero itself, with a warning. It is a check beside [Model.Fit]: with few groups
// τ² = 0 comes out often, and the errors are then too small.
func OneWayREML(x regress.Design, y []float64, group []int) (*RandomIntercept, error) {
	m, err := newOneWay(x, y, group)
	if err != nil {
		return nil, err
	}
	top := 1e8
	lambda, err := highest(m.logLik, m.score, 1/m.largest, top)
	if err != nil {
		return nil, err
	}
	if lambda >= top {
		return nil, fmt.Errorf("outcomes do not vary within groups: %w", stat.ErrNoVariation)
	}
	f := &RandomIntercept{N: m.n, Groups: m.groups, RemlLogLik: m.logLik(lambda)}
	if err := m.fill(f, lambda); err != nil {
		return nil, err
	}
	f.Iterations, f.Converged = m.calls, true
	if lambda == 0 {
		f.Warnings = append(f.Warnings, "the variance between groups is estimated as zero, which few groups often give: the errors are too small")
	}
	return f, nil
}

// oneWay is the restricted likelihood as a function of λ.
type oneWay struct {
	sums      *sums
	shift     []float64 // outcomes are measured from the least-squares line
	n, groups int
	largest   float64 // rows of the largest group
	calls     int
}

func newOneWay(x regress.Design, y []float64, group []int) (*oneWay, error) {
	if group == nil {
		return nil, fmt.Errorf("no group numbers: %w", stat.ErrShape)
	}
	line, err := regress.OLS(x, y)
	if err != nil {
		return nil, err
	}
	count, err := countGroups(group, len(y))
	if err != nil {
		return nil, err
	}
	if line.Sigma <= 1e-13*floats.Norm(y, math.Inf(1)) {
		return nil, fmt.Errorf("the line passes through every outcome: %w", stat.ErrNoVariation)
	}
	m := &oneWay{n: len(y), shift: line.Coef}
	m.sums = accumulate(Data{X: x, Y: line.Residuals, Group: group}, count, []float64{0})[0]
	for g := range count {
		if rows, _, _ := m.sums.group(g); rows > 0 {
			m.groups++
			m.largest = math.Max(m.largest, rows)
		}
	}
	if m.groups < 2 || m.largest < 2 {
		return nil, fmt.Errorf("%d groups, the largest of %v rows: two groups and one group of two are needed: %w", m.groups, m.largest, stat.ErrTooFew)
	}
	return m, nil
}

// solution is the best β and σ² at λ.
type solution struct {
	beta           *mat.VecDense
	cov            *mat.SymDense // C⁻¹
	sigma2, logDet float64
	ok             bool // C is positive definite in the digits there are
}

func (m *oneWay) at(lambda float64) (s solution) {
	m.calls++
	system := m.sums.reduce(math.Sqrt(lambda))
	var chol mat.Cholesky
	if !chol.Factorize(system.c) {
		return s
	}
	s.beta, s.cov = mat.NewVecDense(m.sums.p, nil), mat.NewSymDense(m.sums.p, nil)
	if chol.SolveVecTo(s.beta, system.rhs) != nil || chol.InverseTo(s.cov) != nil {
		return s
	}
	s.sigma2 = (system.squares - mat.Dot(system.rhs, s.beta)) / float64(m.n-m.sums.p)
	s.logDet = system.logDet + chol.LogDet()
	s.ok = true
	return s
}

func (m *oneWay) logLik(lambda float64) float64 {
	s := m.at(lambda)
	switch {
	case !s.ok:
		return math.Inf(-1)
	case !(s.sigma2 > 0):
		return math.Inf(1) // nothing is left within groups
	}
	return -(float64(m.n-m.sums.p)*(math.Log(2*math.Pi*s.sigma2)+1) + s.logDet) / 2
}

// score is the slope of logLik in λ: −½Σ[n_g/(1+λn_g) − (b'C⁻¹b + e²/σ²)/(1+λn_g)²],
// b the group's Σx and e its Σ(y−x'β).
func (m *oneWay) score(lambda float64) float64 {
	s := m.at(lambda)
	if !s.ok || !(s.sigma2 > 0) {
		return -1
	}
	sum := 0.0
	for g := range m.numbers() {
		rows, residual, sumX := m.sums.group(g)
		b := mat.NewVecDense(len(sumX), sumX)
		e := residual - mat.Dot(b, s.beta)
		k := 1 + lambda*rows
		sum += rows/k - (mat.Inner(b, s.cov, b)+e*e/s.sigma2)/(k*k)
	}
	return -sum / 2
}

// numbers is one more than the largest group number.
func (m *oneWay) numbers() int { return len(m.sums.groups) / (m.sums.p + 2) }

// fill computes estimates, errors and effects at λ.
func (m *oneWay) fill(f *RandomIntercept, lambda float64) error {
	s := m.at(lambda)
	if !s.ok {
		return fmt.Errorf("columns are all but dependent: %w", stat.ErrCollinear)
	}
	f.Sigma2, f.Tau2 = s.sigma2, lambda*s.sigma2
	for j, b := range m.shift {
		f.Coef = append(f.Coef, b+s.beta.AtVec(j))
		f.SE = append(f.SE, math.Sqrt(s.sigma2*s.cov.At(j, j)))
	}
	for g := range m.numbers() {
		rows, residual, sumX := m.sums.group(g)
		residual -= mat.Dot(mat.NewVecDense(len(sumX), sumX), s.beta)
		f.Effects = append(f.Effects, shrink(math.Sqrt(lambda), rows)*residual)
	}
	return nil
}
