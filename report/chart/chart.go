// Package chart draws: kinds of picture to fill, each of which makes a [Drawing],
// and plans drawn shape by shape.
//
//	LinePlot      lines over a scale, stepped or not, with ranges as bands
//	RowPlot       a row for each name: dots or bars with their ranges
//	SurvivalPlot  stepped curves with bands, and the numbers still watched below
//	ForestPlot    ratios with their ranges on a scale of doublings
//	FunnelPlot    rates by how much they rest on, between limits of chance
//	ParetoPlot    the costliest first, with the share that they add up to
//	BridgePlot    from one sum to another, step by step
//	ControlPlot   a value over time between limits, what stands out marked
//	FitPlot       points with a fitted line and a band
//	BoxPlot       how values of each kind spread
//	ColumnPlot    amounts month by month, beside what is usual
//	ScatterPlot   points by two things, or over dates, some of them marked
//	GridPlot      counts of two things crossed
//	MonthPlot     months of days, with what happens on them
//	DayPlot       a day by the clock: what lasts from when to when, and its deadlines
//	TornadoPlot   what a sum swings with, or what turns a decision
//
// LinePlot and RowPlot make small pictures too, which are read at a glance.
//
// A kind says what stands out in its notes, gives a line its name at its end, and
// draws a range wherever there is one. Its parts are a board, which knows where
// words stand and lets none cover another, and, for most, a frame of two scales or
// a list of rows.
package chart

import (
	"math"

	"pourback/analysis/figure"
)

// Chart is a picture of the table below it. It is drawn only where it is
// looked at.
type Chart struct {
	ID   string // of its place on the page
	Says string // what it shows, for those who do not see it
	Why  string // why it is not drawn; empty where it is

	draw func() *board
}

// Undrawn is a chart for which there is too little: the page says why in its
// place.
func Undrawn(id, why string) *Chart { return &Chart{ID: id, Why: why} }

// Few says why a chart is not drawn that has n points and takes least.
type Few func(n, least int) string

// Drawing draws the chart; nil where there is too little.
func (c *Chart) Drawing() *Drawing {
	if c.Why != "" {
		return nil
	}
	d := c.draw().Drawing
	d.Says = c.Says
	return d
}

// Spot is a place on a chart, in the units of its scales, with the words that
// appear when it is pointed at.
type Spot struct {
	X, Y float64
	Tip  string
}

func (s Spot) drawable() bool { return finite(s.X) && finite(s.Y) }

// Reach is a range above a place on the lower scale.
type Reach struct{ X, Low, High float64 }

// Amount is a figure in its place on a chart: its value and the ends of its
// range, NaN where there is none.
type Amount struct {
	Value, Low, High float64
	Tip              string // the words that appear when it is pointed at
	Text             string // beside it
	Hue              Hue    // where it is another than its neighbors'
}

// None is an amount that is not known.
func None() Amount { return Amount{Value: math.NaN(), Low: math.NaN(), High: math.NaN()} }

// Of is a figure as a chart has it, times what brings it to the reader's unit.
func Of(f figure.Figure, factor float64, tip string) Amount {
	a := None()
	if !f.Known() {
		return a
	}
	a.Value, a.Tip = f.Value*factor, tip
	if f.Bounded {
		a.Low, a.High = f.Low*factor, f.High*factor
	}
	return a
}

// With puts words beside an amount.
func (a Amount) With(text string) Amount {
	a.Text = text
	return a
}

// As gives an amount a color of its own.
func (a Amount) As(h Hue) Amount {
	a.Hue = h
	return a
}

func (a Amount) drawable() bool { return finite(a.Value) }

// ranged says whether it has a range.
func (a Amount) ranged() bool { return !math.IsNaN(a.Low) && !math.IsNaN(a.High) }

// MostKinds keeps a chart readable on a phone.
const MostKinds = 12

// Thin keeps so many of all, every so manieth.
func Thin[T any](all []T, most int) []T {
	if len(all) <= most {
		return all
	}
	kept := make([]T, most)
	for i := range kept {
		kept[i] = all[i*len(all)/most]
	}
	return kept
}

// DaysPerYear turns ages in days into the years of a scale.
const DaysPerYear = 365.25
