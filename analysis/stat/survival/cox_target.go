package survival

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// coxTarget is the log partial likelihood with the penalties of the options,
// at the β it was last moved to.
type coxTarget struct {
	sets    *riskSets
	options CoxOptions

	beta      []float64
	logLik    float64 // without penalties
	penalised float64
	info      *mat.SymDense // without priors; nil until asked for
}

// climber climbs the target with the given coefficient fixed, or none (−1).
func (t *coxTarget) climber(fixed int) *climber {
	return &climber{coxTarget: t, scale: t.sets.scale, fixed: fixed}
}

func (t *coxTarget) value(beta []float64) float64 {
	if slices.Equal(beta, t.beta) {
		return t.penalised
	}
	t.beta, t.info = append(t.beta[:0], beta...), nil
	t.logLik = t.sets.moveTo(beta)
	t.penalised = t.logLik
	if math.IsInf(t.logLik, -1) {
		return t.penalised
	}
	for _, p := range t.options.Priors {
		z := p.miss(beta) / p.SD
		t.penalised -= z * z / 2
	}
	if t.options.Firth {
		f, ok := factor(t.information())
		if !ok {
			t.penalised = math.Inf(-1)
			return t.penalised
		}
		t.penalised += f.logDet() / 2
	}
	return t.penalised
}

func (t *coxTarget) information() *mat.SymDense {
	if t.info == nil {
		t.info = t.sets.information(nil)
	}
	return t.info
}

func (t *coxTarget) slope() (score []float64, info *mat.SymDense) {
	score = t.sets.score(nil)
	info = mat.NewSymDense(len(score), nil)
	info.CopySym(t.information())
	if t.options.Firth {
		t.sets.addFirthSlope(score, info)
	}
	for _, p := range t.options.Priors {
		miss, precision := p.miss(t.beta), 1/(p.SD*p.SD)
		for j, c := range p.Contrast {
			score[j] -= c * miss * precision
		}
		contrast := mat.NewVecDense(len(score), p.Contrast)
		info.SymRankOne(info, precision, contrast)
	}
	return score, info
}

// miss is by how much the contrast of β is off the prior's mean.
func (p NormalPrior) miss(beta []float64) float64 {
	sum := -p.Mean
	for j, c := range p.Contrast {
		sum += c * beta[j]
	}
	return sum
}
