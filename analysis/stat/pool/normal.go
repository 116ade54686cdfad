package pool

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
	"pourback/analysis/stat/regress"
)

// NormalFit is the normal law N(μ, τ²) that the levels of groups come from,
// estimated from one value y_i with known variance v_i each.
type NormalFit struct {
	stat.Fit
	Tau2      float64
	Mu, SEMu  float64   // Σwy/Σw at w = 1/(v+τ²), and 1/√Σw
	Shrunk    []float64 // (τ²y_i+v_iμ)/(τ²+v_i)
	SEShrunk  []float64 // √[τ²v/(τ²+v)+(v/(τ²+v))²·SEMu²], τ² taken as known
	PredSD    float64   // √(τ²+SEMu²), of the level of a new group
	N         int
	TauMethod string
	Q         float64 // Cochran's Q = Σ(y−μ)²/v at τ² = 0
}

// normal is the model with its data.
type normal struct{ y, v []float64 }

func newNormal(y, v []float64) (*normal, error) {
	if err := paired("levels", y, "variances", v); err != nil {
		return nil, err
	}
	if err := stat.Finite("value", y...); err != nil {
		return nil, err
	}
	if err := positive("variance", v...); err != nil {
		return nil, err
	}
	return &normal{slices.Clone(y), slices.Clone(v)}, nil
}

// at returns μ, Σw and Σw(y−μ)² at τ².
func (m *normal) at(tau2 float64) (mu, sumW, q float64) {
	for i, y := range m.y {
		w := 1 / (m.v[i] + tau2)
		sumW += w
		mu += (y - m.y[0]) * w
	}
	mu = m.y[0] + mu/sumW
	for i, y := range m.y {
		q += (y - mu) * (y - mu) / (m.v[i] + tau2)
	}
	return mu, sumW, q
}

// DerSimonianLaird estimates τ² by moments, max(0, (Q−(k−1))/(Σw−Σw²/Σw)) at
// w = 1/v (DerSimonian & Laird 1986, Controlled Clinical Trials 7, 177-188).
func DerSimonianLaird(y, v []float64) (*NormalFit, error) {
	m, err := newNormal(y, v)
	if err != nil {
		return nil, err
	}
	_, _, q := m.at(0)
	w := make([]float64, len(v))
	for i := range w {
		w[i] = 1 / v[i]
	}
	tau2 := math.Max(0, (q-float64(len(y)-1))/unevenness(w))
	return m.fit(tau2, "DerSimonian-Laird")
}

// PauleMandel estimates τ² as the root of Σ(y−μ)²/(v+τ²) = k−1, or zero (Paule &
// Mandel 1982, J. Res. NBS 87, 377-385).
func PauleMandel(y, v []float64) (*NormalFit, error) {
	m, err := newNormal(y, v)
	if err != nil {
		return nil, err
	}
	excess := func(tau2 float64) float64 {
		_, _, q := m.at(tau2)
		return q - float64(len(y)-1)
	}
	if excess(0) <= 0 {
		return m.fit(0, "Paule-Mandel")
	}
	high := floats.Max(v)
	for excess(high) > 0 {
		high *= 2
	}
	tau2, err := regress.Root(func(x float64) (float64, error) { return excess(x), nil }, 0, high)
	if err != nil {
		return nil, err
	}
	return m.fit(tau2, "Paule-Mandel")
}

// NormalREML estimates τ² by restricted maximum likelihood, the root of
// Σw²(y−μ)² − Σw + Σw²/Σw, or zero (Viechtbauer 2005, J. Educ. Behav. Stat. 30,
// 261-293).
func NormalREML(y, v []float64) (*NormalFit, error) {
	m, err := newNormal(y, v)
	if err != nil {
		return nil, err
	}
	tau2, err := highest(m.reml, m.score, floats.Min(v), math.Max(floats.Max(v), spread(y)))
	if err != nil {
		return nil, err
	}
	return m.fit(tau2, "REML")
}

// reml is the restricted log-likelihood of τ², constants left out.
func (m *normal) reml(tau2 float64) float64 {
	_, sumW, q := m.at(tau2)
	sum := math.Log(sumW) + q
	for _, v := range m.v {
		sum += math.Log(v + tau2)
	}
	return -sum / 2
}

// score is the slope of reml in τ².
func (m *normal) score(tau2 float64) float64 {
	mu, sumW, _ := m.at(tau2)
	sum, squares := -sumW, 0.0
	for i, y := range m.y {
		w := 1 / (m.v[i] + tau2)
		squares += w * w
		sum += w * w * (y - mu) * (y - mu)
	}
	return (sum + squares/sumW) / 2
}

// spread is the square of the range, above any variance between the values.
func spread(y []float64) float64 {
	r := floats.Max(y) - floats.Min(y)
	return r * r
}

// highest finds the x ≥ 0 with the highest f, whose slope is given: it scans from
// well under small to well over large, and compares zero, the points of the scan
// and the root of the slope wherever that falls from above zero between two of
// them, since a flat top may lie lower at both than the far end does.
func highest(f, slope func(float64) float64, small, large float64) (float64, error) {
	best, top := 0.0, f(0)
	take := func(x float64) {
		if v := f(x); v > top {
			best, top = x, v
		}
	}
	last, rises := 0.0, slope(0) > 0
	for x := small / 1024; x < 16*large; x *= 1.5 {
		take(x)
		falls := slope(x) < 0
		if rises && falls {
			root, err := regress.Root(func(x float64) (float64, error) { return slope(x), nil }, last, x)
			if err != nil {
				return 0, err
			}
			take(root)
		}
		last, rises = x, !falls
	}
	return best, nil
}

// fit fills in the result at τ².
func (m *normal) fit(tau2 float64, method string) (*NormalFit, error) {
	mu, sumW, _ := m.at(tau2)
	_, _, q := m.at(0)
	f := &NormalFit{Tau2: tau2, Mu: mu, SEMu: 1 / math.Sqrt(sumW), N: len(m.y), TauMethod: method, Q: q}
	f.Converged = true
	f.PredSD = math.Sqrt(tau2 + 1/sumW)
	for i, y := range m.y {
		b := m.v[i] / (m.v[i] + tau2)
		f.Shrunk = append(f.Shrunk, mu+(1-b)*(y-mu))
		f.SEShrunk = append(f.SEShrunk, math.Sqrt(b*tau2+b*b/sumW))
	}
	if tau2 == 0 {
		f.Warnings = append(f.Warnings, "the variance between groups is estimated as zero, which few groups often give: the errors are too small")
	}
	if err := stat.Finite("estimate", append(f.Shrunk[:f.N:f.N], f.Tau2, f.Mu, f.PredSD, f.Q)...); err != nil {
		return nil, err
	}
	return f, nil
}
