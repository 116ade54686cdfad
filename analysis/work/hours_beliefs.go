package work

import (
	"math"
	"slices"

	"pourback/analysis/stat/pool"
)

// HoursPriors are beliefs before the records, in the order of the columns but
// for the uses, which are believed to be alike with a standard deviation of
// UseSD. They are assumptions, and printed with the result.
type HoursPriors struct {
	Mean   []float64 `json:"mean"`
	SD     []float64 `json:"sd"`
	UseSD  float64   `json:"use_sd"`
	Sigma  float64   `json:"sigma"`
	Nu     float64   `json:"nu"`
	RScale float64   `json:"r_scale"`
}

// DefaultHoursPriors: 26 hours for 400 ft² at 4 in, hours growing with area to
// the power .85, a little more for rebar, the 87 % learning rate of Wright
// (1936, Journal of the Aeronautical Sciences 3) as 2^−.2, nothing for heat and
// nothing for use, each within about a fifth.
func DefaultHoursPriors() HoursPriors {
	return HoursPriors{
		Mean:  []float64{math.Log(26), .85, 0, 0, .1, 0, 0, -.2, 0},
		SD:    []float64{.7, .2, .2, .2, .2, .2, .5, .2, .1},
		UseSD: .2,
		Sigma: .25, Nu: 4, RScale: .75,
	}
}

// engine is the model in the terms of [pool], with so many columns of uses.
func (p HoursPriors) engine(uses int) pool.Model {
	prior := pool.Prior{Mean: slices.Clone(p.Mean), SD: slices.Clone(p.SD), Sigma: p.Sigma, Nu: p.Nu, RScale: p.RScale}
	for range uses {
		prior.Mean, prior.SD = append(prior.Mean, 0), append(prior.SD, p.UseSD)
	}
	r, _ := pool.DefaultGrid()
	return pool.Model{GridR: r, GridKappa: []float64{0}, Prior: prior}
}
