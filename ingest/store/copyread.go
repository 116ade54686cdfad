package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"unsafe"

	"pourback/ingest/record"
)

// binaryStart begins what COPY gives and takes in binary form: a signature,
// flags, and the length of a header's extension, both 0 (PostgreSQL
// documentation, COPY, Binary Format).
const binaryStart = "PGCOPY\n\xff\r\n\x00" + "\x00\x00\x00\x00" + "\x00\x00\x00\x00"

var (
	errCut  = errors.New("what the server copied ends too soon")
	errForm = errors.New("the server copied in a form that is not known")
)

// binaryRows takes rows in COPY's binary form apart, wherever the server cuts
// what it sends.
type binaryRows struct {
	values  [][]byte // of the row at hand
	take    func(values [][]byte) error
	begun   bool
	ended   bool
	waiting []byte // the part of a row that has come
}

func (r *binaryRows) data(b []byte) error {
	if len(r.waiting) > 0 {
		r.waiting = append(r.waiting, b...)
		b = r.waiting
	}
	if !r.begun && len(b) >= len(binaryStart) {
		if string(b[:len(binaryStart)]) != binaryStart {
			return errForm
		}
		r.begun, b = true, b[len(binaryStart):]
	}
	for r.begun && !r.ended {
		n, err := r.row(b)
		if err != nil {
			return err
		}
		if n == 0 {
			break
		}
		b = b[n:]
	}
	r.waiting = append(r.waiting[:0], b...)
	return nil
}

// row takes the row apart with which b begins, and says how long it was: 0 where
// not all of it has come.
func (r *binaryRows) row(b []byte) (n int, err error) {
	if len(b) < 2 {
		return 0, nil
	}
	count := int(int16(binary.BigEndian.Uint16(b)))
	if count == -1 {
		r.ended = true
		return 2, nil
	}
	if count != len(r.values) {
		return 0, errForm
	}
	at := 2
	for i := range r.values {
		if len(b) < at+4 {
			return 0, nil
		}
		size := int(int32(binary.BigEndian.Uint32(b[at:])))
		at += 4
		if size < 0 {
			r.values[i] = nil
			continue
		}
		if len(b) < at+size {
			return 0, nil
		}
		r.values[i] = b[at : at+size : at+size]
		at += size
	}
	return at, r.take(r.values)
}

// The forms of values: integers and floating-point numbers with the high byte
// first, texts as they are.

func wireInteger(b []byte) (int64, error) {
	switch len(b) {
	case 2:
		return int64(int16(binary.BigEndian.Uint16(b))), nil
	case 8:
		return int64(binary.BigEndian.Uint64(b)), nil
	}
	return 0, errForm
}

func wireReal(b []byte) (float64, error) {
	if len(b) != 8 {
		return 0, errForm
	}
	return math.Float64frombits(binary.BigEndian.Uint64(b)), nil
}

// wireReader puts a server's values, one after the other, behind the last of a
// column.
func wireReader(into any) func(b []byte) error {
	switch c := into.(type) {
	case *record.Values[string]:
		return func(b []byte) error {
			record.AddText(c, b)
			return nil
		}
	case *record.Values[record.Date]:
		var last lastDay
		return func(b []byte) error {
			if b == nil {
				c.Add(0)
				return nil
			}
			day, err := last.day(b)
			c.Add(day)
			return err
		}
	case *record.Values[record.Number]:
		return addingWire(c, wireReal, record.Some[float64])
	case *record.Values[record.Count]:
		return addingWire(c, wireInteger, record.Some[int64])
	case *record.Values[record.Money]:
		return addingWire(c, wireInteger, func(n int64) record.Money { return record.Some(record.Cents(n)) })
	case *record.Values[record.Flag]:
		return addingWire(c, wireInteger, func(n int64) record.Flag { return record.FlagOf(n != 0) })
	}
	panic(fmt.Sprintf("store: a column of type %T", into))
}

// addingWire puts numbers behind the last of a column.
func addingWire[T comparable, N int64 | float64](c *record.Values[T], read func(b []byte) (N, error), value func(N) T) func(b []byte) error {
	return func(b []byte) error {
		var v T
		if b != nil {
			n, err := read(b)
			if err != nil {
				return err
			}
			v = value(n)
		}
		c.Add(v)
		return nil
	}
}

// readWire puts a row's values in their places in a record that is empty.
func readWire(columns []column, values [][]byte, row unsafe.Pointer) (err error) {
	for i := range columns {
		c, b := &columns[i], values[i]
		if b == nil {
			continue
		}
		field := unsafe.Add(row, c.offset)
		switch c.kind {
		case record.KindText, record.KindWord:
			*(*string)(field) = c.word(b)
		case record.KindDate:
			*(*record.Date)(field), err = c.day(b)
		case record.KindMoment:
			*(*record.Moment)(field), err = record.ParseMoment(string(b))
		case record.KindNumber:
			var v float64
			v, err = wireReal(b)
			*(*record.Number)(field) = record.Some(v)
		default:
			var n int64
			n, err = wireInteger(b)
			setInteger(c.kind, field, n)
		}
		if err != nil {
			return fmt.Errorf("%s: %w", c.name, err)
		}
	}
	return nil
}

func setInteger(kind record.Kind, field unsafe.Pointer, n int64) {
	switch kind {
	case record.KindCount:
		*(*record.Count)(field) = record.Some(n)
	case record.KindMoney:
		*(*record.Money)(field) = record.Some(record.Cents(n))
	case record.KindFlag:
		*(*record.Flag)(field) = record.FlagOf(n != 0)
	}
}
