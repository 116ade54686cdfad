package decide_test

import (
	"fmt"

	"pourback/analysis/stat/decide"
)

// A slab that should take 6.4 yd³, give or take a third of one: what each
// order costs on average, and which to place.
func ExampleOrderCosts_Curve() {
	need, err := decide.Student(6.37, 0.31, 12)
	if err != nil {
		fmt.Println(err)
		return
	}
	costs := decide.OrderCosts{
		Price: 162, Disposal: 40, ExtraLoad: 330, LeastBalance: 1, Increment: 0.25,
		Trucks: decide.Trucks{Capacity: 10, LeastLoad: 7, ShortFee: 35},
	}
	orders, err := costs.Curve(need, 6.5, 7.25)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, o := range orders {
		fmt.Printf("%.2f yd³: short %2.0f %% of the time, $%.0f\n", o.Quantity, 100*o.ProbExtra, o.Cost)
	}
	best, err := costs.Best(need)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("order %.2f yd³\n", best.Quantity)
	// Output:
	// 6.50 yd³: short 34 % of the time, $1257
	// 6.75 yd³: short 12 % of the time, $1182
	// 7.00 yd³: short  3 % of the time, $1176
	// 7.25 yd³: short  1 % of the time, $1214
	// order 7.00 yd³
}

// Twelve callbacks put the hazard of mesh at e^0.52 = 1.7 times that of rebar,
// with a wide margin; rebar costs $58 more a placement and pays above 1.7.
func ExampleSteel_Decide() {
	steel := decide.Steel{
		LogRatio: 0.52, Variance: 0.92, PriorSD: 0.5, Risk: 0.0304,
		CallbackCost: 3500, ExtraCost: 58, AtStake: 300,
	}
	a, err := steel.Decide()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("break-even ratio %.2f, mesh cheaper with probability %.2f, rebar gains $%.0f a placement\n", a.BreakEven, a.MeshCheaper, a.Gain)
	// Output: break-even ratio 1.71, mesh cheaper with probability 0.83, rebar gains $-46 a placement
}
