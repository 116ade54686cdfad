package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"sync"

	"github.com/jmoiron/sqlx"
)

// watch tells one state of the records from another.
type watch struct {
	mu   sync.Mutex
	conn *sqlx.Conn // SQLite's, which never writes; nil until it is asked
	seen int64      // what SQLite said of the file
	is   string     // and the state of the records then
}

func (w *watch) close() {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.conn != nil {
		w.conn.Close()
		w.conn = nil
	}
}

// Stamp is a number that is another one as soon as anybody has written anything to
// an SQLite file: it costs some microseconds. It is false for a server, which has
// nothing of the kind.
func (s *Store) Stamp(ctx context.Context) (stamp int64, ok bool, err error) {
	if s.engine != embedded {
		return 0, false, nil
	}
	s.watch.mu.Lock()
	defer s.watch.mu.Unlock()
	stamp, err = s.stampLocked(ctx)
	return stamp, err == nil, s.explain(ctx, err)
}

// stampLocked asks a connection that never writes: SQLite tells it of what others
// have written (sqlite.org, PRAGMA data_version).
func (s *Store) stampLocked(ctx context.Context) (stamp int64, err error) {
	w := &s.watch
	if w.conn == nil {
		if w.conn, err = s.db.Connx(context.WithoutCancel(ctx)); err != nil {
			return 0, err
		}
	}
	return stamp, w.conn.GetContext(ctx, &stamp, "PRAGMA data_version")
}

// Version names the state of the records and bids: the same while nothing of
// them changes, whoever may be writing something else.
func (s *Store) Version(ctx context.Context) (string, error) {
	if s.engine != embedded {
		return s.state(ctx)
	}
	w := &s.watch
	w.mu.Lock()
	defer w.mu.Unlock()
	seen, err := s.stampLocked(ctx)
	if err != nil {
		return "", s.explain(ctx, err)
	}
	if w.is != "" && seen == w.seen {
		return w.is, nil
	}
	is, err := s.state(ctx)
	if err == nil {
		w.seen, w.is = seen, is
	}
	return is, err
}

// state asks for the state of the records: the batches, those taken back, and
// what is kept of each bid besides what it was made of.
func (s *Store) state(ctx context.Context) (is string, err error) {
	err = s.retry(ctx, func() error {
		var at stamp
		if err := s.read.GetContext(ctx, &at, "SELECT COALESCE(MAX(batch_id), 0) AS last, COUNT(undone_at) AS undone FROM batches"); err != nil {
			return err
		}
		sum := sha256.New()
		rows, err := s.read.QueryxContext(ctx, "SELECT bid_id, COALESCE(job_no, ''), COALESCE(fate, '') FROM bids ORDER BY bid_id")
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			bid, err := rows.SliceScan()
			if err != nil {
				return err
			}
			fmt.Fprintf(sum, "%q\n", fmt.Sprint(bid...))
		}
		is = fmt.Sprintf("%d.%d.%s", at.Last, at.Undone, hex.EncodeToString(sum.Sum(nil)[:6]))
		return rows.Err()
	})
	return is, s.explain(ctx, err)
}
