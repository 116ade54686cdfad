package page

import (
	"math"

	"pourback/report/say"
)

// Matrix crosses two things in a table: a row for each of the one under a
// corner that names it, a column for each of the other. Cells with a Shade show
// their size at a glance; the table needs no picture.
func Matrix[R, C any](caption, corner string, rows []R, columns []C, row func(R) string, column func(C) string, cell func(R, C) say.Cell) *Table {
	t := &Table{Caption: caption, Columns: []Column{{Head: corner}}}
	for _, c := range columns {
		t.Columns = append(t.Columns, Column{column(c), true})
	}
	for _, r := range rows {
		cells := []say.Cell{say.Word(row(r))}
		for _, c := range columns {
			cells = append(cells, cell(r, c))
		}
		t.Rows = append(t.Rows, cells)
	}
	t.mark()
	return t
}

// Shaded is a cell whose ground is the darker the nearer its value is to the
// most of all cells.
func Shaded(c say.Cell, value, most float64) say.Cell {
	const shades = 5
	if share := value / most; share >= 0 && !math.IsInf(share, 0) {
		c.Shade = 1 + min(shades-1, int(shades*share))
	}
	return c
}
