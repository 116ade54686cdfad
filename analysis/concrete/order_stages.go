package concrete

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/analysis/stat/decide"
	"pourback/analysis/stat/pool"
)

// PourBelief is what is believed of one pour: fixed yards lost at its start,
// then neat yards that each use as many as the ratio says, the same for all of
// this pour, with scatter from yard to yard.
//
//	U = a + θ·v + e,  θ ~ N(m, s²),  Var(e) = ω²v
//
// so that a whole pour has the mean and the variance of its predictive law.
type PourBelief struct {
	neatYd  float64
	fixedYd float64
	ratio   decide.Ratio
}

// LeastSpread keeps the beliefs of a model without any scatter proper.
const LeastSpread = 1e-4

func (m *Model) pour(job Job) (PourBelief, error) {
	next, err := m.Next(job)
	if err != nil {
		return PourBelief{}, err
	}
	return m.Belief(next.Used(), job)
}

// Belief is that of the jobs poured together, whose used yards follow a law.
func (m *Model) Belief(used pool.Mixture, jobs ...Job) (PourBelief, error) {
	var b PourBelief
	for _, job := range jobs {
		b.neatYd += job.NeatYd
		cells, total := m.like(job)
		for _, c := range cells {
			fixed, err := m.post.Coef(1 + c.method)
			if err != nil {
				return PourBelief{}, err
			}
			b.fixedYd += float64(c.n) / total * fixed.Mean()
		}
	}
	scatter := m.post.Variance(1) - m.post.Variance(0) // ω² = σ²κ, the part of the error's variance that grows with the volume
	b.ratio = decide.Ratio{Mean: (used.Mean() - b.fixedYd) / b.neatYd, Omega: math.Sqrt(max(scatter, LeastSpread*LeastSpread))}
	b.ratio.SD = math.Sqrt(max((used.Var()/b.neatYd-b.ratio.Omega*b.ratio.Omega)/b.neatYd, LeastSpread*LeastSpread))
	return b, nil
}

// rest is the need of what is not yet placed, once placedYd have covered so
// much of the neat volume.
func (b PourBelief) rest(placedYd, coveredYd float64) (decide.Predictive, error) {
	ratio := b.ratio
	if coveredYd > 0 {
		var err error
		if ratio, err = ratio.Update(coveredYd, max(0, placedYd-b.fixedYd)); err != nil {
			return nil, err
		}
		return ratio.Need(b.neatYd - coveredYd)
	}
	return decide.Normal(ratio.Mean*b.neatYd+max(0, b.fixedYd-placedYd), b.spread(b.neatYd))
}

// spread is the standard deviation of what so many neat yards use.
func (b PourBelief) spread(neatYd float64) float64 {
	return math.Hypot(b.ratio.SD*neatYd, b.ratio.Omega*math.Sqrt(neatYd))
}

// Progress is how far a pour is.
type Progress struct {
	PlacedYd float64 // placed so far
	Covered  float64 // share of the area covered by it, 0 to 1
	OnHandYd float64 // at the site or on its way, not yet placed

	OrderedYd float64 // what was ordered first, where OnHandYd is that less PlacedYd; 0 where it was told
}

func (p Progress) Check() error {
	if !(p.Covered >= 0 && p.Covered <= 1) {
		return fmt.Errorf("%v of the area covered: want a share between 0 and 1: %w", p.Covered, stat.ErrDomain)
	}
	if !(p.PlacedYd >= 0 && p.OnHandYd >= 0) || math.IsInf(p.PlacedYd+p.OnHandYd, 1) {
		return fmt.Errorf("%v yd placed and %v yd on hand: want 0 or more: %w", p.PlacedYd, p.OnHandYd, stat.ErrDomain)
	}
	if p.Covered > 0 && p.PlacedYd == 0 {
		return fmt.Errorf("%.0f %% of the area covered by 0 yd: want the yards placed: %w", 100*p.Covered, stat.ErrDomain)
	}
	return nil
}

// BalanceCall is what to call in for the last load of a pour under way.
type BalanceCall struct {
	Done        bool          // all of the area is covered
	CallYd      float64       // 0 where what is on hand will do
	ChanceShort float64       // after that, of one more load
	LeftoverYd  float64       // expected
	RestYd      figure.Figure // what the rest of the area will take
	NoCallShort float64       // chance of running short if nothing is called in

	Runs      Runs    // whether what is placed covers about what it should
	Ratio     float64 // placed over the neat volume covered; 0 where nothing is
	DrawnIn   float64 // thickness as drawn in inches, where all of the pour has one; else 0
	RunningIn float64 // Ratio × DrawnIn
}

// Runs says how thick a pour under way is.
type Runs string

// How thick a pour under way is.
const (
	AsDrawn Runs = ""
	Thick   Runs = "thick" // what is placed covers too little
	Thin    Runs = "thin"  // it covers too much
)

// oddlyOff are the share of pours further off than which one is said to run thick
// or thin, on either side, and by how much it has to be off.
const (
	oddlyOff  = 0.025
	leastOff  = 0.10
	startLost = 0.5 // yd³, within which a beginning tells nothing of the thickness
)

// runs compares what is placed with what such pours take for as much covered.
func (b PourBelief) runs(at Progress) (Runs, float64) {
	covered := at.Covered * b.neatYd
	if covered == 0 {
		return AsDrawn, 0
	}
	usual, apart := b.fixedYd+b.ratio.Mean*covered, b.spread(covered)
	ratio := at.PlacedYd / covered
	off := (at.PlacedYd - usual) / apart
	limit := distuv.UnitNormal.Quantile(1 - oddlyOff)
	switch {
	case off > limit && ratio > 1+leastOff && at.PlacedYd-covered > startLost:
		return Thick, ratio
	case off < -limit && ratio < 1-leastOff && covered-at.PlacedYd > startLost:
		return Thin, ratio
	}
	return AsDrawn, ratio
}

// Balance updates the belief about a pour by what has been placed on the area
// covered so far, and gives the load to call in that costs least.
func (m *Model) Balance(job Job, at Progress, c setting.OrderCosts, level float64) (BalanceCall, error) {
	if err := at.Check(); err != nil {
		return BalanceCall{}, err
	}
	b, err := m.pour(job)
	if err != nil {
		return BalanceCall{}, err
	}
	return b.Balance(at, c, level, m.post.N)
}

// Balance is the load to call in; n are the records that the belief rests on.
func (b PourBelief) Balance(at Progress, c setting.OrderCosts, level float64, n int) (BalanceCall, error) {
	if at.Covered == 1 {
		call := BalanceCall{Done: true, LeftoverYd: at.OnHandYd, RestYd: figure.Total(0, n, byPour)}
		call.Runs, call.Ratio = b.runs(at)
		return call, nil
	}
	rest, err := b.rest(at.PlacedYd, at.Covered*b.neatYd)
	if err != nil {
		return BalanceCall{}, err
	}
	second, err := b.second(rest, at, c)
	if err != nil {
		return BalanceCall{}, err
	}
	call := BalanceCall{CallYd: second.Best.Quantity, ChanceShort: second.Best.ProbExtra, LeftoverYd: second.Best.Leftover, NoCallShort: second.None.ProbExtra}
	call.Runs, call.Ratio = b.runs(at)
	low, errLow := rest.Quantile((1 - level) / 2)
	high, errHigh := rest.Quantile((1 + level) / 2)
	call.RestYd = figure.Figure{Value: rest.Mean(), Low: max(0, low), High: high, Level: level, N: n, Method: byPour, Bounded: errLow == nil && errHigh == nil, OK: true}
	return call, nil
}

// second is the cheapest call for the rest. Before anything is covered that is
// the order at once less what is on hand, and so no less than the expected need.
func (b PourBelief) second(rest decide.Predictive, at Progress, c setting.OrderCosts) (decide.SecondOrder, error) {
	second, err := c.Money().Second(rest, at.OnHandYd, c.Call)
	if err != nil || at.Covered > 0 {
		return second, err
	}
	once, err := OrderAtOnce(c, rest, b.spread(b.neatYd))
	if err != nil {
		return second, err
	}
	call := max(0, math.Ceil((once.Quantity-at.OnHandYd)/c.IncrementYd-1e-9)*c.IncrementYd)
	if call > 0 {
		call = max(call, c.LeastBalanceYd)
	}
	second.Best, err = c.Money().At(rest, at.OnHandYd+call)
	second.Best.Quantity = call
	return second, err
}

const byPour = "hierarchical model, updated by what this pour has used so far"

// Stages is an order in two steps: so much first, and the last load called in
// by what the pour has used once most of the first is down.
type Stages struct {
	FirstYd    float64
	HoldYd     float64 // to be called in, on average
	CallAtYd   float64 // placed when the last load is called
	CallAt     float64 // share of the area then covered, if all goes as expected
	WaitMin    float64 // minutes from the first order's last yard to the last load
	Short      float64 // chance that the pour then wants yet another load
	CostStaged float64 // expected
	CostAtOnce float64 // of the one order of least cost
	AtOnceYd   float64
	Not        NotStaged // why nothing is held back, "" where something is
	WouldSave  float64   // expected, of [SavesLittle]
}

// NotStaged is why nothing is held back for a last load.
type NotStaged string

// Why nothing is held back.
const (
	OneTruck    NotStaged = "one truck"     // holds it all, or the two steps want a truck more
	TooLate     NotStaged = "too late"      // the last load would come to a cold edge
	OffTheClock NotStaged = "off the clock" // the last load would, by the trucks' own times: the plant's spacing, a place to stand
	SavesLittle NotStaged = "saves little"  // less than is worth a call, or at worse odds
)

// Saves is what ordering in two steps is worth on average.
func (s Stages) Saves() float64 { return s.CostAtOnce - s.CostStaged }

// LastTruck is what calling in a last load takes. The zero value comes at once.
type LastTruck struct {
	CallMin    float64 // minutes from the call to its arrival
	PlaceMin   float64 // minutes to place a yd³
	OpenMin    float64 // minutes that the edge placed last may wait for fresh concrete
	WaitPerMin float64 // money, of the waiting crew and pump
}

// aheads are the yards still on hand at which to call: as late as the edge
// allows, and so early that nobody waits.
func (t LastTruck) aheads(leastYd float64) []float64 {
	if t.PlaceMin == 0 {
		return []float64{leastYd}
	}
	return []float64{max(leastYd, (t.CallMin-t.OpenMin)/t.PlaceMin), max(leastYd, t.CallMin/t.PlaceMin)}
}

func (t LastTruck) waitMin(aheadYd float64) float64 { return max(0, t.CallMin-t.PlaceMin*aheadYd) }

// InStages is the first order of least expected cost when a last load can be
// called in. Where one truck holds it all, where the last load would come too
// late or save too little, FirstYd is the order at once, with nothing held back.
//
// Preposterior analysis, Raiffa & Schlaifer (1961): for each first order the
// cost of the best call is averaged over what the pour may have used by then.
func (m *Model) InStages(job Job, c setting.OrderCosts, last LastTruck) (Stages, error) {
	b, err := m.pour(job)
	if err != nil {
		return Stages{}, err
	}
	return b.InStages(c, last)
}

func (b PourBelief) InStages(c setting.OrderCosts, last LastTruck) (Stages, error) {
	all, err := b.rest(0, 0)
	if err != nil {
		return Stages{}, err
	}
	once, err := OrderAtOnce(c, all, b.spread(b.neatYd))
	if err != nil {
		return Stages{}, err
	}
	atOnce := Stages{FirstYd: once.Quantity, AtOnceYd: once.Quantity, CostAtOnce: once.Cost, CostStaged: once.Cost}
	best, err := b.bestStages(atOnce, once.ProbExtra, c, last)
	switch {
	case err != nil:
		return Stages{}, err
	case best.Not != "":
		atOnce.Not = best.Not
	case best.Saves() < c.HoldBackFrom || best.Saves() <= 0:
		atOnce.Not, atOnce.WouldSave = SavesLittle, max(0, best.Saves())
	default:
		return best, nil
	}
	return atOnce, nil
}

// bestStages is the cheapest of the orders in two steps that take no more trucks
// than the order at once and run short no more often.
func (b PourBelief) bestStages(atOnce Stages, short float64, c setting.OrderCosts, last LastTruck) (Stages, error) {
	trucks, best := c.Trucks(atOnce.AtOnceYd), atOnce
	if trucks < 2 {
		best.Not = OneTruck
		return best, nil
	}
	best.Not = TooLate
	c.IncrementYd *= math.Ceil(atOnce.AtOnceYd / c.IncrementYd / mostFirst)
	for k := 1.0; k*c.IncrementYd < atOnce.AtOnceYd && c.Trucks(k*c.IncrementYd) < trucks; k++ {
		for _, ahead := range last.aheads(c.CallAheadYd) {
			s, err := b.staged(k*c.IncrementYd, ahead, c, last)
			if err != nil {
				return Stages{}, err
			}
			if s.FirstYd == 0 {
				continue
			}
			if best.Not == TooLate {
				best.Not = "" // it can come in time; whether it pays is told by the rest
			}
			if c.Trucks(s.FirstYd)+c.Trucks(s.HoldYd) <= trucks && s.Short <= short && s.CostStaged < best.CostStaged {
				s.AtOnceYd, s.CostAtOnce = atOnce.AtOnceYd, atOnce.CostAtOnce
				best = s
			}
		}
	}
	return best, nil
}

// mostFirst bounds the first orders compared: beyond so many increments they
// are taken in longer steps.
const mostFirst = 200

// stageNodes are the equally likely uses by the time of the call that a staged
// order is averaged over.
const stageNodes = 41

// staged is what comes of a first order when the last load is called with so much
// of it on hand; FirstYd is 0 where it is too small for that.
func (b PourBelief) staged(first, ahead float64, c setting.OrderCosts, last LastTruck) (Stages, error) {
	down := first - ahead
	covered := (down - b.fixedYd) / b.ratio.Mean
	if covered <= 0 || covered >= b.neatYd {
		return Stages{}, nil
	}
	s := Stages{FirstYd: first, CallAtYd: down, CallAt: covered / b.neatYd, WaitMin: last.waitMin(ahead)}
	called := c.Call + s.WaitMin*last.WaitPerMin
	money := c.Money()
	s.CostStaged = c.PricePerYd*first + money.Trucks.Charge(first)
	spread := b.spread(covered)
	for k := range stageNodes {
		placed := max(0, down+spread*distuv.UnitNormal.Quantile((float64(k)+0.5)/stageNodes))
		rest, err := b.rest(placed, covered)
		if err != nil {
			return Stages{}, err
		}
		second, err := money.Second(rest, max(0, first-placed), called)
		if err != nil {
			return Stages{}, err
		}
		s.CostStaged += second.Best.Cost / stageNodes
		s.HoldYd += second.Best.Quantity / stageNodes
		s.Short += second.Best.ProbExtra / stageNodes
	}
	return s, nil
}
