package pool

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"pourback/analysis/stat"
)

// FromAverage answers how groups differ from the average of those at hand,
// u_g − Σu/G. What they have in common is reckoned once, so that asking of each
// of many groups takes no longer than there are groups. Effect compares with the
// average of all that could be, and is vaguer where groups are few.
type FromAverage struct {
	post   *Posterior
	common []averaged // by cell
}

// averaged is the average group of a cell in the terms of law.
type averaged struct {
	effect, own float64   // Σeffect/G, Σt_g/G²
	v           []float64 // Σt_g·b_g/G
}

// FromAverage takes the groups' average.
func (post *Posterior) FromAverage() *FromAverage {
	n := float64(post.Groups)
	f := &FromAverage{post: post, common: make([]averaged, len(post.Cells))}
	for i := range post.Cells {
		a := averaged{v: make([]float64, len(post.Model.Mean))}
		for g := range post.Groups {
			t, effect, sumX := post.Cells[i].group(g)
			a.effect += effect / n
			a.own += t / (n * n)
			for j, s := range sumX {
				a.v[j] += t * s / n
			}
		}
		f.common[i] = a
	}
	return f
}

// Of is the posterior of one group's difference.
func (f *FromAverage) Of(group int) (Mixture, error) {
	post := f.post
	if group < 0 || group >= post.Groups {
		return Mixture{}, fmt.Errorf("group %d of %d: %w", group, post.Groups, stat.ErrDomain)
	}
	n := len(post.Cells)
	out := Mixture{N: post.N, Nu: post.Nu, Weight: post.GridWeights(), Loc: make([]float64, n), Scale: make([]float64, n)}
	v := mat.NewVecDense(len(post.Model.Mean), nil)
	for i := range post.Cells {
		c, a := &post.Cells[i], &f.common[i]
		t, effect, sumX := c.group(group)
		for j := range a.v {
			v.SetVec(j, a.v[j])
		}
		for j, s := range sumX {
			v.SetVec(j, a.v[j]-t*s)
		}
		own := a.own + t*(1-2/float64(post.Groups)) // (1−1/G)²·t_g, and Σt/G² of the others
		out.Loc[i] = effect - a.effect
		out.Scale[i] = math.Sqrt(c.Sigma2 * math.Max(0, own+mat.Inner(v, c.cov, v)))
	}
	return out, stat.Finite("posterior", append(out.Loc[:n:n], out.Scale...)...)
}
