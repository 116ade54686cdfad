package survival

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// The partial likelihood written down as it is defined, in O(n²), to hold the
// fast one against.

// naiveSet is one of the d steps of a tie: the weight of its events, and how
// much of each row is at risk.
type naiveSet struct {
	events []int
	step   int
	share  []float64
}

// naiveSets lists the steps of every tie of every stratum.
func naiveSets(d CoxData, ties Ties) (sets []naiveSet) {
	stratum := func(i int) int {
		if d.Stratum == nil {
			return 0
		}
		return d.Stratum[i]
	}
	seen := map[[2]float64]bool{}
	for i, t := range d.Time {
		key := [2]float64{float64(stratum(i)), t}
		if !d.Event[i] || seen[key] || naiveWeight(d, i) == 0 {
			continue
		}
		seen[key] = true
		var events []int
		share := make([]float64, len(d.Time))
		for j := range d.Time {
			if stratum(j) != stratum(i) || d.Time[j] < t {
				continue
			}
			share[j] = 1
			if d.Time[j] == t && d.Event[j] && naiveWeight(d, j) > 0 {
				events = append(events, j)
			}
		}
		for l := range events {
			part := slices.Clone(share)
			if ties == Efron {
				for _, j := range events {
					part[j] = 1 - float64(l)/float64(len(events))
				}
			}
			sets = append(sets, naiveSet{events, l, part})
		}
	}
	return sets
}

func naiveWeight(d CoxData, i int) float64 {
	if d.Weight == nil {
		return 1
	}
	return d.Weight[i]
}

// naiveX is a value of X less that of the first row, which changes nothing.
func naiveX(d CoxData, j, i int) float64 { return d.X[j][i] - d.X[j][0] }

func naiveEta(d CoxData, beta []float64, i int) (eta float64) {
	for j, b := range beta {
		eta += b * naiveX(d, j, i)
	}
	return eta
}

// naive gives the log partial likelihood, its gradient and the information.
func naive(d CoxData, ties Ties, beta []float64) (logLik float64, score []float64, info *mat.SymDense) {
	p := len(beta)
	score, info = make([]float64, p), mat.NewSymDense(p, nil)
	for _, set := range naiveSets(d, ties) {
		var sum float64
		first, second := make([]float64, p), mat.NewDense(p, p, nil)
		for i, share := range set.share {
			r := share * naiveWeight(d, i) * math.Exp(naiveEta(d, beta, i))
			sum += r
			for j := range p {
				first[j] += r * naiveX(d, j, i)
				for k := range p {
					second.Set(j, k, second.At(j, k)+r*naiveX(d, j, i)*naiveX(d, k, i))
				}
			}
		}
		var mean float64
		for _, i := range set.events {
			mean += naiveWeight(d, i) / float64(len(set.events))
			w := naiveWeight(d, i) / float64(len(set.events)) // each event once over the d steps
			logLik += w * naiveEta(d, beta, i)
			for j := range p {
				score[j] += w * naiveX(d, j, i)
			}
		}
		logLik -= mean * math.Log(sum)
		for j := range p {
			score[j] -= mean * first[j] / sum
			for k := 0; k <= j; k++ {
				info.SetSym(j, k, info.At(j, k)+mean*(second.At(j, k)/sum-first[j]/sum*first[k]/sum))
			}
		}
	}
	return logLik, score, info
}

// coxRowsDraw draws a Cox data set with two columns, ties, strata and weights.
func coxRowsDraw(t *rapid.T) CoxData {
	times, event := rows(t, 12)
	n := len(times)
	d := CoxData{Time: times, Event: event, X: [][]float64{make([]float64, n), make([]float64, n)}, Weight: make([]float64, n), Stratum: make([]int, n)}
	for i := range n {
		d.X[0][i] = float64(rapid.IntRange(0, 1).Draw(t, "arm"))
		d.X[1][i] = float64(rapid.IntRange(40, 105).Draw(t, "temperature"))
		d.Weight[i] = float64(rapid.IntRange(0, 3).Draw(t, "weight")) / 2
		d.Stratum[i] = rapid.IntRange(0, 1).Draw(t, "stratum")
	}
	return d
}

// fitOrSkip fits the draw, or gives it up where it has no answer.
func fitOrSkip(t *rapid.T, d CoxData, o CoxOptions) *Cox {
	c, err := FitCox(d, o)
	if err != nil {
		t.Skip(err)
	}
	return c
}

func closeTo(t *rapid.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*(1+math.Abs(want))) {
		t.Fatalf("%s: got %.15g, want %.15g", what, got, want)
	}
}

// At the fit the definition has the same value and information, and no slope.
func TestCoxAgainstDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := coxRowsDraw(t)
		ties := rapid.SampledFrom([]Ties{Efron, Breslow}).Draw(t, "ties")
		c := fitOrSkip(t, d, CoxOptions{Ties: ties})
		logLik, score, info := naive(d, ties, c.Coef)
		closeTo(t, "log likelihood", c.LogLik, logLik, 1e-10)
		null, _, _ := naive(d, ties, []float64{0, 0})
		closeTo(t, "null log likelihood", c.LogLikNull, null, 1e-10)
		for j := range score {
			closeTo(t, "slope", score[j]*c.SE()[j], 0, 1e-6)
			for k := 0; k <= j; k++ {
				got, err := inverse(c.Cov)
				if err != nil {
					t.Skip(err)
				}
				scale := math.Sqrt(info.At(j, j) * info.At(k, k))
				closeTo(t, "information", got.At(j, k)/scale, info.At(j, k)/scale, 1e-7)
			}
		}
	})
}

// Firth's slope is that of ½·log|I| of the definition, by differences.
func TestFirthSlopeAgainstDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := coxRowsDraw(t)
		o := CoxOptions{Ties: Breslow, Firth: true, Priors: []NormalPrior{{Contrast: []float64{1, -.1}, Mean: .2, SD: .7}}}
		c := fitOrSkip(t, d, o)
		penalised := func(beta []float64) float64 {
			logLik, _, info := naive(d, Breslow, beta)
			z := (beta[0] - .1*beta[1] - .2) / .7
			return logLik + math.Log(mat.Det(info))/2 - z*z/2
		}
		closeTo(t, "penalised likelihood", c.Penalised, penalised(c.Coef), 1e-8)
		for j := range c.Coef {
			h := 1e-4 * c.SE()[j]
			up, down := slices.Clone(c.Coef), slices.Clone(c.Coef)
			up[j] += h
			down[j] -= h
			// in units of standard errors, where the curve bends by about 1
			closeTo(t, "slope", (penalised(up)-penalised(down))/2e-4, 0, 1e-4)
		}
	})
}

// A weight moved a little moves the coefficients by the row's influence, which
// the score residuals give: the infinitesimal jackknife, for both ties.
func TestScoreResidualsAreInfluence(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := coxRowsDraw(t)
		for i := range d.Weight {
			d.Weight[i] += .5
		}
		ties := rapid.SampledFrom([]Ties{Efron, Breslow}).Draw(t, "ties")
		c := fitOrSkip(t, d, CoxOptions{Ties: ties})
		if c.SE()[0] > 5 {
			t.Skip("next to separation")
		}
		residual := make([][]float64, len(d.Time))
		c.sets.scoreResiduals(func(row int, u []float64) { residual[row] = slices.Clone(u) })
		i := rapid.IntRange(0, len(d.Time)-1).Draw(t, "row")
		if residual[i] == nil {
			return // never at risk
		}
		const h = 1e-4
		moved := slices.Clone(d.Weight)
		moved[i] += h
		up, err := c.Refit(moved)
		if err != nil {
			t.Fatal(err)
		}
		moved[i] -= 2 * h
		down, err := c.Refit(moved)
		if err != nil {
			t.Fatal(err)
		}
		for j := range c.Coef {
			want := 0.
			for k, u := range residual[i] {
				want += c.Cov.At(j, k) * u / d.Weight[i]
			}
			got := (up.Coef[j] - down.Coef[j]) / (2 * h)
			closeTo(t, "influence", got/c.SE()[j], want/c.SE()[j], 1e-4)
		}
	})
}
