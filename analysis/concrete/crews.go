package concrete

import (
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/stat/pool"
	"pourback/analysis/stat/regress"
)

// CrewUse is how a crew's use of concrete differs from that of the average
// crew on the same placements, as a share of the neat volume.
type CrewUse struct {
	Crew      string        `json:"crew"`
	N         int           `json:"n"`
	VsAverage figure.Figure `json:"vs_average"`
}

// mostCrews bounds the crews that are compared; the smaller ones beyond it
// stand together as OtherCrews.
const mostCrews = 30

// OtherCrews stands for all crews beyond those that are compared.
const OtherCrews = "all other crews"

// crews asks the model's residuals for a difference between crews. Predictions
// are for an average crew: this is the check whether that matters.
func (w *overageWork) crews() []CrewUse {
	crew := figure.LabelsIn(&w.h.Placements.Crew, len(w.rows.Points), func(i int) int { return w.rows.Points[i].Index })
	crew = crew.Joined(mostCrews, OtherCrews)
	out := make([]CrewUse, len(crew.Names))
	for k, n := range crew.Counts() {
		out[k] = CrewUse{crew.Names[k], n, figure.Unknown(FewOfCrew{N: n})}
	}
	if len(out) < 2 {
		return []CrewUse{}
	}
	post, err := w.crewModel(crew.Of)
	if err != nil {
		for k := range out {
			out[k].VsAverage = unknown(err)
		}
		return out
	}
	average := post.FromAverage()
	for k := range out {
		if out[k].N < figure.LeastForRate {
			continue
		}
		law, err := average.Of(k)
		if err != nil {
			out[k].VsAverage = unknown(err)
			continue
		}
		out[k].VsAverage = fromMean(law, w.level, out[k].N, "hierarchical model of the residuals, against the average of the crews")
	}
	return out
}

// crewModel fits the residuals, in units of the ratio, with the crews as groups.
func (w *overageWork) crewModel(crew []int) (*pool.Posterior, error) {
	y, err := w.model.post.Residuals(w.data)
	if err != nil {
		return nil, err
	}
	base, slope := 0.0, 0.0 // of the error variance at h, as Residuals has it
	for _, c := range w.model.post.Cells {
		base += c.Weight * c.Sigma2
		slope += c.Weight * c.Sigma2 * c.Kappa
	}
	weight := make([]float64, len(y))
	for i, h := range w.data.H {
		y[i] *= math.Sqrt(base + slope*h)
		weight[i] = base / (base + slope*h)
	}
	r, _ := pool.DefaultGrid()
	p := w.model.priors
	m := pool.Model{GridR: r, GridKappa: []float64{0}, Prior: pool.Prior{Mean: []float64{0}, SD: []float64{p.BaseSD}, Sigma: p.Sigma, Nu: p.Nu, RScale: p.RScale}}
	return m.Fit(pool.Data{X: regress.Design{regress.Ones(len(y))}, Y: y, Group: crew, Weight: weight})
}

// crewYd is what a crew adds on a placement of a volume, where that is at least
// half an increment and its interval does not hold zero.
func (c CrewUse) crewYd(neatYd, incrementYd float64) (yd float64, matters bool) {
	f := c.VsAverage
	yd = f.Value * neatYd
	return yd, f.Known() && (f.Low > 0 || f.High < 0) && math.Abs(yd) >= incrementYd/2
}
