package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"github.com/jmoiron/sqlx"
	"github.com/lib/pq"
	"github.com/pressly/goose/v3"
	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"pourback/ingest/record"
)

// engine is all in which one database differs from the other.
type engine struct {
	name    string
	driver  string        // as database/sql knows it
	goose   goose.Dialect // as the migrations know it
	reading sql.TxOptions // begins a transaction that sees one state of the database
	lock    string        // the statement that makes writers queue; "" where beginning to write does
	tables  string        // the query for the names of all tables

	open    func(dsn string, opt Options) (*sql.DB, error)                             // after checks; connects to nothing yet
	number  string                                                                     // the query for a transaction's number; "" where none is needed
	fate    string                                                                     // and for what became of the transaction of a number
	stop    string                                                                     // and the one that ends it where it still runs
	lend    string                                                                     // the query for the name by which another transaction can see what this one sees; "" where there is none
	borrow  string                                                                     // and the statement that has it do so
	copyOut string                                                                     // the statement that copies what a query finds out of the server
	copyIn  string                                                                     // and the one that copies rows into columns of a table
	only    string                                                                     // the query that says "on" where the server keeps nothing
	check   string                                                                     // the query for what the engine finds wrong; "" where it has none
	again   func(error) bool                                                           // whether the same work may succeed when done again
	lost    func(error) bool                                                           // whether the connection is gone
	taken   func(error) bool                                                           // whether a key was there already
	explain func(error) error                                                          // the error in our words, where we have better ones
	backup  func(ctx context.Context, db *sqlx.DB, path string) error                  // a copy into a file
	insert  func(ctx context.Context, tx *Tx, into target, rows []row) error           // the fast way in for new rows
	load    func(ctx context.Context, s *Store, all *record.Records, also reads) error // the fast way out for all rows
}

func engineOf(dsn string) *engine {
	if namesServer(dsn) {
		return postgres
	}
	return embedded
}

// init tells sqlx which placeholders the driver named sqlite takes, and closes
// the ring of what copies a database and then opens the copy to check it.
func init() {
	sqlx.BindDriver("sqlite", sqlx.QUESTION)
	embedded.backup = backupSQLite
}

var embedded = &engine{
	name:    "sqlite",
	driver:  "sqlite",
	goose:   goose.DialectSQLite3,
	reading: sql.TxOptions{ReadOnly: true}, // or else beginning it would take the lock for writing
	tables:  "SELECT name FROM sqlite_master WHERE type = 'table'",
	open:    openSQLite,
	check:   "PRAGMA integrity_check",
	again: func(err error) bool {
		code := sqliteCode(err)
		return code == sqlite3.SQLITE_BUSY || code == sqlite3.SQLITE_LOCKED || code == sqlite3.SQLITE_PROTOCOL
	},
	lost:    func(error) bool { return false }, // there is none to lose
	taken:   func(error) bool { return false }, // writers have the file to themselves
	explain: explainSQLite,
	insert:  insertDirect,
	load:    loadDirect,
}

// advisoryKey is the number of the lock that all writers of a PostgreSQL
// database share: the letters "pour".
const advisoryKey = 0x706f7572

var postgres = &engine{
	name:    "postgres",
	driver:  "postgres",
	goose:   goose.DialectPostgres,
	reading: sql.TxOptions{ReadOnly: true, Isolation: sql.LevelRepeatableRead},
	lock:    fmt.Sprintf("SELECT pg_advisory_xact_lock(%d)", advisoryKey),
	tables:  "SELECT table_name FROM information_schema.tables WHERE table_schema = current_schema()",
	open:    openPostgres,
	number:  "SELECT txid_current()",
	fate:    "SELECT COALESCE(txid_status(?), '')",
	stop:    "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE CAST(CAST(backend_xid AS TEXT) AS BIGINT) = ?",
	again:   outrun,
	lost:    lost,
	taken:   func(err error) bool { return pq.As(err, "23505") != nil },
	explain: explainPostgres,
	backup: func(context.Context, *sqlx.DB, string) error {
		return errors.New("a backup of a PostgreSQL database is made with the server's own dump program")
	},
	insert:  insertCopy,
	load:    loadCopied,
	only:    "SHOW transaction_read_only",
	copyOut: "COPY (%s) TO STDOUT WITH (FORMAT binary)",
	copyIn:  "COPY %s (%s) FROM STDIN WITH (FORMAT binary)",
	lend:    "SELECT pg_export_snapshot() WHERE set_config('synchronize_seqscans', 'off', true) = 'off'", // else the second to read a table begins in its middle
	borrow:  "SET TRANSACTION SNAPSHOT '%s'; SET LOCAL synchronize_seqscans = off",
}

// sqliteCode is the primary code of an error from SQLite, or 0.
func sqliteCode(err error) int {
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return 0
	}
	return e.Code() & 0xff
}

// ErrDiskFull says that there is no room for what was to be kept.
var ErrDiskFull = errors.New("the disk is full; nothing was kept")

func explainSQLite(err error) error {
	switch sqliteCode(err) {
	case sqlite3.SQLITE_NOTADB:
		return fmt.Errorf("this file is no database, or it is encrypted; name another file, or a new one: %w", err)
	case sqlite3.SQLITE_CORRUPT:
		return fmt.Errorf("this database file is damaged; put a backup in its place: %w", err)
	case sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM:
		return fmt.Errorf("cannot write to this file; check its permissions and its folder's: %w", err)
	case sqlite3.SQLITE_CANTOPEN:
		return fmt.Errorf("cannot open or make this file; check that its folder exists and can be written to: %w", err)
	case sqlite3.SQLITE_FULL:
		if errors.Is(err, ErrDiskFull) {
			return err
		}
		return fmt.Errorf("%w: %w", ErrDiskFull, err)
	case sqlite3.SQLITE_BUSY:
		return fmt.Errorf("another program has been writing to this database for too long; try again when it is done: %w", err)
	}
	return err
}
