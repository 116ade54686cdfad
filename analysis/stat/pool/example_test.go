package pool_test

import (
	"fmt"

	"pourback/analysis/stat/pool"
	"pourback/analysis/stat/regress"
)

// Overage of the next patio, with a walkway or two and some driveways to borrow
// from: base use plus a fixed loss that weighs more in a small job.
func ExampleModel_Fit() {
	neat := []float64{6.2, 7.5, 9.1, 5.4, 8.3, 3.1, 4.2, 2.7, 5, 1.5, 2, 1.1}
	used := []float64{6.5, 8.05, 9.4, 5.75, 8.8, 3.4, 4.75, 3.1, 5.4, 1.85, 2.3, 1.45}
	use := []int{0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2} // driveway, patio, walkway
	d := pool.Data{X: regress.Design{regress.Ones(len(neat)), make([]float64, len(neat))}, Group: use}
	for i, v := range neat {
		d.X[1][i] = 1 / v
		d.Y = append(d.Y, used[i]/v-1)
		d.H = append(d.H, 1/v)
	}
	r, kappa := pool.DefaultGrid()
	model := pool.Model{
		Prior: pool.Prior{Mean: []float64{.05, .10}, SD: []float64{.05, .25}, Sigma: .05, Nu: 4, RScale: .75},
		GridR: r, GridKappa: kappa,
	}
	post, err := model.Fit(d)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, v := range []float64{2, 4, 8} {
		next, err := post.Predict([]float64{1, 1 / v}, 1/v, 1)
		if err != nil {
			fmt.Println(err)
			return
		}
		yards := next.Affine(v, v) // used = neat·(1 + overage)
		fmt.Printf("patio of %.0f yd: uses %.2f on average, nine times in ten under %.2f\n", v, yards.Mean(), yards.Quantile(.9))
	}
	// Output:
	// patio of 2 yd: uses 2.35 on average, nine times in ten under 2.45
	// patio of 4 yd: uses 4.41 on average, nine times in ten under 4.60
	// patio of 8 yd: uses 8.53 on average, nine times in ten under 8.91
}

// Clogs of three pump outfits over hundreds of yards. The one without a clog is
// not given a rate of zero.
func ExampleGammaPoissonGrid() {
	clogs, hundreds := []float64{6, 2, 0}, []float64{9, 7, 1.2}
	grid, err := pool.GammaPoissonGrid(clogs, hundreds, pool.DefaultRatePrior())
	if err != nil {
		fmt.Println(err)
		return
	}
	for o := range clogs {
		law, err := grid.Outfit(o)
		if err != nil {
			fmt.Println(err)
			return
		}
		next, err := law.Next(.08)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("outfit %d: %.2f in 100 yd, up to %.2f; a clog in the next 8 yd %.1f %%\n", o+1, law.Mean(), law.Quantile(.95), 100*next.AtLeastOne())
	}
	// Output:
	// outfit 1: 0.58 in 100 yd, up to 0.96; a clog in the next 8 yd 4.5 %
	// outfit 2: 0.37 in 100 yd, up to 0.66; a clog in the next 8 yd 2.9 %
	// outfit 3: 0.36 in 100 yd, up to 0.78; a clog in the next 8 yd 2.8 %
}
