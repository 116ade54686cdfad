package sheet

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// Reading is how a file is understood: what `ingest --explain` shows and a
// person is asked about. It stands once the file is open, before any row is read.
type Reading struct {
	File   string         `json:"file"`
	Tables []TableReading `json:"tables"`
}

// TableReading is how one sheet is understood, or the one table of a CSV file. A
// sheet that holds no records is not among them; [File.Ignored] names it.
type TableReading struct {
	Sheet    string           `json:"sheet"` // "" in a CSV file
	Table    string           `json:"table"` // the record table, such as "placements"
	Headings []HeadingReading `json:"headings"`
}

// HeadingReading is what one heading is read as. Where it is not sure the column
// is left out until somebody answers, and Column is the likeliest answer.
type HeadingReading struct {
	Heading string   `json:"heading"` // as written; "GROUP / heading" where two rows head
	Column  string   `json:"column"`  // "" for none; see [ColumnName]
	Sure    bool     `json:"sure"`
	Choices []string `json:"choices"` // the likeliest columns, best first; "" is among them: of no use
	Samples []string `json:"samples"` // up to three values as written

	Each bool `json:"-"` // hours of each of the crew, which are read times how many there were
}

// Sizes that no record keeps but that give the area and the thickness.
const (
	ColumnLength = "length"
	ColumnWidth  = "width"
	ColumnSize   = "size" // 24x40x4 in one cell
)

// ColumnName is how readings and answers name a column: bare in placements,
// behind the table's name and a dot in all others, "loads.yards".
func ColumnName(t *record.Table, column string) string {
	if t == record.Placements || column == "" {
		return column
	}
	return t.Name + "." + column
}

// Answer says what a heading means: by --map, by memory or by a person.
type Answer struct {
	Sheet   string // "" for any sheet
	Heading string // as in [HeadingReading]
	Column  string // as in [HeadingReading]; "" for of no use
	Header  string // the one file whose rows were set aside that it is for; "" for any. See [Table.Meanings]
}

// ParseAnswer reads "[SHEET!]HEADING=column"; a heading with a ! in it needs one
// before it as well. A sheet or heading may hold any
// sign but = in the heading's place behind the last.
func ParseAnswer(s string) (Answer, error) {
	at := strings.LastIndexByte(s, '=')
	if at <= 0 {
		return Answer{}, fmt.Errorf("%q is no answer such as \"Act Yds=delivered_yd\"", s)
	}
	a := Answer{Heading: strings.TrimSpace(s[:at]), Column: strings.TrimSpace(s[at+1:])}
	if sheet, heading, found := strings.Cut(a.Heading, "!"); found && strings.TrimSpace(heading) != "" {
		a.Sheet, a.Heading = strings.TrimSpace(sheet), strings.TrimSpace(heading)
	}
	if a.Heading == "" {
		return Answer{}, fmt.Errorf("%q names no heading; write one such as \"Act Yds=delivered_yd\"", s)
	}
	if a.Column != "" && !knownColumn(a.Column) {
		near, _ := record.Nearest(a.Column, columnNames())
		return Answer{}, fmt.Errorf("%q is no column; did you mean %s? Write one such as delivered_yd, loads.yards, length, width or size, or nothing where the heading is of no use", a.Column, near)
	}
	return a, nil
}

// Key is the form in which an answer is remembered and found again: headings
// that differ only in case and spaces are one.
func (a Answer) Key() string { return foldHeading(a.Sheet) + "!" + foldHeading(a.Heading) }

func foldHeading(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), " ") }

// Meanings are how the headings were understood, for a file of rows that are set
// aside: it holds too few rows to be understood by itself, and must mean what
// they meant. None where the headings are the record's own.
func (t *Table) Meanings() []Answer {
	if t.insight == nil {
		return nil
	}
	var found []Answer
	key := headerKey(t.Header)
	for _, h := range t.insight.readings() {
		if h.Sure {
			found = append(found, Answer{Heading: h.Heading, Column: h.Column, Header: key})
		}
	}
	return found
}

// headerKey tells rows of headings apart.
func headerKey(names []string) string {
	h := sha256.New()
	for _, name := range names {
		if name = foldHeading(name); name != "" && name != "seq" && name != "placement" { // which may have been written in
			h.Write(append([]byte(name), 0))
		}
	}
	return hex.EncodeToString(h.Sum(nil)[:12])
}

// InDoubt says whether a heading is left out because nobody is sure what it is,
// which is said by itself.
func (t *Table) InDoubt(heading string) bool {
	if t.insight == nil {
		return false
	}
	for i, c := range t.insight.cols {
		if !t.insight.picks[i].sure && SameHeading(c.heading, heading) {
			return true
		}
	}
	return false
}

// SameHeading says whether two headings, or two sheets' names, differ only in
// case and spaces.
func SameHeading(a, b string) bool { return foldHeading(a) == foldHeading(b) }

// columnNames are all names that a reading can give a column.
func columnNames() []string {
	names := []string{ColumnLength, ColumnWidth, ColumnSize}
	for _, t := range record.Tables {
		for _, c := range t.Columns {
			names = append(names, ColumnName(t, c.Name))
		}
	}
	return names
}

// knownColumn says whether a reading can name such a column.
func knownColumn(name string) bool { return slices.Contains(columnNames(), name) }

// Doubtful are the headings that nobody has settled, each once however many
// sheets bear it, in the order of the file.
func (r Reading) Doubtful() []HeadingReading {
	var asked []HeadingReading
	seen := map[string]bool{}
	for _, t := range r.Tables {
		for _, h := range t.Headings {
			key := t.Table + "\x00" + foldHeading(h.Heading)
			if !h.Sure && !seen[key] {
				seen[key] = true
				asked = append(asked, h)
			}
		}
	}
	return asked
}

// Reading is how the file is understood.
func (f *File) Reading() Reading {
	r := Reading{File: f.Name, Tables: []TableReading{}}
	for _, t := range f.Tables {
		r.Tables = append(r.Tables, TableReading{Sheet: t.Sheet, Table: t.Records.Name, Headings: t.headings()})
	}
	return r
}

// headings is what each heading of the table is read as, in the file's order.
func (t *Table) headings() []HeadingReading {
	if t.insight != nil {
		return t.insight.readings()
	}
	read, samples := make([]HeadingReading, 0, len(t.Header)), t.samples()
	for i, name := range t.Header {
		if strings.TrimSpace(name) == "" {
			continue
		}
		h := HeadingReading{Heading: strings.TrimSpace(name), Sure: true, Choices: []string{}, Samples: samples[i]}
		if c := t.layout.columns[i].spec; c != nil {
			h.Column = ColumnName(t.Records, c.Name)
		}
		read = append(read, h)
	}
	return read
}

// samples are up to three values below each heading, from the first rows.
func (t *Table) samples() [][]string {
	const rows, each = 50, 3
	samples := make([][]string, len(t.Header))
	for i := range samples {
		samples[i] = []string{}
	}
	n := 0
	for row, err := range t.Rows() {
		if n++; err != nil || n > rows {
			break // what is wrong is said when the rows are taken in
		}
		for i, cell := range row.Cells()[:len(samples)] {
			if cell = strings.TrimSpace(cell); cell != "" && len(samples[i]) < each && !slices.Contains(samples[i], cell) {
				samples[i] = append(samples[i], cell)
			}
		}
	}
	return samples
}

// Unused is a cell below a heading that no record column holds: kept with the
// row as it was written.
type Unused struct {
	Heading string // as in [HeadingReading]
	Text    string
}

// Unused are the cells of the row that are not read and hold something. It
// costs a look at the row's text where the table has such headings at all.
func (r *Row) Unused() []Unused {
	if len(r.table.Unknown) == 0 {
		return nil
	}
	var kept []Unused
	for i, text := range r.Cells() {
		if i < len(r.table.layout.columns) && r.table.layout.columns[i].spec == nil && strings.TrimSpace(text) != "" && strings.TrimSpace(r.table.Header[i]) != "" {
			kept = append(kept, Unused{strings.TrimSpace(r.table.Header[i]), text})
		}
	}
	return kept
}

// LeftEmpty says whether an optional cell of a row that is kept could not be
// read: the row belongs into the file to mend as well.
func (r *Row) LeftEmpty() bool { return !r.Bad() && r.left }
