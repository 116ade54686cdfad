package sheet

import (
	"bytes"
	"io"
	"strconv"
	"strings"

	"pourback/ingest/record"
)

// sheetReader reads the rows of a sheet.
type sheetReader struct {
	*sheetPart
	x     *xmlScanner
	body  io.ReadCloser
	mark  byte // with which numbers are written
	row   int  // number of the last row
	cells []string
	empty []bool // formulas that were never calculated
	value []byte
}

// read opens the sheet and goes to its first row.
func (s *sheetPart) read(mark byte) (*sheetReader, error) {
	part, err := s.book.open(s.part)
	if err != nil {
		return nil, err
	}
	r := &sheetReader{sheetPart: s, x: newXMLScanner(part), body: part, mark: mark}
	for {
		t, err := r.x.next()
		if err != nil {
			part.Close()
			return nil, notEnd(err)
		}
		if t.kind == startTag && string(t.name) == "sheetData" {
			return r, nil
		}
	}
}

// next reads the next row into cells. It ends with io.EOF.
func (r *sheetReader) next() error {
	r.cells, r.empty = r.cells[:0], r.empty[:0]
	held := 0
	for {
		t, err := r.x.next()
		if err != nil {
			return notEnd(err)
		}
		switch name := string(t.name); {
		case t.kind == textPiece:
		case name == "row" && t.kind == startTag:
			r.number(t)
		case name == "row":
			return nil
		case name == "c" && t.kind == startTag:
			n, err := r.cell(t)
			if err != nil {
				return err
			}
			if held += n; held >= r.book.file.opt.Limits.Row {
				return longRow(r.book.file.Name, r.book.file.opt.Limits.Row, false).at(r.name, r.row)
			}
		case name == "sheetData":
			return io.EOF
		}
	}
}

// number takes the row's number: its own, or one more than the last.
func (r *sheetReader) number(t xmlToken) {
	r.row++
	if n, err := strconv.Atoi(string(t.attr("r"))); err == nil && n > 0 && n <= 1<<20 {
		r.row = n
	}
}

// cell reads one cell to its end and returns the length of its text.
func (r *sheetReader) cell(t xmlToken) (int, error) {
	at := len(r.cells)
	if ref := t.attr("r"); ref != nil {
		at = columnOf(ref)
	}
	kind := cellKind(t.attr("t"))
	style, _ := strconv.Atoi(string(t.attr("s")))
	text, formula, err := r.content(kind, style)
	if err != nil || text == "" && !formula {
		return 0, err
	}
	if limit := r.book.file.opt.Limits.Columns; at < 0 || at >= limit {
		return 0, manyColumns(at+1, limit).at(r.name, r.row)
	}
	for len(r.cells) <= at {
		r.cells, r.empty = append(r.cells, ""), append(r.empty, false)
	}
	r.cells[at], r.empty[at] = text, formula && text == ""
	return len(text), nil
}

// columnOf is the column of a reference such as AB12, or -1.
func columnOf(ref []byte) int {
	n := 0
	for _, c := range ref {
		if c |= 0x20; c < 'a' || c > 'z' {
			break
		}
		if n = n*26 + int(c-'a') + 1; n > 1<<14 {
			return -1
		}
	}
	return n - 1
}

// cellType is how a cell keeps its value (ECMA-376 part 1, 18.18.11).
type cellType int8

const (
	cellNumber cellType = iota
	cellShared
	cellInline
	cellBool
	cellText // a formula's text, an error, an ISO date
)

func cellKind(t []byte) cellType {
	switch string(t) {
	case "s":
		return cellShared
	case "inlineStr":
		return cellInline
	case "b":
		return cellBool
	case "str", "e", "d":
		return cellText
	}
	return cellNumber
}

// content reads a cell's value as a person sees it, to the end of the cell.
func (r *sheetReader) content(kind cellType, style int) (text string, formula bool, err error) {
	r.value = r.value[:0]
	inValue := false
	for {
		t, err := r.x.next()
		if err != nil {
			return "", false, notEnd(err)
		}
		switch name := t.name; {
		case t.kind == textPiece:
			if inValue {
				r.value = append(r.value, t.text...)
			}
		case len(name) == 1 && name[0] == 'v':
			inValue = t.kind == startTag
		case len(name) == 1 && name[0] == 'f':
			formula = true
		case len(name) == 1 && name[0] == 'c' && t.kind == endTag:
			return r.show(kind, style, text), formula, nil
		case t.kind == startTag && string(name) == "is":
			if text, err = r.x.richText("is"); err != nil {
				return "", false, err
			}
		}
	}
}

// show makes text of a cell's value.
func (r *sheetReader) show(kind cellType, style int, inline string) string {
	v := bytes.TrimSpace(r.value)
	switch kind {
	case cellShared:
		if i, err := strconv.Atoi(string(v)); err == nil && i >= 0 && i < len(r.book.shared) {
			return unguard(r.book.shared[i])
		}
		return ""
	case cellInline:
		return unguard(inline)
	case cellBool:
		if string(v) == "1" {
			return "TRUE"
		}
		return "FALSE"
	case cellText:
		return unguard(unescapeX(r.value))
	}
	if len(v) == 0 {
		return ""
	}
	format := asNumber
	if style > 0 && style < len(r.book.formats) {
		format = r.book.formats[style]
	}
	return format.show(string(v), r.book.epoch, r.mark)
}

// sample reads the first rows, as many as it takes to find the headings and see
// how numbers are written.
func (s *sheetPart) sample() ([]gridRow, error) {
	r, err := s.read('.')
	if err != nil {
		return nil, err
	}
	defer r.body.Close()
	var rows []gridRow
	for len(rows) < deepestHeader+400 {
		if err := r.next(); err == io.EOF {
			break
		} else if err != nil {
			return nil, err
		}
		if row := (gridRow{number: r.row, cells: append([]string(nil), r.cells...)}); !row.blank() {
			rows = append(rows, row)
		}
	}
	return rows, nil
}

// readSheet yields the rows of a sheet.
func (t *Table) readSheet(yield func([]*Row, error) bool) {
	r, err := t.sheet.read(t.layout.habit.mark)
	if err != nil {
		yield(nil, broken(t.File, err))
		return
	}
	defer r.body.Close()
	d := newDelivery(t)
	cells := cellReader{layout: t.layout}
	block := sheetBlock{table: t}
	over := newCarry(t.layout, t.merged)
	for n := 0; ; n++ {
		err := r.next()
		if err == io.EOF {
			break
		}
		if err != nil {
			yield(nil, broken(t.File, err))
			return
		}
		if r.row <= t.skip || (gridRow{cells: r.cells}).blank() {
			continue
		}
		var mended []Mended
		r.cells, mended = t.mend(r.row, r.cells)
		for _, m := range mended {
			if m.Column < len(r.empty) {
				r.empty[m.Column] = false // it needs no calculating
			}
		}
		if t.insight != nil {
			r.cells = over.over(r.row, r.cells)
		}
		if cells.readGrid(d, block.next(), gridRow{number: r.row, cells: r.cells, mended: mended}, r.empty) && block.add() == blockRows && !block.hand(yield) {
			return
		}
		t.sheetProgress(n, r)
	}
	t.AmbiguousDates = cells.ambiguous
	if block.hand(yield) {
		d.end()
	}
}

// sheetBlock gathers the rows of a sheet into blocks, using them again.
type sheetBlock struct {
	table *Table
	rows  []*Row
	used  int
}

// next is the row to read into; it counts once it is added.
func (b *sheetBlock) next() *Row {
	if b.used == len(b.rows) {
		row := &Row{table: b.table}
		row.Record, row.Fields = b.table.layout.newRecord()
		b.rows = append(b.rows, row)
	}
	return b.rows[b.used]
}

func (b *sheetBlock) add() int { b.used++; return b.used }

// hand hands the rows out and begins a new block.
func (b *sheetBlock) hand(yield func([]*Row, error) bool) bool {
	rows := b.rows[:b.used]
	b.used = 0
	return len(rows) == 0 || yield(rows, nil)
}

// readGrid reads a row of a sheet. It is false where the row is no record.
func (r *cellReader) readGrid(d *delivery, row *Row, s gridRow, uncalculated []bool) bool {
	r.begin(row.Fields)
	row.texts, row.mended = append(row.texts[:0], s.cells...), s.mended
	for i := range r.columns {
		c, text := &r.columns[i], at(s.cells, i)
		if c.spec == nil {
			if c.noted && strings.TrimSpace(text) != "" {
				d.unnamed(i, text)
			}
			continue
		}
		r.read(c, fieldOf(row.Fields, c), text)
		if i < len(uncalculated) && uncalculated[i] {
			r.add(c, "", remark{record.Warning, codeNoFormulaYet, "a formula that was never calculated", "open the workbook in a spreadsheet and save it"})
		}
	}
	if len(s.cells) > len(r.columns) {
		r.tooLong(row.Cells(), r.loose && row.table.csv == nil)
	}
	if v := r.judge(row.Fields, r.doubted(), row.Cells); v != aRecord {
		d.note(v.notice(s.number, row.Cells()))
		return false
	}
	r.finish(row)
	d.dress(row, s.number)
	return true
}

// sheetProgress tells now and then how far the sheet has been read.
func (t *Table) sheetProgress(n int, r *sheetReader) {
	if t.file.opt.Progress == nil || n%1000 != 0 {
		return
	}
	whole := r.part.UncompressedSize64
	left := r.body.(*bounded).left
	if whole > 0 {
		t.file.opt.Progress(int64(float64(t.file.size)*(1-float64(left)/float64(whole))), t.file.size)
	}
}
