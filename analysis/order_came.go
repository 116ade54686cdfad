package analysis

import "math"

// orderCame is what an order came to once the yards used are known, in money
// above the yards used themselves at their price.
type orderCame struct {
	Short float64 // the unplanned balance load, and what its yards cost above the price
	Long  float64 // yards left over: their price and their disposal
	Fees  float64 // short loads in the order
}

// lost is all of it.
func (o orderCame) lost() float64 { return o.Short + o.Long + o.Fees }

// came is what an order of so many yards came to if so many were used. With the
// price of the yards used its mean over the law of the need is the C(q) of
// [OrderFor].
func (c OrderCosts) came(order, used float64) orderCame {
	o := orderCame{Fees: c.money().Trucks.Charge(order)}
	balance := 0.0
	if used > order {
		balance = c.LeastBalanceYd + c.IncrementYd*math.Ceil(max(0, used-order-c.LeastBalanceYd)/c.IncrementYd-1e-12)
		o.Short = c.BalanceLoad + c.BalancePerYd*balance
	}
	o.Long = (c.PricePerYd + c.DisposalPerYd) * max(0, order+balance-used)
	return o
}
