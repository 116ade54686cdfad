package sheet

import (
	"bufio"
	"io"
	"iter"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// Writer writes CSV as RFC 4180 has it, in UTF-8, so that a spreadsheet can be
// trusted with it: text that it would run as a formula gets a leading
// apostrophe, which reading takes away again.
type Writer struct {
	w     *bufio.Writer
	delim byte
	err   error
}

// NewWriter begins a file with its header.
func NewWriter(w io.Writer, header []string) *Writer { return newWriter(w, header, ',') }

// NewAside begins a file of rows that wait to be settled, of values as the store has
// them, which [Options.Cell] writes so that they are read to the same. The reasons
// stand behind them.
func NewAside(w io.Writer, header []string, opt Options) *Writer {
	return newWriter(w, append(slices.Clone(header), setAsideColumn), AsideDelimiter(opt))
}

// AsideDelimiter is what stands between the cells of such a file.
func AsideDelimiter(opt Options) byte {
	if h, _ := wishedHabit(opt.DecimalComma); h.mark == ',' {
		return ';'
	}
	return ','
}

// Cell is a field as a cell of a file that is read by these options.
func (o Options) Cell(field any) string {
	text := record.FieldText(field)
	switch field.(type) {
	case *record.Number, *record.Money:
		if h, _ := wishedHabit(o.DecimalComma); h.mark == ',' {
			return strings.Replace(text, ".", ",", 1)
		}
	}
	return text
}

func newWriter(w io.Writer, header []string, delim byte) *Writer {
	out := &Writer{w: bufio.NewWriter(w), delim: delim}
	out.err = out.Write(header)
	return out
}

// Write writes one row.
func (w *Writer) Write(cells []string) error {
	for i, cell := range cells {
		if i > 0 {
			w.w.WriteByte(w.delim)
		}
		w.writeCell(guard(cell), len(cells) == 1)
	}
	if _, err := w.w.WriteString("\r\n"); err != nil && w.err == nil {
		w.err = err
	}
	return w.err
}

// writeCell quotes what would otherwise be read as something else. A lone empty
// cell is quoted, or its row would be a blank line.
func (w *Writer) writeCell(s string, alone bool) {
	if s != "" && !strings.ContainsAny(s, "\"\r\n,;\t|") && s == strings.TrimSpace(s) && !strings.HasPrefix(s, bom) || s == "" && !alone {
		w.w.WriteString(s)
		return
	}
	w.w.WriteByte('"')
	w.w.WriteString(strings.ReplaceAll(s, `"`, `""`))
	w.w.WriteByte('"')
}

// Flush writes what is still held back and returns the first error met.
func (w *Writer) Flush() error {
	if err := w.w.Flush(); err != nil && w.err == nil {
		w.err = err
	}
	return w.err
}

// WriteTable writes rows of a table in the record format: all columns, in the
// text that reading brings back to the same values, and behind them the columns
// of no use that unused names, as they were written.
func WriteTable(w io.Writer, t *record.Table, unused []string, rows iter.Seq2[record.Record, map[string]string]) error {
	header := make([]string, len(t.Columns), len(t.Columns)+len(unused))
	for i, c := range t.Columns {
		header[i] = c.Name
	}
	for _, heading := range unused {
		header = append(header, apart(t, heading))
	}
	out := NewWriter(w, header)
	cells := make([]string, len(t.Columns)+len(unused))
	for r, kept := range rows {
		for i, f := range r.Fields() {
			cells[i] = record.FieldText(f)
		}
		for i, heading := range unused {
			cells[len(t.Columns)+i] = kept[heading]
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	return out.Flush()
}

// startsFormula are the characters with which a cell must begin for a
// spreadsheet to run it.
const startsFormula = "=+-@\t\r\n"

// wideFormula are the same signs in full width, which some spreadsheets take
// for them.
var wideFormula = []string{"＝", "＋", "－", "＠"}

// formula says whether a spreadsheet would run s, or take it for guarded.
func formula(s string) bool {
	return s != "" && (strings.IndexByte(startsFormula+"'", s[0]) >= 0 || slices.ContainsFunc(wideFormula, func(w string) bool { return strings.HasPrefix(s, w) }))
}

// signedAmount is a number or an amount of money with its sign, which may stay
// as it is; so may a lone dash.
var signedAmount = patternOf(`^[+-][$€£]?(?:(?:\d{1,3}(?:[,. ]\d{3})+|\d+)(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d{1,3})? ?%?$`)

// guard puts an apostrophe before text that a spreadsheet would run, and before
// text that begins with an apostrophe which reading would take away.
func guard(s string) string {
	if s == "-" || !formula(s) || s[0] != '\'' && signedAmount.MatchString(s) {
		return s
	}
	if s[0] == '\'' && !guarded(s) {
		return s
	}
	return "'" + s
}

// guarded says whether the apostrophe that s begins with guards what follows.
func guarded(s string) bool {
	return strings.HasPrefix(s, "'") && formula(s[1:])
}

// unguard takes the apostrophe away that [guard] has put.
func unguard(s string) string {
	if guarded(s) {
		return s[1:]
	}
	return s
}
