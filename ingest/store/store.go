// Package store keeps the records in a database: SQLite in a file, or a
// PostgreSQL server. Both hold the same tables, are asked by the same queries
// and give the same answers; what differs between them is named in engine.go.
//
// A file of records is taken in by one transaction, from [Store.Begin] over
// [Tx.Add] to [Tx.Commit], and becomes a batch. What a batch changed stays in a
// change log, and [Store.Undo] takes a batch back whole. [Store.History] reads
// everything back.
package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"sync/atomic"
	"time"

	"github.com/jmoiron/sqlx"
)

// Options are what a store may be told beside where it is.
type Options struct {
	// Lock is how writers queue on PostgreSQL: "advisory", the default, or
	// "none" for servers that have no advisory locks. Writers queue there too,
	// but may have to start over.
	Lock string
	// BusyTimeout is how long to wait for another program that is writing to
	// the same SQLite file before trying again; two minutes where it is zero.
	BusyTimeout time.Duration
	// Existing demands a database that is there already, and fails with a
	// [*NoDatabaseError] where there is none.
	Existing bool
	// Notice is told what the owner ought to know: that a database is made, or
	// copied before its schema changes. It may be nil.
	Notice func(string)
	// Patience is how long a server may be silent until it is asked, by another
	// connection, whether it is still at work; ten seconds where it is zero.
	Patience time.Duration
	// Readers is how many connections only read an SQLite file, beside those
	// that write; none where it is zero, and all do both. Of a server's there
	// are always as many, and with Readers most of them only read.
	Readers int
}

// NoDatabaseError says that there is no database of ours where one was wanted.
type NoDatabaseError struct {
	At    string // the full path, or the server's address without its password
	Empty bool   // something is there, and holds nothing
}

func (e *NoDatabaseError) Error() string {
	if e.Empty {
		return fmt.Sprintf("%s is empty: it holds no database of pourback's", e.At)
	}
	return fmt.Sprintf("there is no database at %s", e.At)
}

// File is the path of the database that dsn names, where that is a file.
func File(dsn string) (path string, ok bool) { return dsn, engineOf(dsn) == embedded }

// Store is an open database. It may be used by many goroutines at once.
type Store struct {
	db      *sqlx.DB
	read    *sqlx.DB     // what is read by; the same, unless there are readers
	watch   watch        // tells one state of the records from another
	people  atomic.Int64 // times that this program has written of users or sessions
	engine  *engine
	met     atomic.Bool   // it has been open: what is away may come back
	lock    bool          // queue by the engine's lock
	writing chan struct{} // full while a writer of this process is at work
	pairing chan struct{} // full while a load uses two connections
	plain   atomic.Bool   // the server does not copy out: read as everywhere
	takes   atomic.Int32  // whether the server takes copies in, or has not been asked
	alone   atomic.Bool   // the server does not lend what a transaction sees
	at      string        // the dsn, as messages may show it; the full path of a file
	opt     Options
}

// Open opens the database that dsn names, makes it where it does not exist
// unless told otherwise, and brings its schema up to date; before that a file is
// copied. A dsn is the path of an SQLite file, or the address of a PostgreSQL
// server as postgres://user@host/name or in libpq's form "host=… user=… dbname=…".
func Open(ctx context.Context, dsn string, opt Options) (*Store, error) {
	if opt.Lock != "" && opt.Lock != "advisory" && opt.Lock != "none" {
		return nil, fmt.Errorf("lock %q: choose advisory or none", opt.Lock)
	}
	if opt.BusyTimeout <= 0 {
		opt.BusyTimeout = 2 * time.Minute
	}
	if opt.Patience <= 0 {
		opt.Patience = 10 * time.Second
	}
	if dsn == "-" {
		return nil, errors.New("- is no database: give the path of a file, or the address of a PostgreSQL server")
	}
	e := engineOf(dsn)
	db, err := e.open(dsn, opt)
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(connections)
	db.SetMaxIdleConns(idleConnections)
	s := &Store{db: sqlx.NewDb(db, e.driver), engine: e, lock: opt.Lock != "none", writing: make(chan struct{}, 1), pairing: make(chan struct{}, 1), at: Shown(dsn), opt: opt}
	s.read = s.db
	if e == embedded {
		s.at = fullPath(dsn)
	}
	err = s.migrate(ctx)
	if err == nil && opt.Readers > 0 {
		err = s.openReaders(dsn)
	}
	if err != nil {
		s.Close()
		if none := new(NoDatabaseError); errors.As(err, &none) {
			return nil, none
		}
		return nil, fmt.Errorf("%s: %w", Shown(dsn), s.explain(ctx, err))
	}
	s.met.Store(true)
	return s, nil
}

// How many connections there may be to a database, how many of them wait to be used,
// and how many only write where there are readers.
const (
	connections     = 16
	idleConnections = 4
	writeAlone      = 4
	readAlone       = connections - writeAlone
)

// Close ends all use of the database.
func (s *Store) Close() error {
	s.watch.close()
	if s.read != nil && s.read != s.db {
		return errors.Join(s.read.Close(), s.db.Close())
	}
	return s.db.Close()
}

// Engine is "sqlite" or "postgres".
func (s *Store) Engine() string { return s.engine.name }

// Backup writes a consistent copy of an SQLite database to a file, while others
// may be using it. The copy is checked before it gets its name, so that under it
// stands the old file or the whole new one at any moment. A file that exists is
// replaced only where over is true.
func (s *Store) Backup(ctx context.Context, path string, over bool) error {
	if is, err := os.Lstat(path); err == nil && is.Mode().IsRegular() && is.Size() > 0 && !over {
		return fmt.Errorf("%s exists; name a new file for the backup", path)
	}
	return s.engine.backup(ctx, s.db, path)
}

// notice tells the owner something.
func (s *Store) notice(format string, args ...any) { s.opt.notice(format, args...) }

func (o Options) notice(format string, args ...any) {
	if o.Notice != nil {
		o.Notice(fmt.Sprintf(format, args...))
	}
}

// sqlText puts the engine's placeholders in place of each ?.
func (s *Store) sqlText(query string) string { return s.db.Rebind(query) }

// explain is the error in our words. What ended with the context says so,
// however the driver puts it.
func (s *Store) explain(ctx context.Context, err error) error {
	if ended := ctx.Err(); err != nil && ended != nil {
		return ended
	}
	return s.engine.explain(err)
}

// reading runs work on an unchanging view of the whole database.
func (s *Store) reading(ctx context.Context, work func(tx *sqlx.Tx) error) error {
	tx, err := s.read.BeginTxx(ctx, &s.engine.reading)
	if err != nil {
		return s.explain(ctx, err)
	}
	defer tx.Rollback() // nothing to keep
	return s.explain(ctx, work(tx))
}

// joined is names separated by commas.
func joined(names []string) string { return strings.Join(names, ", ") }
