package pool

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Cells are columns that follow from which of a few cells a row is of, and from its
// H: At + Slope·H. All rows of a cell are of one group. What a fit wants of them are
// five sums a cell, however many columns there are.
type Cells struct {
	Of        []int32     // the cell of each row
	At, Slope [][]float64 // by cell, its columns
}

func (c Cells) columns() int {
	if len(c.At) == 0 {
		return 0
	}
	return len(c.At[0])
}

// check validates them for n rows of these groups, nil for none.
func (c Cells) check(n int, group []int) error {
	if len(c.Of) != n || len(c.At) != len(c.Slope) {
		return fmt.Errorf("%d rows have a cell for %d outcomes, and %d cells a slope of %d: %w", len(c.Of), n, len(c.Slope), len(c.At), stat.ErrShape)
	}
	for k := range c.At {
		if len(c.At[k]) != c.columns() || len(c.Slope[k]) != c.columns() {
			return fmt.Errorf("cell %d has %d columns and %d slopes, the first has %d: %w", k, len(c.At[k]), len(c.Slope[k]), c.columns(), stat.ErrShape)
		}
		if err := stat.Finite("column", append(c.At[k][:c.columns():c.columns()], c.Slope[k]...)...); err != nil {
			return err
		}
	}
	first := make([]int, len(c.At)) // row of each cell, and one
	for i, k := range c.Of {
		if k < 0 || int(k) >= len(c.At) {
			return fmt.Errorf("cell of row %d is %d, not from 0 to %d: %w", i, k, len(c.At)-1, stat.ErrDomain)
		}
		if first[k] == 0 {
			first[k] = i + 1
		}
		if was := first[k] - 1; len(group) == n && group[i] != group[was] {
			return fmt.Errorf("rows %d and %d of cell %d are of groups %d and %d: %w", was, i, k, group[was], group[i], stat.ErrDomain)
		}
	}
	return nil
}

// shift takes x'shift off each of the outcomes.
func (c Cells) shift(y, h, shift []float64) {
	at, slope := make([]float64, len(c.At)), make([]float64, len(c.At))
	for k := range c.At {
		for j, s := range shift {
			at[k] += s * c.At[k][j]
			slope[k] += s * c.Slope[k][j]
		}
	}
	for i, k := range c.Of {
		y[i] -= at[k]
		if h != nil {
			y[i] -= slope[k] * h[i]
		}
	}
}

// moments are what a cell's rows say at one κ, with w their precisions.
type moments struct{ w, wh, whh, wy, why float64 }

// passCells adds rows a to b to the sums of every κ.
func passCells(byKappa []*sums, d Data, a, b int, kappas []float64) {
	cells := d.Cells
	all, group := make([]moments, len(cells.At)*len(kappas)), make([]int, len(cells.At))
	product := make([]float64, len(kappas))
	for k := range product {
		product[k] = 1
	}
	for i := a; i < b; i++ {
		y, h, q := d.Y[i], 0.0, 1.0
		if d.H != nil {
			h = d.H[i]
		}
		if d.Weight != nil {
			q = d.Weight[i]
		}
		cell := int(cells.Of[i])
		if d.Group != nil {
			group[cell] = d.Group[i]
		}
		of := all[cell*len(kappas):][:len(kappas)]
		for k, kappa := range kappas {
			v := 1 + kappa*h
			w, m := q/v, &of[k]
			wh, wy := w*h, w*y
			m.w += w
			m.wh += wh
			m.whh += wh * h
			m.wy += wy
			m.why += wy * h
			byKappa[k].yy += wy * y
			if product[k] *= v; product[k] > 1e100 {
				byKappa[k].logW -= math.Log(product[k])
				product[k] = 1
			}
		}
	}
	for k, s := range byKappa {
		s.logW -= math.Log(product[k])
		for cell := range cells.At {
			s.addCell(cells.At[cell], cells.Slope[cell], group[cell], all[cell*len(kappas)+k])
		}
	}
}

// addCell adds the rows of one cell.
func (s *sums) addCell(at, slope []float64, group int, m moments) {
	for j := range at {
		x0, x1 := at[j]*m.w+slope[j]*m.wh, at[j]*m.wh+slope[j]*m.whh // Σw·x_j, Σw·x_j·h
		if x0 == 0 && x1 == 0 {
			continue
		}
		s.xy[j] += at[j]*m.wy + slope[j]*m.why
		for k := 0; k <= j; k++ {
			s.xx[j*s.p+k] += x0*at[k] + x1*slope[k]
		}
		if len(s.groups) > 0 {
			s.groups[group*(s.p+2)+2+j] += x0
		}
	}
	if len(s.groups) > 0 {
		block := s.groups[group*(s.p+2):]
		block[0] += m.w
		block[1] += m.wy
	}
}
