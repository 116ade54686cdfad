package setting

import (
	"fmt"
	"math"

	"pourback/analysis/stat/decide"
)

// OrderCosts is the money around an order of concrete, in whole units of the
// currency, and what a plant delivers. Whatever the records do not tell is an
// assumption, and printed with the result.
type OrderCosts struct {
	PricePerYd     float64 `json:"price_per_yd" mapstructure:"price_per_yd"`
	DisposalPerYd  float64 `json:"disposal_per_yd" mapstructure:"disposal_per_yd"`     // of what is left over
	ExtraLoad      float64 `json:"balance_load" mapstructure:"balance_load"`           // of an extra load, which nobody planned: its fee, the waiting crew, the risk of a cold joint
	ExtraPerYd     float64 `json:"balance_per_yd" mapstructure:"balance_per_yd"`       // of its concrete, above the price
	LeastBalanceYd float64 `json:"least_balance_yd" mapstructure:"least_balance_yd"`   // the least a plant sends
	IncrementYd    float64 `json:"increment_yd" mapstructure:"increment_yd"`           // the step of an order
	TruckYd        float64 `json:"truck_yd" mapstructure:"truck_yd"`                   // what a truck holds
	ShortLoadYd    float64 `json:"short_load_yd" mapstructure:"short_load_yd"`         // a load under this pays for what it lacks
	ShortLoadPerYd float64 `json:"short_load_per_yd" mapstructure:"short_load_per_yd"` // so much a yard
	Call           float64 `json:"call" mapstructure:"call"`                           // of a last load called in time, beyond its concrete and short-load fee
	CallAheadYd    float64 `json:"call_ahead_yd" mapstructure:"call_ahead_yd"`         // still on hand when the last load is called, or more
	HoldBackFrom   float64 `json:"hold_back_from" mapstructure:"hold_back_from"`       // a last load is held back where that saves so much
	MostShort      float64 `json:"most_short" mapstructure:"most_short"`               // a cap on the chance of running short; 0 for none
}

// DefaultOrderCosts are common practice, no published source: every plant has
// its own, and they are meant to be set.
func DefaultOrderCosts() OrderCosts {
	return OrderCosts{PricePerYd: DefaultStandardRates().ConcretePerYd.Dollars(), DisposalPerYd: 50, ExtraLoad: 330, LeastBalanceYd: 1, IncrementYd: 0.25,
		TruckYd: 10, ShortLoadYd: 4, ShortLoadPerYd: 30, CallAheadYd: 3, HoldBackFrom: 75}
}

// Filled is the default where nothing is set.
func (c OrderCosts) Filled() OrderCosts {
	if c == (OrderCosts{}) {
		return DefaultOrderCosts()
	}
	return c
}

// priced is filled, with the standard rate of concrete where no price is set.
func (c OrderCosts) priced(rates StandardRates) OrderCosts {
	out := c.Filled()
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
		{"price_per_yd", c.PricePerYd, true}, {"disposal_per_yd", c.DisposalPerYd, false}, {"balance_load", c.ExtraLoad, false}, {"balance_per_yd", c.ExtraPerYd, false},
		{"least_balance_yd", c.LeastBalanceYd, false}, {"increment_yd", c.IncrementYd, true}, {"truck_yd", c.TruckYd, true},
		{"short_load_yd", c.ShortLoadYd, false}, {"short_load_per_yd", c.ShortLoadPerYd, false}, {"call", c.Call, false}, {"call_ahead_yd", c.CallAheadYd, false}, {"hold_back_from", c.HoldBackFrom, false},
	} {
		if !(v.value >= 0 && v.value < 1e9) || v.above && v.value == 0 {
			want := "0 or more"
			if v.above {
				want = "more than 0"
			}
			return fmt.Errorf("order costs: %s is %v: want %s", v.key, v.value, want)
		}
	}
	if c.MostShort != 0 && !(c.MostShort >= leastShort && c.MostShort <= 0.5) {
		return fmt.Errorf("order costs: most_short is %v: want a chance from %v to 0.5, such as 0.05, or 0 for no cap", c.MostShort, leastShort)
	}
	return nil
}

// leastShort is the least cap that can be kept to: nobody's records tell of rarer
// shortages.
const leastShort = 0.001

// Money are the costs in the terms of [decide].
func (c OrderCosts) Money() decide.OrderCosts {
	return decide.OrderCosts{Price: c.PricePerYd, Disposal: c.DisposalPerYd, ExtraLoad: c.ExtraLoad, Premium: c.ExtraPerYd,
		LeastBalance: c.LeastBalanceYd, Increment: c.IncrementYd, MostShort: c.MostShort,
		Trucks: decide.Trucks{Capacity: c.TruckYd, LeastLoad: c.ShortLoadYd, ShortFee: c.ShortLoadPerYd}}
}

// Trucks is how many loads an order takes.
func (c OrderCosts) Trucks(yd float64) int { return int(math.Ceil(yd/c.TruckYd - 1e-9)) }
