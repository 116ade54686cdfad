package score

import (
	"testing"

	"pourback/analysis/internal/reftest"
)

// TestRollingCars: stopping distance over speed (Ezekiel 1930, datasets::cars)
// in row order, each forecast from the rows before it as the next of a normal
// sample.
func TestRollingCars(t *testing.T) {
	r := reftest.Load(t, "rolling-cars")
	cars, _ := reftest.Table(t, "cars.csv")
	ratios := make([]float64, len(cars["U"]))
	for i := range ratios {
		ratios[i] = cars["U"][i] / cars["V"][i]
	}
	plan := Plan{Tau: r.Float(t, "inputs.tau"), Level: r.Float(t, "inputs.interval")}
	splits, err := Splits(EachItsOwn(len(ratios)), int(r.Float(t, "inputs.warmup")))
	noError(t, err)
	record, err := Roll(ratios, splits, plan, func(s Split) ([]Forecast, error) {
		f, err := NextOfSample(ratios[:s.From], plan)
		return []Forecast{f}, err
	})
	noError(t, err)
	s, err := record.Summary(.95)
	noError(t, err)
	r.Check(t, "pinball_mean", s.Pinball)
	r.Check(t, "coverage", s.Coverage.Value)
	r.Check(t, "interval_score_mean", s.IntervalScore)
	r.Check(t, "below_quantile_share", s.Below.Value)
	r.Check(t, "crps_normal_mean", s.CRPS)
}

func TestMultiplicityReference(t *testing.T) {
	r := reftest.Load(t, "multiplicity-bh")
	p := r.Floats(t, "inputs.p")
	for name, method := range map[string]func([]float64) ([]float64, error){
		"bonferroni": Bonferroni, "holm": Holm, "hochberg": Hochberg, "BH": BenjaminiHochberg, "BY": BenjaminiYekutieli,
	} {
		got, err := method(p)
		noError(t, err)
		r.CheckAll(t, name, got)
	}
	// The paper's own conclusion: four hypotheses are rejected at 0.05.
	bh, err := BenjaminiHochberg(p)
	noError(t, err)
	rejected := 0
	for _, q := range bh {
		if q <= .05 {
			rejected++
		}
	}
	if rejected != 4 {
		t.Errorf("Benjamini-Hochberg rejects %d, the paper 4", rejected)
	}
}

func TestVarianceReference(t *testing.T) {
	r := reftest.Load(t, "variance-webb")
	for _, what := range []string{"materials", "labor"} {
		in := func(name string) float64 { return r.Float(t, "inputs."+what+"."+name) }
		v, err := PriceUsage(Line{in("AQ"), in("AP")}, Line{in("SQ"), in("SP")})
		noError(t, err)
		r.Check(t, what+".price_var_U", v.Price)
		r.Check(t, what+".usage_var_U", v.Usage)
		r.Check(t, what+".total_U", v.Total)
		actual, err := Exact(in("AQ"), in("AP"))
		noError(t, err)
		standard, err := Exact(in("SQ"), in("SP"))
		noError(t, err)
		c, err := PriceUsageCents(actual, standard)
		noError(t, err)
		r.Check(t, what+".price_var_U", float64(c.Price)/100)
		r.Check(t, what+".usage_var_U", float64(c.Usage)/100)
		r.Check(t, what+".total_U", float64(c.Total)/100)
	}
}

func TestBennetReference(t *testing.T) {
	r := reftest.Load(t, "bennet")
	lines := func(month string) (floats []Line, exact []ExactLine) {
		price, quantity := r.Floats(t, "inputs.p"+month), r.Floats(t, "inputs.q"+month)
		for i := range price {
			floats = append(floats, Line{quantity[i], price[i]})
			e, err := Exact(quantity[i], price[i])
			noError(t, err)
			exact = append(exact, e)
		}
		return floats, exact
	}
	before, before2 := lines("0")
	after, after2 := lines("1")
	c, err := Bennet(before, after)
	noError(t, err)
	r.Check(t, "price_effect", c.Price)
	r.Check(t, "quantity_effect", c.Quantity)
	r.Check(t, "of_which_volume", c.Volume)
	r.Check(t, "of_which_mix", c.Mix)
	r.Check(t, "total", c.Total)
	cents, err := BennetCents(before2, after2)
	noError(t, err)
	if want := (ChangeCents{Price: 90000, Volume: 48146, Mix: 65854, Total: 204000}); cents != want {
		t.Errorf("to the cent %+v, want %+v", cents, want)
	}
}
