package concrete

import (
	"errors"
	"math"

	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/analysis/stat/decide"
	"pourback/analysis/stat/pool"
	"pourback/analysis/stat/regress"
)

// Order is an order for a placement, with what comes of it on average. A bid
// carries Cost; the plant is told Yd.
type Order struct {
	NeatYd      float64
	Yd          float64
	Allowance   float64 // Yd/NeatYd − 1
	ChanceShort float64 // that an extra load has to be called for
	ExtraYd     float64 // expected by it
	LeftoverYd  float64 // expected
	Cost        float64 // expected: concrete, disposal, extra load, short-load fees
	CapCosts    float64 // expected, of the cap on ChanceShort where one is set: more than the order of least cost
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
func OrderFor(p Predictive, c setting.OrderCosts) (Order, error) {
	u := needOf(p.Used())
	sd := math.Sqrt(u.Var())
	best, err := OrderAtOnce(c, u, sd)
	order := orderOf(p, best)
	if err == nil && c.MostShort > 0 {
		c.MostShort = 0
		var free decide.Order
		free, err = OrderAtOnce(c, u, sd)
		order.CapCosts = max(0, best.Cost-free.Cost)
	}
	return order, err
}

// errUnlike is why some kinds of placement have no order.
var errUnlike = errors.New("such placements have used amounts too unlike one another to order by: see the records to check")

const (
	leastUnlike = 3    // yd: a need that may be nothing or twice as much, and twice this, has no order
	mostSteps   = 1000 // from the expected need to a certain one; beyond it the increment is coarser
)

// OrderAtOnce is the order for a need with a standard deviation.
func OrderAtOnce(c setting.OrderCosts, u decide.Predictive, sd float64) (decide.Order, error) {
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
	at, err := c.Money().At(u, first)
	if err != nil {
		return decide.Order{}, err
	}
	last, err := c.Money().Enough(u, at.Cost)
	if err != nil {
		return decide.Order{}, err
	}
	orders, err := c.Money().Curve(u, first, max(first, last))
	if err != nil {
		return decide.Order{}, err
	}
	return c.Money().Cheapest(orders), nil
}

// OrderAt is what comes of ordering so many yards.
func OrderAt(p Predictive, c setting.OrderCosts, yd float64) (Order, error) {
	at, err := c.Money().At(needOf(p.Used()), yd)
	return orderOf(p, at), err
}

func orderOf(p Predictive, o decide.Order) Order {
	return Order{NeatYd: p.NeatYd, Yd: o.Quantity, Allowance: o.Quantity/p.NeatYd - 1, ChanceShort: o.ProbExtra,
		ExtraYd: o.Extra, LeftoverYd: o.Leftover, Cost: o.Cost}
}

// need is a law of yards in the terms of [decide], for one order: it remembers
// what it has been asked, since an order and its extra load meet the same
// volumes again.
type need struct {
	pool.Mixture
	student  regress.Student
	far      float64             // scales from a part's middle beyond which next to nothing of it lies
	certain  float64             // at this volume and below the need is all but sure to be more
	survival map[float64]float64 // P(U > x) by x
}

// needOf leaves out the parts of a law that together weigh too little to move
// an order.
func needOf(law pool.Mixture) need {
	const negligible = 1e-10
	n := need{Mixture: law, student: law.Student().Tabled(), certain: math.Inf(1), survival: map[float64]float64{}}
	n.Weight, n.Loc, n.Scale = nil, nil, nil
	n.far = -n.student.Quantile(1e-15)
	for k, w := range law.Weight {
		if w > negligible {
			n.Weight, n.Loc, n.Scale = append(n.Weight, w), append(n.Loc, law.Loc[k]), append(n.Scale, law.Scale[k])
			n.certain = min(n.certain, law.Loc[k]-n.far*law.Scale[k])
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
		switch z := (x - n.Loc[k]) / n.Scale[k]; {
		case z < -n.far:
			sum += w
		case z <= n.far:
			sum += w * n.student.Tail(z)
		}
	}
	n.survival[x] = sum
	return sum
}

// Quantile is that of the mixture.
func (n need) Quantile(p float64) (float64, error) { return n.Mixture.Quantile(p), nil }

// Shortage is E(U−q)⁺.
func (n need) Shortage(q float64) float64 { return n.ExpectedAbove(q) }

// CameTo is what an order of q yd cost where used yd were used.
func CameTo(c decide.OrderCosts, q, used float64) (decide.Order, error) {
	return c.At(knownNeed(used), q)
}

// knownNeed is a need without doubt.
type knownNeed float64

func (c knownNeed) CDF(x float64) float64 {
	if x >= float64(c) {
		return 1
	}
	return 0
}

func (c knownNeed) Mean() float64 { return float64(c) }

// Quantile is the need itself.
func (c knownNeed) Quantile(float64) (float64, error) { return float64(c), nil }

// Shortage is what is missing.
func (c knownNeed) Shortage(q float64) float64 { return max(0, float64(c)-q) }

func (c knownNeed) Survival(x float64) float64 { return 1 - c.CDF(x) }
