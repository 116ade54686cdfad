package store

import (
	"context"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/jmoiron/sqlx"
)

// watch tells one state of the records from another.
type watch struct {
	commits atomic.Int64 // of this program

	mu    sync.Mutex
	conn  *sqlx.Conn // SQLite's, which never writes; nil until it is asked
	at    int64      // commits when SQLite was asked last
	asked time.Time  // and when that was
	now   int64      // what it said of the file
	seen  int64      // what it had said when the state of the records was asked for
	is    string     // that state
}

func (w *watch) close() {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.conn != nil {
		w.conn.Close()
		w.conn = nil
	}
}

// unseenFor is how long what another program has written may go unseen.
const unseenFor = 5 * time.Millisecond

// stampLocked is a number that is another one as soon as anybody has written anything to
// an SQLite file. It asks a connection that never writes, which SQLite tells of what others
// have written (sqlite.org, PRAGMA data_version), unless that was asked just now and this
// program has written nothing since.
func (s *Store) stampLocked(ctx context.Context) (stamp int64, err error) {
	w := &s.watch
	commits := w.commits.Load()
	if w.conn != nil && commits == w.at && time.Since(w.asked) < unseenFor {
		return w.now, nil
	}
	if w.conn == nil {
		if w.conn, err = s.db.Connx(context.WithoutCancel(ctx)); err != nil {
			return 0, err
		}
	}
	asked := time.Now()
	if err := w.conn.GetContext(ctx, &stamp, "PRAGMA data_version"); err != nil {
		return 0, err
	}
	w.at, w.asked, w.now = commits, asked, stamp
	return stamp, nil
}

// Version names the state of the records and bids: the same while nothing of
// them changes, whoever may be writing something else.
func (s *Store) Version(ctx context.Context) (string, error) {
	if s.engine != embedded {
		return s.state(ctx, s.read)
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
	is, err := s.state(ctx, w.conn)
	if err == nil {
		w.seen, w.is = seen, is
	}
	return is, err
}

// state asks for the state of the records and bids: batches, those taken back, bids,
// and what was said of them, none of which is ever changed or taken out otherwise.
func (s *Store) state(ctx context.Context, from sqlx.QueryerContext) (is string, err error) {
	err = s.retry(ctx, func() error {
		return sqlx.GetContext(ctx, from, &is, "SELECT CAST(MAX(batch_id) AS TEXT) || '.' || CAST(COUNT(undone_at) AS TEXT) || '.' || (SELECT CAST(COALESCE(MAX(bid_id), 0) AS TEXT) FROM bids) || '.' || "+
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
