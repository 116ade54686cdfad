package decide

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Ratio is the belief about a job's used over neat volume, N(Mean, SD²), with
// the scatter Omega of a yd³: v neat yd³ use θv on average, with variance ω²v.
type Ratio struct{ Mean, SD, Omega float64 }

func (r Ratio) check(neat float64) error {
	if err := stat.Finite("mean ratio", r.Mean); err != nil {
		return err
	}
	if err := checkScale("standard deviation of the ratio", r.SD); err != nil {
		return err
	}
	if err := checkScale("scatter", r.Omega); err != nil {
		return err
	}
	return checkScale("neat volume", neat)
}

// Update is the belief once neat yd³ are placed and used yd³ went in:
// precision 1/s² + v/ω², mean (m/s² + U/ω²) over it.
//
// Source: normal-normal updating, Raiffa & Schlaifer (1961) ch. 11.
func (r Ratio) Update(neat, used float64) (Ratio, error) {
	if err := r.check(neat); err != nil {
		return Ratio{}, err
	}
	if err := stat.Finite("used volume", used); err != nil {
		return Ratio{}, err
	}
	if used < 0 {
		return Ratio{}, fmt.Errorf("used volume is %v, want 0 or more: %w", used, stat.ErrDomain)
	}
	prior, data := 1/(r.SD*r.SD), 1/(r.Omega*r.Omega)
	variance := 1 / (prior + neat*data)
	return Ratio{Mean: variance * (prior*r.Mean + data*used), SD: math.Sqrt(variance), Omega: r.Omega}, nil
}

// Need is what is believed of the use of neat yd³ yet to be placed:
// N(m·v, s²v² + ω²v).
func (r Ratio) Need(neat float64) (Predictive, error) {
	if err := r.check(neat); err != nil {
		return nil, err
	}
	return Normal(r.Mean*neat, math.Sqrt(r.SD*r.SD*neat*neat+r.Omega*r.Omega*neat))
}

// SecondOrder is the order for the rest of a pour.
type SecondOrder struct {
	Best Order // Quantity is the second order alone; Cost leaves out what is on hand
	None Order // what comes of ordering nothing more
}

// Second is the cheapest order for a need u with onHand yd³ paid for and at
// the site, when a load that is called in time costs called instead of
// ExtraLoad. It is 0 or a multiple of the increment of at least LeastBalance;
// with b ordered and q = onHand + b the cost is C(q) − P·onHand, the trucks'
// charge being that of b, plus called if b > 0.
func (c OrderCosts) Second(u Predictive, onHand, called float64) (SecondOrder, error) {
	if err := c.check(u); err != nil {
		return SecondOrder{}, err
	}
	if err := stat.Finite("on hand and cost of a call", onHand, called); err != nil {
		return SecondOrder{}, err
	}
	if onHand < 0 || called < 0 {
		return SecondOrder{}, fmt.Errorf("%v yd³ on hand and %v for the call, want both 0 or more: %w", onHand, called, stat.ErrDomain)
	}
	last, err := c.Enough(u, c.curve(u, onHand, 1)[0].Cost)
	if err != nil {
		return SecondOrder{}, err
	}
	steps := math.Floor((last-onHand)/c.Increment) + 1
	if !(steps < mostOrders) {
		return SecondOrder{}, fmt.Errorf("%v orders to compare, want under %d: %w", steps, mostOrders, stat.ErrDomain)
	}
	var orders []Order
	for i, o := range c.curve(u, onHand, int(max(0, steps))+1) {
		if ordered := float64(i) * c.Increment; i == 0 || ordered >= c.LeastBalance-1e-9 {
			orders = append(orders, c.second(o, ordered, onHand, called))
		}
	}
	return SecondOrder{Best: c.Cheapest(orders), None: orders[0]}, nil
}

// second turns an order counted from nothing into one on top of onHand.
func (c OrderCosts) second(o Order, ordered, onHand, called float64) Order {
	charge := c.Trucks.Charge(ordered)
	o.Cost += charge - o.Charge - c.Price*onHand
	if ordered > 0 {
		o.Cost += called
	}
	o.Quantity, o.Charge = ordered, charge
	return o
}
