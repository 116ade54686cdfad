package store

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"net"
	"reflect"
	"unsafe"

	"github.com/lib/pq"
	"github.com/lib/pq/pqerror"
)

// This file finds the connection beneath the PostgreSQL driver, between two of
// its statements, and speaks the server's own protocol on it (PostgreSQL
// documentation, 55.7 Message Formats): the driver knows no COPY out of a
// server, and none in binary form. It is a shortcut as direct.go's is.

// wire is a connection to a server on which no statement is at work.
type wire struct {
	conn net.Conn
	in   *bufio.Reader
}

// wireOf finds the wire within the driver's connection.
func wireOf(driverConn any) (w wire, err error) {
	defer func() {
		if recover() != nil { // its fields are not what they were
			err = errIndirect
		}
	}()
	c := reflect.ValueOf(driverConn).Elem()
	w.conn, w.in = *hidden[net.Conn](c.FieldByName("c")), *hidden[*bufio.Reader](c.FieldByName("buf"))
	if w.conn == nil || w.in == nil {
		err = errIndirect
	}
	return w, err
}

// hidden is a field that its package keeps to itself. It panics where the field
// is not of this type.
func hidden[T any](field reflect.Value) *T {
	if field.Type() != reflect.TypeFor[T]() {
		panic(field.Type())
	}
	return (*T)(unsafe.Pointer(field.UnsafeAddr()))
}

// What messages say, by their first byte.
const (
	msgQuery    = 'Q'
	msgData     = 'd'
	msgDone     = 'c'
	msgFail     = 'f'
	msgCopyOut  = 'H'
	msgCopyIn   = 'G'
	msgComplete = 'C'
	msgReady    = 'Z'
	msgError    = 'E'
)

var errUnwilling = errors.New("the server does not copy in binary form")

// query sends a statement.
func (w wire) query(text string) error {
	return w.send(msgQuery, append([]byte(text), 0))
}

func (w wire) send(kind byte, body []byte) error {
	_, err := w.conn.Write(append(binary.BigEndian.AppendUint32([]byte{kind}, uint32(len(body)+4)), body...))
	return err
}

// receive hands over the server's messages until it is ready for the next
// statement. What the server itself says is wrong comes out as the driver would
// have it, and so does the first error of take, to which nothing more is handed
// then. A connection that failed is closed, as nothing can follow on it.
func (w wire) receive(take func(kind byte, body []byte) error) error {
	var wrong error
	var long []byte
	for {
		kind, body, err := w.message(&long)
		switch {
		case err != nil:
			w.conn.Close()
			return errors.Join(wrong, err)
		case kind == msgReady:
			return wrong
		case kind == msgError && wrong == nil:
			wrong = serverError(body)
		case wrong == nil:
			wrong = take(kind, body)
		}
	}
}

// message is the next message, good until the one after it.
func (w wire) message(long *[]byte) (kind byte, body []byte, err error) {
	var head [5]byte
	if _, err := io.ReadFull(w.in, head[:]); err != nil {
		return 0, nil, err
	}
	n := int(binary.BigEndian.Uint32(head[1:])) - 4
	if n < 0 || n > 1<<30 {
		return 0, nil, fmt.Errorf("the server sent a message of %d bytes", n)
	}
	if n <= w.in.Size() {
		if body, err = w.in.Peek(n); err != nil {
			return 0, nil, err
		}
		w.in.Discard(n) // what was peeked at
		return head[0], body, nil
	}
	if n > cap(*long) {
		*long = make([]byte, n)
	}
	body = (*long)[:n]
	_, err = io.ReadFull(w.in, body)
	return head[0], body, err
}

// serverError is what the server says is wrong (55.8 Error and Notice Message
// Fields).
func serverError(body []byte) error {
	e := new(pq.Error)
	for len(body) > 1 {
		kind, text := body[0], body[1:]
		end := 0
		for end < len(text) && text[end] != 0 {
			end++
		}
		switch said := string(text[:end]); kind {
		case 'S':
			e.Severity = said
		case 'C':
			e.Code = pqerror.Code(said)
		case 'M':
			e.Message = said
		case 'D':
			e.Detail = said
		case 'H':
			e.Hint = said
		}
		body = text[min(end+1, len(text)):]
	}
	return e
}

// copyOut runs a COPY in binary form to the client, and hands over each row's
// values, nil where there is none: good until the next row.
func (w wire) copyOut(query string, columns int, take func(values [][]byte) error) error {
	if err := w.query(query); err != nil {
		w.conn.Close()
		return err
	}
	rows := binaryRows{values: make([][]byte, columns), take: take}
	return w.receive(func(kind byte, body []byte) error {
		switch {
		case kind == msgCopyOut && (len(body) == 0 || body[0] != 1):
			return errUnwilling
		case kind == msgData:
			return rows.data(body)
		case kind == msgComplete && !rows.ended:
			return errCut
		}
		return nil
	})
}
