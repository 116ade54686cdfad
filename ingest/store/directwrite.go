package store

import (
	"context"
	"errors"
	"math"
	"unsafe"

	"github.com/jmoiron/sqlx"
	"modernc.org/libc"
	sqlite3 "modernc.org/sqlite/lib"

	"pourback/ingest/record"
)

// rowsAtOnce is how many rows one statement inserts.
const rowsAtOnce = 32

// insertDirect writes new rows.
func insertDirect(ctx context.Context, tx *Tx, into target, rows []row) error {
	err := raw(tx.conn, func(driverConn any) error {
		d, err := directOf(driverConn)
		if err != nil {
			return err
		}
		if sqlite3.Xsqlite3_get_autocommit(d.tls, d.db) != 0 { // the end of ctx rolled it back
			return errors.Join(ctx.Err(), errors.New("the transaction has ended"))
		}
		for _, n := range []int{rowsAtOnce, 1} {
			whole := len(rows) / n * n
			if err := d.insert(ctx, &tx.inserts, into, rows[:whole], n); err != nil {
				return err
			}
			rows = rows[whole:]
		}
		return nil
	})
	if err == errIndirect {
		return insertPlain(ctx, tx, into, rows)
	}
	return err
}

// insert writes rows, n to a statement. After an error the transaction is good
// for nothing, so SQLite need not be able to take one statement back.
func (d direct) insert(ctx context.Context, known *inserts, into target, rows []row, n int) error {
	if len(rows) == 0 {
		return nil
	}
	stmt, err := known.prepare(d, "INSERT OR FAIL"+insertText(into.table.Name, into.names(), n)[len("INSERT"):])
	if err != nil {
		return err
	}
	defer sqlite3.Xsqlite3_reset(d.tls, stmt)
	b := binder{direct: d}
	defer b.free()
	for len(rows) > 0 {
		if err := ctx.Err(); err != nil {
			return err
		}
		b.params = (*sqlite3.TVdbe)(pointer(stmt)).FaVar
		for i := range rows[:n] {
			b.row(into, &rows[i])
		}
		if sqlite3.Xsqlite3_step(d.tls, stmt) != sqlite3.SQLITE_DONE {
			return d.fault("inserting into " + into.table.Name)
		}
		sqlite3.Xsqlite3_reset(d.tls, stmt)
		b.clear()
		rows = rows[n:]
	}
	return nil
}

// inserts are a transaction's statements, by their text: to prepare one for so
// many rows takes as long as to insert a tenth of a chunk.
type inserts map[string]uintptr

func (known *inserts) prepare(d direct, text string) (uintptr, error) {
	if stmt := (*known)[text]; stmt != 0 {
		return stmt, nil
	}
	stmt, err := d.prepare(text)
	if err == nil {
		if *known == nil {
			*known = inserts{}
		}
		(*known)[text] = stmt
	}
	return stmt, err
}

// finalize gives the statements up, before their connection goes back.
func (known inserts) finalize(conn *sqlx.Conn) {
	if len(known) == 0 {
		return
	}
	raw(conn, func(driverConn any) error {
		d, err := directOf(driverConn)
		for _, stmt := range known {
			if err == nil {
				sqlite3.Xsqlite3_finalize(d.tls, stmt)
			}
		}
		return err
	}) // a connection that is gone took its statements along
}

// binder gives a statement its values, by writing them where SQLite keeps them:
// what its bind functions do, less their locking for each value. By those, a
// million rows take a sixth more of the processor, nearly all of it where the
// other hands wait. Texts lie in C's memory until the statement has run.
type binder struct {
	direct
	params uintptr // the first of the statement's values
	at     int     // how many have been given
	blocks []block
	used   int // of the last block
	text   []byte
}

// block is a piece of C's memory.
type block struct {
	address uintptr
	bytes   []byte
}

func (b *binder) row(into target, r *row) {
	for _, i := range into.columns {
		b.field(r.fields[i], into.table.Columns[i].Key)
	}
	b.integer(r.batch)
	b.integer(int64(r.number))
	b.integer(r.digest)
	if into.unused {
		b.field(&r.unused, false)
	}
}

func (b *binder) field(field any, key bool) {
	switch f := field.(type) {
	case *string:
		if *f == "" && !key {
			b.missing()
		} else {
			b.string(*f)
		}
	case *record.Number:
		if f.OK {
			v := b.next()
			v.Fu.Fr, v.Fflags = f.V, sqlite3.MEM_Real
		} else {
			b.missing()
		}
	case *record.Count:
		b.optional(f.V, f.OK)
	case *record.Money:
		b.optional(int64(f.V), f.OK)
	case *record.Flag:
		b.optional(int64(record.No-*f), *f != 0)
	default: // dates and moments
		if b.text = record.AppendField(b.text[:0], field); len(b.text) == 0 {
			b.missing()
		} else {
			b.string(unsafe.String(&b.text[0], len(b.text)))
		}
	}
}

// next is the next of the statement's values.
func (b *binder) next() *sqlite3.TMem {
	v := valueAt(b.params, b.at)
	b.at++
	return v
}

func (b *binder) missing() { b.next().Fflags = sqlite3.MEM_Null }

func (b *binder) integer(n int64) {
	v := b.next()
	v.Fu.Fr, v.Fflags = math.Float64frombits(uint64(n)), sqlite3.MEM_Int
}

func (b *binder) optional(n int64, ok bool) {
	if ok {
		b.integer(n)
	} else {
		b.missing()
	}
}

func (b *binder) string(s string) {
	if len(b.blocks) == 0 || b.used+len(s) > len(b.blocks[len(b.blocks)-1].bytes) {
		b.grow(len(s))
	}
	block := &b.blocks[len(b.blocks)-1]
	v := b.next()
	v.Fz, v.Fn, v.Fenc = block.address+uintptr(b.used), int32(copy(block.bytes[b.used:], s)), sqlite3.SQLITE_UTF8
	v.Fflags = sqlite3.MEM_Str | sqlite3.MEM_Static
	b.used += len(s)
}

// grow begins a new block with room for n bytes.
func (b *binder) grow(n int) {
	size := max(n, 1<<16)
	address := libc.Xmalloc(b.tls, libc.Tsize_t(size))
	if address == 0 {
		panic("store: out of memory")
	}
	b.blocks = append(b.blocks, block{address, unsafe.Slice((*byte)(pointer(address)), size)})
	b.used = 0
}

// clear makes ready for the next rows, keeping one block.
func (b *binder) clear() {
	for len(b.blocks) > 1 {
		libc.Xfree(b.tls, b.blocks[0].address)
		b.blocks = b.blocks[1:]
	}
	b.at, b.used = 0, 0
}

func (b *binder) free() {
	for _, block := range b.blocks {
		libc.Xfree(b.tls, block.address)
	}
}
