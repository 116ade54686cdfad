package pool

import (
	"errors"
	"math/rand/v2"
	"testing"

	"pourback/analysis/stat"
	"pourback/analysis/stat/regress"
)

// inCells are the same rows twice: in columns, and by cells. Two of three groups
// have two cells each.
func inCells(n int) (columns, cells Data) {
	rng := rand.New(rand.NewPCG(3, 4))
	at := [][]float64{{1, 0, 0, 1}, {1, 0, 0, 0}, {1, 0, 0, 1}, {1, 0, 0, 0}, {1, 0, 0, 1}}
	slope := [][]float64{{0, 1, 0, 0}, {0, 0, 1, 0}, {0, 1, 0, 0}, {0, 0, 1, 0}, {0, 0, 1, 0.5}}
	groups := []int{0, 0, 1, 1, 2}
	columns = Data{X: make(regress.Design, 4), Y: make([]float64, n), H: make([]float64, n), Group: make([]int, n), Weight: make([]float64, n)}
	of := make([]int32, n)
	for i := range n {
		k := rng.IntN(len(at))
		of[i], columns.Group[i], columns.H[i], columns.Weight[i] = int32(k), groups[k], 0.02+rng.Float64(), 0.5+rng.Float64()
		for j := range columns.X {
			columns.X[j] = append(columns.X[j], at[k][j]+slope[k][j]*columns.H[i])
		}
		columns.Y[i] = 0.05 + 0.3*columns.H[i] + 0.04*rng.NormFloat64()
	}
	cells = columns
	cells.X, cells.Cells = nil, Cells{of, at, slope}
	return columns, cells
}

// Sums by cell say what sums of columns say.
func TestCells(t *testing.T) {
	columns, cells := inCells(700)
	m := Model{Prior: Prior{Mean: []float64{0.1, 0.2, 0.2, 0}, SD: []float64{0.2, 0.5, 0.5, 0.1}, Sigma: 0.05, Nu: 4, RScale: 0.5}}
	m.GridR, m.GridKappa = DefaultGrid()
	for name, change := range map[string]func(*Data){
		"all": func(*Data) {}, "no weights": func(d *Data) { d.Weight = nil }, "no groups": func(d *Data) { d.Group = nil },
	} {
		a, b := columns, cells
		change(&a)
		change(&b)
		want, weightsA, err := m.FitStudent(a, 4)
		if err != nil {
			t.Fatal(err)
		}
		got, weightsB, err := m.FitStudent(b, 4)
		if err != nil {
			t.Fatal(err)
		}
		for k, c := range want.Cells {
			near(t, name+": weight of a cell of the grid", got.Cells[k].Weight, c.Weight, 1e-11)
			for j, beta := range c.Beta {
				near(t, name+": coefficient", got.Cells[k].Beta[j], beta, 1e-11)
			}
		}
		for i, w := range weightsA {
			near(t, name+": weight of a row", weightsB[i], w, 1e-11)
		}
	}
}

func TestCellsThatCannotBe(t *testing.T) {
	_, good := inCells(20)
	m := Model{Prior: Prior{Mean: make([]float64, 4), SD: []float64{1, 1, 1, 1}, Sigma: 1, Nu: 4, RScale: 1}, GridR: []float64{0, 1}, GridKappa: []float64{0}}
	for name, c := range map[string]struct {
		change func(*Data)
		want   error
	}{
		"a cell too few":  {func(d *Data) { d.Cells.Of = d.Cells.Of[1:] }, stat.ErrShape},
		"a slope too few": {func(d *Data) { d.Cells.Slope = d.Cells.Slope[1:] }, stat.ErrShape},
		"no such cell":    {func(d *Data) { d.Cells.Of = append([]int32{9}, d.Cells.Of[1:]...) }, stat.ErrDomain},
		"two groups in a cell": {func(d *Data) {
			d.Group = append([]int{2 - d.Group[0]/2}, d.Group[1:]...)
			d.Cells.Of = make([]int32, 20)
		}, stat.ErrDomain},
	} {
		d := good
		c.change(&d)
		if _, err := m.Fit(d); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
}

func BenchmarkSumsOfAMillion(b *testing.B) {
	columns, cells := inCells(1_000_000)
	_, kappas := DefaultGrid()
	for name, d := range map[string]Data{"columns": columns, "cells": cells} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				accumulate(d, 3, kappas)
			}
		})
	}
}
