package decide

import (
	"errors"
	"math"
	"testing"

	"pourback/analysis/stat"
)

var (
	nan = math.NaN()
	inf = math.Inf(1)
)

func of[T any](_ T, err error) error { return err }

func TestQuestionsWithoutAnswer(t *testing.T) {
	u, err := Normal(10, 1)
	belief(t, u, err)
	costs := OrderCosts{Price: 160, Increment: .25}
	free := OrderCosts{Increment: .25}
	steel := Steel{LogRatio: .5, Variance: 1, PriorSD: .5, Risk: .03, CallbackCost: 3500, ExtraCost: 58, AtStake: 300}
	with := func(change func(*Steel)) error { s := steel; change(&s); return of(s.Decide()) }
	belief := Ratio{Mean: 1.1, SD: .05, Omega: .1}
	choice := NormalChoice{Mean: .1, SD: .2, AtStake: 100}
	evsi := func(c NormalChoice, n0, n float64) error { _, _, err := c.EVSI(n0, n); return err }
	test := Test{Alpha: .05, Power: .8}
	grid := Grid{First: 1, Step: 1, Count: 3}
	for name, c := range map[string]struct{ got, want error }{
		"normal without spread":    {of(Normal(1, 0)), stat.ErrDomain},
		"normal NaN":               {of(Normal(nan, 1)), stat.ErrNotFinite},
		"lognormal infinite":       {of(Lognormal(0, inf)), stat.ErrNotFinite},
		"lognormal too wide":       {of(Lognormal(0, 60)), stat.ErrNotFinite},
		"student without mean":     {of(Student(0, 1, 1)), stat.ErrDomain},
		"student NaN":              {of(Student(0, 1, nan)), stat.ErrDomain},
		"quantile of 1":            {of(u.Quantile(1)), stat.ErrDomain},
		"no cost of shortage":      {of(SolveNewsvendor(u, 0, 1)), stat.ErrDomain},
		"cost NaN":                 {of(SolveNewsvendor(u, nan, 1)), stat.ErrNotFinite},
		"no belief":                {of(costs.Best(nil)), stat.ErrNoData},
		"free concrete":            {of(free.Best(u)), stat.ErrDomain},
		"no increment":             {of(OrderCosts{Price: 1}.Best(u)), stat.ErrDomain},
		"negative price":           {of(OrderCosts{Price: -1, Increment: 1}.At(u, 1)), stat.ErrDomain},
		"order below 0":            {of(costs.At(u, -1)), stat.ErrDomain},
		"order NaN":                {of(costs.At(u, nan)), stat.ErrNotFinite},
		"curve backwards":          {of(costs.Curve(u, 8, 6)), stat.ErrDomain},
		"curve endless":            {of(costs.Curve(u, 0, 1e9)), stat.ErrDomain},
		"hand below 0":             {of(costs.Second(u, -1, 0)), stat.ErrDomain},
		"call NaN":                 {of(costs.Second(u, 1, nan)), stat.ErrNotFinite},
		"ratio without spread":     {of(Ratio{Mean: 1, Omega: 1}.Update(1, 1)), stat.ErrDomain},
		"nothing placed":           {of(belief.Update(0, 0)), stat.ErrDomain},
		"used below 0":             {of(belief.Update(1, -1)), stat.ErrDomain},
		"nothing to place":         {of(belief.Need(0)), stat.ErrDomain},
		"no risk":                  {with(func(s *Steel) { s.Risk = 0 }), stat.ErrDomain},
		"risk above 1":             {with(func(s *Steel) { s.Risk = 1.2 }), stat.ErrDomain},
		"callbacks free":           {with(func(s *Steel) { s.CallbackCost = 0 }), stat.ErrDomain},
		"extra cost NaN":           {with(func(s *Steel) { s.ExtraCost = nan }), stat.ErrNotFinite},
		"bias below 0":             {with(func(s *Steel) { s.BiasSD = -.4 }), stat.ErrDomain},
		"bias NaN":                 {with(func(s *Steel) { s.BiasSD = nan }), stat.ErrNotFinite},
		"spread of cost below 0":   {with(func(s *Steel) { s.ExtraSD = -1 }), stat.ErrDomain},
		"no prior":                 {with(func(s *Steel) { s.PriorSD = 0 }), stat.ErrDomain},
		"variance 0":               {with(func(s *Steel) { s.Variance = 0 }), stat.ErrDomain},
		"variance NaN":             {with(func(s *Steel) { s.Variance = nan }), stat.ErrDomain},
		"log ratio infinite":       {with(func(s *Steel) { s.LogRatio = inf }), stat.ErrNotFinite},
		"prior beyond numbers":     {with(func(s *Steel) { s.PriorSD, s.Variance = 99, 1e6 }), stat.ErrNotFinite},
		"stake below 0":            {with(func(s *Steel) { s.AtStake = -1 }), stat.ErrDomain},
		"nobody exposed":           {of(steel.EVSI(Sample{Events: 10})), stat.ErrDomain},
		"events NaN":               {of(steel.EVSI(Sample{Events: nan, Share: .5})), stat.ErrNotFinite},
		"choice without spread":    {of(NormalChoice{}.EVPI()), stat.ErrDomain},
		"choice NaN":               {of(NormalChoice{Mean: nan, SD: 1}.PWrong()), stat.ErrNotFinite},
		"belief worth nothing":     {evsi(choice, 0, 5), stat.ErrDomain},
		"observations below 0":     {evsi(choice, 5, -5), stat.ErrDomain},
		"arm without shape":        {of(ArmsValue(Beta{0, 1}, Beta{1, 1}, 1, 1, 1, 1)), stat.ErrDomain},
		"arm NaN":                  {of(ArmsValue(Beta{1, 1}, Beta{1, nan}, 1, 1, 1, 1)), stat.ErrDomain},
		"trial below 0":            {of(ArmsValue(Beta{1, 1}, Beta{1, 1}, -1, 1, 1, 1)), stat.ErrDomain},
		"trial endless":            {of(ArmsValue(Beta{1, 1}, Beta{1, 1}, 1, 1<<40, 1, 1)), stat.ErrDomain},
		"callback cost below 0":    {of(ArmsValue(Beta{1, 1}, Beta{1, 1}, 1, 1, -1, 1)), stat.ErrDomain},
		"gamma without shape":      {of(RateLess(Gamma{0, 1}, Gamma{1, 1})), stat.ErrDomain},
		"gamma rate infinite":      {of(RateLess(Gamma{1, inf}, Gamma{1, 1})), stat.ErrNotFinite},
		"proportion NaN":           {of(ProportionLess(Beta{nan, 1}, Beta{1, 1})), stat.ErrDomain},
		"no difference":            {of(SchoenfeldEvents(1, .5, test)), stat.ErrDomain},
		"ratio below 0":            {of(SchoenfeldEvents(-2, .5, test)), stat.ErrDomain},
		"all exposed":              {of(SchoenfeldEvents(2, 1, test)), stat.ErrDomain},
		"power under alpha":        {of(SchoenfeldEvents(2, .5, Test{Alpha: .05, Power: .01})), stat.ErrDomain},
		"test of bias NaN":         {of(SchoenfeldEvents(2, .5, Test{.05, .8, nan})), stat.ErrDomain},
		"alpha NaN":                {of(SchoenfeldEvents(2, .5, Test{Alpha: nan, Power: .8})), stat.ErrDomain},
		"no events":                {of(DetectableRatio(0, .5, test)), stat.ErrNoEvents},
		"hardly an event":          {of(DetectableRatio(1e-9, .5, test)), stat.ErrTooFew},
		"placements without risk":  {of(PlacementsFor(10, 0)), stat.ErrDomain},
		"same proportions":         {of(TwoProportions(.1, .1, test)), stat.ErrDomain},
		"proportion above 1":       {of(TwoProportions(.1, 1.1, test)), stat.ErrDomain},
		"no draws":                 {of(SweepOrders(nil, grid)), stat.ErrNoData},
		"draw NaN":                 {of(SweepOrders([]float64{1, nan}, grid)), stat.ErrNotFinite},
		"draw infinite":            {of(SweepOrders([]float64{1, inf, -inf}, grid)), stat.ErrNotFinite},
		"grid without step":        {of(SweepOrders([]float64{1}, Grid{Count: 1})), stat.ErrDomain},
		"grid without sizes":       {of(SweepOrders([]float64{1}, Grid{Step: 1})), stat.ErrDomain},
		"grid without end":         {of(SweepOrders([]float64{1}, Grid{Step: 1, Count: 1 << 40})), stat.ErrDomain},
		"rate beyond what numbers": {of(PlacementsFor(1e300, 1e-300)), stat.ErrNotFinite},
	} {
		if !errors.Is(c.got, c.want) {
			t.Errorf("%s: got %v, want %v", name, c.got, c.want)
		}
	}
}

// Far out, beliefs come to 0 and 1 and never to NaN.
func TestBeliefsFarOut(t *testing.T) {
	n, err := Normal(10, 1)
	belief(t, n, err)
	l, err := Lognormal(2, .3)
	belief(t, l, err)
	s, err := Student(10, 1, 1.5)
	belief(t, s, err)
	wide, err := Student(10, 1, 1e9)
	belief(t, wide, err)
	endless, err := Student(10, 1, inf)
	belief(t, endless, err)
	m, err := Mixture([]Predictive{n, l, s}, []float64{1, 0, 2})
	belief(t, m, err)
	for i, u := range []Predictive{n, l, s, wide, endless, m} {
		for _, x := range []float64{-inf, -1e200, -1e20, 0, 1e20, 1e200, inf} {
			f, sv, short := u.CDF(x), u.Survival(x), u.Shortage(x)
			if !(f >= 0 && f <= 1 && sv >= 0 && sv <= 1 && math.Abs(f+sv-1) < 1e-12) {
				t.Errorf("belief %d at %v: F %v, S %v", i, x, f, sv)
			}
			if !(short >= 0) {
				t.Errorf("belief %d at %v: shortage %v", i, x, short)
			}
		}
		if u.Survival(inf) != 0 || u.CDF(-inf) != 0 {
			t.Errorf("belief %d does not end at 0", i)
		}
	}
}

// A tail so heavy that its sums hardly end still gives an order, in time.
func TestHeavyTail(t *testing.T) {
	u, err := Student(10, .3, 1.2)
	belief(t, u, err)
	o, err := OrderCosts{Price: 160, Disposal: 40, ExtraLoad: 330, LeastBalance: 1, Increment: .25}.Best(u)
	noError(t, err)
	if o.Quantity < 10 || o.Quantity > 60 || !(o.Cost > 0) {
		t.Errorf("order %+v", o)
	}
}

// A need far outside what can be ordered is refused, not looped over.
func TestNeedBeyondOrders(t *testing.T) {
	u, err := Normal(1e300, 1)
	belief(t, u, err)
	costs := OrderCosts{Price: 160, Increment: .25}
	if _, err := costs.Best(u); err == nil {
		t.Error("an order of 1e300 yd³")
	}
	if _, err := costs.Second(u, 0, 0); err == nil {
		t.Error("a second order of 1e300 yd³")
	}
}

// Enough is on hand: nothing more is ordered.
func TestEnoughOnHand(t *testing.T) {
	u, err := Normal(5, .5)
	belief(t, u, err)
	s, err := OrderCosts{Price: 160, Disposal: 40, ExtraLoad: 330, LeastBalance: 1, Increment: .25}.Second(u, 9, 60)
	noError(t, err)
	if s.Best != s.None || s.Best.Quantity != 0 {
		t.Errorf("ordered %+v", s.Best)
	}
}

// Shapes from hardly any records to a billion of them: like beliefs tie, and
// sure ones are sure.
func TestPosteriorAtExtremeShapes(t *testing.T) {
	for _, n := range []float64{leastShape, 1, 1e3, 1e6, mostShape} {
		rate, err := RateLess(Gamma{n, 7}, Gamma{n, 7})
		noError(t, err)
		near(t, "rates alike", rate, .5, 1e-8)
		share, err := ProportionLess(Beta{n, n}, Beta{n, n})
		noError(t, err)
		near(t, "proportions alike", share, .5, 1e-8)
		share, err = ProportionLess(Beta{n, mostShape}, Beta{mostShape, n})
		noError(t, err)
		if !(share > .5-1e-8 && share <= 1) {
			t.Errorf("shape %v: P(p₁ < p₂) = %v", n, share)
		}
	}
	for one, want := range map[float64]float64{1e-300: 0, 1e300: 1} {
		got, err := RateLess(Gamma{1, one}, Gamma{1, 1 / one})
		noError(t, err)
		near(t, "rates far apart", got, want, 1e-15)
	}
}
