package store

import (
	"context"
	"encoding/binary"
	"fmt"
	"math"
	"slices"

	"pourback/ingest/record"
)

// insertCopy writes new rows by COPY in binary form. The server takes them in
// while the next ones are read: whoever else wants to use the connection first
// waits until it has taken all (see [Tx.settle]). A server that does not copy is
// given them as everywhere.
func insertCopy(ctx context.Context, tx *Tx, into target, rows []row) error {
	if tx.copying != nil && !tx.copying.into.same(into) {
		if err := tx.settle(); err != nil {
			return err
		}
	}
	if tx.copying == nil {
		willing, err := tx.willing(ctx, into)
		if err != nil {
			return err
		}
		if !willing {
			return insertPlain(ctx, tx, into, rows)
		}
		tx.copying = tx.copyInto(ctx, into)
	}
	return tx.copying.rows(rows)
}

// Whether a server takes rows in by COPY in binary form.
const (
	untried int32 = iota
	takesCopies
	takesNoCopies
)

// willing asks the server, once, by a copy of no rows: what it refuses would
// otherwise end the transaction.
func (tx *Tx) willing(ctx context.Context, into target) (bool, error) {
	known := &tx.store.takes
	if known.Load() == untried {
		if _, err := tx.sql.ExecContext(ctx, "SAVEPOINT untried"); err != nil {
			return false, err
		}
		err := tx.copyInto(ctx, into).end()
		after := "RELEASE SAVEPOINT untried"
		switch {
		case err == nil:
			known.Store(takesCopies)
		case unknown(err) || err == errIndirect || err == errUnwilling:
			known.Store(takesNoCopies)
			after = "ROLLBACK TO SAVEPOINT untried"
		default:
			return false, err
		}
		if _, err := tx.sql.ExecContext(ctx, after); err != nil {
			return false, err
		}
	}
	return known.Load() == takesCopies, nil
}

// settle waits until the server has taken all rows that it was sent, and says
// what it thought of them.
func (tx *Tx) settle() error {
	if tx.copying == nil {
		return nil
	}
	err := tx.copying.end()
	tx.copying = nil
	return err
}

// copying is a COPY into the server under way, which has the connection to
// itself.
type copying struct {
	into   target
	blocks chan []byte // messages to send; closed when there are no more
	spare  chan []byte // blocks to be filled again
	ended  chan struct{}
	err    error // once ended
}

// copyInto begins a copy.
func (tx *Tx) copyInto(ctx context.Context, into target) *copying {
	c := &copying{into: into, blocks: make(chan []byte, 1), spare: make(chan []byte, 3), ended: make(chan struct{})}
	query := fmt.Sprintf(tx.store.engine.copyIn, into.table.Name, joined(into.names()))
	go func() {
		defer close(c.ended)
		c.err = raw(tx.conn, func(driverConn any) error {
			w, err := wireOf(driverConn)
			if err == nil {
				err = w.copyIn(ctx, query, c.blocks, c.spare)
			}
			return err
		})
	}()
	return c
}

// rows sends rows, unless the copy has ended before its time.
func (c *copying) rows(rows []row) error {
	var block []byte
	select {
	case block = <-c.spare:
	default:
	}
	select {
	case c.blocks <- appendMessages(block[:0], c.into, rows):
		return nil
	case <-c.ended:
		return c.early()
	}
}

// early is the error of a copy that ended while there were rows to send.
func (c *copying) early() error {
	if c.err == nil {
		return errCut
	}
	return c.err
}

// end says that there are no more rows and waits for the server's word.
func (c *copying) end() error {
	close(c.blocks)
	<-c.ended
	return c.err
}

// copyIn runs a COPY in binary form from the client: what comes in blocks, until
// there are no more or ctx ends.
func (w wire) copyIn(ctx context.Context, query string, blocks <-chan []byte, spare chan<- []byte) error {
	if err := w.query(query); err != nil {
		w.conn.Close()
		return err
	}
	return w.receive(func(kind byte, body []byte) error {
		switch {
		case kind == msgCopyIn && (len(body) == 0 || body[0] != 1):
			w.send(msgFail, []byte("not in this form\x00")) // a connection that failed, receive finds so
			return errUnwilling
		case kind == msgCopyIn:
			if err := w.sendBlocks(ctx, blocks, spare); err != nil {
				w.send(msgFail, []byte("given up\x00"))
				return err
			}
			return w.send(msgDone, nil)
		}
		return nil
	})
}

// sendBlocks sends the form's beginning, the blocks and its end.
func (w wire) sendBlocks(ctx context.Context, blocks <-chan []byte, spare chan<- []byte) error {
	if err := w.send(msgData, []byte(binaryStart)); err != nil {
		return err
	}
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case block, more := <-blocks:
			if !more {
				return w.send(msgData, []byte("\xff\xff"))
			}
			if _, err := w.conn.Write(block); err != nil {
				return err
			}
			select {
			case spare <- block:
			default:
			}
		}
	}
}

// messageSize is how many bytes of rows a message holds, about: the server
// begins to take them in when it has the whole message.
const messageSize = 1 << 16

// appendMessages appends rows as messages to send.
func appendMessages(b []byte, into target, rows []row) []byte {
	for len(rows) > 0 {
		head := len(b)
		b = append(b, msgData, 0, 0, 0, 0)
		for len(rows) > 0 && len(b)-head < messageSize {
			b = appendRow(b, into, &rows[0])
			rows = rows[1:]
		}
		binary.BigEndian.PutUint32(b[head+1:], uint32(len(b)-head-1))
	}
	return b
}

// appendRow appends a row in COPY's binary form (PostgreSQL documentation, COPY,
// Binary Format).
func appendRow(b []byte, into target, r *row) []byte {
	columns := len(into.columns) + len(provenance)
	if into.unused {
		columns++
	}
	b = binary.BigEndian.AppendUint16(b, uint16(columns))
	for _, i := range into.columns {
		b = appendBinary(b, r.fields[i], into.table.Columns[i].Key)
	}
	b = appendInteger(b, r.batch)
	b = appendInteger(b, int64(r.number))
	b = appendInteger(b, r.digest)
	if into.unused {
		b = appendBinary(b, &r.unused, false)
	}
	return b
}

func appendBinary(b []byte, field any, key bool) []byte {
	switch f := field.(type) {
	case *string:
		if *f != "" || key {
			return append(binary.BigEndian.AppendUint32(b, uint32(len(*f))), *f...)
		}
	case *record.Number:
		if f.OK {
			return appendInteger(b, int64(math.Float64bits(f.V)))
		}
	case *record.Count:
		if f.OK {
			return appendInteger(b, f.V)
		}
	case *record.Money:
		if f.OK {
			return appendInteger(b, int64(f.V))
		}
	case *record.Flag:
		if *f != 0 {
			return binary.BigEndian.AppendUint16(append(b, 0, 0, 0, 2), uint16(record.No-*f))
		}
	default: // dates and moments
		at := len(b)
		if b = record.AppendField(append(b, 0, 0, 0, 0), field); len(b) > at+4 {
			binary.BigEndian.PutUint32(b[at:], uint32(len(b)-at-4))
			return b
		}
		b = b[:at]
	}
	return append(b, 0xff, 0xff, 0xff, 0xff) // NULL
}

// appendInteger appends a value of eight bytes.
func appendInteger(b []byte, n int64) []byte {
	return binary.BigEndian.AppendUint64(append(b, 0, 0, 0, 8), uint64(n))
}

// same says whether two targets are the same columns of the same table.
func (into target) same(other target) bool {
	return into.table == other.table && into.unused == other.unused && slices.Equal(into.columns, other.columns)
}
