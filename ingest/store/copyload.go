package store

import (
	"context"
	"fmt"
	"unsafe"

	"github.com/lib/pq"

	"pourback/ingest/record"
)

// loadCopied reads all tables as the server copies them out, on two connections
// at once where another load is not doing so already. Where the server copies
// nothing, or not in binary form, they are read as everywhere.
func loadCopied(ctx context.Context, s *Store, all *record.Records, also reads) error {
	if s.plain.Load() {
		return loadPlain(ctx, s, all, also)
	}
	views, done, err := s.views(ctx)
	if err != nil {
		return err
	}
	l := &loader{ctx: ctx, store: s, views: views}
	copyColumns(l, record.Jobs, all.Jobs.Columns(), new(record.JobColumns).Columns())
	copyColumns(l, record.Placements, all.Placements.Columns(), new(record.PlacementColumns).Columns())
	copyTable(l, record.Loads, &all.Loads)
	copyTable(l, record.Delays, &all.Delays)
	copyTable(l, record.Labors, &all.Labor)
	copyTable(l, record.Costs, &all.Costs)
	copyTable(l, record.Visits, &all.Visits)
	if l.err == nil {
		l.err = also(views[0].tx)
	}
	done()
	if unknown(l.err) || l.err == errIndirect || l.err == errUnwilling {
		s.plain.Store(true)
		*all = record.Records{}
		return loadPlain(ctx, s, all, also)
	}
	return l.err
}

// unknown says whether the server does not know, or does not do, what it was
// asked: as one does that speaks PostgreSQL's protocol and is another.
func unknown(err error) bool {
	e := pq.As(err)
	return e != nil && (e.Code.Class() == "0A" || e.Code.Class() == "42" || e.Code == "25006" || e.Code == "55000")
}

// copyColumns reads a table that is kept by columns: the second view into
// columns of its own.
func copyColumns(l *loader, t *record.Table, into, rest record.Columns) {
	rows, middle := l.middle(t)
	if l.err != nil || rows == 0 {
		return
	}
	into.Reserve(rows)
	rest.Reserve(rows/2 + 1)
	l.both(
		func(v view) error { return l.store.readCopied(v, t, before(t, middle), columnReaders(t, into)) },
		middle != "",
		func(v view) error { return l.store.readCopied(v, t, from(t, middle), columnReaders(t, rest)) })
	if l.err == nil {
		into.Join(rest)
	}
}

// copyTable reads a table and puts it in order.
func copyTable[T any](l *loader, t *record.Table, into *[]T) {
	rows, middle := l.middle(t)
	if l.err != nil || rows == 0 {
		return
	}
	front, back := make([]T, 0, rows), []T{}
	l.both(
		func(v view) error { return l.store.readCopied(v, t, before(t, middle), rowReader(t, &front)) },
		middle != "",
		func(v view) error { return l.store.readCopied(v, t, from(t, middle), rowReader(t, &back)) })
	if l.err == nil {
		*into = append(front, back...)
		sortByKey(*into, columnsOf[T](t))
	}
}

// middle is the number of a table's rows and, where they are worth being read by
// two, the job_no in their middle.
func (l *loader) middle(t *record.Table) (rows int, job string) {
	if l.err == nil {
		l.err = l.views[0].tx.GetContext(l.ctx, &rows, "SELECT COUNT(*) FROM "+t.Name)
	}
	if l.err == nil && rows > manyRows && len(l.views) > 1 {
		l.err = l.views[0].tx.GetContext(l.ctx, &job, fmt.Sprintf("SELECT job_no FROM %s ORDER BY %s LIMIT 1 OFFSET %d", t.Name, joined(keyNames(t)), rows/2))
	}
	return rows, job
}

// before is the condition that a row stands before the middle, from that it does not.
func before(t *record.Table, middle string) string {
	if middle == "" {
		return ""
	}
	return " WHERE job_no < " + pq.QuoteLiteral(middle)
}

func from(t *record.Table, middle string) string {
	return " WHERE job_no >= " + pq.QuoteLiteral(middle)
}

// readCopied reads the rows of a table for which a condition holds, in the order
// in which the server has them.
func (s *Store) readCopied(v view, t *record.Table, where string, take func(values [][]byte) error) error {
	query := fmt.Sprintf(s.engine.copyOut, "SELECT "+joined(columnNames(t))+" FROM "+t.Name+where)
	return raw(v.conn, func(driverConn any) error {
		w, err := wireOf(driverConn)
		if err != nil {
			return err
		}
		return w.copyOut(query, len(t.Columns), take)
	})
}

// columnReaders puts rows behind the last of the columns.
func columnReaders(t *record.Table, into record.Columns) func(values [][]byte) error {
	readers := make([]func(b []byte) error, len(into))
	for i := range into {
		readers[i] = wireReader(into[i])
	}
	return func(values [][]byte) error {
		for i, read := range readers {
			if err := read(values[i]); err != nil {
				return fmt.Errorf("%s: %w", t.Columns[i].Name, err)
			}
		}
		return nil
	}
}

// rowReader puts rows behind the last.
func rowReader[T any](t *record.Table, into *[]T) func(values [][]byte) error {
	columns := columnsOf[T](t)
	return func(values [][]byte) error {
		*into = append(*into, *new(T))
		return readWire(columns, values, unsafe.Pointer(&(*into)[len(*into)-1]))
	}
}
