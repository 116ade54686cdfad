package pool

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"pourback/analysis/stat"
)

// NormalPosterior is the normal-normal model with the spread between groups, τ,
// integrated out.
type NormalPosterior struct {
	Tau    []float64 // nodes of the quadrature
	Weight []float64 // posterior probability of each
	N      int

	model     *normal
	mu, varMu []float64 // of μ given each τ
}

// HalfCauchy finds the posterior of y_i ~ N(θ_i, se_i²), θ_i ~ N(μ, τ²), μ flat,
// p(τ) ∝ 1/(1+(τ/scale)²) on 0 to limit (Gelman 2006, Bayesian Analysis 1,
// 515-534; Gelman et al., Bayesian Data Analysis, §5.4). Given τ all is normal; τ
// is integrated by Gauss-Legendre quadrature on panels that double in width, from
// a fraction of the smallest error or of the scale on. A limit of +Inf puts none.
func HalfCauchy(y, se []float64, scale, limit float64) (*NormalPosterior, error) {
	if err := positive("error", se...); err != nil {
		return nil, err
	}
	if err := positive("scale of the prior", scale); err != nil {
		return nil, err
	}
	if !(limit > 0) {
		return nil, fmt.Errorf("limit %v of τ is not above zero: %w", limit, stat.ErrDomain)
	}
	v := make([]float64, len(se))
	smallest := math.Inf(1)
	for i, s := range se {
		v[i] = s * s
		smallest = math.Min(smallest, s)
	}
	m, err := newNormal(y, v)
	if err != nil {
		return nil, err
	}
	largest := math.Max(scale, math.Sqrt(spread(y))) * 1e8
	p := &NormalPosterior{N: len(y), model: m}
	p.integrate(scale, math.Min(smallest, scale)/16, math.Min(limit, largest))
	return p, nil
}

// integrate lays out the nodes and weights them by the marginal posterior of τ,
// p(τ)·Π(v+τ²)^−½·(Σw)^−½·exp(−½Σw(y−μ)²): the prior times the restricted
// likelihood.
func (p *NormalPosterior) integrate(scale, first, limit float64) {
	const nodes = 16
	x, w := make([]float64, nodes), make([]float64, nodes)
	ratio := math.Pow(2, 1/math.Ceil(math.Sqrt(float64(p.N))/8))
	low, high := 0.0, math.Min(first, limit)
	for low < limit {
		quad.Legendre{}.FixedLocations(x, w, low, high)
		for k, tau := range x {
			mu, sumW, _ := p.model.at(tau * tau)
			p.Tau, p.mu, p.varMu = append(p.Tau, tau), append(p.mu, mu), append(p.varMu, 1/sumW)
			p.Weight = append(p.Weight, math.Log(w[k])+p.model.reml(tau*tau)-math.Log1p((tau/scale)*(tau/scale)))
		}
		low, high = high, math.Min(high*ratio, limit)
	}
	normalise(p.Weight)
}

// MeanTau is the posterior mean of τ within its limit.
func (p *NormalPosterior) MeanTau() float64 {
	sum := 0.0
	for k, w := range p.Weight {
		sum += w * p.Tau[k]
	}
	return sum
}

// Mu is the posterior of μ.
func (p *NormalPosterior) Mu() Mixture {
	return p.mixture(func(_, mu, varMu float64) (float64, float64) { return mu, varMu })
}

// New is the predictive law of the level of a new group.
func (p *NormalPosterior) New() Mixture {
	return p.mixture(func(tau2, mu, varMu float64) (float64, float64) { return mu, tau2 + varMu })
}

// Theta is the posterior of the level of group i.
func (p *NormalPosterior) Theta(i int) (Mixture, error) {
	if i < 0 || i >= p.N {
		return Mixture{}, fmt.Errorf("group %d of %d: %w", i, p.N, stat.ErrDomain)
	}
	y, v := p.model.y[i], p.model.v[i]
	return p.mixture(func(tau2, mu, varMu float64) (float64, float64) {
		b := v / (v + tau2)
		return mu + (1-b)*(y-mu), b*tau2 + b*b*varMu
	}), nil
}

// mixture is the normal mixture over τ of a law given by its mean and variance.
func (p *NormalPosterior) mixture(law func(tau2, mu, varMu float64) (mean, variance float64)) Mixture {
	n := len(p.Tau)
	m := Mixture{N: p.N, Nu: math.Inf(1), Weight: p.Weight, Loc: make([]float64, n), Scale: make([]float64, n)}
	for k, tau := range p.Tau {
		mean, variance := law(tau*tau, p.mu[k], p.varMu[k])
		m.Loc[k], m.Scale[k] = mean, math.Sqrt(variance)
	}
	return m
}
