package sheet

import (
	"math"

	"pourback/ingest/record"
)

// Form reads values that are given one by one under the names of a table's
// columns, as a spec or a form gives them, by the rules by which the cells of a
// record file are read: names may bear a unit, and so may values. It is for one
// goroutine.
type Form struct {
	headings *headings
	cal      calendar
	words    record.Dictionary
	cells    cellReader
}

// NewForm makes the form of a table.
func NewForm(t *record.Table, opt Options) *Form {
	l := &layout{table: t, form: true, own: make([]bool, len(t.Columns)), today: opt.Today, habit: habit{mark: '.'}}
	if opt.DecimalComma == "yes" {
		l.habit.mark = ','
	}
	if l.today == 0 {
		l.today = math.MaxInt32
	}
	return &Form{headings: newHeadings(t, opt.Dictionary), words: opt.Dictionary,
		cal: calendar{dayFirst: opt.DayFirst, epoch: epoch1900}, cells: cellReader{layout: l}}
}

// Column is the place of the column that a name means, or -1.
func (f *Form) Column(name string) int {
	m, found := f.headings.find(headingWords(name))
	if !found {
		return -1
	}
	return m.column
}

// Nearest is the column whose name takes the fewest changes to reach.
func (f *Form) Nearest(name string) string {
	var names []string
	for _, c := range f.headings.table.Columns {
		names = append(names, c.Name)
	}
	nearest, _ := record.Nearest(record.Fold(name), names)
	return nearest
}

// ReadBeside is [Form.Read], and what the text says of other columns, such as the
// wind beside a temperature, goes into their fields where those are missing.
func (f *Form) ReadBeside(fields []any, name, text string) []record.Problem {
	f.cells.fields = fields
	defer func() { f.cells.fields = nil }()
	return f.read(fields, name, text)
}

// Read reads a value into the field of the column that its name means, which
// [Form.Column] must know, and returns what is wrong with it.
func (f *Form) Read(fields []any, name, text string) []record.Problem {
	return f.read(fields, name, text)
}

func (f *Form) read(fields []any, name, text string) []record.Problem {
	m, _ := f.headings.find(headingWords(name))
	c := newColumn(f.headings.table, m.column, f.words)
	c.cal = f.cal
	if m.unit != "" {
		c.in(m.unit)
	}
	f.cells.problems = nil
	f.cells.read(&c, fields[m.column], text)
	return f.cells.problems
}
