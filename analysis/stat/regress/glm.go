package regress

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/mathext"

	"pourback/analysis/stat"
)

// GLM is a fitted logistic or Poisson regression.
type GLM struct {
	stat.Fit
	Coef, SE []float64
	QuasiSE  []float64     // √Phi·SE
	Cov      *mat.SymDense // covariance of Coef, without Phi
	LogLik   float64
	Deviance float64
	Pearson  float64 // X² = Σ(y−μ)²/V(μ)
	Phi      float64 // X²/DF; one, with a warning, where DF is 0
	PPearson float64 // P(χ²_DF > X²): small when outcomes scatter more than the model says
	N, DF    int     // rows with trials or exposure, and those less the columns
	Fitted   []float64
	family   family
}

const (
	glmIterations = 100
	// glmTolerance ends the iterations when a Newton step is this many standard
	// errors long; convergence being quadratic, what is left is its square.
	glmTolerance = 1e-7
	// separationFrom is the iteration from which a step that stays long is
	// tested for being a direction of separation.
	separationFrom = 8
)

// Logistic fits log(p/(1−p)) = x'β to events out of trials. Trials nil means one
// each, so that events are zeros and ones. Fitted are probabilities. It returns
// an error wrapping [stat.ErrNoEvents] without any event, [stat.ErrNoVariation]
// when every trial is one, and [stat.ErrSeparated] when no finite β is best.
func Logistic(x Design, events, trials []float64) (*GLM, error) {
	return newGLM(x, events, trials, binomial)
}

// Poisson fits log(rate) = x'β to counts over an exposure; nil means one each.
// Fitted are expected counts. Errors are those of [Logistic], with
// [stat.ErrSeparated] when an arm without any event drives its rate to zero.
func Poisson(x Design, count, exposure []float64) (*GLM, error) {
	return newGLM(x, count, exposure, poisson)
}

func newGLM(x Design, y, size []float64, fam family) (*GLM, error) {
	if size == nil {
		size = Ones(len(y))
	}
	n, err := fam.check(x, y, size)
	if err != nil {
		return nil, err
	}
	if err := fam.varied(y, size); err != nil {
		return nil, err
	}
	g := &GLM{N: n, DF: n - len(x), Coef: make([]float64, len(x)), Fitted: make([]float64, len(y)), family: fam}
	fit := &irls{x: x, y: y, size: size, family: fam}
	if err := fit.run(g); err != nil {
		return nil, err
	}
	g.summarise(fit)
	return checked(g, g.Coef, g.SE, g.Deviance, g.LogLik, g.Phi)
}

// irls is the working state of iteratively reweighted least squares.
type irls struct {
	x         Design
	y, size   []float64
	family    family
	qr        *qr
	eta, w, z []float64
	step      []float64
}

// run iterates to the maximum of the likelihood. With a canonical link the
// reweighted least squares of z = η+(y−μ)/V is Newton's method (McCullagh &
// Nelder 1989, §2.5).
func (f *irls) run(g *GLM) error {
	n, p := len(f.y), len(f.x)
	f.qr, f.step = newQR(f.x), make([]float64, p)
	f.eta, f.w, f.z = make([]float64, n), make([]float64, n), make([]float64, n)
	for i, m := range f.size {
		f.w[i] = math.Min(m, 1)
		f.eta[i] = f.family.start(f.y[i], m)
	}
	if err := f.qr.factor(f.x, f.w); err != nil {
		return err
	}
	next, move, deviance := make([]float64, p), make([]float64, n), math.Inf(1)
	for g.Iterations = 1; g.Iterations <= glmIterations; g.Iterations++ {
		f.linearise()
		if err := f.qr.factor(f.x, f.w); err != nil {
			return f.diverged(move)
		}
		f.qr.solve(f.z, next)
		floats.SubTo(f.step, next, g.Coef)
		f.x.eta(f.step, move)
		length := f.qr.length(f.step)
		if g.Iterations > separationFrom && floats.Norm(move, math.Inf(1)) > 0.5 && f.separates(move) {
			return f.separated(move)
		}
		deviance = f.advance(g.Coef, deviance)
		if g.Iterations > 1 && length < glmTolerance {
			g.Converged = true
			g.Deviance = deviance
			f.linearise()
			return f.qr.factor(f.x, f.w)
		}
	}
	return f.diverged(move)
}

// linearise computes weights and working outcomes at the present η.
func (f *irls) linearise() {
	for i, eta := range f.eta {
		w, residual := f.family.weigh(f.y[i], eta, f.size[i])
		f.w[i], f.z[i] = w, eta
		if w > 0 {
			f.z[i] += residual / w
		}
	}
}

// advance takes the step, halved until the deviance does not rise, and returns
// the new deviance.
func (f *irls) advance(beta []float64, before float64) float64 {
	for range 30 {
		floats.Add(beta, f.step)
		f.x.eta(beta, f.eta)
		if d := f.deviance(); d <= before+1e-10*(1+math.Abs(before)) {
			return d
		}
		floats.Sub(beta, f.step)
		floats.Scale(0.5, f.step)
	}
	f.x.eta(beta, f.eta)
	return before
}

func (f *irls) deviance() float64 {
	sum := 0.0
	for i, eta := range f.eta {
		sum += f.family.deviance(f.y[i], eta, f.size[i])
	}
	return sum
}

// summarise fills in the errors and the measures of fit at the solution.
func (g *GLM) summarise(f *irls) {
	for i, eta := range f.eta {
		y, size := f.y[i], f.size[i]
		g.Fitted[i] = g.family.mean(eta, size)
		if g.family.ceiling {
			g.Fitted[i] = g.family.mean(eta, 1)
		}
		g.LogLik += g.family.logLik(y, eta, size)
		if v, r := g.family.weigh(y, eta, size); v > 0 {
			g.Pearson += r * r / v
		}
	}
	g.Phi, g.PPearson = 1, 1
	if g.DF > 0 {
		g.Phi = g.Pearson / float64(g.DF)
		g.PPearson = mathext.GammaIncRegComp(float64(g.DF)/2, g.Pearson/2)
	} else {
		g.Warnings = append(g.Warnings, "as many coefficients as rows: the scatter about the model cannot be judged")
	}
	g.Cov = f.qr.inverse(1)
	g.SE = deviations(g.Cov)
	g.QuasiSE = append([]float64(nil), g.SE...)
	floats.Scale(math.Sqrt(g.Phi), g.QuasiSE)
}

// Interval is the Wald interval of coefficient j on the scale of the link, from
// the quasi standard error if quasi is set.
func (g *GLM) Interval(j int, level float64, quasi bool) (stat.Estimate, error) {
	if err := stat.CheckLevel(level); err != nil {
		return stat.Estimate{}, err
	}
	if err := hasCoefficient(j, g.Coef); err != nil {
		return stat.Estimate{}, err
	}
	se, method := g.SE[j], g.family.name+" regression, Wald"
	if quasi {
		se, method = g.QuasiSE[j], method+" with quasi error"
	}
	half := mathext.NormalQuantile((1+level)/2) * se
	return stat.Estimate{Value: g.Coef[j], Low: g.Coef[j] - half, High: g.Coef[j] + half, Level: level, N: g.N, Method: method}, nil
}
