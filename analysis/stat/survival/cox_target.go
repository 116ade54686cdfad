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
	root      *spd          // of info, where Firth's penalty has asked for it
}

// climber climbs the target with the given coefficient fixed, or none (−1).
func (t *coxTarget) climber(fixed int) *climber {
	return &climber{coxTarget: t, scale: t.sets.scale, fixed: fixed}
}

func (t *coxTarget) value(beta []float64) float64 {
	if slices.Equal(beta, t.beta) {
		return t.penalised
	}
	t.beta, t.info, t.root = append(t.beta[:0], beta...), nil, nil
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
		t.root = f
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

// slope is the gradient with the information.
func (t *coxTarget) slope() (score []float64, info *mat.SymDense) {
	score = t.sets.score(nil)
	if t.options.Firth && t.root != nil { // else value has found −∞ here and will not come back
		t.sets.addFirthSlope(score, t.root.inverse())
	}
	for _, p := range t.options.Priors {
		miss, precision := p.miss(t.beta), 1/(p.SD*p.SD)
		for j, c := range p.Contrast {
			score[j] -= c * miss * precision
		}
	}
	return score, t.bend()
}

// bend is the information with that of the priors, in a matrix of its own.
func (t *coxTarget) bend() *mat.SymDense {
	info := mat.NewSymDense(len(t.beta), nil)
	info.CopySym(t.information())
	for _, p := range t.options.Priors {
		info.SymRankOne(info, 1/(p.SD*p.SD), mat.NewVecDense(len(t.beta), p.Contrast))
	}
	return info
}

// miss is by how much the contrast of β is off the prior's mean.
func (p NormalPrior) miss(beta []float64) float64 {
	sum := -p.Mean
	for j, c := range p.Contrast {
		sum += c * beta[j]
	}
	return sum
}
