package concrete

import (
	"fmt"
	"math"
	"slices"

	"pourback/analysis/figure"
)

// fixed are the yards lost whatever the size by each method: chute and pump,
// and every other that the records hold often enough.
func (w *overageWork) fixed() map[string]figure.Figure {
	out := map[string]figure.Figure{}
	counts := w.rows.Method.Counts()
	for k, name := range w.model.methods[:len(w.model.methods)-1] {
		n := 0
		if at, found := slices.BinarySearch(w.rows.Method.Names, name); found {
			n = counts[at]
		}
		out[name] = w.fixedBy(k, n)
	}
	return out
}

func (w *overageWork) fixedBy(method, n int) figure.Figure {
	name, prior := w.model.methods[method], w.model.priors.Fixed(w.model.methods[method])
	if n < figure.LeastForRate {
		return figure.UnknownFor("%s by %s: it takes at least %d; until then %.2f yd is assumed", figure.CountOf(n, "placement"), name, figure.LeastForRate, prior.Mean)
	}
	law, err := w.model.post.Coef(1 + method)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	f := fromMean(law, w.level, n, "hierarchical model, coefficient of 1/neat")
	if w.priorDecides(method) {
		f.Why = figure.Written(fmt.Sprintf("placements by %s are too alike in size to tell fixed yards from a share of the volume: the assumption of %.2f yd decides", name, prior.Mean))
	}
	return f
}

// priorDecides says whether the records have narrowed a method's fixed yards by
// less than a third: so it is where each use has one size.
func (w *overageWork) priorDecides(method int) bool {
	law, err := w.model.post.Coef(1 + method)
	if err != nil {
		return true
	}
	prior := w.model.priors.Fixed(w.model.methods[method]).SD * math.Sqrt(w.model.post.Variance(0)) / w.model.priors.Sigma
	return math.Sqrt(law.Var()) > 2*prior/3
}
