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

// Version names the state of the records and bids: the same while nothing of
// them changes, whoever may be writing something else. Of an SQLite file that
// nobody has written to it costs some microseconds.
func (s *Store) Version(ctx context.Context) (string, error) {
	if s.engine != embedded {
		return s.state(ctx)
	}
	w := &s.watch
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.conn == nil {
		conn, err := s.db.Connx(ctx)
		if err != nil {
			return "", s.explain(ctx, err)
		}
		w.conn = conn
	}
	var seen int64
	if err := w.conn.GetContext(ctx, &seen, "PRAGMA data_version"); err != nil {
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
