package sheet

import (
	"io"
	"strconv"
	"strings"
)

// SetAside writes rows of the table that could not be taken, so that they can be
// mended and handed in again: every cell as written, and behind them the reasons
// under the heading problem. What a spreadsheet wrote gets a byte-order mark, or
// it would misread ½ and °; a plain text file gets none. Decimal marks keep
// their meaning (a table that writes 1,25 is written with semicolons), and so do
// delays that were counted: their number is written in.
func (t *Table) SetAside(w io.Writer) (*Rejects, error) {
	if t.csv == nil || t.csv.enc != utf8Else1252 {
		if _, err := io.WriteString(w, bom); err != nil {
			return nil, err
		}
	}
	r := &Rejects{table: t, seq: -1}
	header := append([]string(nil), t.Header...)
	for i, c := range t.layout.columns {
		if c.spec != nil && c.spec.Name == "seq" {
			r.seq = i
		}
	}
	if t.Records.Index("seq") >= 0 && r.seq < 0 {
		r.seq = len(header)
		header = append(header, "seq")
	}
	r.width = len(header)
	delim := byte(',')
	if t.layout.habit.mark == ',' {
		delim = ';'
	}
	r.w = newWriter(w, append(header, setAsideColumn), delim)
	return r, r.w.err
}

// Rejects is a file of rows set aside.
type Rejects struct {
	w     *Writer
	table *Table
	seq   int // the column of a delay's number, -1 in other tables
	width int
}

// Write writes a row and the reasons why it was set aside.
func (r *Rejects) Write(row *Row) error {
	var reasons []string
	for _, p := range row.Problems {
		p.File, p.Sheet, p.Row = "", "", 0
		reasons = append(reasons, p.String())
	}
	cells := row.Cells()
	extra := cells[len(r.table.Header):]
	cells = append(make([]string, 0, r.width+len(extra)+1), cells[:len(r.table.Header)]...)
	for len(cells) < r.width {
		cells = append(cells, "")
	}
	if row.counted && cells[r.seq] == "" {
		cells[r.seq] = strconv.FormatInt(row.seqNumber(), 10)
	}
	cells = append(cells, strings.Join(reasons, "; "))
	return r.w.Write(append(cells, extra...))
}

// Flush writes what is still held back and returns the first error met.
func (r *Rejects) Flush() error { return r.w.Flush() }
