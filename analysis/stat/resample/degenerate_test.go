package resample

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pourback/analysis/stat"
)

var errOdd = errors.New("odd")

func TestQuestionsWithoutAnswer(t *testing.T) {
	one := Stateless(mean([]float64{1}))
	two := Stateless(mean([]float64{1, 2}))
	broken := Stateless(func(out, _ []float64) error { out[0] = math.NaN(); return nil })
	refuses := Stateless(func(_, _ []float64) error { return errOdd })
	onlyWhole := Stateless(func(out, w []float64) error {
		for _, x := range w {
			if x != 1 {
				return errOdd
			}
		}
		out[0] = 1
		return nil
	})
	boot := func(p Plan, s func() Statistic) error { _, err := Bootstrap(p, s); return err }
	jack := func(p Plan, s func() Statistic) error { _, err := Jackknife(p, s); return err }
	given := func(p Plan, rows [][]int) error { _, err := Given(p, rows, two); return err }
	for name, c := range map[string]struct{ got, want error }{
		"no rows":              {boot(Plan{Draws: 99}, one), stat.ErrNoData},
		"one draw":             {boot(Plan{Rows: 1, Draws: 1}, one), stat.ErrTooFew},
		"labels short":         {boot(Plan{Rows: 2, Clusters: []int{1}, Draws: 9}, two), stat.ErrShape},
		"NaN from the data":    {boot(Plan{Rows: 2, Draws: 9}, broken), stat.ErrNotFinite},
		"error from the data":  {boot(Plan{Rows: 2, Draws: 9}, refuses), errOdd},
		"all samples fail":     {boot(Plan{Rows: 40, Draws: 9}, onlyWhole), stat.ErrTooFew},
		"jackknife of nothing": {jack(Plan{}, one), stat.ErrNoData},
		"jackknife of one":     {jack(Plan{Rows: 1}, one), stat.ErrTooFew},
		"jackknife of a crowd": {jack(Plan{Rows: 2, Clusters: []int{4, 4}}, two), stat.ErrTooFew},
		"jackknife fails":      {jack(Plan{Rows: 3}, onlyWhole), errOdd},
		"row out of range":     {given(Plan{Rows: 2}, [][]int{{0, 1}, {2, 0}}), stat.ErrDomain},
		"row below 0":          {given(Plan{Rows: 2}, [][]int{{0, 1}, {-1, 0}}), stat.ErrDomain},
		"no samples":           {given(Plan{Rows: 2}, nil), stat.ErrTooFew},
		"no Monte Carlo draws": {MonteCarlo(0, 1, func(*rand.Rand, int, int) {}), stat.ErrNoData},
	} {
		if !errors.Is(c.got, c.want) {
			t.Errorf("%s: got %v, want %v", name, c.got, c.want)
		}
	}
}

func TestLimitsWithoutAnswer(t *testing.T) {
	s, err := Bootstrap(Plan{Rows: 3, Draws: 39, Seed: 1}, Stateless(mean([]float64{1, 2, 6})))
	if err != nil {
		t.Fatal(err)
	}
	percentile := func(j int, level float64) error { _, err := s.Percentile(j, level); return err }
	bca := func(s *Sample, j *Jack) error { _, err := s.BCa(0, .9, j); return err }
	lopsided := &Sample{Estimate: []float64{9}, Draws: [][]float64{make([]float64, 50)}}
	for name, c := range map[string]struct{ got, want error }{
		"too few draws":        {percentile(0, .95), stat.ErrTooFew},
		"level 1":              {percentile(0, 1), stat.ErrDomain},
		"level NaN":            {percentile(0, math.NaN()), stat.ErrDomain},
		"answer not there":     {percentile(1, .9), stat.ErrShape},
		"no jackknife":         {bca(s, nil), stat.ErrShape},
		"huge acceleration":    {bca(s, &Jack{Acceleration: []float64{3}}), stat.ErrDomain},
		"all draws on a side":  {bca(lopsided, &Jack{Acceleration: []float64{0}}), stat.ErrDomain},
		"standard error of no": {func() error { _, err := (*Sample)(nil).SE(0); return err }(), stat.ErrShape},
	} {
		if !errors.Is(c.got, c.want) {
			t.Errorf("%s: got %v, want %v", name, c.got, c.want)
		}
	}
	if err := percentile(0, .94); err != nil {
		t.Errorf("39 draws serve a level of 0.94: %v", err)
	}
}

// All values tied: every draw is the estimate, the limits close on it, and the
// jackknife says that nothing moves.
func TestAllTied(t *testing.T) {
	xs := []float64{7, 7, 7, 7}
	s, err := Bootstrap(Plan{Rows: 4, Draws: 99}, Stateless(mean(xs)))
	if err != nil {
		t.Fatal(err)
	}
	e, err := s.Percentile(0, .9)
	if err != nil {
		t.Fatal(err)
	}
	j, err := Jackknife(Plan{Rows: 4}, Stateless(mean(xs)))
	if err != nil {
		t.Fatal(err)
	}
	if e.Low != 7 || e.High != 7 || e.Value != 7 || j.SE[0] != 0 || j.Acceleration[0] != 0 {
		t.Errorf("limits %v to %v, jackknife %+v", e.Low, e.High, j)
	}
	if _, err := s.BCa(0, .9, j); !errors.Is(err, stat.ErrDomain) {
		t.Errorf("BCa of tied values: %v", err)
	}
}

// Samples without an answer are left out, counted and, when many, warned of.
func TestFailuresAreCounted(t *testing.T) {
	needsFirst := func(out, w []float64) error {
		if w[0] == 0 {
			return errOdd
		}
		out[0] = w[0]
		return nil
	}
	s, err := Bootstrap(Plan{Rows: 3, Draws: 500, Seed: 8}, Stateless(needsFirst))
	if err != nil {
		t.Fatal(err)
	}
	// A row is missed by (2/3)³ = 0.296 of the samples; 5 standard errors 0.10.
	if share := float64(s.Failed) / 500; math.Abs(share-.296) > .1 {
		t.Errorf("%v of the samples failed", share)
	}
	if len(s.Draws[0])+s.Failed != 500 || len(s.Warnings) != 1 {
		t.Errorf("%d kept, %d failed, warnings %q", len(s.Draws[0]), s.Failed, s.Warnings)
	}
}

// One giant cluster leaves nothing to vary.
func TestOneGiantCluster(t *testing.T) {
	s, err := Bootstrap(Plan{Rows: 3, Clusters: []int{1, 1, 1}, Draws: 99}, Stateless(mean([]float64{1, 2, 6})))
	if err != nil {
		t.Fatal(err)
	}
	if se, err := s.SE(0); err != nil || se != 0 {
		t.Errorf("SE %v, %v", se, err)
	}
}
