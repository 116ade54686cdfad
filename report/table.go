package report

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"unicode/utf8"

	"pourback/analysis/figure"
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

// Cell is one figure or word.
type Cell struct {
	Text  string
	Value string // the figure as the JSON has it; "" for a word
	Note  int    // which line of the table's foot belongs to it, from 1; 0 for none
	Below string // a second line: what the figure rests on
	Shade int    // how dark its ground is, from 1 to 5; 0 for plain

	why     string
	unknown bool
}

// Short says whether a cell is better kept on one line, as dates and the names
// of jobs are.
func (c Cell) Short() bool { return utf8.RuneCountInString(c.Text) <= 16 }

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

// word is a cell of text from the records.
func word(s string) Cell { return Cell{Text: clean(s, shortName)} }

// whole is a cell of an exact count.
func whole(n int) Cell { return Cell{Text: count(n), Value: strconv.Itoa(n)} }

// exact is a cell of a sum, which has no range.
func (m measure) exact(v float64) Cell {
	return Cell{Text: m.number(v, 0), Value: strconv.FormatFloat(v, 'g', -1, 64)}
}

// cell shows a figure with its range, or why there is none.
func (m measure) cell(f figure.Figure) Cell {
	if !f.Known() {
		return Cell{Text: "not known", why: f.Why, unknown: true}
	}
	return m.known(f)
}

// known is the cell of a figure that is known.
func (m measure) known(f figure.Figure) Cell {
	why := f.Why
	if f.Bounded && math.IsInf(f.Low, 0) && math.IsInf(f.High, 0) {
		why = "too few records to draw a range"
	}
	return Cell{Text: m.short(f), Value: strconv.FormatFloat(f.Value, 'g', -1, 64), why: why}
}

// most sorts rows by how much they rest on, and then as they came.
func most[T any](rows []T, n func(T) int) []T {
	sorted := slices.Clone(rows)
	slices.SortStableFunc(sorted, func(a, b T) int { return cmp.Compare(n(b), n(a)) })
	return sorted
}
