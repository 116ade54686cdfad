package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// inOrder is the query for a whole table in the order of its keys, byte by
// byte in both engines.
func inOrder(t *record.Table) string {
	return "SELECT " + selectList(t) + " FROM " + t.Name + " ORDER BY " + joined(keyNames(t))
}

// Records hands over the rows of a table in the order of their keys, each in a
// record of its own. It ends at the first error that yield returns, with it.
func (s *Store) Records(ctx context.Context, t *record.Table, yield func(record.Record) error) error {
	return s.Snapshot(ctx, func(now *Snapshot) error { return now.Records(ctx, t, yield) })
}

// PlacedOn is when the placements of these jobs were poured, by job_no and
// placement: those stored, and those that this transaction has added.
func (tx *Tx) PlacedOn(ctx context.Context, jobNos []string) (map[[2]string]record.Date, error) {
	placed := map[[2]string]record.Date{}
	err := tx.ofJobs(ctx, "SELECT job_no, placement, placed_on FROM placements WHERE job_no IN ", jobNos, func(rows *sqlx.Rows) error {
		var key [2]string
		var on record.Date
		err := rows.Scan(&key[0], &key[1], &on)
		placed[key] = on
		return err
	})
	return placed, err
}

// ofJobs hands over the rows that a query finds for these jobs, so many jobs at
// a time. The query ends where the list of them stands.
func (tx *Tx) ofJobs(ctx context.Context, query string, jobNos []string, scan func(*sqlx.Rows) error) error {
	if err := tx.usable(ctx); err != nil {
		return err
	}
	for len(jobNos) > 0 {
		n := min(len(jobNos), keysAsked)
		args := make([]any, keysAsked)
		for i := range args {
			args[i] = jobNos[min(i, n-1)]
		}
		stmt, err := tx.prepare(ctx, query+marks(keysAsked))
		if err != nil {
			return tx.fail(ctx, err)
		}
		rows, err := stmt.QueryxContext(ctx, args...)
		if err != nil {
			return tx.fail(ctx, err)
		}
		for err == nil && rows.Next() {
			err = scan(rows)
		}
		if err = errors.Join(err, rows.Err(), rows.Close()); err != nil {
			return tx.fail(ctx, err)
		}
		jobNos = jobNos[n:]
	}
	return nil
}

// Source is where a stored row came from: the batch that last wrote it, its
// file, and the row there.
type Source struct {
	Batch int64
	File  string
	Row   int
}

// Sources finds where records came from, by their keys. A record that is not
// stored has no source: its Batch is 0.
func (s *Store) Sources(ctx context.Context, records []record.Record) ([]Source, error) {
	sources := make([]Source, len(records))
	err := s.reading(ctx, func(tx *sqlx.Tx) error {
		for i, r := range records {
			t, fields := r.Table(), r.Fields()
			query := fmt.Sprintf("SELECT %[1]s.batch_id, file, row_no FROM %[1]s JOIN batches ON batches.batch_id = %[1]s.batch_id WHERE %[2]s",
				t.Name, amongText(t, 1))
			err := tx.QueryRowxContext(ctx, tx.Rebind(query), keyValues(t, fields)...).Scan(&sources[i].Batch, &sources[i].File, &sources[i].Row)
			if err != nil && err != sql.ErrNoRows {
				return err
			}
		}
		return nil
	})
	return sources, err
}

// PouredAt is when and where a placement was poured.
type PouredAt struct {
	PlacedOn record.Date
	Site     string // "" where it is not known
}

// Sites are when and where the placements of these jobs were poured, by job_no
// and placement.
func (tx *Tx) Sites(ctx context.Context, jobNos []string) (map[[2]string]PouredAt, error) {
	poured := map[[2]string]PouredAt{}
	query := "SELECT p.job_no, p.placement, p.placed_on, COALESCE(p.site, j.site, '') FROM placements p LEFT JOIN jobs j ON j.job_no = p.job_no WHERE p.job_no IN "
	err := tx.ofJobs(ctx, query, jobNos, func(rows *sqlx.Rows) error {
		var key [2]string
		var at PouredAt
		err := rows.Scan(&key[0], &key[1], &at.PlacedOn, &at.Site)
		poured[key] = at
		return err
	})
	return poured, err
}
