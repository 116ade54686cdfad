package analysis

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"pourback/analysis/stat"
	"pourback/analysis/stat/decide"
	"pourback/analysis/stat/pool"
	"pourback/analysis/stat/regress"
)

// OrderCosts is the money around an order of concrete, in whole units of the
// currency, and what a plant delivers. Whatever the records do not tell is an
// assumption, and printed with the result.
type OrderCosts struct {
	PricePerYd     float64 `json:"price_per_yd" mapstructure:"price_per_yd"`
	DisposalPerYd  float64 `json:"disposal_per_yd" mapstructure:"disposal_per_yd"`     // of what is left over
	BalanceLoad    float64 `json:"balance_load" mapstructure:"balance_load"`           // unplanned: its fee, the waiting crew, the risk of a cold joint
	BalancePerYd   float64 `json:"balance_per_yd" mapstructure:"balance_per_yd"`       // of its concrete, above the price
	LeastBalanceYd float64 `json:"least_balance_yd" mapstructure:"least_balance_yd"`   // the least a plant sends
	IncrementYd    float64 `json:"increment_yd" mapstructure:"increment_yd"`           // the step of an order
	TruckYd        float64 `json:"truck_yd" mapstructure:"truck_yd"`                   // what a truck holds
	ShortLoadYd    float64 `json:"short_load_yd" mapstructure:"short_load_yd"`         // a load under this pays for what it lacks
	ShortLoadPerYd float64 `json:"short_load_per_yd" mapstructure:"short_load_per_yd"` // so much a yard
	Call           float64 `json:"call" mapstructure:"call"`                           // of a last load called in time, beyond its concrete and short-load fee
	CallAheadYd    float64 `json:"call_ahead_yd" mapstructure:"call_ahead_yd"`         // still on hand when the last load is called
}

// DefaultOrderCosts are common practice, no published source: every plant has
// its own, and they are meant to be set.
func DefaultOrderCosts() OrderCosts {
	return OrderCosts{PricePerYd: DefaultStandardRates().ConcretePerYd.Dollars(), DisposalPerYd: 50, BalanceLoad: 330, LeastBalanceYd: 1, IncrementYd: 0.25,
		TruckYd: 10, ShortLoadYd: 4, ShortLoadPerYd: 30, CallAheadYd: 3}
}

// filled is the default where nothing is set.
func (c OrderCosts) filled() OrderCosts {
	if c == (OrderCosts{}) {
		return DefaultOrderCosts()
	}
	return c
}

// priced is filled, with the standard rate of concrete where no price is set.
func (c OrderCosts) priced(rates StandardRates) OrderCosts {
	out := c.filled()
	if c.PricePerYd == 0 {
		out.PricePerYd = rates.ConcretePerYd.Dollars()
	}
	return out
}

// check refuses costs that no order can be made by.
func (c OrderCosts) check() error {
	for _, v := range []struct {
		key   string
		value float64
		above bool
	}{
		{"price_per_yd", c.PricePerYd, true}, {"disposal_per_yd", c.DisposalPerYd, false}, {"balance_load", c.BalanceLoad, false}, {"balance_per_yd", c.BalancePerYd, false},
		{"least_balance_yd", c.LeastBalanceYd, false}, {"increment_yd", c.IncrementYd, true}, {"truck_yd", c.TruckYd, true},
		{"short_load_yd", c.ShortLoadYd, false}, {"short_load_per_yd", c.ShortLoadPerYd, false}, {"call", c.Call, false}, {"call_ahead_yd", c.CallAheadYd, false},
	} {
		if !(v.value >= 0 && v.value < 1e9) || v.above && v.value == 0 {
			want := "0 or more"
			if v.above {
				want = "more than 0"
			}
			return fmt.Errorf("order costs: %s is %v: want %s", v.key, v.value, want)
		}
	}
	return nil
}

// money are the costs in the terms of [decide].
func (c OrderCosts) money() decide.OrderCosts {
	return decide.OrderCosts{Price: c.PricePerYd, Disposal: c.DisposalPerYd, Unplanned: c.BalanceLoad, Premium: c.BalancePerYd,
		LeastBalance: c.LeastBalanceYd, Increment: c.IncrementYd,
		Trucks: decide.Trucks{Capacity: c.TruckYd, LeastLoad: c.ShortLoadYd, ShortFee: c.ShortLoadPerYd}}
}

// Order is an order for a placement, with what comes of it on average. A bid
// carries Cost; the plant is told Yd.
type Order struct {
	NeatYd      float64
	Yd          float64
	Allowance   float64 // Yd/NeatYd − 1
	ChanceShort float64 // that a balance load has to be called for
	BalanceYd   float64 // expected by it
	LeftoverYd  float64 // expected
	Cost        float64 // expected: concrete, disposal, balance load, short-load fees
}

// OrderFor is the order of least expected cost
//
//	C(q) = (P+d)(q+B(q)) − d·E[U] + K·S(q) + T(q)
//
// over the multiples of the increment from the expected need on, see
// [decide.OrderCosts]. An order below that counts on a second load: where calls
// are cheap and needs unsure the least cost lies there, down to ordering
// nothing and calling in all; that is what InStages is for. A need too unsure
// for any order is an error.
func OrderFor(p Predictive, c OrderCosts) (Order, error) {
	u := needOf(p.Used())
	best, err := c.atOnce(u, math.Sqrt(u.Var()))
	return orderOf(p, best), err
}

// errUnlike is why some kinds of placement have no order.
var errUnlike = errors.New("such placements have used amounts too unlike one another to order by: see the records to check")

const (
	leastUnlike = 3    // yd: a need that may be nothing or twice as much, and twice this, has no order
	mostSteps   = 1000 // from the expected need to a certain one; beyond it the increment is coarser
)

// atOnce is the order for a need with a standard deviation.
func (c OrderCosts) atOnce(u decide.Predictive, sd float64) (decide.Order, error) {
	mean := u.Mean()
	if err := stat.Finite("need", mean, sd); err != nil {
		return decide.Order{}, err
	}
	const middle80, all = 2.563, 6 // standard deviations, of a normal need
	if middle80*sd > 2*max(mean, leastUnlike) {
		return decide.Order{}, errUnlike
	}
	c.IncrementYd *= max(1, math.Ceil(all*sd/c.IncrementYd/mostSteps))
	first := math.Ceil(max(0, mean)/c.IncrementYd-1e-9) * c.IncrementYd
	at, err := c.money().At(u, first)
	if err != nil {
		return decide.Order{}, err
	}
	// No order q costs less than (P+d)q − d·E[U].
	last := (at.Cost + c.DisposalPerYd*mean) / (c.PricePerYd + c.DisposalPerYd)
	orders, err := c.money().Curve(u, first, max(first, last))
	if err != nil {
		return decide.Order{}, err
	}
	return slices.MinFunc(orders, func(a, b decide.Order) int { return cmp.Compare(a.Cost, b.Cost) }), nil
}

// OrderAt is what comes of ordering so many yards.
func OrderAt(p Predictive, c OrderCosts, yd float64) (Order, error) {
	at, err := c.money().At(needOf(p.Used()), yd)
	return orderOf(p, at), err
}

func orderOf(p Predictive, o decide.Order) Order {
	return Order{NeatYd: p.NeatYd, Yd: o.Quantity, Allowance: o.Quantity/p.NeatYd - 1, ChanceShort: o.ProbBalance,
		BalanceYd: o.Balance, LeftoverYd: o.Leftover, Cost: o.Cost}
}

// need is a law of yards in the terms of [decide], for one order: it remembers
// what it has been asked, since an order and its balance load meet the same
// volumes again.
type need struct {
	pool.Mixture
	student  regress.Student
	certain  float64             // at this volume and below the need is all but sure to be more
	survival map[float64]float64 // P(U > x) by x
}

// needOf leaves out the parts of a law that together weigh too little to move
// an order.
func needOf(law pool.Mixture) need {
	const negligible = 1e-10
	n := need{pool.Mixture{Nu: law.Nu, N: law.N}, regress.NewStudent(law.Nu), math.Inf(1), map[float64]float64{}}
	far := n.student.Quantile(1e-15)
	for k, w := range law.Weight {
		if w > negligible {
			n.Weight, n.Loc, n.Scale = append(n.Weight, w), append(n.Loc, law.Loc[k]), append(n.Scale, law.Scale[k])
			n.certain = min(n.certain, law.Loc[k]+far*law.Scale[k])
		}
	}
	return n
}

// Survival is P(U > x).
func (n need) Survival(x float64) float64 {
	if x <= n.certain {
		return 1
	}
	sum, known := n.survival[x]
	if known {
		return sum
	}
	for k, w := range n.Weight {
		sum += w * n.student.Tail((x-n.Loc[k])/n.Scale[k])
	}
	n.survival[x] = sum
	return sum
}

// Quantile is that of the mixture.
func (n need) Quantile(p float64) (float64, error) { return n.Mixture.Quantile(p), nil }

// Shortage is E(U−q)⁺.
func (n need) Shortage(q float64) float64 { return n.ExpectedAbove(q) }
