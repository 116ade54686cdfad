package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// CheckDigests holds every row's digest against its values.
func (s *Store) CheckDigests(ctx context.Context) error {
	var faults []error
	_, err := s.Check(ctx, func(f Fault) { faults = append(faults, fmt.Errorf("%+v", f)) })
	return errors.Join(append(faults, err)...)
}

// Exec runs SQL behind the store's back.
func (s *Store) Exec(query string) error { _, err := s.db.Exec(query); return err }

// ReadersQueue says whether all connections that read are in use, and some wait for one.
func (s *Store) ReadersQueue() bool {
	is := s.read.Stats()
	return is.InUse == is.MaxOpenConnections && is.WaitCount > 0
}

// Columns are the tables of the database with their columns, as the database
// itself tells: "name type", with the key's columns marked by their place.
func (s *Store) Columns() (map[string][]string, error) {
	query := `SELECT m.name, c.name || ' ' || c.type || CASE WHEN c.pk > 0 THEN ' key ' || c.pk ELSE '' END || CASE WHEN c."notnull" THEN ' not null' ELSE '' END
		FROM sqlite_master m JOIN pragma_table_info(m.name) c WHERE m.type = 'table' ORDER BY m.name, c.cid`
	if s.engine == postgres {
		query = `SELECT c.table_name, c.column_name || ' ' || upper(c.data_type) || COALESCE(' key ' || k.ordinal_position, '') || CASE WHEN c.is_nullable = 'NO' THEN ' not null' ELSE '' END
			FROM information_schema.columns c LEFT JOIN information_schema.key_column_usage k
			ON k.table_name = c.table_name AND k.column_name = c.column_name AND k.table_schema = c.table_schema
			WHERE c.table_schema = current_schema() ORDER BY c.table_name, c.ordinal_position`
	}
	rows, err := s.db.Query(query)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	columns := map[string][]string{}
	for rows.Next() {
		var table, column string
		if err := rows.Scan(&table, &column); err != nil {
			return nil, err
		}
		columns[table] = append(columns[table], column)
	}
	return columns, rows.Err()
}

// PlainHistory is History by what every engine has.
func (s *Store) PlainHistory(ctx context.Context, asOf record.Date) (*record.History, error) {
	var all record.Records
	err := loadPlain(ctx, s, &all, func(*sqlx.Tx) error { return nil })
	return record.HistoryOf(asOf, all), err
}

// FirstRelease makes a database as the first release had it, if it is not there
// yet, and writes a row into it, in the columns of that release alone.
func FirstRelease(ctx context.Context, dsn string, r record.Record, digest int64) error {
	e := engineOf(dsn)
	db, err := e.open(dsn, Options{BusyTimeout: time.Second, Patience: time.Second})
	if err != nil {
		return err
	}
	defer db.Close()
	s := &Store{db: sqlx.NewDb(db, e.driver), engine: e}
	steps, err := s.steps()
	if err == nil {
		_, err = steps.UpTo(ctx, 2)
	}
	if err != nil {
		return err
	}
	batch := "INSERT INTO batches (" + batchColumns + ") VALUES (1, 'first.csv', '00', 'jobs', '2024-06-03T07:15:00Z', 4, 4, 0, 0, 0, 0) ON CONFLICT DO NOTHING"
	if _, err := db.ExecContext(ctx, batch); err != nil {
		return err
	}
	t, fields := r.Table(), r.Fields()
	var names []string
	var values []any
	for i := range t.Columns {
		if c := &t.Columns[i]; !c.Later {
			names, values = append(names, c.Name), append(values, value(c, fields[i]))
		}
	}
	names, values = append(names, provenance...), append(values, 1, 2, digest)
	_, err = db.ExecContext(ctx, s.sqlText(insertText(t.Name, names, 1)), values...)
	return err
}

// BidLog is all that was said of kept bids.
func (s *Store) BidLog(ctx context.Context) ([]BidChange, error) { return readBidLog(ctx, s.db) }
