package score

import (
	"errors"
	"math"
	"math/big"
	"testing"

	"pourback/analysis/stat"
)

var (
	nan = math.NaN()
	inf = math.Inf(1)
)

func of[T any](_ T, err error) error { return err }

func TestQuestionsWithoutAnswer(t *testing.T) {
	plan := Plan{Tau: .75, Level: .9}
	one := func(f Forecast) func(Split) ([]Forecast, error) {
		return func(Split) ([]Forecast, error) { return []Forecast{f}, nil }
	}
	roll := func(ys []float64, p Plan, splits []Split, f Forecast) error { return of(Roll(ys, splits, p, one(f))) }
	ys, last := []float64{1, 2, 3}, []Split{{2, 3}}
	huge := ExactLine{math.MaxInt64, 1}
	line := ExactLine{1000, 100}
	for name, c := range map[string]struct{ got, want error }{
		"pinball NaN":           {of(Pinball(nan, 1, .5)), stat.ErrNotFinite},
		"quantile 1":            {of(Pinball(1, 1, 1)), stat.ErrDomain},
		"interval backwards":    {of(IntervalScore(1, 3, 2, .9)), stat.ErrDomain},
		"interval infinite":     {of(IntervalScore(1, -inf, 2, .9)), stat.ErrNotFinite},
		"interval level 1":      {of(IntervalScore(1, 0, 2, 1)), stat.ErrDomain},
		"CRPS spread below 0":   {of(CRPSNormal(1, 1, -1)), stat.ErrDomain},
		"CRPS NaN":              {of(CRPSNormal(1, nan, 1)), stat.ErrNotFinite},
		"coverage of nothing":   {of(Coverage(nil, nil, nil, .95)), stat.ErrNoData},
		"coverage short":        {of(Coverage(ys, ys, nil, .95)), stat.ErrShape},
		"coverage NaN":          {of(Coverage([]float64{nan}, ys[:1], ys[:1], .95)), stat.ErrNotFinite},
		"no rows":               {of(Splits(nil, 0)), stat.ErrTooFew},
		"one period":            {of(Splits([]int{3, 3, 3}, 0)), stat.ErrTooFew},
		"all warm-up":           {of(Splits([]int{1, 2, 3}, 9)), stat.ErrTooFew},
		"time runs back":        {of(Splits([]int{1, 3, 2}, 0)), stat.ErrDomain},
		"roll NaN":              {roll([]float64{1, nan, 3}, plan, last, Forecast{}), stat.ErrNotFinite},
		"roll without origins":  {roll(ys, plan, nil, Forecast{}), stat.ErrNoData},
		"roll past the end":     {roll(ys, plan, []Split{{3, 4}}, Forecast{}), stat.ErrShape},
		"roll backwards":        {roll(ys, plan, []Split{{2, 2}}, Forecast{}), stat.ErrShape},
		"roll two with one":     {roll(ys, plan, []Split{{1, 3}}, Forecast{}), stat.ErrShape},
		"roll tau 0":            {roll(ys, Plan{Level: .9}, last, Forecast{}), stat.ErrDomain},
		"roll level 0":          {roll(ys, Plan{Tau: .5}, last, Forecast{}), stat.ErrDomain},
		"forecast NaN":          {roll(ys, plan, last, Forecast{Mean: nan}), stat.ErrNotFinite},
		"forecast backwards":    {roll(ys, plan, last, Forecast{Low: 2, High: 1}), stat.ErrDomain},
		"loss beyond numbers":   {roll([]float64{1, -1.7e308}, plan, []Split{{1, 2}}, Forecast{Quantile: 1.7e308}), stat.ErrNotFinite},
		"summary of nothing":    {of((&Record{}).Summary(.9)), stat.ErrNoData},
		"next of one":           {of(NextOfSample([]float64{1}, plan)), stat.ErrTooFew},
		"next of NaN":           {of(NextOfSample([]float64{1, nan}, plan)), stat.ErrNotFinite},
		"next at tau 2":         {of(NextOfSample(ys, Plan{Tau: 2, Level: .9})), stat.ErrDomain},
		"losses short":          {of(PairedDifference(ys, ys[:2], []int{1, 2, 3}, 99, 1, .9)), stat.ErrShape},
		"losses NaN":            {of(PairedDifference([]float64{1, nan}, ys[:2], []int{1, 2}, 99, 1, .9)), stat.ErrNotFinite},
		"losses none":           {of(PairedDifference(nil, nil, nil, 99, 1, .9)), stat.ErrNoData},
		"losses of one month":   {of(PairedDifference(ys, ys, []int{5, 5, 5}, 99, 1, .9)), stat.ErrTooFew},
		"no p-values":           {of(Holm(nil)), stat.ErrNoData},
		"p-value NaN":           {of(BenjaminiHochberg([]float64{.1, nan})), stat.ErrDomain},
		"p-value above 1":       {of(BenjaminiYekutieli([]float64{1.1})), stat.ErrDomain},
		"price infinite":        {of(PriceUsage(Line{1, inf}, Line{1, 1})), stat.ErrNotFinite},
		"quantity NaN":          {of(Exact(nan, 1)), stat.ErrNotFinite},
		"price too large":       {of(Exact(1, 1e20)), stat.ErrDomain},
		"count too large":       {of(PriceUsageCents(huge, line)), stat.ErrDomain},
		"material too large":    {of(Material{Used: math.MinInt64}.Variance()), stat.ErrDomain},
		"nothing to compare":    {of(Bennet(nil, nil)), stat.ErrNoData},
		"lists differ":          {of(BennetCents([]ExactLine{line}, nil)), stat.ErrShape},
		"things too large":      {of(BennetCents([]ExactLine{huge}, []ExactLine{line})), stat.ErrDomain},
		"amount too large":      {of(PriceUsageCents(ExactLine{1e15, 1e15}, line)), stat.ErrDomain},
		"parts do not add up":   {of(Apportion(7, rats(1, 2))), stat.ErrDomain},
		"parts add up to more":  {of(Apportion(1, rats(1.5, 2.5))), stat.ErrDomain},
		"part missing":          {of(Apportion(1, []*big.Rat{nil})), stat.ErrNoData},
		"cents of no parts":     {of(Apportion(1, nil)), stat.ErrDomain},
		"part beyond all cents": {of(Apportion(1, rats(1e300))), stat.ErrDomain},
	} {
		if !errors.Is(c.got, c.want) {
			t.Errorf("%s: got %v, want %v", name, c.got, c.want)
		}
	}
}

// A forecaster's own error reaches the caller, with the origin named.
func TestForecastFails(t *testing.T) {
	_, err := Roll([]float64{1, 2}, []Split{{1, 2}}, Plan{Tau: .5, Level: .9}, func(Split) ([]Forecast, error) { return nil, stat.ErrSeparated })
	if !errors.Is(err, stat.ErrSeparated) {
		t.Errorf("got %v", err)
	}
}

// A past without spread forecasts a point; all scores are then absolute errors
// or their multiples, none NaN.
func TestPastWithoutSpread(t *testing.T) {
	plan := Plan{Tau: .75, Level: .9}
	f, err := NextOfSample([]float64{2, 2, 2}, plan)
	noError(t, err)
	r, err := Roll([]float64{2, 2, 2, 3}, []Split{{3, 4}}, plan, func(Split) ([]Forecast, error) { return []Forecast{f}, nil })
	noError(t, err)
	s, err := r.Summary(.9)
	noError(t, err)
	near(t, "CRPS", s.CRPS, 1, 1e-12)
	near(t, "pinball", s.Pinball, .75, 1e-12)
	near(t, "interval score", s.IntervalScore, 20, 1e-12)
	near(t, "coverage", s.Coverage.Value, 0, 0)
}

// No parts make no cents.
func TestApportionNothing(t *testing.T) {
	got, err := Apportion(0, nil)
	if err != nil || len(got) != 0 {
		t.Errorf("%v, %v", got, err)
	}
}
