package survival

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
)

// NormalPrior says that Contrast'β is about Mean, with standard deviation SD.
// A contrast of one 1 and zeros puts it on one log hazard ratio.
type NormalPrior struct {
	Contrast []float64
	Mean, SD float64
}

// CoxOptions chooses how a Cox model is fitted.
type CoxOptions struct {
	Ties   Ties
	Firth  bool // Firth's penalty; with Breslow ties only
	Priors []NormalPrior
}

// ChiSq is a test with its degrees of freedom.
type ChiSq struct {
	ChiSq float64
	DF    int
	P     float64
}

func newChiSq(x float64, df int) ChiSq {
	return ChiSq{ChiSq: x, DF: df, P: distuv.ChiSquared{K: float64(df)}.Survival(x)}
}

// Cox is a fitted proportional-hazards model.
type Cox struct {
	stat.Fit
	N, Events int // rows and events of weight above 0

	Coef   []float64     // log hazard ratios
	Cov    *mat.SymDense // inverse of the information, the priors' included
	Robust *mat.SymDense // sandwich over clusters; nil without them

	LogLikNull, LogLik float64 // log partial likelihood at β = 0 and at Coef
	Penalised          float64 // the same at Coef with Firth's penalty and the priors
	Score              ChiSq   // test of β = 0 by the slope there, without penalties

	options CoxOptions
	sets    *riskSets // at Coef
	weight  []float64 // of the rows as given; nil: 1 each
}

// FitCox fits a proportional-hazards model h(t|x) = h₀(t)·e^{x'β} by maximum
// partial likelihood (Cox 1972, J. R. Stat. Soc. B 34, 187-220),
//
//	ℓ = Σ_t[Σ_D w·x'β − w̄·Σ_{l<d} log(Σ_R w·e^{x'β} − (l/d)·Σ_D w·e^{x'β})]
//
// with Efron's treatment of the d events at one time (1977, J. Am. Stat. Assoc.
// 72, 557-565), or with l = 0 throughout for Breslow's (1974, Biometrics 30,
// 89-99); w̄ is the mean weight of the tied events. The penalties of the options
// are added to ℓ: −½(c'β−m)²/SD² for each prior (Greenland 2007, Stat. Med. 26)
// and Firth's ½·log|I| (Heinze & Schemper 2001, Biometrics 57, 114-119).
//
// Weights count cases: with Breslow ties a weight of 2 is the row twice over.
// Rows of weight 0 are left out. The data are kept, for what a
// fit is asked later: they must not change in the meantime.
//
// Errors: [stat.ErrNoData], [stat.ErrShape], [stat.ErrNotFinite],
// [stat.ErrDomain], [stat.ErrNoEvents]; [stat.ErrNoVariation] for a constant
// column; [stat.ErrCollinear]; [stat.ErrSeparated] when without a penalty the
// likelihood has no maximum; [stat.ErrNotConverged].
func FitCox(d CoxData, o CoxOptions) (*Cox, error) {
	r, err := newCoxRows(d)
	if err != nil {
		return nil, fmt.Errorf("Cox: %w", err)
	}
	if err := o.check(len(d.X)); err != nil {
		return nil, fmt.Errorf("Cox: %w", err)
	}
	c, err := fitCox(newRiskSets(r, o), d.Weight, o, nil)
	if err != nil {
		return nil, fmt.Errorf("Cox: %w", err)
	}
	return c, nil
}

// Refit fits the same rows with other case weights, from where this fit ended:
// for a bootstrap, the times that each row was drawn. The two may be used at
// the same time.
func (c *Cox) Refit(weight []float64) (*Cox, error) { return c.Refits().Refit(weight) }

// CoxRefits fits the rows of a fit with one set of case weights after another, in the same
// room. It is for one goroutine.
type CoxRefits struct {
	of   *Cox
	sets *riskSets
}

// Refits begins refits of the same rows.
func (c *Cox) Refits() *CoxRefits { return &CoxRefits{c, newRiskSets(c.sets.coxRows, c.options)} }

// Refit is [Cox.Refit], whose answer holds until the next one.
func (r *CoxRefits) Refit(weight []float64) (*Cox, error) {
	if err := checkWeights(weight, len(r.sets.data.Time)); err != nil {
		return nil, fmt.Errorf("Cox: %w", err)
	}
	again, err := fitCox(r.sets, weight, r.of.options, r.of.Coef)
	if err != nil {
		return nil, fmt.Errorf("Cox: %w", err)
	}
	return again, nil
}

func (o CoxOptions) check(p int) error {
	if o.Ties != Efron && o.Ties != Breslow {
		return fmt.Errorf("no treatment of ties has the number %d: %w", o.Ties, stat.ErrDomain)
	}
	if o.Firth && o.Ties != Breslow {
		return fmt.Errorf("the penalty of Firth is worked out for Breslow ties, not %v: %w", o.Ties, stat.ErrDomain)
	}
	for i, prior := range o.Priors {
		if len(prior.Contrast) != p {
			return fmt.Errorf("prior %d has a contrast of %d for %d columns: %w", i, len(prior.Contrast), p, stat.ErrShape)
		}
		if err := stat.Finite("prior", append([]float64{prior.Mean, prior.SD}, prior.Contrast...)...); err != nil {
			return fmt.Errorf("prior %d: %w", i, err)
		}
		if prior.SD <= 0 || math.IsInf(1/(prior.SD*prior.SD), 1) {
			return fmt.Errorf("prior %d has the standard deviation %g, not above 0 or hardly so: %w", i, prior.SD, stat.ErrDomain)
		}
	}
	return nil
}

func fitCox(sets *riskSets, weight []float64, o CoxOptions, start []float64) (*Cox, error) {
	r := sets.coxRows
	if sets.weighBy(weight); sets.events == 0 {
		return nil, fmt.Errorf("all events have weight 0: %w", stat.ErrNoEvents)
	}
	c := &Cox{N: countRows(r, weight), Events: sets.events, Coef: make([]float64, r.p()), options: o, sets: sets, weight: slices.Clone(weight)}
	target := &coxTarget{sets: sets, options: o}
	if err := c.null(target); err != nil {
		return nil, err
	}
	copy(c.Coef, start)
	var err error
	if c.Fit, err = target.climber(-1).maximise(c.Coef); err != nil {
		return nil, err
	}
	c.LogLik, c.Penalised = target.logLik, target.penalised
	if c.Cov, err = inverse(target.bend()); err != nil {
		return nil, err
	}
	if r.data.Cluster != nil {
		c.Robust = c.sandwich()
	}
	return c, stat.Finite("standard errors and likelihoods", append(c.SE(), c.LogLik, c.LogLikNull, c.Penalised)...)
}

// countRows counts those of weight above 0.
func countRows(r *coxRows, weight []float64) int {
	n := len(r.data.Time)
	for _, w := range weight {
		if w == 0 {
			n--
		}
	}
	return n
}

// null fills in what is known at β = 0.
func (c *Cox) null(target *coxTarget) error {
	target.value(make([]float64, len(c.Coef)))
	c.LogLikNull = target.logLik
	u, info := c.sets.score(nil), target.information()
	if err := c.sets.identified(info); err != nil {
		return err
	}
	f, ok := factor(info)
	if !ok {
		return fmt.Errorf("the information is singular: %w", stat.ErrCollinear)
	}
	c.Score = newChiSq(floats.Dot(u, f.solve(u)), len(u))
	return nil
}

// SE gives the standard errors of the coefficients: the robust ones where
// there are clusters.
func (c *Cox) SE() []float64 {
	cov := c.Cov
	if c.Robust != nil {
		cov = c.Robust
	}
	se := make([]float64, len(c.Coef))
	for j := range se {
		se[j] = math.Sqrt(cov.At(j, j))
	}
	return se
}
