package sheet

import (
	"fmt"
	"math"
	"strings"

	"pourback/ingest/record"
)

// layout is all that is known about a table before its rows are read. It does
// not change while they are.
type layout struct {
	table   *record.Table
	header  []string
	columns []column // of the file, in its order
	given   []bool   // per record column
	unknown []string
	habit   habit
	today   record.Date
	said    []record.Problem // about the headings

	form    bool   // single values of a form: nothing is left empty
	needed  bool   // the first rows say things that only a loose reading takes up
	loose   bool   // a row may say things that no column of its record holds
	own     []bool // per record column: whether the file has a column for it
	spills  []int  // record columns that cells of other columns speak for
	letters bool   // rows of one job are named A, B …
	addsUp  bool   // rows of one key are added up
	why     string // of visits that do not say: planned or callback

	crewOfTab  string      // the crew that the tab or its title names
	jobs       *jobNumbers // of the file, for the tabs that speak of its jobs
	keyHeading string      // of job_no
	mended     bool        // the file was set aside once: behind its columns stand the reasons
}

// setAsideColumn is the heading of the reasons behind rows that were set aside;
// it is not read.
const setAsideColumn = "problem"

// newLayout assigns the columns of a file to those of its table. It refuses a
// file that names one of them twice.
func newLayout(h header, opt *Options) (*layout, *Refusal) {
	names, last := h.names, mendedAt(h.names)
	if last >= 0 {
		names = names[:last]
	}
	l := &layout{table: h.table, header: names, given: make([]bool, len(h.table.Columns)), own: make([]bool, len(h.table.Columns)), today: opt.Today, mended: last >= 0}
	if l.today == 0 {
		l.today = math.MaxInt32
	}
	standsIn := map[int]int{}
	onlyOwn := namesAll(h.table, names)
	for i, name := range names {
		m := h.meanings[i]
		if onlyOwn && !isOwnName(h.table, name) {
			l.keepOut(name)
			continue
		}
		if !h.known[i] {
			l.keepOut(name)
			continue
		}
		spec := &h.table.Columns[m.column]
		if first, twice := standsIn[m.column]; twice {
			return nil, columnTwice(spec.Name, first, i, names)
		}
		standsIn[m.column] = i
		l.given[m.column], l.own[m.column] = true, true
		if m.column == 0 {
			l.keyHeading = name
		}
		c := newColumn(h.table, m.column, opt.Dictionary)
		c.cal = calendar{dayFirst: opt.DayFirst, epoch: epoch1900}
		if m.calendar != nil {
			c.cal.dayFirst, c.cal.settled = m.calendar.dayFirst, true
		}
		if m.unit != "" {
			c.in(m.unit)
		}
		l.columns = append(l.columns, c)
		if m.unitless {
			l.say(codeNoUnit, spec.Name, name, "the heading names no unit", "read as "+spec.Unit.Label)
		}
	}
	l.letters = l.table == record.Placements && !l.given[l.table.Index("placement")]
	return l, nil
}

// mendedAt is the place of the reasons in the headings of a file that was set
// aside once, or -1.
func mendedAt(names []string) int {
	if last := lastNamed(names); last > 0 && strings.EqualFold(strings.TrimSpace(names[last]), setAsideColumn) {
		return last
	}
	return -1
}

// lastNamed is the place of the last heading that is not empty, or -1.
func lastNamed(names []string) int {
	last := len(names) - 1
	for last >= 0 && strings.TrimSpace(names[last]) == "" {
		last--
	}
	return last
}

// keepOut notes a column that no record has.
func (l *layout) keepOut(name string) {
	l.columns = append(l.columns, column{target: -1, plain: skipped, noted: strings.TrimSpace(name) == ""})
	if strings.TrimSpace(name) != "" {
		l.unknown = append(l.unknown, strings.TrimSpace(name))
	}
}

func (l *layout) say(code, column, value, wrong, right string) {
	l.said = append(l.said, record.Problem{Severity: record.Warning, Code: code, Column: column, Value: value, Wrong: wrong, Right: right})
}

func columnTwice(column string, a, b int, names []string) *Refusal {
	return refuse("", codeTwice, fmt.Sprintf("%s stands in two columns, %s (%q) and %s (%q)", column, columnLetters(a), names[a], columnLetters(b), names[b]),
		"keep one of them, or rename the other")
}

// columnLetters names a column as spreadsheets do: A, Z, AA.
func columnLetters(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return columnLetters(i/26-1) + string(rune('A'+i%26))
}

// newRecord is an empty row with its fields, the columns that the file does not
// give holding their defaults.
func (l *layout) newRecord() (record.Record, []any) {
	r := l.table.New()
	fields := r.Fields()
	for i, c := range l.table.Columns {
		if !l.given[i] && c.Default != "" {
			*fields[i].(*string) = c.Default
		}
	}
	return r, fields
}
