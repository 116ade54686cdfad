package report

import (
	"cmp"
	"slices"
)

// Table is rows of figures. The first cell of a row names it.
type Table struct {
	Caption string
	Columns []Column
	Rows    [][]Cell
	Foot    []string // why figures are not known, in the order of their marks
	More    string   // what was left out, if anything was
	Below   []string // what is to be said about the rows
	Drawing *Drawing // of what the rows say, where that is drawn without script
}

// Column is the head of a column.
type Column struct {
	Head   string
	Number bool // its cells are numbers
}

// column makes one cell of each row.
type column[T any] struct {
	head   string
	number bool
	ahead  bool // left out while no row knows it: a figure of a later release
	cell   func(T) Cell
}

// mostRows keeps a table readable and a page small.
const mostRows = 60

// tableOf makes a table of rows, of which there may be more than are shown.
func tableOf[T any](caption string, rows []T, columns ...column[T]) *Table {
	t := &Table{Caption: caption}
	if len(rows) > mostRows {
		t.More = "And " + count(len(rows)-mostRows) + " more; `pourback factors --json` has them all."
		rows = rows[:mostRows]
	}
	t.Rows = make([][]Cell, len(rows))
	for _, c := range columns {
		cells, known := make([]Cell, len(rows)), false
		for i, row := range rows {
			cells[i] = c.cell(row)
			known = known || !cells[i].unknown
		}
		if c.ahead && !known {
			continue
		}
		t.Columns = append(t.Columns, Column{c.head, c.number})
		for i := range cells {
			t.Rows[i] = append(t.Rows[i], cells[i])
		}
	}
	t.mark()
	return t
}

// mark numbers the reasons for what is not known, row by row.
func (t *Table) mark() {
	for _, row := range t.Rows {
		for i := range row {
			if why := row[i].why; why != "" {
				at := slices.Index(t.Foot, why)
				if at < 0 {
					at = len(t.Foot)
					t.Foot = append(t.Foot, why)
				}
				row[i].Note = at + 1
			}
		}
	}
}

// most sorts rows by how much they rest on, and then as they came.
func most[T any](rows []T, n func(T) int) []T {
	sorted := slices.Clone(rows)
	slices.SortStableFunc(sorted, func(a, b T) int { return cmp.Compare(n(b), n(a)) })
	return sorted
}
