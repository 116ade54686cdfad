package store

import (
	"context"
	"sync"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// loadDirect reads all tables, each in the order of its keys, on two
// connections at once where another load is not doing so already.
func loadDirect(ctx context.Context, s *Store, set *record.Set, also reads) error {
	count := 1
	select {
	case s.pairing <- struct{}{}:
		defer func() { <-s.pairing }()
		count = 2
	default:
	}
	views, err := s.sameViews(ctx, count)
	if err != nil {
		return err
	}
	defer closeViews(views)
	l := &loader{ctx: ctx, views: views}
	loadTable(l, record.Jobs, &set.Jobs)
	loadTable(l, record.Placements, &set.Placements)
	loadTable(l, record.Loads, &set.Loads)
	loadTable(l, record.Delays, &set.Delays)
	loadTable(l, record.Labors, &set.Labor)
	loadTable(l, record.Costs, &set.Costs)
	loadTable(l, record.Visits, &set.Visits)
	if l.err == errIndirect {
		*set = record.Set{}
		return loadPlain(ctx, s, set, also)
	}
	if l.err != nil {
		return l.err
	}
	return also(views[0].tx)
}

// view is a connection that sees one state of the database.
type view struct {
	conn *sqlx.Conn
	tx   *sqlx.Tx
}

func closeViews(views []view) {
	for _, v := range views {
		if v.tx != nil {
			v.tx.Rollback() // nothing to keep
		}
		v.conn.Close()
	}
}

// stamp tells states of the database apart: what changes the records adds a
// batch or takes one back.
type stamp struct {
	Last   int64
	Undone int64
}

// sameViews opens so many views of one state, or a single one where writers are
// too busy for that.
func (s *Store) sameViews(ctx context.Context, count int) ([]view, error) {
	for try := 0; ; try++ {
		if try == 10 {
			count = 1
		}
		views, same, err := s.openViews(ctx, count)
		if err == nil && same {
			return views, nil
		}
		closeViews(views)
		if err != nil {
			return nil, err
		}
	}
}

func (s *Store) openViews(ctx context.Context, count int) (views []view, same bool, err error) {
	var first stamp
	for i := range count {
		conn, err := s.db.Connx(ctx)
		if err != nil {
			return views, false, err
		}
		views = append(views, view{conn: conn})
		tx, err := conn.BeginTxx(ctx, &s.engine.reading)
		if err != nil {
			return views, false, err
		}
		views[i].tx = tx
		var is stamp
		if err := tx.GetContext(ctx, &is, "SELECT COALESCE(MAX(batch_id), 0) AS last, COUNT(undone_at) AS undone FROM batches"); err != nil {
			return views, false, err
		}
		if i == 0 {
			first = is
		}
		if is != first {
			return views, false, nil
		}
	}
	return views, true, nil
}

// loader reads tables one after the other until one fails.
type loader struct {
	ctx   context.Context
	views []view
	err   error
}

// manyRows are worth being read by two.
const manyRows = 10_000

// loadTable reads a table in the order in which it is stored, the first view
// from the front and the second from the back, and then puts it in order.
func loadTable[T any](l *loader, t *record.Table, into *[]T) {
	if l.err != nil {
		return
	}
	var size struct{ Rows, Last int64 }
	if l.err = l.views[0].tx.GetContext(l.ctx, &size, "SELECT COUNT(*) AS rows, COALESCE(MAX(rowid), 0) AS last FROM "+t.Name); l.err != nil {
		return
	}
	if size.Rows == 0 {
		return
	}
	middle := size.Last
	if size.Rows > manyRows {
		defer holdCollector()()
		middle = size.Last / int64(len(l.views))
	}
	all := make([]T, size.Rows)
	var front, back int
	var backErr error
	var both sync.WaitGroup
	if middle < size.Last {
		both.Go(func() { back, backErr = readDirect(l.ctx, l.views[1].conn, t, middle, size.Last, true, all) })
	}
	front, l.err = readDirect(l.ctx, l.views[0].conn, t, 0, middle, false, all)
	both.Wait()
	if l.err == nil {
		l.err = backErr
	}
	if l.err == nil && front+back != len(all) {
		l.err = countError(t, front+back, len(all))
	}
	if l.err != nil {
		return
	}
	sortByKey(all, columnsOf[T](t))
	*into = all
}
