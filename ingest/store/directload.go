package store

import (
	"context"
	"fmt"
	"sync"

	"github.com/jmoiron/sqlx"
	"github.com/lib/pq"

	"pourback/ingest/record"
)

// loadDirect reads all tables, each in the order of its keys, on two
// connections at once where another load is not doing so already.
func loadDirect(ctx context.Context, s *Store, all *record.Records, also reads) error {
	views, done, err := s.views(ctx)
	if err != nil {
		return err
	}
	defer done()
	l := &loader{ctx: ctx, store: s, views: views}
	loadColumns(l, record.Jobs, all.Jobs.Columns(), new(record.JobColumns).Columns())
	loadColumns(l, record.Placements, all.Placements.Columns(), new(record.PlacementColumns).Columns())
	loadTable(l, record.Loads, &all.Loads)
	loadTable(l, record.Delays, &all.Delays)
	loadTable(l, record.Labors, &all.Labor)
	loadTable(l, record.Costs, &all.Costs)
	loadTable(l, record.Visits, &all.Visits)
	if l.err == errIndirect {
		*all = record.Records{}
		return loadPlain(ctx, s, all, also)
	}
	if l.err != nil {
		return l.err
	}
	return also(views[0].tx)
}

// views are two views of one state, or a single one while another load has two,
// until done is called.
func (s *Store) views(ctx context.Context) (views []view, done func(), err error) {
	count, leave := 1, func() {}
	select {
	case s.pairing <- struct{}{}:
		count, leave = 2, func() { <-s.pairing }
	default:
	}
	if views, err = s.sameViews(ctx, count); err != nil {
		leave()
		return nil, nil, err
	}
	return views, func() { closeViews(views); leave() }, nil
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
	var lent string
	for i := range count {
		conn, err := s.read.Connx(ctx)
		if err != nil {
			return views, false, err
		}
		views = append(views, view{conn: conn})
		tx, err := conn.BeginTxx(ctx, &s.engine.reading)
		if err != nil {
			return views, false, err
		}
		views[i].tx = tx
		if lent != "" {
			if _, err := tx.ExecContext(ctx, fmt.Sprintf(s.engine.borrow, lent)); err != nil {
				return views, false, s.stayAlone(err)
			}
		}
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
		if i == 0 && count > 1 && s.engine.lend != "" && !s.alone.Load() {
			if err := tx.GetContext(ctx, &lent, s.engine.lend); err != nil {
				return views, false, s.stayAlone(err)
			}
		}
	}
	return views, true, nil
}

// stayAlone notes that the server does not lend views, where that is the error:
// from now on their stamps alone tell that two are of one state. A view that is
// gone, because its connection was lost, is just another try.
func (s *Store) stayAlone(err error) error {
	if pq.As(err, "22023") != nil { // no such snapshot
		return nil
	}
	if !unknown(err) {
		return err
	}
	s.alone.Store(true)
	return nil
}

// loader reads tables one after the other until one fails.
type loader struct {
	ctx   context.Context
	store *Store
	views []view
	err   error
}

// manyRows are worth being read by two.
const manyRows = 10_000

// size is what is to be read of a table.
type size struct{ Rows, Last int64 }

func (l *loader) sizeOf(t *record.Table) (n size) {
	if l.err == nil {
		l.err = l.views[0].tx.GetContext(l.ctx, &n, "SELECT COUNT(*) AS rows, COALESCE(MAX(rowid), 0) AS last FROM "+t.Name)
	}
	return n
}

// halves reads a table up to the middle of its rowids on the first view, and
// the rest, where it is worth the while, on the second at the same time.
func (l *loader) halves(n size, front func(v view, last int64) error, back func(v view, after int64) error) {
	middle := n.Last
	if n.Rows > manyRows {
		middle = n.Last / int64(len(l.views))
	}
	l.both(func(v view) error { return front(v, middle) }, middle < n.Last, func(v view) error { return back(v, middle) })
}

// both reads on the first view and, where there is something to be read there,
// on the second at the same time.
func (l *loader) both(front func(v view) error, two bool, back func(v view) error) {
	var backErr error
	var both sync.WaitGroup
	if two {
		both.Go(func() { backErr = back(l.views[1]) })
	}
	l.err = front(l.views[0])
	both.Wait()
	if l.err == nil {
		l.err = backErr
	}
}

// loadTable reads a table in the order in which it is stored, the first view
// from the front and the second from the back, and then puts it in order.
func loadTable[T any](l *loader, t *record.Table, into *[]T) {
	n := l.sizeOf(t)
	if l.err != nil || n.Rows == 0 {
		return
	}
	if n.Rows > manyRows {
		defer holdCollector()()
	}
	all := make([]T, n.Rows)
	var front, back int
	l.halves(n,
		func(v view, last int64) (err error) {
			front, err = readDirect(l.ctx, v.conn, t, 0, last, false, all)
			return err
		},
		func(v view, after int64) (err error) {
			back, err = readDirect(l.ctx, v.conn, t, after, n.Last, true, all)
			return err
		})
	if l.err == nil && front+back != len(all) {
		l.err = countError(t, front+back, len(all))
	}
	if l.err != nil {
		return
	}
	sortByKey(all, columnsOf[T](t))
	*into = all
}
