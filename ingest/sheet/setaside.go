package sheet

import (
	"io"
	"strconv"
	"strings"

	"pourback/ingest/record"
)

// SetAside writes rows of the table that could not be taken whole, so that they
// can be mended and handed in again: every cell as written, and behind them the
// reasons under the heading problem. What a spreadsheet wrote gets a byte-order
// mark, or it would misread ½ and °; a plain text file gets none. Decimal marks
// keep their meaning (a table that writes 1,25 is written with semicolons), and
// so does what was counted from the rows above: the number of a delay, and the
// letter of a job's second placement, are written in.
func (t *Table) SetAside(w io.Writer) (*Rejects, error) {
	r := &Rejects{to: w, table: t, seq: -1, header: append([]string(nil), t.Header...)}
	for i, c := range t.layout.columns {
		if c.spec != nil && c.spec.Name == "seq" {
			r.seq = i
		}
	}
	if t.Records.Index("seq") >= 0 && r.seq < 0 {
		r.seq = len(r.header)
		r.header = append(r.header, "seq")
	}
	return r, nil
}

// Rejects is a file of rows set aside. It begins to write once it is known
// whether a letter must be written in.
type Rejects struct {
	to      io.Writer
	w       *Writer // nil until it begins
	table   *Table
	header  []string
	seq     int // the column of a delay's number, -1 in other tables
	letters bool
	waiting []reject
	held    int // bytes of those that wait
}

// reject is one row of the file.
type reject struct {
	cells, extra    []string
	letter, problem string
}

// mostHeld is how many bytes of rows wait for a letter to come.
const mostHeld = 1 << 20

// Write writes a row and the reasons why it was set aside, and with it the rows
// that were added up with it.
func (r *Rejects) Write(row *Row) error {
	var reasons []string
	for _, p := range row.Problems {
		p.File, p.Sheet, p.Row = "", "", 0
		reasons = append(reasons, p.String())
	}
	seq := ""
	if row.counted {
		seq = strconv.FormatInt(row.seqNumber(), 10)
	}
	if err := r.write(r.reject(row.Cells(), seq, r.letterOf(row), strings.Join(reasons, "; "))); err != nil {
		return err
	}
	for _, cells := range row.parts {
		if err := r.write(r.reject(cells, "", "", "goes with the row above")); err != nil {
			return err
		}
	}
	return nil
}

// letterOf is the letter that the row was given among its job's; none where it
// is the question whose number it bears.
func (r *Rejects) letterOf(row *Row) string {
	p, ok := row.Record.(*record.Placement)
	if !ok || !r.table.layout.letters || row.has(CodeSameNumber) {
		return ""
	}
	return p.Placement
}

func (r *Rejects) reject(cells []string, seq, letter, problem string) reject {
	n := len(r.table.Header)
	one := reject{cells: append(make([]string, 0, len(r.header)+2), cells[:n]...), extra: cells[n:], letter: letter, problem: problem}
	for len(one.cells) < len(r.header) {
		one.cells = append(one.cells, "")
	}
	if seq != "" && one.cells[r.seq] == "" {
		one.cells[r.seq] = seq
	}
	return one
}

func (r *Rejects) write(one reject) error {
	if r.w != nil {
		return r.put(one)
	}
	r.waiting = append(r.waiting, one)
	r.letters = r.letters || one.letter != "" && one.letter != "A"
	for _, c := range one.cells {
		r.held += len(c)
	}
	if r.held <= mostHeld {
		return nil
	}
	r.letters = r.table.layout.letters // one may yet come
	return r.begin()
}

// begin writes the headings and what has waited.
func (r *Rejects) begin() error {
	t := r.table
	if t.csv == nil || t.csv.enc != utf8Else1252 {
		if _, err := io.WriteString(r.to, bom); err != nil {
			return err
		}
	}
	if r.letters {
		r.header = append(r.header, "placement")
	}
	delim := byte(',')
	if t.layout.habit.mark == ',' {
		delim = ';'
	}
	r.w = newWriter(r.to, append(r.header, setAsideColumn), delim)
	for _, one := range r.waiting {
		if err := r.put(one); err != nil {
			return err
		}
	}
	r.waiting = nil
	return r.w.err
}

func (r *Rejects) put(one reject) error {
	if r.letters {
		one.cells = append(one.cells, one.letter)
	}
	return r.w.Write(append(append(one.cells, one.problem), one.extra...))
}

// Flush writes what is still held back and returns the first error met.
func (r *Rejects) Flush() error {
	if r.w == nil {
		if err := r.begin(); err != nil {
			return err
		}
	}
	return r.w.Flush()
}
