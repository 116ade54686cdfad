package page

import (
	"cmp"
	"slices"
	"unicode/utf8"

	"pourback/report/chart"
	"pourback/report/say"
)

// Table is rows of figures. The first cell of a row names it.
type Table struct {
	Caption string
	Columns []Column
	Rows    [][]say.Cell
	Foot    []string       // why figures are not known, in the order of their marks
	More    string         // what was left out, if anything was
	Left    int            // rows that were left out, which the page says as it is finished
	Whole   func() *Table  // with the rows that were left out; nil where none were
	Below   []string       // what is to be said about the rows
	Drawing *chart.Drawing // of what the rows say, where that is drawn without script
	Find    *say.FindWords // for finding rows and ordering them; nil where the table is taken in at a look
}

// Column is the head of a column.
type Column struct {
	Head    string
	Number  bool // its cells are numbers
	Reasons bool // its cells give reasons, for which a terminal may lack the room
}

// column makes one cell of each row.
type ColumnOf[T any] struct {
	Head    string
	Number  bool
	Reasons bool
	Ahead   bool // left out while no row knows it: a figure of a later release
	Cell    func(T) say.Cell
}

// MostRows keeps a table readable and a page small.
const MostRows = 60

// TableOf makes a table of rows, of which there may be more than are shown.
func TableOf[T any](caption string, rows []T, columns ...ColumnOf[T]) *Table {
	return firstOf(caption, rows, MostRows, columns...)
}

// firstOf makes a table of the first rows, at most most of them.
func firstOf[T any](caption string, rows []T, most int, columns ...ColumnOf[T]) *Table {
	shown := rows[:min(len(rows), most, MostRows)]
	t := wholeOf(caption, shown, columns)
	if t.Left = len(rows) - len(shown); t.Left > 0 {
		t.Whole = func() *Table { return wholeOf(caption, rows, columns) }
	}
	return t
}

// wholeOf makes a table of all rows.
func wholeOf[T any](caption string, rows []T, columns []ColumnOf[T]) *Table {
	t := &Table{Caption: caption, Rows: make([][]say.Cell, len(rows))}
	for i, all := 0, make([]say.Cell, len(rows)*len(columns)); i < len(rows); i++ {
		t.Rows[i] = all[i*len(columns) : i*len(columns) : (i+1)*len(columns)]
	}
	for _, c := range columns {
		cells, known := make([]say.Cell, len(rows)), false
		for i, row := range rows {
			cells[i] = c.Cell(row)
			known = known || !cells[i].Unknown
		}
		if c.Ahead && !known {
			continue
		}
		t.Columns = append(t.Columns, Column{c.Head, c.Number, c.Reasons})
		for i := range cells {
			t.Rows[i] = append(t.Rows[i], cells[i])
		}
	}
	t.mark()
	return t
}

// mostBeside is how many columns a phone shows side by side.
const mostBeside = 3

// Cards says whether each row becomes a card where there is no room for its cells
// side by side, or where one of them is a sentence: unless they are to be read across, as those of a shaded table of
// two things crossed are.
func (t *Table) Cards() bool {
	return (len(t.Columns) > mostBeside || len(t.Columns) == mostBeside && t.wordy()) && !t.shaded()
}

// sentence is the number of characters from which a cell takes a phone's width.
const sentence = 40

// wordy says whether a column but the first gives sentences.
func (t *Table) wordy() bool {
	return slices.ContainsFunc(t.Rows, func(row []say.Cell) bool {
		return slices.ContainsFunc(row[1:], func(c say.Cell) bool { return c.Value == "" && utf8.RuneCountInString(c.Text) >= sentence })
	})
}

// longTable is the number of rows past which one looks for a row rather than
// reads them all.
const longTable = 12

// long says whether rows are to be found in a table and put in another order: not
// in one that is read across.
func (t *Table) long() bool { return len(t.Rows) > longTable && !t.shaded() }

// shaded says whether a table is of two things crossed.
func (t *Table) shaded() bool {
	return slices.ContainsFunc(t.Rows, func(row []say.Cell) bool {
		return slices.ContainsFunc(row, func(c say.Cell) bool { return c.Shade > 0 })
	})
}

// dropReasons leaves the columns of reasons out.
func (t *Table) dropReasons() {
	for at := len(t.Columns) - 1; at >= 0; at-- {
		if !t.Columns[at].Reasons {
			continue
		}
		t.Columns = slices.Delete(t.Columns, at, at+1)
		for i := range t.Rows {
			t.Rows[i] = slices.Delete(t.Rows[i], at, at+1)
		}
	}
}

// mark numbers the reasons for what is not known, row by row.
func (t *Table) mark() {
	for _, row := range t.Rows {
		for i := range row {
			if why := row[i].Why; why != "" {
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
