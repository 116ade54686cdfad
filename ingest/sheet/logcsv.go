package sheet

// readLog yields the rows of a CSV file that is a job log, one after the other:
// a row may lean on the one above it.
func (t *Table) readLog(yield func([]*Row, error) bool) {
	c, err := t.newCutter()
	if err != nil {
		yield(nil, err)
		return
	}
	l := &logRows{d: newDelivery(t), cells: cellReader{layout: t.layout}, rows: sheetBlock{table: t}, over: newCarry(t.layout, nil), number: t.csv.rows, yield: yield}
	for b := (&block{}); c.next(b); {
		if !l.block(b) {
			return
		}
		if t.file.opt.Progress != nil {
			t.file.opt.Progress(b.read, t.file.size)
		}
	}
	t.AmbiguousDates = l.cells.ambiguous
	if t.file.digest == nil {
		t.file.digest = (*[32]byte)(c.raw.digest.Sum(nil))
	}
	if l.rows.hand(yield) {
		l.d.end()
	}
}

// logRows reads the rows of a job log.
type logRows struct {
	d      *delivery
	cells  cellReader
	rows   sheetBlock
	over   *carry
	number int // of the last row
	yield  func([]*Row, error) bool
}

// block reads the rows of a block. It is false where nobody wants more.
func (l *logRows) block(b *block) bool {
	t := l.d.table
	if b.err != nil {
		if r, ok := b.err.(*Refusal); ok && r.Row > 0 {
			r.Row += l.number
		}
		l.yield(nil, b.err)
		return false
	}
	for i := 0; i < len(b.buf); {
		end := recordEnd(b.buf, i, t.csv.delim)
		l.number++
		row := gridRow{number: l.number, cells: splitRecord(b.buf[i:end], t.csv.delim, t.csv.enc)}
		if limit := t.file.opt.Limits.Row; end-i >= limit {
			l.yield(nil, longRow(t.File, limit, false).at("", l.number))
			return false
		}
		i = end
		if row.blank() {
			continue
		}
		row.cells, row.mended = t.mend(l.number, row.cells)
		row.cells = l.over.over(l.number, row.cells)
		if l.cells.readGrid(l.d, l.rows.next(), row, nil) && l.rows.add() == blockRows && !l.rows.hand(l.yield) {
			return false
		}
	}
	return true
}
