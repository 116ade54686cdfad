package bid

import (
	"math"

	"pourback/analysis/concrete"
)

// Reckoner is what to have for the rest of a pour day by how far it is and what
// it has used by then: what a crew can read off without a computer.
type Reckoner struct {
	Day  int
	Rows []ReckonerRow
}

// ReckonerRow is one share of the day's neat volume covered.
type ReckonerRow struct {
	Covered float64
	Cells   []ReckonerCell // by more and more placed
}

// ReckonerCell is what the rest wants in all, on hand or called in, once so
// much is placed.
type ReckonerCell struct{ PlacedYd, HaveYd float64 }

// Reckoner reckons the days of a bid on which something is held back, by
// [Balance] with nothing on hand, from before the last load is to be called.
func (g *Ground) Reckoner(spec Spec) ([]Reckoner, error) {
	w, err := g.work(spec)
	if err != nil {
		return nil, err
	}
	if err := w.orders(); err != nil {
		return nil, err
	}
	var all []Reckoner
	for _, d := range w.days {
		if !d.out.Hold.Worth {
			continue
		}
		r := Reckoner{Day: d.out.Day}
		for tenths := max(1, min(5, math.Floor(10*d.out.Hold.CallAt))); tenths <= 9; tenths++ {
			row, err := w.reckon(d, tenths/10)
			if err != nil {
				return nil, err
			}
			r.Rows = append(r.Rows, row)
		}
		all = append(all, r)
	}
	return all, nil
}

// reckon spreads what may be placed by then over what the day is thought to
// use, from the lower to the upper tenth, in steps of an order.
func (w *bidWork) reckon(d *bidDay, covered float64) (ReckonerRow, error) {
	row := ReckonerRow{Covered: covered}
	step := w.costs.IncrementYd
	usual, apart := d.out.UsedYd.Mean*covered, (d.out.UsedYd.P90-d.out.UsedYd.P10)/4*covered
	apart = max(step, math.Round(apart/step)*step)
	for k := -2.0; k <= 2; k++ {
		placed := math.Round((usual+k*apart)/step) * step
		if placed <= 0 {
			continue
		}
		call, err := d.belief.Balance(concrete.Progress{PlacedYd: placed, Covered: covered}, d.costs, w.opt.Level, w.b.Records.Volumes)
		if err != nil {
			return row, err
		}
		row.Cells = append(row.Cells, ReckonerCell{placed, call.CallYd})
	}
	return row, nil
}
