package store

import (
	"context"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/jmoiron/sqlx"
)

// watch tells one state of the records from another, of an SQLite file.
type watch struct {
	known atomic.Pointer[known]
	asked atomic.Int64 // when SQLite was asked last, in ns
	turns atomic.Int64 // of this program's commits

	mu    sync.Mutex // held while SQLite is asked
	conn  *sqlx.Conn // which never writes; nil until it is asked
	stamp int64      // what SQLite said of the file then
}

// known is a state of the records, as it was after so many commits of this program.
type known struct {
	is   string
	turn int64
}

func (w *watch) close() {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.conn != nil {
		w.conn.Close()
		w.conn = nil
	}
}

// What another program has written may go unseen for unseenFor, and where SQLite is being
// asked just then for mostUnseen.
const (
	unseenFor  = 5 * time.Millisecond
	mostUnseen = 250 * time.Millisecond
)

// Version names the state of the records and bids: the same while nothing of
// them changes, whoever may be writing something else. What this program has written is
// in it at once.
func (s *Store) Version(ctx context.Context) (string, error) {
	if s.engine != embedded {
		var is string
		err := s.retry(ctx, func() (err error) {
			is, err = stateOf(ctx, s.read)
			return err
		})
		return is, s.explain(ctx, err)
	}
	w := &s.watch
	if since := w.since(); since > mostUnseen {
		w.mu.Lock()
	} else if since < unseenFor || !w.mu.TryLock() { // or somebody asks
		return w.known.Load().is, nil
	}
	defer w.mu.Unlock()
	if w.since() > unseenFor { // nobody has asked meanwhile
		if err := w.ask(ctx, s); err != nil {
			return "", s.explain(ctx, err)
		}
	}
	return w.known.Load().is, nil
}

// since is how long ago SQLite was asked.
func (w *watch) since() time.Duration { return time.Since(time.Unix(0, w.asked.Load())) }

// ask asks a connection that never writes for the state of the records, if SQLite has told
// it that somebody has written (sqlite.org, PRAGMA data_version).
func (w *watch) ask(ctx context.Context, s *Store) (err error) {
	if w.conn == nil {
		if w.conn, err = s.db.Connx(context.WithoutCancel(ctx)); err != nil {
			return err
		}
	}
	was, now, stamp := w.known.Load(), time.Now(), int64(0)
	if err := w.conn.GetContext(ctx, &stamp, "PRAGMA data_version"); err != nil {
		return err
	}
	if was == nil || stamp != w.stamp {
		is, err := stateOf(ctx, w.conn)
		if err != nil {
			return err
		}
		next := &known{is: is}
		if was != nil {
			next.turn = was.turn
		}
		w.known.CompareAndSwap(was, next) // or a commit has told a newer one meanwhile
	}
	w.stamp = stamp
	w.asked.Store(now.UnixNano())
	return nil
}

// committed tells the state that a commit of this program has left behind, unless a later
// one has told its own.
func (w *watch) committed(next *known) {
	for was := w.known.Load(); was == nil || was.turn < next.turn; was = w.known.Load() {
		if w.known.CompareAndSwap(was, next) {
			return
		}
	}
}

// stateOf asks for the state of the records and bids: batches, those taken back, bids,
// and what was said of them, none of which is ever changed or taken out otherwise.
func stateOf(ctx context.Context, from sqlx.QueryerContext) (is string, err error) {
	err = sqlx.GetContext(ctx, from, &is, "SELECT CAST(MAX(batch_id) AS TEXT) || '.' || CAST(COUNT(undone_at) AS TEXT) || '.' || (SELECT CAST(COALESCE(MAX(bid_id), 0) AS TEXT) FROM bids) || '.' || "+
		"(SELECT CAST(COALESCE(MAX(log_no), 0) AS TEXT) FROM bid_log) FROM (SELECT batch_id, undone_at FROM batches UNION ALL SELECT 0, NULL) AS b")
	return is, err
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
