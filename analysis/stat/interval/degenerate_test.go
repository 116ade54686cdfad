package interval_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
)

var (
	nan = math.NaN()
	inf = math.Inf(1)
)

// failure drops the answer of a call and keeps its error.
func failure[T any](_ T, err error) error { return err }

func failure2[T any](_, _ T, err error) error { return err }

func TestQuestionsWithoutAnswer(t *testing.T) {
	alike := []float64{0.1, 0.1, 0.1, 0.1}
	ok := []float64{1, 2, 4}
	rate := func(y int, e float64) interval.Rate { return interval.Rate{Events: y, Exposure: e} }
	for name, c := range map[string]struct{ got, want error }{
		"no trials":               {failure(interval.Wilson(0, 0, 0.95)), stat.ErrNoData},
		"more successes":          {failure(interval.ClopperPearson(3, 2, 0.95)), stat.ErrDomain},
		"fewer than none":         {failure(interval.Jeffreys(-1, 2, 0.95)), stat.ErrDomain},
		"level 1":                 {failure(interval.Wilson(1, 2, 1)), stat.ErrDomain},
		"level beyond accuracy":   {failure(interval.ClopperPearson(1, 2, 1-1e-9)), stat.ErrDomain},
		"level NaN":               {failure(interval.Wilson(1, 2, nan)), stat.ErrDomain},
		"no exposure":             {failure(interval.Garwood(1, 0, 0.95)), stat.ErrDomain},
		"exposure NaN":            {failure(interval.Garwood(1, nan, 0.95)), stat.ErrDomain},
		"exposure infinite":       {failure(interval.Garwood(1, inf, 0.95)), stat.ErrDomain},
		"exposure vanishing":      {failure(interval.Garwood(9, 5e-324, 0.95)), stat.ErrNotFinite},
		"events under none":       {failure(interval.Garwood(-1, 1, 0.95)), stat.ErrDomain},
		"mean of none":            {failure(interval.MeanT(nil, 0.95)), stat.ErrNoData},
		"mean of one":             {failure(interval.MeanT(ok[:1], 0.95)), stat.ErrTooFew},
		"mean of one value":       {failure(interval.MeanT(alike, 0.95)), stat.ErrNoVariation},
		"mean of zeros":           {failure(interval.MeanT([]float64{0, 0}, 0.95)), stat.ErrNoVariation},
		"mean with NaN":           {failure(interval.MeanT([]float64{1, nan}, 0.95)), stat.ErrNotFinite},
		"mean overflows":          {failure(interval.MeanT([]float64{1e308, 1e308, -1e308}, 0.95)), stat.ErrNotFinite},
		"ratio of none":           {failure(interval.Ratio(nil, nil, 0.95)), stat.ErrNoData},
		"ratio of one":            {failure(interval.Ratio(ok[:1], ok[:1], 0.95)), stat.ErrTooFew},
		"ratio of two lengths":    {failure(interval.Ratio(ok, ok[:2], 0.95)), stat.ErrShape},
		"one ratio":               {failure(interval.Ratio([]float64{1.1, 2.2, 4.4}, ok, 0.95)), stat.ErrNoVariation},
		"ratio to nothing":        {failure2(interval.RatioSE(ok, make([]float64, 3))), stat.ErrDomain},
		"ratio to less":           {failure2(interval.RatioSE(ok, []float64{1, -1, 2})), stat.ErrDomain},
		"ratio with infinity":     {failure2(interval.RatioSE(ok, []float64{1, inf, 2})), stat.ErrNotFinite},
		"ratio overflows":         {failure2(interval.RatioSE([]float64{1e308, 1e308}, []float64{1, 1})), stat.ErrNotFinite},
		"a ratio to nothing":      {failure2(interval.MeanOfRatios(ok, []float64{1, 0, 2})), stat.ErrDomain},
		"log of nothing":          {failure2(interval.MeanLogRatio([]float64{1, 0, 2}, ok)), stat.ErrDomain},
		"quantile of none":        {failure(interval.Quantiles(nil, 0.5)), stat.ErrNoData},
		"quantile with NaN":       {failure(interval.Quantiles([]float64{1, nan}, 0.5)), stat.ErrNotFinite},
		"quantile with infinity":  {failure(interval.Quantiles([]float64{1, -inf}, 0.5)), stat.ErrNotFinite},
		"quantile at 1.5":         {failure(interval.Quantiles(ok, 0.5, 1.5)), stat.ErrDomain},
		"quantile at NaN":         {failure(interval.Quantiles(ok, nan)), stat.ErrDomain},
		"grouped lengths":         {failure(interval.GroupQuantiles(ok, []int{0}, 1, 0.5)), stat.ErrShape},
		"group out of range":      {failure(interval.GroupQuantiles(ok, []int{0, 1, 2}, 2, 0.5)), stat.ErrDomain},
		"group below range":       {failure(interval.GroupQuantiles(ok, []int{0, -1, 1}, 2, 0.5)), stat.ErrDomain},
		"groups below none":       {failure(interval.GroupQuantiles(ok, []int{0, 1, 1}, -2, 0.5)), stat.ErrDomain},
		"quantile limits at 0":    {failure(interval.QuantileInterval(ok, 0, 0.9)), stat.ErrDomain},
		"bound by too few":        {failure(interval.ConformalUpper(ok, 0.9)), stat.ErrTooFew},
		"arm without trials":      {failure(interval.Fisher(table(1, 2, 0, 0))), stat.ErrNoData},
		"arm with too many":       {failure(interval.Newcombe(table(3, 2, 0, 1), 0.95)), stat.ErrDomain},
		"ratio to no events":      {failure(interval.RiskRatio(table(3, 4, 0, 9), 0.95)), stat.ErrNoEvents},
		"odds to no events":       {failure(interval.OddsRatio(table(3, 4, 0, 9), 0.95)), stat.ErrNoEvents},
		"odds of all":             {failure(interval.OddsRatio(table(4, 4, 3, 9), 0.95)), stat.ErrNoEvents},
		"two rates, no events":    {failure(interval.CompareRates(rate(0, 1), rate(0, 2), 0.95)), stat.ErrNoEvents},
		"two rates, no exposure":  {failure(interval.CompareRates(rate(1, 1), rate(1, 0), 0.95)), stat.ErrDomain},
		"two rates, far apart":    {failure(interval.CompareRates(rate(1, 1e300), rate(1, 1e-300), 0.95)), stat.ErrDomain},
		"one rate":                {failure(interval.EqualRates([]interval.Rate{rate(1, 1)})), stat.ErrTooFew},
		"rates without events":    {failure(interval.EqualRates([]interval.Rate{rate(0, 1), rate(0, 1)})), stat.ErrNoEvents},
		"rates, one vanishing":    {failure(interval.EqualRates([]interval.Rate{rate(1, 5e-324), rate(2, 1e300)})), stat.ErrDomain},
		"rates, sum overflows":    {failure(interval.EqualRates([]interval.Rate{rate(1, 1.7e308), rate(2, 1.7e308)})), stat.ErrDomain},
		"E-value of 0":            {failure2(interval.EValue(stat.Estimate{})), stat.ErrDomain},
		"E-value outside limits":  {failure2(interval.EValue(stat.Estimate{Value: 2, Low: 3, High: 4})), stat.ErrDomain},
		"E-value of NaN limits":   {failure2(interval.EValue(stat.Estimate{Value: 2, Low: nan, High: 4})), stat.ErrDomain},
		"E-value of infinity":     {failure2(interval.EValue(stat.Estimate{Value: inf, Low: 1, High: inf})), stat.ErrNotFinite},
		"E-value overflows":       {failure2(interval.EValue(stat.Estimate{Value: 1e308, Low: 1, High: inf})), stat.ErrNotFinite},
		"hurdle of none":          {failure(interval.HurdleLognormal(nil, 0.95)), stat.ErrNoData},
		"hurdle of zeros":         {failure(interval.HurdleLognormal([]float64{0, 0}, 0.95)), stat.ErrNoData},
		"hurdle with one":         {failure(interval.HurdleLognormal([]float64{0, 3}, 0.95)), stat.ErrTooFew},
		"hurdle of one value":     {failure(interval.HurdleLognormal([]float64{0, 3, 3}, 0.95)), stat.ErrNoVariation},
		"hurdle of ones":          {failure(interval.HurdleLognormal([]float64{0, 1, 1}, 0.95)), stat.ErrNoVariation},
		"hurdle below 0":          {failure(interval.HurdleLognormal([]float64{0, -1, 3}, 0.95)), stat.ErrDomain},
		"hurdle overflows":        {failure(interval.HurdleLognormal([]float64{1e-300, 1e300}, 0.95)), stat.ErrNotFinite},
		"t at 0":                  {failure(interval.StudentQuantile(0, 3)), stat.ErrDomain},
		"t of NaN":                {failure(interval.StudentQuantile(nan, 3)), stat.ErrDomain},
		"t without freedom":       {failure(interval.StudentQuantile(0.5, 0)), stat.ErrDomain},
		"t of freedom NaN":        {failure(interval.StudentQuantile(0.5, nan)), stat.ErrDomain},
		"hurdle quantile at 1":    {failure(interval.Hurdle{PAny: 1}.Quantile(1)), stat.ErrDomain},
		"conformal at level 0":    {failure(interval.ConformalUpper(ok, 0)), stat.ErrDomain},
		"conformal bound of none": {failure(interval.ConformalUpper(nil, 0.5)), stat.ErrNoData},
	} {
		if !errors.Is(c.got, c.want) {
			t.Errorf("%s: got error %v, want one that is %q", name, c.got, c.want)
		}
	}
}

// Values and ratios all alike are seen as such however sums are rounded.
func TestOneValueManyTimes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1000, 1000).Draw(t, "x")
		xs := make([]float64, rapid.IntRange(2, 60).Draw(t, "n"))
		for i := range xs {
			xs[i] = x
		}
		if _, err := interval.MeanT(xs, 0.95); !errors.Is(err, stat.ErrNoVariation) {
			t.Fatalf("mean of %d times %v: error %v", len(xs), x, err)
		}
		if x > 0 {
			den := rapid.SliceOfN(rapid.Float64Range(0.5, 20), len(xs), len(xs)).Draw(t, "den")
			num := make([]float64, len(xs))
			for i, d := range den {
				num[i] = x * d
			}
			if _, err := interval.Ratio(num, den, 0.95); !errors.Is(err, stat.ErrNoVariation) {
				t.Fatalf("ratio of %d times %v: error %v", len(xs), x, err)
			}
			if _, err := interval.HurdleLognormal(xs, 0.95); !errors.Is(err, stat.ErrNoVariation) {
				t.Fatalf("hurdle of %d times %v: error %v", len(xs), x, err)
			}
		}
	})
}

// Sparse tables do have answers, and these are they.
func TestSparseTables(t *testing.T) {
	if p := must[interval.Test](t)(interval.Fisher(table(0, 5, 0, 9))).P; p != 1 {
		t.Errorf("no events at all: p %v, want 1", p)
	}
	if p := must[interval.Test](t)(interval.Fisher(table(1, 1, 0, 1))).P; p != 1 {
		t.Errorf("one of one against none of one: p %v, want 1", p)
	}
	none := must[stat.Estimate](t)(interval.RiskRatio(table(0, 40, 6, 40), 0.95))
	if none.Value != 0 || none.Low != 0 || !(none.High > 0 && none.High < 1) {
		t.Errorf("no events against 6 of 40: %+v, want 0 up to less than 1", none)
	}
	odds := must[stat.Estimate](t)(interval.OddsRatio(table(0, 40, 6, 40), 0.95))
	if odds.Value != 0 || odds.Low != 0 || !(odds.High > 0 && odds.High < 1) {
		t.Errorf("no events against 6 of 40: %+v, want 0 up to less than 1", odds)
	}
	all := must[stat.Estimate](t)(interval.MiettinenNurminen(table(5, 5, 0, 7), 0.95))
	if all.Value != 1 || all.High != 1 || !(all.Low > 0.2 && all.Low < 1) {
		t.Errorf("all against none: %+v, want 1 from well above 0", all)
	}
	q := must[interval.QuantileEstimate](t)(interval.QuantileInterval([]float64{7}, 0.5, 0.95))
	if q.Value != 7 || !math.IsInf(q.Low, -1) || !math.IsInf(q.High, 1) {
		t.Errorf("median of one value: %+v, want it without bounds", q)
	}
	one := must[[]float64](t)(interval.Quantiles([]float64{7}, 0, 0.3, 1))
	if one[0] != 7 || one[1] != 7 || one[2] != 7 {
		t.Errorf("quantiles of one value: %v", one)
	}
	wide := must[[]float64](t)(interval.Quantiles([]float64{-1.7e308, 1.7e308}, 0.5))
	if wide[0] != 0 {
		t.Errorf("median of the two ends of the number line: %v, want 0", wide[0])
	}
}

// anything draws numbers of every kind a file or a division can yield.
func anything() *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Float64(), rapid.Float64Range(-10, 10),
		rapid.SampledFrom([]float64{0, 1, 0.5, nan, inf, -inf, 5e-324, 1.7e308, -1.7e308}))
}

func sound(t *rapid.T, err error, xs ...float64) {
	t.Helper()
	for _, x := range xs {
		if math.IsNaN(x) {
			t.Fatalf("NaN in %v (error %v)", xs, err)
		}
	}
}

func soundEstimate(t *rapid.T, e stat.Estimate, err error) {
	t.Helper()
	sound(t, err, e.Value, e.Low, e.High, e.Level)
	if math.IsInf(e.Value, 0) {
		t.Fatalf("infinite value %+v", e)
	}
}

func TestNothingIsNaN(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := rapid.SliceOfN(anything(), 0, 6).Draw(t, "xs")
		ys := rapid.SliceOfN(anything(), len(xs), len(xs)).Draw(t, "ys")
		p, level := anything().Draw(t, "p"), anything().Draw(t, "level")
		counts := rapid.SliceOfN(rapid.OneOf(rapid.IntRange(-1, 9), rapid.IntRange(0, 100_000)), 4, 4).Draw(t, "counts")
		e, err := interval.MeanT(xs, level)
		soundEstimate(t, e, err)
		e, err = interval.Ratio(xs, ys, level)
		soundEstimate(t, e, err)
		for _, f := range []func(num, den []float64) (float64, float64, error){interval.RatioSE, interval.MeanOfRatios, interval.MeanLogRatio} {
			a, b, err := f(xs, ys)
			sound(t, err, a, b)
		}
		qs, err := interval.Quantiles(xs, p, level)
		sound(t, err, qs...)
		q, err := interval.QuantileInterval(xs, p, level)
		soundEstimate(t, q.Estimate, err)
		c, err := interval.ConformalUpper(xs, level)
		sound(t, err, c.Bound)
		h, err := interval.HurdleLognormal(xs, level)
		soundEstimate(t, h.PositiveMean, err)
		sound(t, err, h.Mean, h.PlainMean, h.SELog, h.SDLog)
		x, err := interval.StudentQuantile(p, level*30)
		sound(t, err, x)
		v, l, err := interval.EValue(stat.Estimate{Value: p, Low: level, High: level * 2})
		sound(t, err, v, l)
		soundComparisons(t, counts, xs, level)
	})
}

func soundComparisons(t *rapid.T, counts []int, exposures []float64, level float64) {
	for _, f := range proportionMethods {
		e, err := f(counts[0], counts[1], level)
		soundEstimate(t, e, err)
	}
	pair := table(counts[0], counts[1], counts[2], counts[3])
	for _, f := range []func(interval.TwoProportions, float64) (stat.Estimate, error){
		interval.Newcombe, interval.MiettinenNurminen, interval.RiskRatio, interval.OddsRatio,
	} {
		e, err := f(pair, level)
		soundEstimate(t, e, err)
	}
	fisher, err := interval.Fisher(pair)
	sound(t, err, fisher.P)
	var rates []interval.Rate
	for i, exposure := range exposures {
		rates = append(rates, interval.Rate{Events: counts[i%4], Exposure: exposure})
	}
	test, err := interval.EqualRates(rates)
	sound(t, err, test.P, test.X2, test.G2, test.PX2, test.PG2)
	if len(rates) > 1 {
		e, err := interval.Garwood(counts[0], exposures[0], level)
		soundEstimate(t, e, err)
		c, err := interval.CompareRates(rates[0], rates[1], level)
		sound(t, err, c.Ratio, c.Low, c.High, c.P, c.MidP, c.Difference, c.DiffSE)
	}
}
