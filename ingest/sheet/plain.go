package sheet

import (
	"bytes"
	"strings"

	"pourback/ingest/record"
)

// blockReader reads the records of blocks. Most cells are plain: figures with at
// most a point, an ISO date, a word met before. Those are read in one pass over
// their bytes, here; every other cell goes the long way, by cellReader. Both
// ways must say the same of a plain cell, and a test holds them together.
type blockReader struct {
	cellReader
	table *Table
	delim byte
	mark  byte // the decimal mark of plain numbers, 0 where they have none
	memos []memo
	block int // blocks read, to speak of a new word once in each
}

func newBlockReader(t *Table) *blockReader {
	r := &blockReader{cellReader: cellReader{layout: t.layout}, table: t, delim: t.csv.delim, mark: t.layout.habit.mark, memos: make([]memo, len(t.layout.columns))}
	if r.mark == r.delim {
		r.mark = 0
	}
	return r
}

// readBlock reads every record of a block.
func (r *blockReader) readBlock(b *block) {
	b.used, b.lines, b.notes, b.unnamed, r.ambiguous = 0, 0, b.notes[:0], b.unnamed[:0], 0
	if b.err != nil {
		return
	}
	r.block++
	for i := 0; i < len(b.buf); {
		b.lines++
		row := b.row(r.layout)
		end := r.readRecord(b, row, i)
		blank := end < 0
		if blank {
			end = recordEnd(b.buf, i, r.delim)
		}
		if limit := r.table.file.opt.Limits.Row; end-i >= limit {
			b.err = longRow(r.table.File, limit, bytes.IndexByte(b.buf[i:end], '"') >= 0).at("", b.lines)
			return
		}
		if blank {
			i = end
			continue
		}
		row.raw, row.Number, row.mended = b.buf[i:end], b.lines, b.mended[b.lines]
		i = end
		if r.settle(b, row) {
			b.used++
		}
	}
	b.ambiguous = r.ambiguous
}

// row is the next row of the block that can be filled.
func (b *block) row(l *layout) *Row {
	if b.used == len(b.rows) {
		rec, fields := l.newRecord()
		b.rows = append(b.rows, Row{Record: rec, Fields: fields})
	}
	return &b.rows[b.used]
}

// settle finishes a row that was read. It is false where the row is no record.
func (r *blockReader) settle(b *block, row *Row) bool {
	row.table = r.table
	if v := r.judge(row.Fields, r.doubted(), row.Cells); v != aRecord {
		b.notes = append(b.notes, v.notice(row.Number, row.Cells()))
		return false
	}
	r.finish(row)
	return true
}

// readRecord reads the record at i into the row and returns where it ends, or
// -1 where it is blank.
func (r *blockReader) readRecord(b *block, row *Row, i int) int {
	s, delim, start := b.buf, r.delim, i
	r.begin(row.Fields)
	if mayBeBlank(s[i], delim) && r.blankRecord(s, i) {
		return -1
	}
	last := len(r.columns) - 1
	for n := range r.columns {
		c := &r.columns[n]
		j, ok := i, false
		switch c.plain {
		case plainNumber:
			j, ok = r.number(s, i, c, row.Fields[c.target].(*record.Number))
		case plainMoney:
			j, ok = r.money(s, i, c, row.Fields[c.target].(*record.Money))
		case plainCount:
			j, ok = r.count(s, i, c, row.Fields[c.target].(*record.Count))
		case plainDate:
			j, ok = r.date(s, i, c, &r.memos[n], row.Fields[c.target].(*record.Date))
		case plainWord:
			j, ok = r.word(s, i, c, &r.memos[n], row.Fields[c.target].(*string))
		case plainText:
			j, ok = r.text(s, i, c, &r.memos[n], row.Fields[c.target].(*string))
		}
		if !ok {
			j = r.readCell(b, n, row, i)
		}
		if s[j] == delim {
			if i = j + 1; n == last {
				return r.beyond(b, row, start, i)
			}
			continue
		}
		for n++; n <= last; n++ {
			if c := &r.columns[n]; c.spec != nil {
				r.read(c, fieldOf(row.Fields, c), "")
			}
		}
		return lineEnd(s, j)
	}
	return lineEnd(s, i)
}

// readCell reads a cell the long way and returns where its end stands.
func (r *blockReader) readCell(b *block, n int, row *Row, i int) int {
	c, span := &r.columns[n], cutCell(b.buf, i, r.delim)
	if c.spec == nil {
		if c.noted && span.to > span.from {
			b.unnamed = append(b.unnamed, unnamedCell{n, span.text(b.buf, r.table.csv.enc)})
		}
		return span.end
	}
	text := span.text(b.buf, r.table.csv.enc)
	before := r.ambiguous
	r.read(c, fieldOf(row.Fields, c), text)
	if span.quoted {
		r.swallowed(c, text)
	} else if !r.say.failed() && !r.spilled && c.target >= 0 && text != "" {
		r.memos[n].learn(b.buf[span.from:span.to], row.Fields[c.target], r.say, r.block, r.ambiguous > before)
	}
	return span.end
}

// swallowed knows a quoted cell in which whole rows lie: its quotation mark was
// closed too late.
func (r *blockReader) swallowed(c *column, text string) {
	least := max(3, len(r.columns)/2)
	for _, line := range strings.Split(text, "\n")[1:] {
		if strings.Count(line, string(r.delim)) >= least {
			r.add(c, text, remark{record.Error, codeSwallowed, "rows of the file lie within this cell", "close the quotation mark that opens it"})
			return
		}
	}
}

// beyond looks at what stands behind the last column.
func (r *blockReader) beyond(b *block, row *Row, start, i int) int {
	end := recordEnd(b.buf, i, r.delim)
	if !r.blankCells(b.buf[i:end]) {
		r.tooLong(r.fitCells(splitRecord(b.buf[start:end], r.delim, r.table.csv.enc)), false)
	}
	return end
}

func lineEnd(s []byte, j int) int {
	if s[j] == '\r' {
		j++
	}
	return j + 1
}

func mayBeBlank(c, delim byte) bool { return c <= ' ' || c == delim || c == '"' }

func (r *blockReader) blankRecord(s []byte, i int) bool {
	return r.blankCells(s[i:recordEnd(s, i, r.delim)])
}

// blankCells says whether there is nothing in the cells of a record.
func (r *blockReader) blankCells(s []byte) bool {
	if bytes.IndexByte(s, '"') < 0 {
		return len(bytes.Trim(s, "\r\n\t "+string(r.delim))) == 0
	}
	return gridRow{cells: splitRecord(s, r.delim, r.table.csv.enc)}.blank()
}
