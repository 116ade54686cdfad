package survival

import (
	"math"
	"slices"
	"testing"

	"pourback/analysis/internal/reftest"
)

// columns takes the named columns of a table, less the rows where any of them
// is unknown.
func columns(t *testing.T, file string, names ...string) [][]float64 {
	t.Helper()
	table, _ := reftest.Table(t, file)
	out := make([][]float64, len(names))
	for i := range table[names[0]] {
		whole := !slices.ContainsFunc(names, func(n string) bool { return math.IsNaN(table[n][i]) })
		for j, n := range names {
			if whole {
				out[j] = append(out[j], table[n][i])
			}
		}
	}
	return out
}

// coxData takes time and event from the first two columns and covariates from
// the others.
func coxData(cols [][]float64) CoxData {
	return CoxData{Time: cols[0], Event: flags(cols[1]), X: cols[2:]}
}

func fit(t *testing.T, d CoxData, o CoxOptions) *Cox {
	t.Helper()
	c, err := FitCox(d, o)
	if err != nil {
		t.Fatal(err)
	}
	if !c.Converged {
		t.Fatalf("did not converge: %+v", c.Fit)
	}
	return c
}

// Therneau & Grambsch (2000), Modeling Survival Data, Appendix E.1.
func TestCoxSmallPublished(t *testing.T) {
	r := reftest.Load(t, "cox-test1")
	d := CoxData{Time: r.Floats(t, "inputs.time"), Event: flags(r.Floats(t, "inputs.status")), X: [][]float64{r.Floats(t, "inputs.x")}}
	for name, ties := range map[string]Ties{"efron": Efron, "breslow": Breslow} {
		c := fit(t, d, CoxOptions{Ties: ties})
		r.Check(t, name+".coef.x", c.Coef[0])
		r.Check(t, name+".se", c.SE()[0])
		r.CheckAll(t, name+".loglik", []float64{c.LogLikNull, c.LogLik})
		r.Check(t, name+".score_test", c.Score.ChiSq)
		r.Check(t, name+".n_event", float64(c.Events))
	}
}

// Lung cancer trial (Loprinzi et al. 1994) and ovarian cancer trial (Edmonson
// et al. 1979), refitted with R survival.
func TestCoxTrials(t *testing.T) {
	for id, cols := range map[string][]string{
		"cox-lung":    {"lung.csv", "time", "status", "age", "sex", "ph.ecog"},
		"cox-ovarian": {"ovarian.csv", "futime", "fustat", "age", "rx"},
	} {
		r := reftest.Load(t, id)
		c := fit(t, coxData(columns(t, cols[0], cols[1:]...)), CoxOptions{})
		for j, name := range cols[3:] {
			named := r.At(t, "expected.coef").(map[string]any)
			want := named[name].(float64)
			if math.Abs(c.Coef[j]-want) > r.Tolerance.Absolute+r.Tolerance.Relative*math.Abs(want) {
				t.Errorf("%s %s: got %.15g, want %.15g", id, name, c.Coef[j], want)
			}
		}
		r.CheckAll(t, "se", c.SE())
		r.CheckAll(t, "loglik", []float64{c.LogLikNull, c.LogLik})
		r.Check(t, "score_test", c.Score.ChiSq)
		r.Check(t, "n_event", float64(c.Events))
	}
}

// A normal prior on one log hazard ratio, by ridge regression in R.
func TestCoxNormalPrior(t *testing.T) {
	r := reftest.Load(t, "cox-normalprior-ovarian")
	precision := r.Floats(t, "inputs.prior_precision")
	var priors []NormalPrior
	for j, p := range precision {
		if p > 0 {
			prior := NormalPrior{Contrast: make([]float64, len(precision)), SD: 1 / math.Sqrt(p)}
			prior.Contrast[j] = 1
			priors = append(priors, prior)
		}
	}
	c := fit(t, coxData(columns(t, "ovarian.csv", "futime", "fustat", "age", "rx")), CoxOptions{Ties: Breslow, Priors: priors})
	r.CheckAll(t, "coef", c.Coef)
	r.CheckAll(t, "post_sd", c.SE())
}

// All events in one arm (Heinze & Schemper 2001), and the ovarian trial, with
// R coxphf.
func TestCoxFirth(t *testing.T) {
	r := reftest.Load(t, "firthcox-monotone")
	d := CoxData{Time: r.Floats(t, "inputs.time"), Event: flags(r.Floats(t, "inputs.status")), X: [][]float64{r.Floats(t, "inputs.x")}}
	c := fit(t, d, CoxOptions{Ties: Breslow, Firth: true})
	r.Check(t, "coef", c.Coef[0])
	r.Check(t, "se", c.SE()[0])
	checkLastHazard(t, r, c)

	r = reftest.Load(t, "firthcox-ovarian")
	c = fit(t, coxData(columns(t, "ovarian.csv", "futime", "fustat", "age", "rx")), CoxOptions{Ties: Breslow, Firth: true})
	r.CheckAll(t, "coef", c.Coef)
	r.CheckAll(t, "se", c.SE())
	checkLastHazard(t, r, c)
}

// checkLastHazard holds H₀ after the last event against the entry.
func checkLastHazard(t *testing.T, r *reftest.Ref, c *Cox) {
	t.Helper()
	h, err := c.CumHazard(make([]float64, len(c.Coef)))
	if err != nil {
		t.Fatal(err)
	}
	r.Check(t, "cumhaz0_last", h[0].Cum[len(h[0].Cum)-1])
}

// Rows of one institution go together (R survival, cluster=inst).
func TestCoxClusters(t *testing.T) {
	r := reftest.Load(t, "cox-lung-cluster")
	cols := columns(t, "lung_inst.csv", "time", "status", "age", "sex", "inst")
	d := coxData(cols[:4])
	d.Cluster = ints(cols[4])
	c := fit(t, d, CoxOptions{Ties: Breslow})
	r.CheckAll(t, "coef", c.Coef)
	r.CheckAll(t, "robust_se", c.SE())
	r.CheckAll(t, "naive_se", []float64{math.Sqrt(c.Cov.At(0, 0)), math.Sqrt(c.Cov.At(1, 1))})
}

// All rows set to each arm, in R by survfit on new data.
func TestStandardisedRiskLung(t *testing.T) {
	for id, ties := range map[string]Ties{"gcomp-lung365-efron": Efron, "gcomp-lung365-breslow": Breslow} {
		r := reftest.Load(t, id)
		c := fit(t, coxData(columns(t, "lung.csv", "time", "status", "sex", "age", "ph.ecog")), CoxOptions{Ties: ties})
		s, err := c.StandardisedRisk(r.Float(t, "inputs.horizon"), Arm{0: 1}, Arm{0: 2})
		if err != nil {
			t.Fatal(err)
		}
		r.Check(t, "risk.1", s.Risk[0])
		r.Check(t, "risk.2", s.Risk[1])
		r.Check(t, "risk_difference", s.Risk[1]-s.Risk[0])
		h, err := c.CumHazard([]float64{0, 0, 0})
		if err != nil {
			t.Fatal(err)
		}
		r.Check(t, "cumhaz0", h[0].At(365))
	}
}

// Grambsch-Therneau score test on the Kaplan-Meier scale (R survival 3).
func TestPropHazLung(t *testing.T) {
	r := reftest.Load(t, "zph-lung")
	c := fit(t, coxData(columns(t, "lung.csv", "time", "status", "age", "sex", "ph.ecog")), CoxOptions{})
	z, err := c.PropHazTest(nil)
	if err != nil {
		t.Fatal(err)
	}
	var chi, p []float64
	for _, test := range append(z.Term, z.Global) {
		chi, p = append(chi, test.ChiSq), append(p, test.P)
	}
	r.CheckAll(t, "chisq", chi)
	r.CheckAll(t, "p", p)
	if rows := r.Strings(t, "expected.rows"); !slices.Equal(rows, []string{"age", "sex", "ph.ecog", "GLOBAL"}) {
		t.Errorf("rows %v", rows)
	}
}

// Fits that R prints in its manuals, from memory: leukaemia maintenance (coef
// .9155, se .5119, Efron), lung by sex (−.5310, .1672) and by age and sex
// (.017045, .009223; −.513219, .167458).
func TestCoxPrinted(t *testing.T) {
	aml := reftest.Load(t, "logrank-aml")
	x := make([]float64, 23)
	for i := range x {
		if i >= 11 {
			x[i] = 1 // not maintained
		}
	}
	leukaemia := CoxData{Time: aml.Floats(t, "inputs.time"), Event: flags(aml.Floats(t, "inputs.status")), X: [][]float64{x}}
	for _, c := range []struct {
		data     CoxData
		coef, se []float64
		tol      float64
	}{
		{leukaemia, []float64{.9155}, []float64{.5119}, 5e-5},
		{coxData(columns(t, "lung.csv", "time", "status", "sex")), []float64{-.5310}, []float64{.1672}, 5e-5},
		{coxData(columns(t, "lung.csv", "time", "status", "age", "sex")), []float64{.017045, -.513219}, []float64{.009223, .167458}, 5e-7},
	} {
		f := fit(t, c.data, CoxOptions{})
		for j := range c.coef {
			near(t, "coefficient", f.Coef[j], c.coef[j], c.tol)
			near(t, "standard error", f.SE()[j], c.se[j], c.tol)
		}
	}
}

// The example of R's cox.zph, from memory: age .698, ecog.ps 2.371, global
// 3.633.
func TestPropHazOvarian(t *testing.T) {
	f := fit(t, coxData(columns(t, "ovarian.csv", "futime", "fustat", "age", "ecog.ps")), CoxOptions{})
	z, err := f.PropHazTest(nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "age", z.Term[0].ChiSq, .698, 5e-4)
	near(t, "ecog.ps", z.Term[1].ChiSq, 2.371, 5e-4)
	near(t, "global", z.Global.ChiSq, 3.633, 5e-4)
}
