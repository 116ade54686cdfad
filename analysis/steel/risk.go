package steel

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/resample"
	"pourback/analysis/stat/survival"
)

// Draws of the bootstrap.
const (
	bootDraws = 999
	thinDraws = 499 // of records too many to be drawn whole
)

// meshAgainstRebar is the term that the comparison is about.
var meshAgainstRebar = cracks.Covariate{What: cracks.Made, Of: "mesh", Against: "rebar"}

// effect is mesh against rebar with heat, spacing, thickness and use made
// alike.
type effect struct {
	frame             *cracks.Frame // all slabs that could be used
	fitted            *cracks.Frame // those that the model was fitted to
	ratio             figure.Figure // hazard ratio
	b, variance       float64       // of its logarithm, without a prior
	bias              float64       // standard deviation of what it may be off by what nobody recorded
	alternated        bool          // the owner says that mesh and rebar took turns
	mesh, rebar, diff figure.Figure // risks within a year, mesh less rebar
	risk              figure.Figure // the mean of both
	riskLow, riskHigh float64       // its 10th and 90th percentile
	how               Alike
}

// riskSpread is the standard deviation of the logarithm of the mean risk, from
// its 10th and 90th percentile.
func (e effect) riskSpread() float64 {
	if e.riskLow <= 0 {
		return 0
	}
	return math.Log(e.riskHigh/e.riskLow) / (2 * distuv.UnitNormal.Quantile(0.9))
}

// steelFrame is the slabs of a pair, the first kind as 1, with what they are to
// be alike in as far as so many events bear it.
func (s reinforced) steelFrame(p cracks.Pair) *cracks.Frame {
	wanted := func(i int) bool { return p.Kind[i] >= 0 && s.Watches(i) }
	first := cracks.Term{Covariate: meshAgainstRebar, Steel: -1, Value: func(i int) float64 { return 1 - float64(p.Kind[i]) }}
	thick := cracks.Term{Covariate: cracks.Covariate{What: cracks.Thickness, Step: 1, Unit: figure.Inches}, Steel: -1, Value: func(i int) float64 { return s.Thick[i] }}
	cars := cracks.Term{Covariate: cracks.Covariate{What: cracks.DrivenOn}, Steel: -1, Value: func(i int) float64 { return s.Cars[i] }}
	f := s.NewFrame([]cracks.Term{first, s.Heat(), s.Spacing(), thick, cars}, wanted)
	f.Cut(cracks.MostTerms(f.Events))
	return f
}

// compares says whether the frame still tells mesh from rebar.
func compares(f *cracks.Frame) bool {
	return len(f.Terms) > 0 && f.Terms[0].Covariate == meshAgainstRebar
}

// mostBands of temperature are those of many cracks; with few there is one for
// each cracksABand, and two at the least.
const (
	mostBands   = 5
	cracksABand = 4
)

// within sets slabs of like temperature beside each other: bands with as many
// slabs in each. A curve through the heat would take more terms than so few
// cracks bear.
func within(f *cracks.Frame, air []float64) {
	cuts := quantileCuts(f.Row, air, min(mostBands, max(2, f.Events/cracksABand)))
	f.Stratum = make([]int, len(f.Row))
	for k, i := range f.Row {
		f.Stratum[k] = bandOf(air[i], cuts)
	}
	f.Varying()
}

// quantileCuts parts the temperatures of some slabs into so many bands.
func quantileCuts(rows []int, air []float64, bands int) []float64 {
	known := make([]float64, 0, len(rows))
	for _, i := range rows {
		if !math.IsNaN(air[i]) {
			known = append(known, air[i])
		}
	}
	at := make([]float64, bands-1)
	for k := range at {
		at[k] = float64(k+1) / float64(bands)
	}
	cuts, err := interval.Quantiles(known, at...)
	if err != nil {
		return nil
	}
	return cuts
}

// bandOf counts the cuts that v lies above.
func bandOf(v float64, cuts []float64) int {
	b := 0
	for _, c := range cuts {
		if v > c {
			b++
		}
	}
	return b
}

// fairly estimates the effect within bands of temperature: with few events by a
// Cox model that leans on a prior, with more by Firth's, and in both by the risk
// within a year that all slabs would have had under either.
func (s reinforced) fairly(f *cracks.Frame, opt setting.Options) (effect, figure.Reason) {
	e := effect{frame: f}
	within(f, s.Air)
	if !compares(f) {
		return e, NeverAlike{}
	}
	small := f.Fewer()
	fit, o, err := small.Fit(opt.Steel.PriorSD)
	if err != nil {
		return e, figure.ReasonOf(err)
	}
	e.fitted, e.how = small, alikeIn(small)
	ratio, err := cracks.HazardRatio(fit, 0, opt.Level, o.Firth)
	if err != nil {
		return e, figure.ReasonOf(err)
	}
	e.ratio = figure.Estimated(ratio, nil)
	e.b, e.variance = fit.Coef[0], math.Max(fit.Cov.At(0, 0), fit.Robust.At(0, 0))
	if f.Events <= cracks.EventsForFirth { // the decision brings the prior in by itself
		if e.b, e.variance, err = plainRatio(small); err != nil {
			return e, figure.ReasonOf(err)
		}
	}
	why := e.risks(fit, o, opt)
	return e, why
}

// plainRatio is the log ratio of the first column by Firth, with its variance.
func plainRatio(f *cracks.Frame) (b, variance float64, err error) {
	fit, err := f.Cox(f.Firth())
	if err != nil {
		return 0, math.Inf(1), err
	}
	return fit.Coef[0], math.Max(fit.Cov.At(0, 0), fit.Robust.At(0, 0)), nil
}

// Alike says in what slabs are made alike, and how: within so many bands of
// temperature, and with few cracks with a belief about how much each may matter.
type Alike struct {
	In      []cracks.Thing
	Bands   int
	Leaning bool
}

func alikeIn(f *cracks.Frame) Alike {
	a := Alike{In: make([]cracks.Thing, 0, len(f.Terms)), Bands: 1 + slices.Max(f.Stratum), Leaning: f.Events <= cracks.EventsForFirth}
	for _, t := range f.Terms[1:] {
		a.In = append(a.In, t.What)
	}
	return a
}

// risks standardises, and bounds by resampling jobs.
func (e *effect) risks(fit *survival.Cox, o survival.CoxOptions, opt setting.Options) figure.Reason {
	point, followed, err := bothRisks(fit)
	if err != nil {
		return figure.ReasonOf(err)
	}
	if followed == 0 {
		return NoFullYear{}
	}
	f, kept := e.fitted.Thin(cracks.ForDraws)
	draws := bootDraws
	if f != e.frame {
		draws = thinDraws
	}
	sample, err := redraw(f, o, draws, opt.Seed)
	if err != nil {
		return figure.ReasonOf(err)
	}
	method := fmt.Sprintf("standardised Cox model, bootstrap by job, %d draws, approximate", len(sample.Draws[0]))
	if f != e.frame {
		method += fmt.Sprintf(", drawn from %d slabs and narrowed to all", len(f.Row))
	}
	most := 1 - 2.001/float64(len(sample.Draws[0])) // past it a limit would be the outermost draw
	level := min(most, widened(opt.Level, float64(e.frame.Events)))
	n := len(e.frame.Row)
	bounds := func(j int, level float64) (stat.Estimate, error) {
		q, err := sample.Percentile(j, level)
		narrow := math.Sqrt(kept)
		q.Low, q.High = point[j]+narrow*(q.Low-q.Value), point[j]+narrow*(q.High-q.Value)
		return stat.Estimate{Value: point[j], Low: q.Low, High: q.High, Level: opt.Level, N: n, Method: method}, err
	}
	for j, to := range []*figure.Figure{&e.mesh, &e.rebar, &e.diff, &e.risk} {
		q, err := bounds(j, level)
		if err != nil {
			return figure.ReasonOf(err)
		}
		if j != 2 {
			q.Low, q.High = max(0, q.Low), min(1, q.High)
		}
		*to = figure.Estimated(q, nil)
	}
	q, err := bounds(3, 0.8)
	e.riskLow, e.riskHigh = max(0, q.Low), min(1, q.High)
	if err != nil {
		return figure.ReasonOf(err)
	}
	return nil
}

// bothRisks are the risks within a year with mesh, with rebar, their difference
// and their mean, and how many slabs were followed so long.
func bothRisks(fit *survival.Cox) (risk [4]float64, followed int, err error) {
	r, err := fit.StandardisedRisk(cracks.OneYear, survival.Arm{0: 1}, survival.Arm{0: 0})
	if err != nil {
		return risk, 0, err
	}
	return [4]float64{r.Risk[0], r.Risk[1], r.Risk[0] - r.Risk[1], (r.Risk[0] + r.Risk[1]) / 2}, r.AtRisk, nil
}

// redraw draws jobs anew and fits each time.
func redraw(f *cracks.Frame, o survival.CoxOptions, draws int, seed uint64) (*resample.Sample, error) {
	alone := *f
	alone.Job = nil // the draws themselves go by job
	fit, err := alone.Cox(o)
	if err != nil {
		return nil, err
	}
	plan := resample.Plan{Rows: len(f.Row), Clusters: f.Job, Outputs: 4, Draws: draws, Seed: seed}
	return resample.Bootstrap(plan, func() resample.Statistic {
		weight, refits := make([]float64, len(f.Row)), fit.Refits()
		return func(out, drawn []float64) error {
			copy(weight, drawn)
			for i, w := range f.Weight {
				weight[i] *= w
			}
			again, err := refits.Refit(weight)
			if err != nil {
				return err
			}
			risk, _, err := bothRisks(again)
			copy(out, risk[:])
			return err
		}
	})
}

// widened is the level at which percentiles of few draws of few events hold the
// level asked for: tails of Φ(−√(n/(n−1))·t_{n−1}) (Hesterberg 2015, The
// American Statistician 69:371, the expanded percentile interval), n the events.
func widened(level, n float64) float64 {
	t, err := interval.StudentQuantile((1+level)/2, n-1)
	if err != nil {
		return level
	}
	return 1 - 2*distuv.UnitNormal.CDF(-math.Sqrt(n/(n-1))*t)
}
