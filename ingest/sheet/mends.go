package sheet

import (
	"slices"
	"strings"

	"pourback/ingest/record"
)

// Cell names a cell of a file: by its sheet ("" in a CSV file), its row as the
// user's spreadsheet numbers it, and the place of its column among the table's
// headings.
type Cell struct {
	Sheet  string
	Row    int
	Column int
}

// Mends are texts that are read in place of those that stand in cells, as if the
// file had them. How headings are understood does not hang on them.
type Mends map[Cell]string

// Mended is a cell of a row that was read otherwise than it was written.
type Mended struct {
	Column       int // among the table's headings
	Written, Now string
}

// in are the mends of a sheet, by row; nil for none.
func (m Mends) in(sheet string) map[int]map[int]string {
	var rows map[int]map[int]string
	for at, text := range m {
		if at.Sheet != sheet {
			continue
		}
		if rows == nil {
			rows = map[int]map[int]string{}
		}
		if rows[at.Row] == nil {
			rows[at.Row] = map[int]string{}
		}
		rows[at.Row][at.Column] = text
	}
	return rows
}

// mend puts the texts of a row in place of those that were written.
func (t *Table) mend(row int, cells []string) ([]string, []Mended) {
	var mended []Mended
	for i := range t.Header {
		text, ok := t.mends[row][i]
		if !ok || text == at(cells, i) {
			continue
		}
		mended = append(mended, Mended{i, at(cells, i), text})
		cells = put(cells, i, text)
	}
	return cells, mended
}

// mendBlock writes records of a block anew whose cells are mended. It returns the
// number of the block's last row, given that of the one before it.
func (t *Table) mendBlock(b *block, number int) int {
	b.mended = nil
	if t.mends == nil || b.err != nil {
		return number
	}
	var whole []byte
	from := 0 // of what is taken over as it is
	for i, line := 0, 1; i < len(b.buf); line++ {
		end := recordEnd(b.buf, i, t.csv.delim)
		if number++; t.mends[number] != nil {
			cells, mended := t.mend(number, splitRecord(b.buf[i:end], t.csv.delim, t.csv.enc))
			if len(mended) > 0 {
				if b.mended == nil {
					b.mended = map[int][]Mended{}
				}
				b.mended[line] = mended
				whole = appendRecord(append(whole, b.buf[from:i]...), cells, t.csv.delim)
				from = end
			}
		}
		i = end
	}
	if from > 0 {
		b.buf = append(whole, b.buf[from:]...)
	}
	return number
}

// appendRecord writes a record with every cell quoted.
func appendRecord(to []byte, cells []string, delim byte) []byte {
	for i, cell := range cells {
		if i > 0 {
			to = append(to, delim)
		}
		to = append(to, '"')
		to = append(to, strings.ReplaceAll(cell, `"`, `""`)...)
		to = append(to, '"')
	}
	return append(to, '\n')
}

// Mended are the cells of the row that were mended, in the order of the file.
func (r *Row) Mended() []Mended { return r.mended }

// ReadAs is the name of the column that a heading of the table is read as, such as
// area_sqft, or length for a measure; "" where it is read as none.
func (t *Table) ReadAs(heading int) string {
	if heading < 0 || heading >= len(t.layout.columns) || t.layout.columns[heading].spec == nil {
		return ""
	}
	return t.layout.columns[heading].spec.Name
}

// HeadingOf is the place of the heading below which a problem of a row stands, or
// -1 where it is about no cell. What is wrong with a size that was worked out is
// wrong with the cell that it was worked out from; where nobody knows how much it
// is, it is the first cell of those that is empty.
func (t *Table) HeadingOf(r *Row, p record.Problem) int {
	if letters, found := strings.CutPrefix(p.Column, "column "); found {
		if i := columnOf([]byte(letters)); i < len(t.Header) {
			return i
		}
		return -1
	}
	if p.Code == codeNoAmount {
		for i, cell := range r.Cells()[:len(t.Header)] {
			if slices.Contains(amountColumns, t.ReadAs(i)) && strings.TrimSpace(cell) == "" {
				return i
			}
		}
	}
	names := []string{p.Column}
	if p.Column == "area_sqft" || p.Code == codeNoAmount {
		names = append(names, amountColumns...)
	}
	for _, name := range names {
		for i := range t.layout.columns {
			if name != "" && t.ReadAs(i) == name {
				return i
			}
		}
	}
	return -1
}
