package store

import (
	"encoding/binary"
	"errors"
	"fmt"

	"github.com/jmoiron/sqlx"
	sqlite3 "modernc.org/sqlite/lib"
)

// This file reads a table off the pages of the database, as SQLite's public
// description of its file format lays them out (Database File Format, sections
// 1.3.2, 1.6 and 2.1): a step of SQLite's own for each page instead of one for each
// value. The pages come through the connection, so that they are those that its
// transaction sees.

// errLayout says that a page is not laid out as the file format has it.
var errLayout = errors.New("database disk image is malformed")

// pages are a database's pages, one at a time.
type pages struct {
	d      direct
	stmt   uintptr
	usable int // bytes of a page that hold anything
}

// pages opens the database's pages, to be closed.
func (d direct) pages() (*pages, error) {
	stmt, err := d.prepare("SELECT data FROM sqlite_dbpage WHERE pgno = ?")
	if err != nil {
		return nil, errIndirect // built without it
	}
	p := &pages{d: d, stmt: stmt}
	first, err := p.at(1)
	if err == nil && len(first) < 512 {
		err = errLayout
	}
	if err != nil {
		p.close()
		return nil, err
	}
	if p.usable = len(first) - int(first[20]); binary.BigEndian.Uint32(first[56:]) != sqlite3.SQLITE_UTF8 {
		err = errNotUTF8
		p.close()
	}
	return p, err
}

// withPages opens the pages of the database that a connection sees.
func withPages(conn *sqlx.Conn, use func(d direct, p *pages) error) error {
	return raw(conn, func(driverConn any) error {
		d, err := directOf(driverConn)
		if err != nil {
			return err
		}
		p, err := d.pages()
		if err != nil {
			return err
		}
		defer p.close()
		return use(d, p)
	})
}

func (p *pages) close() { sqlite3.Xsqlite3_finalize(p.d.tls, p.stmt) }

// at is a view of a page, good until the next is asked for.
func (p *pages) at(number uint32) ([]byte, error) {
	sqlite3.Xsqlite3_reset(p.d.tls, p.stmt)
	sqlite3.Xsqlite3_bind_int64(p.d.tls, p.stmt, 1, int64(number))
	switch sqlite3.Xsqlite3_step(p.d.tls, p.stmt) {
	case sqlite3.SQLITE_ROW:
		return characters(valueAt((*sqlite3.TVdbe)(pointer(p.stmt)).FpResultRow, 0)), nil
	case sqlite3.SQLITE_DONE:
		return nil, errLayout // a page that is not there
	}
	return nil, p.d.fault("reading")
}

// Kinds of pages of a table's tree.
const (
	interiorPage = 5
	leafPage     = 13
	mostLevels   = 20 // of a tree: SQLite's own bound
)

// leaves are the pages that hold the rows of the table with this root, in the order
// of the rows' numbers. All of them are as far from the root.
func (p *pages) leaves(root uint32) ([]uint32, error) {
	level := []uint32{root}
	for range mostLevels {
		page, err := p.at(level[0])
		if err != nil {
			return nil, err
		}
		if len(page) > 0 && page[0] == leafPage {
			return level, nil
		}
		var below []uint32
		for _, n := range level {
			if page, err = p.at(n); err != nil {
				return nil, err
			}
			if below, err = children(below, page); err != nil {
				return nil, err
			}
		}
		level = below
	}
	return nil, errLayout
}

// children adds the pages below an interior one.
func children(to []uint32, page []byte) ([]uint32, error) {
	cells, err := cellsOf(page, interiorPage, 12)
	if err != nil {
		return nil, err
	}
	for ; len(cells) > 0; cells = cells[2:] {
		at := int(binary.BigEndian.Uint16(cells))
		if at+4 > len(page) {
			return nil, errLayout
		}
		to = append(to, binary.BigEndian.Uint32(page[at:]))
	}
	return append(to, binary.BigEndian.Uint32(page[8:])), nil
}

// cellsOf are the places of a page's cells, two bytes each.
func cellsOf(page []byte, kind byte, header int) ([]byte, error) {
	if len(page) < header || page[0] != kind {
		return nil, errLayout
	}
	end := header + 2*int(binary.BigEndian.Uint16(page[3:]))
	if end > len(page) {
		return nil, errLayout
	}
	return page[header:end], nil
}

// rows hands over the rows of a leaf, as records of the file format. What does not
// fit on it is fetched through more, which are pages of their own.
func (p *pages) rows(leaf []byte, more *pages, read func(row []byte) error) error {
	cells, err := cellsOf(leaf, leafPage, 8)
	for ; err == nil && len(cells) > 0; cells = cells[2:] {
		at := int(binary.BigEndian.Uint16(cells))
		if at > len(leaf) {
			return errLayout
		}
		size, n := varint(leaf[at:])
		_, m := varint(leaf[at+n:]) // the row's number
		cell := leaf[at+n+m:]
		local := p.local(size)
		switch {
		case n == 0 || m == 0 || local < size && local+4 > uint64(len(cell)) || local > uint64(len(cell)):
			return errLayout
		case local == size:
			err = read(cell[:size])
		default:
			var whole []byte
			if whole, err = more.overflow(cell[:local], binary.BigEndian.Uint32(cell[local:]), size); err == nil {
				err = read(whole)
			}
		}
	}
	return err
}

// local is how much of a row of this size stands on the leaf itself.
func (p *pages) local(size uint64) uint64 {
	u := uint64(p.usable)
	if size <= u-35 {
		return size
	}
	least := (u-12)*32/255 - 23
	if k := least + (size-least)%(u-4); k <= u-35 {
		return k
	}
	return least
}

// overflow is a row whose rest stands on a chain of pages.
func (p *pages) overflow(begin []byte, next uint32, size uint64) ([]byte, error) {
	row := append([]byte(nil), begin...)
	for uint64(len(row)) < size {
		page, err := p.at(next)
		if err != nil {
			return nil, err
		}
		if next == 0 || len(page) < p.usable {
			return nil, errLayout
		}
		next = binary.BigEndian.Uint32(page)
		row = append(row, page[4:4+min(size-uint64(len(row)), uint64(p.usable-4))]...)
	}
	return row, nil
}

// varint is a whole number in one to nine bytes, and their number; 0 of them where
// it is cut short.
func varint(b []byte) (v uint64, n int) {
	if len(b) > 0 && b[0] < 0x80 {
		return uint64(b[0]), 1
	}
	for n < len(b) && n < 8 {
		c := b[n]
		n++
		if v = v<<7 | uint64(c&0x7f); c < 0x80 {
			return v, n
		}
	}
	if n < 8 || len(b) < 9 {
		return 0, 0
	}
	return v<<8 | uint64(b[8]), 9
}

// cellValue is a value of a row: its type as the file format numbers them, and its bytes.
type cellValue struct {
	kind  uint64
	bytes []byte
}

// Types of stored values; whole numbers of 1 to 8 bytes lie between them.
const (
	storedNull = 0
	storedReal = 7
	storedZero = 8
	storedOne  = 9
	storedText = 13 // and every odd number beyond
)

// sizeOf is how many bytes a value of a type takes.
func sizeOf(kind uint64) (uint64, error) {
	switch {
	case kind < 10:
		return [10]uint64{0, 1, 2, 3, 4, 6, 8, 8, 0, 0}[kind], nil
	case kind < 12:
		return 0, errLayout
	}
	return (kind - 12) / 2, nil
}

// integer is a value in a column of type INTEGER.
func (v cellValue) integer() (int64, error) {
	switch {
	case v.kind == storedZero || v.kind == storedOne:
		return int64(v.kind - storedZero), nil
	case v.kind >= storedReal || len(v.bytes) == 0:
		return 0, fmt.Errorf("a value of type %d where a whole number stands: %w", v.kind, errLayout)
	}
	n := int64(int8(v.bytes[0]))
	for _, b := range v.bytes[1:] {
		n = n<<8 | int64(b)
	}
	return n, nil
}
