package store

import (
	"context"
	"encoding/binary"
	"fmt"
	"math"
	"slices"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// loadColumns reads a table that is kept by columns, in the order in which it is
// stored: the second view into columns of its own.
func loadColumns(l *loader, t *record.Table, into, rest record.Columns) {
	n := l.sizeOf(t)
	if l.err != nil || n.Rows == 0 {
		return
	}
	into.Reserve(int(n.Rows))
	rest.Reserve(int(n.Rows)/2 + 1)
	var s storedTable
	if s, l.err = storedTableOf(l.ctx, l.views[0], t); l.err != nil {
		return
	}
	middle := len(s.leaves)
	if n.Rows > manyRows {
		middle /= len(l.views)
	}
	l.both(func(v view) error { return s.read(l.ctx, v.conn, s.leaves[:middle], into) }, middle < len(s.leaves),
		func(v view) error { return s.read(l.ctx, v.conn, s.leaves[middle:], rest) })
	if l.err != nil {
		return
	}
	into.Join(rest)
	if read := into.Len(); read != int(n.Rows) {
		l.err = countError(t, read, int(n.Rows))
	}
}

// storedTable is where a table's rows and their columns are stored.
type storedTable struct {
	*record.Table
	leaves []uint32
	places []int // for each stored column its place among the table's, -1 for none
}

func storedTableOf(ctx context.Context, v view, t *record.Table) (s storedTable, err error) {
	s.Table = t
	var root uint32
	if err := v.tx.GetContext(ctx, &root, "SELECT rootpage FROM sqlite_schema WHERE type = 'table' AND name = ?", t.Name); err != nil {
		return s, err
	}
	var columns []string
	if err := v.tx.SelectContext(ctx, &columns, "SELECT name FROM pragma_table_info(?) ORDER BY cid", t.Name); err != nil {
		return s, err
	}
	for _, name := range columns {
		s.places = append(s.places, slices.Index(columnNames(t), name))
	}
	err = withPages(v.conn, func(_ direct, p *pages) (err error) {
		s.leaves, err = p.leaves(root)
		return err
	})
	return s, err
}

// read puts the rows on some leaves behind the last of the columns.
func (s storedTable) read(ctx context.Context, conn *sqlx.Conn, leaves []uint32, into record.Columns) error {
	return withPages(conn, func(d direct, p *pages) error {
		more, err := d.pages()
		if err != nil {
			return err
		}
		defer more.close()
		rows := s.reader(into)
		for _, n := range leaves {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			leaf, err := p.at(n)
			if err != nil {
				return err
			}
			if err := p.rows(leaf, more, rows.add); err != nil {
				return err
			}
		}
		rows.end()
		return nil
	})
}

// columnsReader puts stored rows into columns.
type columnsReader struct {
	table   *record.Table
	columns []columnReader
	stored  []*columnReader // as they are stored, nil for those of no use here
	rows    int             // so far
}

// columnReader puts values behind the last of a column. What is missing is added
// when the next value comes, all of it at once.
type columnReader struct {
	name string
	rows int // that the column has
	skip func(rows int)
	add  func(v cellValue) error
}

func (s storedTable) reader(into record.Columns) *columnsReader {
	r := &columnsReader{table: s.Table, columns: make([]columnReader, len(into)), stored: make([]*columnReader, len(s.places))}
	for i := range into {
		r.columns[i] = readerOf(into[i])
		r.columns[i].name = s.Columns[i].Name
	}
	for i, place := range s.places {
		if place >= 0 {
			r.stored[i] = &r.columns[place]
		}
	}
	return r
}

// add takes a row in: a header of the types of its values, and then the values.
func (r *columnsReader) add(row []byte) error {
	end, n := varint(row)
	if n == 0 || end > uint64(len(row)) {
		return errLayout
	}
	header, body := row[n:max(end, uint64(n))], row[end:]
	for i := 0; len(header) > 0; i++ {
		kind, n := uint64(header[0]), 1
		if kind >= 0x80 {
			kind, n = varint(header)
		}
		if header = header[n:]; kind == storedNull && n > 0 {
			continue
		}
		size, err := sizeOf(kind)
		if n == 0 || err != nil || size > uint64(len(body)) || i >= len(r.stored) {
			return errLayout
		}
		if c := r.stored[i]; c != nil {
			if c.rows < r.rows {
				c.skip(r.rows - c.rows)
			}
			c.rows = r.rows + 1
			if err := c.add(cellValue{kind, body[:size]}); err != nil {
				return fmt.Errorf("%s: %w", c.name, err)
			}
		}
		body = body[size:]
	}
	r.rows++
	return nil
}

// end fills up the columns whose last values are missing.
func (r *columnsReader) end() {
	for i := range r.columns {
		r.columns[i].skip(r.rows - r.columns[i].rows)
	}
}

// readerOf reads into a column.
func readerOf(into any) columnReader {
	switch c := into.(type) {
	case *record.Values[string]:
		return columnReader{skip: c.AddMissing, add: func(v cellValue) error {
			record.AddText(c, v.bytes)
			return nil
		}}
	case *record.Values[record.Date]:
		var last lastDay
		return columnReader{skip: c.AddMissing, add: func(v cellValue) error {
			day, err := last.day(v.bytes)
			c.Add(day)
			return err
		}}
	case *record.Values[record.Number]:
		var small [256]int // code of each whole number of one byte, once it was met
		return columnReader{skip: c.AddMissing, add: func(v cellValue) error {
			if v.kind == 1 {
				c.AddBy(&small[v.bytes[0]], record.Some(float64(int8(v.bytes[0]))))
				return nil
			}
			if v.kind == storedReal {
				c.Add(record.Some(math.Float64frombits(binary.BigEndian.Uint64(v.bytes))))
				return nil
			}
			n, err := v.integer() // SQLite keeps whole numbers so in a column of type REAL
			c.Add(record.Some(float64(n)))
			return err
		}}
	case *record.Values[record.Count]:
		return integers(c, record.Some[int64])
	case *record.Values[record.Money]:
		return integers(c, func(n int64) record.Money { return record.Some(record.Cents(n)) })
	case *record.Values[record.Flag]:
		return integers(c, func(n int64) record.Flag { return record.FlagOf(n != 0) })
	}
	panic(fmt.Sprintf("store: a column of type %T", into))
}

// integers reads into a column of whole numbers.
func integers[T comparable](c *record.Values[T], of func(int64) T) columnReader {
	var small [256]int
	return columnReader{skip: c.AddMissing, add: func(v cellValue) error {
		if v.kind == 1 {
			c.AddBy(&small[v.bytes[0]], of(int64(int8(v.bytes[0]))))
			return nil
		}
		n, err := v.integer()
		c.Add(of(n))
		return err
	}}
}
