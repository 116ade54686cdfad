package store

import (
	"context"
	"strings"
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

// state asks for the state of the records and bids: batches, those taken back, bids,
// and what was said of them, none of which is ever changed or taken out otherwise.
func (s *Store) state(ctx context.Context) (is string, err error) {
	err = s.retry(ctx, func() error {
		return s.read.GetContext(ctx, &is, "SELECT CAST(MAX(batch_id) AS TEXT) || '.' || CAST(COUNT(undone_at) AS TEXT) || '.' || (SELECT CAST(COALESCE(MAX(bid_id), 0) AS TEXT) FROM bids) || '.' || "+
			"(SELECT CAST(COALESCE(MAX(log_no), 0) AS TEXT) FROM bid_log) FROM (SELECT batch_id, undone_at FROM batches UNION ALL SELECT 0, NULL) AS b")
	})
	return is, s.explain(ctx, err)
}

// SameRecords says whether two versions differ by their bids alone: the records and
// those taken back stand first in each.
func SameRecords(one, other string) bool {
	records, _ := partsOf(one)
	others, _ := partsOf(other)
	return records == others
}

// SameBids says whether two versions differ by their records alone.
func SameBids(one, other string) bool {
	_, bids := partsOf(one)
	_, others := partsOf(other)
	return bids == others
}

// partsOf are what a version says of the records, and of the bids.
func partsOf(version string) (records, bids string) {
	parts := strings.SplitN(version, ".", 3)
	if len(parts) < 3 {
		return version, ""
	}
	return parts[0] + "." + parts[1], parts[2]
}
