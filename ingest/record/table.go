package record

import "slices"

// Kind is how a column's values are read and stored.
type Kind int8

// The kinds of column, with the type of the record's field that holds each.
const (
	KindText   Kind = iota // string
	KindWord               // string, one of the column's vocabulary
	KindNumber             // Number, in the column's unit
	KindCount              // Count, a whole number, in the column's unit if it has one
	KindMoney              // Money
	KindDate               // Date
	KindMoment             // Moment
	KindFlag               // Flag
)

// Column is one column of a table, by the name that it has in every record file.
type Column struct {
	Name     string
	Kind     Kind
	Unit     *Unit       // numbers and minutes; nil for a bare number
	Words    *Vocabulary // KindWord only
	Key      bool        // part of what tells one row from another
	Required bool
	Default  string   // what a key column holds where nothing is written
	MaxChars int      // KindText: longest text allowed; 0 is the common limit
	Hard     Range    // outside it a value is an error; its ends: see the columns
	Soft     Range    // outside it a value is kept with a warning; the same
	Over     string   // how a value over its range is called; "more than" where empty
	Synonyms []string // other headings this column goes by
	Log      bool     // a column of jobs that may stand in a job log's placements row
	Later    bool     // came after the first release: a row without it is as it always was, to its digest
	Doc      string
}

// Range bounds a number, both ends included; an end that is not set is open.
type Range struct {
	Min, Max Number
	Above    bool // Min itself is outside
}

// Below and Beyond say whether v lies under or over the range.
func (r Range) Below(v float64) bool { return r.Min.OK && (v < r.Min.V || r.Above && v == r.Min.V) }

// Beyond says whether v lies over the range.
func (r Range) Beyond(v float64) bool { return r.Max.OK && v > r.Max.V }

func between(lo, hi float64) Range { return Range{Min: Some(lo), Max: Some(hi)} }
func atLeast(lo float64) Range     { return Range{Min: Some(lo)} }
func above(lo, hi float64) Range   { return Range{Min: Some(lo), Max: Some(hi), Above: true} }

// Table is one of the seven record tables.
type Table struct {
	Name     string
	Synonyms []string
	Columns  []Column
	New      func() Record // an empty row
	Doc      string
}

// Record is a row of a [Table]. Fields points at the row's values in the order
// of the table's columns, each of the type its [Kind] names; Check applies the
// rules that span columns, with today as the last day on which a pour can have
// happened.
type Record interface {
	Table() *Table
	Fields() []any
	Check(today Date) []Problem
}

// Column finds a column by its exact name, or returns nil.
func (t *Table) Column(name string) *Column {
	if i := t.Index(name); i >= 0 {
		return &t.Columns[i]
	}
	return nil
}

// Index is the place of the column with that exact name, or -1.
func (t *Table) Index(name string) int {
	return slices.IndexFunc(t.Columns, func(c Column) bool { return c.Name == name })
}

// Keys are the places of the key columns.
func (t *Table) Keys() []int {
	var keys []int
	for i, c := range t.Columns {
		if c.Key {
			keys = append(keys, i)
		}
	}
	return keys
}

// Tables lists the record tables in the order in which they are taken in: what
// is named by others comes first.
var Tables = []*Table{Jobs, Placements, Loads, Delays, Labors, Costs, Visits}

// TableNamed finds a table by name, or returns nil.
func TableNamed(name string) *Table {
	for _, t := range Stored {
		if t.Name == name {
			return t
		}
	}
	return nil
}
