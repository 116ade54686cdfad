package store

import (
	"errors"
	"fmt"
	"reflect"
	"unsafe"

	"modernc.org/libc"
	sqlite3 "modernc.org/sqlite/lib"
)

// This file finds the connection beneath database/sql, on which many rows are
// written and whole tables read by SQLite's own calls: database/sql would box
// and copy each value on its way. It is a shortcut and no more: insertPlain and
// loadPlain do the same by the common way, and are taken where the driver hides
// its connection.

// errIndirect says that the shortcut is closed.
var errIndirect = errors.New("the driver hides its connection")

// direct is a connection as SQLite's own calls want it.
type direct struct {
	tls *libc.TLS
	db  uintptr
}

// directOf finds the handle within the driver's connection.
func directOf(driverConn any) (d direct, err error) {
	defer func() {
		if recover() != nil { // its fields are not what they were
			err = errIndirect
		}
	}()
	c := reflect.ValueOf(driverConn).Elem()
	d.db = uintptr(c.FieldByName("db").Uint())
	d.tls = (*libc.TLS)(c.FieldByName("tls").UnsafePointer())
	if d.db == 0 || d.tls == nil {
		err = errIndirect
	}
	return d, err
}

// fault is the connection's last error.
func (d direct) fault(doing string) error {
	return fmt.Errorf("%s: %s (%d)", doing, libc.GoString(sqlite3.Xsqlite3_errmsg(d.tls, d.db)), sqlite3.Xsqlite3_extended_errcode(d.tls, d.db))
}

// prepare makes a statement, to be finalized.
func (d direct) prepare(query string) (uintptr, error) {
	text, err := libc.CString(query)
	if err != nil {
		return 0, err
	}
	defer libc.Xfree(d.tls, text)
	place := d.tls.Alloc(8)
	defer d.tls.Free(8)
	if sqlite3.Xsqlite3_prepare_v2(d.tls, d.db, text, -1, place, 0) != sqlite3.SQLITE_OK {
		return 0, d.fault("preparing")
	}
	return *(*uintptr)(pointer(place)), nil
}

// pointer is the memory at an address that C's allocator gave.
func pointer(address uintptr) unsafe.Pointer { return *(*unsafe.Pointer)(unsafe.Pointer(&address)) }

// valueAt is one of a row of SQLite's values.
func valueAt(first uintptr, i int) *sqlite3.TMem {
	return (*sqlite3.TMem)(pointer(first + uintptr(i)*unsafe.Sizeof(sqlite3.TMem{})))
}
