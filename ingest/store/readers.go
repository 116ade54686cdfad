package store

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"time"

	"github.com/jmoiron/sqlx"
)

// openReaders opens the connections that only read, so that who reads and who
// writes never stand in each other's queue: who writes has everybody else's turn,
// too, while they wait for a connection.
func (s *Store) openReaders(dsn string) error {
	if s.engine == embedded {
		return s.openFileReaders(dsn)
	}
	db, err := s.engine.open(dsn, s.opt)
	if err != nil {
		return err
	}
	s.db.SetMaxOpenConns(writeAlone)
	db.SetMaxOpenConns(readAlone)
	db.SetMaxIdleConns(readAlone)
	db.SetConnMaxIdleTime(time.Minute)
	s.read = sqlx.NewDb(db, s.engine.driver)
	return nil
}

func (s *Store) openFileReaders(path string) error {
	q := url.Values{"_dqs": {"0"}}
	q.Add("_pragma", fmt.Sprintf("busy_timeout(%d)", s.opt.BusyTimeout.Milliseconds()))
	q.Add("_pragma", "cache_size(-8192)")
	q.Add("_pragma", "query_only(1)")
	db, err := sqlx.Open(embedded.driver, fileURI(path)+"?"+q.Encode())
	if err != nil {
		return err
	}
	db.SetMaxOpenConns(s.opt.Readers)
	db.SetMaxIdleConns(s.opt.Readers)
	s.read = db
	return nil
}

// mostLog is how long SQLite's log beside the file may be before it is cut.
const mostLog = 8 << 20

// CutLog cuts the log beside an SQLite file that readers have let grow, where
// nobody stands in the way; it is to be asked now and then.
func (s *Store) CutLog(ctx context.Context) error {
	if is, err := os.Stat(s.at + "-wal"); s.engine != embedded || err != nil || is.Size() < mostLog {
		return nil
	}
	_, err := s.db.ExecContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)")
	return s.explain(ctx, err)
}
