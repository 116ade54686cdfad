package pool

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
)

// Four units of one group with 0, 2, 4 and 6 events in as much each: μ = 3, X² =
// (9+1+1+9)/3 = 20/3 over 3 degrees of freedom. A group without events tells
// nothing.
func TestDispersionByHand(t *testing.T) {
	d, err := CountDispersion([]float64{0, 2, 4, 6, 0, 0}, []float64{1, 1, 1, 1, 5, 5}, []int{7, 7, 7, 7, 9, 9})
	if err != nil || math.Abs(d.Estimate-20./9) > 1e-12 {
		t.Errorf("%+v %v", d, err)
	}
	one, err := CountDispersion([]float64{3}, []float64{1}, []int{0})
	if err != nil || one.Estimate != 1 || len(one.Phi) != 1 {
		t.Errorf("%+v %v", one, err)
	}
	for want, err := range map[error]error{
		stat.ErrShape:  second(CountDispersion([]float64{1}, nil, nil)),
		stat.ErrDomain: second(CountDispersion([]float64{1}, []float64{0}, []int{0})),
	} {
		if !errors.Is(err, want) {
			t.Errorf("%v, want %v", err, want)
		}
	}
}

func second(_ Dispersion, err error) error { return err }

// Clogs that come together on a job: each job has a factor of its own, with a
// coefficient of variation of 1. Pooled as Poisson counts the 90 % intervals hold
// the rates far too seldom; with dispersion by job they hold them about as often
// as they say, and with plain Poisson counts they lose little.
func TestDispersedIntervalsHold(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	for _, c := range []struct {
		cv              float64
		plainMost       float64
		least, mostHeld float64
	}{{1, 0.80, 0.81, 0.97}, {0, 0.95, 0.86, 0.97}} {
		var plain, dispersed, n float64
		for range 60 {
			rates, y, e := make([]float64, 5), make([]float64, 5), make([]float64, 5)
			var events, exposure []float64
			var group []int
			for g := range rates {
				rates[g] = distuv.Gamma{Alpha: 4, Beta: 4. / 3, Src: rng}.Rand()
				for range 25 {
					yd, factor := 0.2+0.6*rng.Float64(), 1.
					if c.cv > 0 {
						factor = distuv.Gamma{Alpha: 1 / (c.cv * c.cv), Beta: 1 / (c.cv * c.cv), Src: rng}.Rand()
					}
					count := distuv.Poisson{Lambda: rates[g]*yd*factor + 1e-300, Src: rng}.Rand()
					events, exposure, group = append(events, count), append(exposure, yd), append(group, g)
					y[g] += count
					e[g] += yd
				}
			}
			d, err := CountDispersion(events, exposure, group)
			if err != nil {
				t.Fatal(err)
			}
			at := func(g int, phi float64) (GammaMixture, error) {
				scaled := func(xs []float64) (out []float64) {
					for _, x := range xs {
						out = append(out, x/phi)
					}
					return out
				}
				grid, err := GammaPoissonGrid(scaled(y), scaled(e), WideRatePrior())
				if err != nil {
					return GammaMixture{}, err
				}
				return grid.Outfit(g)
			}
			for g, rate := range rates {
				one, err1 := at(g, 1)
				all, err2 := d.Dispersed(func(phi float64) (GammaMixture, error) { return at(g, phi) })
				if err := errors.Join(err1, err2); err != nil {
					t.Fatal(err)
				}
				holds := func(m GammaMixture) float64 {
					if p := m.CDF(rate); p >= 0.05 && p <= 0.95 {
						return 1
					}
					return 0
				}
				plain, dispersed, n = plain+holds(one), dispersed+holds(all), n+1
			}
		}
		t.Logf("cv %v: plain %.3f, dispersed %.3f of %v", c.cv, plain/n, dispersed/n, n)
		if plain/n > c.plainMost || dispersed/n < c.least || dispersed/n > c.mostHeld {
			t.Errorf("cv %v: plain %.3f, dispersed %.3f", c.cv, plain/n, dispersed/n)
		}
	}
}
