package decide

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// OrderCosts is the money around an order of concrete, in any one currency and
// yd³. All are 0 or more; Increment and Price + Disposal are above 0.
type OrderCosts struct {
	Price        float64 // P, per yd³ delivered
	Disposal     float64 // d, per yd³ left over
	ExtraLoad    float64 // K, of an extra load that nobody planned: fee, waiting crew, joint risk
	Premium      float64 // c, per yd³ of an extra load above the price
	LeastBalance float64 // m, yd³, the least that an extra load may hold
	Increment    float64 // δ, yd³, the step of an order
	Trucks       Trucks  // T(q)
	MostShort    float64 // a cap on S(q), between 0 and 1; 0 for none
}

// Trucks is the schedule of charges by load; the zero value charges nothing.
type Trucks struct {
	Capacity  float64 // yd³ a truck; 0 for no limit
	PerTruck  float64 // charge for each truck
	LeastLoad float64 // a load under this pays the short-load fee
	ShortFee  float64 // per yd³ that a load lacks of LeastLoad
}

// Charge is T(q): full trucks first, and the rest in one more.
func (t Trucks) Charge(q float64) float64 {
	if q <= 0 {
		return 0
	}
	full, rest := 0.0, q
	if t.Capacity > 0 {
		full = math.Floor(q/t.Capacity + 1e-9) // 20.000…01 yd³ is two trucks
		rest = max(0, q-full*t.Capacity)
	}
	charge := full * (t.PerTruck + t.ShortFee*max(0, t.LeastLoad-t.Capacity))
	if rest > 1e-9 {
		charge += t.PerTruck + t.ShortFee*max(0, t.LeastLoad-rest)
	}
	return charge
}

// Order is an order with what comes of it on average.
type Order struct {
	Quantity  float64 // q, yd³
	Charge    float64 // T(q)
	ProbExtra float64 // S(q), the chance of an extra load that nobody planned
	Extra     float64 // B(q), yd³ expected by that load
	Leftover  float64 // q + B(q) − E[U], yd³
	Cost      float64 // C(q)
}

// At is the order of q yd³ for a need u.
func (c OrderCosts) At(u Predictive, q float64) (Order, error) {
	if err := c.check(u); err != nil {
		return Order{}, err
	}
	if err := stat.Finite("order", q); err != nil {
		return Order{}, err
	}
	if q < 0 {
		return Order{}, fmt.Errorf("order of %v yd³, want 0 or more: %w", q, stat.ErrDomain)
	}
	return c.curve(u, q, 1)[0], nil
}

// Curve is the orders of every multiple of the increment from first to last.
func (c OrderCosts) Curve(u Predictive, first, last float64) ([]Order, error) {
	if err := c.check(u); err != nil {
		return nil, err
	}
	if err := stat.Finite("order", first, last); err != nil {
		return nil, err
	}
	from, to := math.Ceil(first/c.Increment-1e-9), math.Floor(last/c.Increment+1e-9)
	if from < 0 || to < from || to-from >= mostOrders {
		return nil, fmt.Errorf("orders from %v to %v yd³ by %v, want 1 to %d of them: %w", first, last, c.Increment, mostOrders, stat.ErrDomain)
	}
	return c.curve(u, from*c.Increment, int(to-from)+1), nil
}

// Best is the multiple of the increment with the least expected cost; of
// equals, the smaller. Every order that could be cheaper is looked at, see
// Enough.
func (c OrderCosts) Best(u Predictive) (Order, error) {
	if err := c.check(u); err != nil {
		return Order{}, err
	}
	near := max(0, math.Round(u.Mean()/c.Increment)) * c.Increment
	last, err := c.Enough(u, c.curve(u, near, 1)[0].Cost)
	if err != nil {
		return Order{}, err
	}
	orders, err := c.Curve(u, 0, max(near, last))
	if err != nil {
		return Order{}, err
	}
	return c.Cheapest(orders), nil
}

// Enough is the largest order that may have to be looked at where one of them
// costs so much: the largest whose cost may be as low, since no order q costs
// less than (P+d)q − d·E[U], or the first that keeps to the cap.
func (c OrderCosts) Enough(u Predictive, cost float64) (float64, error) {
	last := (cost + c.Disposal*u.Mean()) / (c.Price + c.Disposal)
	if c.MostShort == 0 {
		return last, nil
	}
	safe, err := u.Quantile(1 - c.MostShort)
	return max(last, safe+c.Increment), err
}

// Cheapest of orders that ascend is the one of least cost, of equals the
// smaller; where a cap is set, among those that keep to it, and the last where
// none does.
func (c OrderCosts) Cheapest(orders []Order) Order {
	best, found := orders[len(orders)-1], false
	for _, o := range orders {
		if c.MostShort > 0 && o.ProbExtra > c.MostShort {
			continue
		}
		if !found || o.Cost < best.Cost {
			best, found = o, true
		}
	}
	return best
}

// mostOrders bounds the orders compared at once.
const mostOrders = 1_000_000

// curve is the n orders start, start+δ, … The sums of survival that B(q) needs
// are those of the next order but one term, so they are made from the far end.
func (c OrderCosts) curve(u Predictive, start float64, n int) []Order {
	orders := make([]Order, n)
	mean := u.Mean()
	tail := tailSum(u, start+float64(n)*c.Increment+c.LeastBalance, c.Increment)
	for i := n - 1; i >= 0; i-- {
		q := start + float64(i)*c.Increment
		tail += u.Survival(q + c.LeastBalance)
		short := u.Survival(q)
		extra := c.LeastBalance*short + c.Increment*tail
		o := Order{Quantity: q, Charge: c.Trucks.Charge(q), ProbExtra: short, Extra: extra}
		o.Leftover = max(0, q+extra-mean)
		o.Cost = (c.Price+c.Disposal)*(q+extra) - c.Disposal*mean + c.ExtraLoad*short + c.Premium*extra + o.Charge
		orders[i] = o
	}
	return orders
}

// tailSum is Σ_{j≥0} S(x+jδ). Once S is below 1e-8 the rest is an integral by
// the trapezoid rule, ∫S/δ + S/2, whose error is a fraction of S; so too after
// a hundred thousand terms of a tail so heavy that it never gets there.
func tailSum(u Predictive, x, step float64) float64 {
	var sum float64
	for range 100_000 {
		s := u.Survival(x)
		if s < 1e-8 {
			break
		}
		sum += s
		x += step
	}
	return sum + u.Shortage(x)/step + u.Survival(x)/2
}

func (c OrderCosts) check(u Predictive) error {
	if u == nil {
		return fmt.Errorf("no belief about the need: %w", stat.ErrNoData)
	}
	t := c.Trucks
	for _, v := range []struct {
		name  string
		value float64
	}{
		{"price", c.Price}, {"disposal", c.Disposal}, {"cost of an extra load", c.ExtraLoad},
		{"premium", c.Premium}, {"least extra load", c.LeastBalance}, {"truck capacity", t.Capacity},
		{"charge per truck", t.PerTruck}, {"least load", t.LeastLoad}, {"short-load fee", t.ShortFee},
	} {
		if err := stat.Finite(v.name, v.value); err != nil {
			return err
		}
		if v.value < 0 {
			return fmt.Errorf("%s is %v, want 0 or more: %w", v.name, v.value, stat.ErrDomain)
		}
	}
	if !(c.MostShort >= 0 && c.MostShort < 1) {
		return fmt.Errorf("cap on the chance of running short is %v, want 0 to 1: %w", c.MostShort, stat.ErrDomain)
	}
	if err := checkScale("increment", c.Increment); err != nil {
		return err
	}
	return checkScale("price with disposal", c.Price+c.Disposal)
}
