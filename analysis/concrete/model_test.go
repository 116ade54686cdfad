package concrete

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// historyOf is a history of the placements, dated a day apart.
func historyOf(placements ...record.Placement) *record.History {
	for i := range placements {
		placements[i].PlacedOn += record.Date(i)
	}
	return record.NewHistory(trial.Day("2026-03-31"), record.Set{Placements: placements})
}

// twoUses are patios and driveways by chute and pump, of several sizes.
func twoUses() []record.Placement {
	var out []record.Placement
	for i, p := range []struct {
		use, method string
		neat, used  float64
	}{
		{"patio", "chute", 2, 2.35}, {"patio", "chute", 3.5, 3.7}, {"patio", "pump", 4, 4.9}, {"patio", "pump", 2.5, 3.1}, {"patio", "chute", 6, 6.4},
		{"driveway", "chute", 8, 8.3}, {"driveway", "chute", 11, 11.2}, {"driveway", "pump", 9, 9.6}, {"driveway", "chute", 5, 5.4}, {"driveway", "pump", 14, 14.9},
		{"driveway", "chute", 7.5, 7.7}, {"patio", "chute", 4.5, 4.9},
	} {
		out = append(out, trial.Pour(fmt.Sprintf("J%02d", i), "2025-01-02", p.use, p.method, p.neat, p.used))
	}
	return out
}

// denseOverage is the hierarchical model as its formulas stand, in dense algebra: for each cell of the
// grid the posterior from the whole matrix, mixed by the marginal likelihood.
type denseCell struct {
	logWeight, weight, loc, scale float64
}

func denseOverage(placements []record.Placement, uses []string, h float64, pump bool, use int) (cells []denseCell, nu float64) {
	gridR := []float64{0, .1, .2, .35, .5, .75, 1, 1.5, 2.5}
	gridKappa := []float64{0, .5, 1, 2, 4, 8, 16}
	m0, s0 := []float64{.05, .10, .35}, []float64{.05, .25, .35}
	const sigma0, nu0, scaleR = .05, 4.0, .75
	n := len(placements)
	nu = nu0 + float64(n)
	for a, r := range gridR {
		width := 0.0
		if a > 0 {
			width += (r - gridR[a-1]) / 2
		}
		if a+1 < len(gridR) {
			width += (gridR[a+1] - r) / 2
		}
		p := 3
		if r > 0 {
			p += len(uses)
		}
		for _, kappa := range gridKappa {
			row := func(v float64, pump bool, u int) []float64 {
				z := make([]float64, p)
				z[0] = 1
				if pump {
					z[2] = 1 / v
				} else {
					z[1] = 1 / v
				}
				if r > 0 {
					z[3+u] = 1
				}
				return z
			}
			A, b, mean := mat.NewSymDense(p, nil), mat.NewVecDense(p, nil), make([]float64, p)
			S, logW := nu0*sigma0*sigma0, 0.0
			for j := range p {
				prior := 1 / (r * r)
				if j < 3 {
					prior, mean[j] = sigma0*sigma0/(s0[j]*s0[j]), m0[j]
				}
				A.SetSym(j, j, prior)
				b.SetVec(j, prior*mean[j])
				S += prior * mean[j] * mean[j]
				logW += math.Log(prior) / 2
			}
			for _, q := range placements {
				u := 0
				if q.Use == uses[1] {
					u = 1
				}
				v, y := q.NeatYd.V, (q.DeliveredYd.V-q.LeftoverYd.V)/q.NeatYd.V-1
				w := 1 / (1 + kappa/v)
				z := mat.NewVecDense(p, row(v, q.Method == "pump", u))
				A.SymRankOne(A, w, z)
				b.AddScaledVec(b, w*y, z)
				S += w * y * y
				logW += math.Log(w) / 2
			}
			var chol mat.Cholesky
			if !chol.Factorize(A) {
				panic("not positive definite")
			}
			var m, Az mat.VecDense
			_ = chol.SolveVecTo(&m, b)
			S -= mat.Dot(&m, b)
			z := mat.NewVecDense(p, row(1/h, pump, use))
			_ = chol.SolveVecTo(&Az, z)
			cells = append(cells, denseCell{
				logWeight: logW - chol.LogDet()/2 - nu/2*math.Log(S) + math.Log(width) - math.Log(1+r*r/(scaleR*scaleR)),
				loc:       mat.Dot(z, &m),
				scale:     math.Sqrt(S / nu * (1 + kappa*h + mat.Dot(z, &Az))),
			})
		}
	}
	most, sum := math.Inf(-1), 0.0
	for _, c := range cells {
		most = max(most, c.logWeight)
	}
	for k := range cells {
		cells[k].weight = math.Exp(cells[k].logWeight - most)
		sum += cells[k].weight
	}
	for k := range cells {
		cells[k].weight /= sum
	}
	return cells, nu
}

// The model is the hierarchical one with its overage columns, priors and grid, here
// worked again in dense algebra with the t law of gonum.
func TestOverageIsTheEngineOfMethods(t *testing.T) {
	placements := twoUses()
	uses := []string{"driveway", "patio"}
	m, err := Fit(historyOf(twoUses()...), setting.OveragePriors{})
	if err != nil {
		t.Fatal(err)
	}
	for _, job := range []Job{{"patio", "chute", "", 3}, {"driveway", "pump", "", 12}} {
		use := 0
		if job.Use == "patio" {
			use = 1
		}
		cells, nu := denseOverage(placements, uses, 1/job.NeatYd, job.Method == "pump", use)
		next, err := m.Next(job)
		if err != nil {
			t.Fatal(err)
		}
		student := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}
		for _, p := range []float64{.1, .5, .8, .9} {
			low, high := -1.0, 2.0
			for range 100 {
				x, cdf := (low+high)/2, 0.0
				for _, c := range cells {
					cdf += c.weight * student.CDF((x-c.loc)/c.scale)
				}
				if cdf < p {
					low = x
				} else {
					high = x
				}
			}
			trial.Near(t, fmt.Sprintf("P%.0f of %+v", 100*p, job), next.Ratio.Quantile(p), low, 1e-8)
		}
	}
}

// Where every placement of a use has one size, nothing in the records tells a
// fixed loss from a share, and the answer says so.
func TestOneSizeLetsThePriorDecide(t *testing.T) {
	var one, many []record.Placement
	for i := range 40 {
		neat := 4 + float64(i%9)
		one = append(one, trial.Pour(fmt.Sprintf("J%02d", i), "2025-01-02", "patio", "chute", 6, 6.5+0.05*float64(i%5)))
		many = append(many, trial.Pour(fmt.Sprintf("J%02d", i), "2025-01-02", "patio", "chute", neat, 1.05*neat+0.2+0.05*float64(i%5)))
	}
	alike := Of(historyOf(one...), setting.Options{Level: 0.90})
	if f := alike.Fixed["chute"]; f.Why != (AlikeInSize{Method: "chute", AssumedYd: 0.1}) || !slices.Equal(alike.Alike, []string{"chute"}) {
		t.Errorf("fixed yards from one size: %+v: want a word that the assumption decides", f)
	}
	f := Of(historyOf(many...), setting.Options{Level: 0.90}).Fixed["chute"]
	if f.Why != nil {
		t.Errorf("fixed yards from nine sizes: %+v: want no such word", f)
	}
	trial.Near(t, "fixed yards of 1.05·V + 0.2 to 0.4", f.Value, 0.3, 0.12)
}

// A use never seen is predicted more widely than one seen often, and close to
// the average of those seen; so is a method.
func TestWhatWasNeverSeenIsPredictedWider(t *testing.T) {
	m, err := Fit(historyOf(twoUses()...), setting.OveragePriors{})
	if err != nil {
		t.Fatal(err)
	}
	width := func(job Job) float64 {
		next, err := m.Next(job)
		if err != nil {
			t.Fatal(err)
		}
		return next.Ratio.Quantile(0.9) - next.Ratio.Quantile(0.1)
	}
	seen := width(Job{"patio", "chute", "", 4})
	if never := width(Job{"helipad", "chute", "", 4}); never <= seen {
		t.Errorf("a use never seen spreads by %v, one seen by %v", never, seen)
	}
	if never := width(Job{"patio", "buggy", "", 4}); never <= seen {
		t.Errorf("a method never used spreads by %v, one used by %v", never, seen)
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := m.Next(Job{"patio", "chute", "", bad}); err == nil {
			t.Errorf("a neat volume of %v was taken", bad)
		}
	}
}

// A job of an open kind is one of those in the records: its mean is their mean
// in the shares of the records, its variance by the law of total variance.
func TestAnOpenJobIsAMixtureOfItsKinds(t *testing.T) {
	m, err := Fit(historyOf(twoUses()...), setting.OveragePriors{})
	if err != nil {
		t.Fatal(err)
	}
	law := func(job Job) (mean, variance float64) {
		next, err := m.Next(job)
		if err != nil {
			t.Fatal(err)
		}
		return next.Ratio.Mean(), next.Ratio.Var()
	}
	patioMean, patioVar := law(Job{"patio", "chute", "", 5}) // 4 of 8 by chute
	driveMean, driveVar := law(Job{"driveway", "chute", "", 5})
	mean, variance := law(Job{"", "chute", "", 5})
	trial.Near(t, "mean", mean, (patioMean+driveMean)/2, 1e-12)
	// Joined cell by cell of the grid, so between the spread within the kinds
	// and that with all of the difference between them.
	within, between := (patioVar+driveVar)/2, (patioMean-driveMean)*(patioMean-driveMean)/4
	trial.Near(t, "variance", variance, within+between, 0.05*between+1e-9)
}
