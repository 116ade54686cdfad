package survival

import (
	"fmt"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"pourback/analysis/stat"
)

// PropHaz is a test of proportional hazards.
type PropHaz struct {
	Term   []ChiSq // one for each term
	Global ChiSq   // all columns together
}

// PropHazTest tests whether log hazard ratios change over time: the score test
// of θ = 0 in the model with the columns z·g(t) beside z, g being 1 less the
// Kaplan-Meier survival of all rows just before t (Grambsch & Therneau 1994,
// Biometrika 81, 515-526, in the form of R survival from 3.0 on: with the
// information summed over event times, not its average). A term is a set of
// columns tested together, such as those of one arm each; nil tests each
// column by itself. A small P says that one ratio for all ages misleads.
//
// Errors: [stat.ErrDomain] for penalised fits, where the score at Coef is not
// 0, and for terms that name no column; [stat.ErrNoVariation] where the events
// are at too few times to tell.
func (c *Cox) PropHazTest(terms [][]int) (*PropHaz, error) {
	p := len(c.Coef)
	if c.options.Firth || len(c.options.Priors) > 0 {
		return nil, fmt.Errorf("proportional hazards: the test is for fits without penalties: %w", stat.ErrDomain)
	}
	all := make([]int, p)
	each := make([][]int, p)
	for j := range p {
		all[j], each[j] = j, []int{j}
	}
	if terms == nil {
		terms = each
	}
	g, err := c.timeScale()
	if err != nil {
		return nil, fmt.Errorf("proportional hazards: %w", err)
	}
	square := make([]float64, len(g))
	floats.MulTo(square, g, g)
	info := stackInfo(c.sets.information(nil), c.sets.information(g), c.sets.information(square))
	score := c.sets.score(g)
	out := &PropHaz{}
	for i, term := range append(terms[:len(terms):len(terms)], all) {
		if len(term) == 0 {
			return nil, fmt.Errorf("proportional hazards: term %d names no column: %w", i, stat.ErrDomain)
		}
		for _, j := range term {
			if j < 0 || j >= p {
				return nil, fmt.Errorf("proportional hazards: term %d names column %d of %d: %w", i, j, p, stat.ErrDomain)
			}
		}
		out.Global, err = scoreTest(info, score, term)
		if err != nil {
			return nil, fmt.Errorf("proportional hazards: term %d: %w", i, err)
		}
		if i < len(terms) {
			out.Term = append(out.Term, out.Global)
		}
	}
	return out, nil
}

// timeScale is g(t) at each block, less its mean over events.
func (c *Cox) timeScale() ([]float64, error) {
	d := c.sets.data
	times, event := d.Time, d.Event
	if c.weight != nil {
		times, event = nil, nil
		for i, w := range c.weight {
			if w > 0 {
				times, event = append(times, d.Time[i]), append(event, d.Event[i])
			}
		}
	}
	km, err := KaplanMeier(times, event)
	if err != nil {
		return nil, err
	}
	g := make([]float64, len(c.sets.time))
	mean := 0.
	for b, t := range c.sets.time {
		if i := km.at(t); i >= 0 && km.Time[i] == t {
			i--
			if i >= 0 {
				g[b] = 1 - km.Survival[i]
			}
		} else if i >= 0 {
			g[b] = 1 - km.Survival[i]
		}
		mean += g[b] * float64(c.sets.deaths[b].n) / float64(c.Events)
	}
	floats.AddConst(-mean, g)
	return g, nil
}

// stackInfo is the information of β and θ together.
func stackInfo(plain, once, twice *mat.SymDense) *mat.SymDense {
	p := plain.SymmetricDim()
	info := mat.NewSymDense(2*p, nil)
	for i := range p {
		for j := range p {
			info.SetSym(i, p+j, once.At(i, j))
			if i <= j {
				info.SetSym(i, j, plain.At(i, j))
				info.SetSym(p+i, p+j, twice.At(i, j))
			}
		}
	}
	return info
}

// scoreTest tests the θ of one term, with all β beside them.
func scoreTest(info *mat.SymDense, score []float64, term []int) (ChiSq, error) {
	p := len(score)
	in := make([]int, 0, p+len(term))
	u := make([]float64, p, p+len(term))
	for j := range p {
		in = append(in, j)
	}
	for _, j := range term {
		in = append(in, p+j)
		u = append(u, score[j])
	}
	sub := mat.NewSymDense(len(in), nil)
	for a, i := range in {
		for b := range a + 1 {
			sub.SetSym(a, b, info.At(i, in[b]))
		}
	}
	f, ok := factor(sub)
	if !ok {
		return ChiSq{}, fmt.Errorf("too few event times to see a change over time: %w", stat.ErrNoVariation)
	}
	return newChiSq(floats.Dot(u, f.solve(u)), len(term)), nil
}
