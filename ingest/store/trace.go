package store

import (
	"context"
	"fmt"
	"slices"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// Trace is a stored row with all that is known of how it came to be.
type Trace struct {
	Record  record.Record
	Unused  map[string]string // what stood in columns of no use, by heading
	Batch   int64             // that wrote it last
	Row     int               // of that batch's file
	Version string            // another one whenever the row is written
	Changes []Change          // its entries of the change log, oldest first; those of batches that were taken back, too
}

// version tells a row as it is from what it was and will be.
func (r row) version() string { return fmt.Sprintf("%d.%d.%x", r.batch, r.number, uint64(r.digest)) }

// Seen is [Tx.Find], with the version of the row.
func (tx *Tx) Seen(ctx context.Context, key record.Record) (r record.Record, version string, err error) {
	there, err := tx.stored(ctx, key)
	if err != nil || there.fields == nil {
		return nil, "", err
	}
	r = key.Table().New()
	copyFields(r.Fields(), there.fields)
	return r, there.version(), nil
}

// RowsOf are the rows of a job in a table as this transaction sees them, in the
// order of their keys.
func (tx *Tx) RowsOf(ctx context.Context, t *record.Table, jobNo string) ([]record.Record, error) {
	if err := tx.usable(ctx); err != nil {
		return nil, err
	}
	if err := tx.settle(); err != nil {
		return nil, tx.fail(ctx, err)
	}
	rows, err := rowsOf(ctx, tx.sql, t, jobNo)
	return recordsOf(t, rows), tx.fail(ctx, err)
}

func rowsOf(ctx context.Context, from rebinder, t *record.Table, jobNo string) ([]row, error) {
	return rowsWhere(ctx, from, t, "job_no = ? ORDER BY "+joined(keyNames(t)), jobNo)
}

func rowsWhere(ctx context.Context, from rebinder, t *record.Table, where string, values ...any) ([]row, error) {
	rows, err := from.QueryxContext(ctx, from.Rebind("SELECT "+wholeList(t)+" FROM "+t.Name+" WHERE "+where), values...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []row
	for rows.Next() {
		r, err := scanRow(rows, t)
		if err != nil {
			return nil, err
		}
		all = append(all, r)
	}
	return all, rows.Err()
}

// RecordsOf are the rows of a job in some tables, table by table, as they were at one
// moment, in the order of their keys.
func (s *Store) RecordsOf(ctx context.Context, jobNo string, tables ...*record.Table) ([]record.Record, error) {
	of, err := s.RecordsOfJobs(ctx, []string{jobNo}, tables...)
	return of[jobNo], err
}

// RecordsOfJobs is [Store.RecordsOf] of several jobs at one moment, by their numbers: in
// as many questions as there are tables.
func (s *Store) RecordsOfJobs(ctx context.Context, jobs []string, tables ...*record.Table) (of map[string][]record.Record, err error) {
	of = map[string][]record.Record{}
	err = s.reading(ctx, func(tx *sqlx.Tx) error {
		for _, t := range tables {
			for part := range slices.Chunk(jobs, mostNamed) {
				where, values, err := sqlx.In("job_no IN (?) ORDER BY "+joined(keyNames(t)), part)
				if err != nil {
					return err
				}
				rows, err := rowsWhere(ctx, tx, t, where, values...)
				if err != nil {
					return err
				}
				for _, r := range recordsOf(t, rows) {
					job := *r.Fields()[0].(*string)
					of[job] = append(of[job], r)
				}
			}
		}
		return nil
	})
	return of, err
}

// mostNamed is how many jobs one query names.
const mostNamed = 500

// PlacedSince are the placements on record that were placed on a day or after it, by
// day, job and placement.
func (s *Store) PlacedSince(ctx context.Context, day record.Date) (placed []*record.Placement, err error) {
	err = s.reading(ctx, func(tx *sqlx.Tx) error {
		rows, err := rowsWhere(ctx, tx, record.Placements, "placed_on >= ? ORDER BY placed_on, job_no, placement", day.String())
		for _, r := range recordsOf(record.Placements, rows) {
			placed = append(placed, r.(*record.Placement))
		}
		return err
	})
	return placed, err
}

// Poured are those of some jobs that have a placement on record.
func (s *Store) Poured(ctx context.Context, jobs []string) (poured []string, err error) {
	for part := range slices.Chunk(jobs, mostNamed) {
		query, values, err := sqlx.In("SELECT DISTINCT job_no FROM placements WHERE job_no IN (?)", part)
		if err != nil {
			return nil, err
		}
		var some []string
		if err := sqlx.SelectContext(ctx, s.read, &some, s.sqlText(query), values...); err != nil {
			return nil, s.explain(ctx, err)
		}
		poured = append(poured, some...)
	}
	return poured, nil
}

func recordsOf(t *record.Table, rows []row) []record.Record {
	found := make([]record.Record, len(rows))
	for i, r := range rows {
		found[i] = t.New()
		copyFields(found[i].Fields(), r.fields)
	}
	return found
}

// TracesOf are all rows of a job, table by table in the order of record.Tables,
// and the batches, as they were at one moment.
func (s *Store) TracesOf(ctx context.Context, jobNo string) (traces []Trace, batches []Batch, err error) {
	err = s.reading(ctx, func(tx *sqlx.Tx) error {
		for _, t := range record.Tables {
			rows, err := rowsOf(ctx, tx, t, jobNo)
			if err != nil {
				return err
			}
			for _, r := range rows {
				one, err := traceOf(ctx, tx, t, r)
				if err != nil {
					return err
				}
				traces = append(traces, one)
			}
		}
		batches, err = readBatches(ctx, tx)
		return err
	})
	return traces, batches, err
}

func traceOf(ctx context.Context, tx *sqlx.Tx, t *record.Table, r row) (one Trace, err error) {
	one = Trace{Record: t.New(), Batch: r.batch, Row: r.number, Version: r.version()}
	copyFields(one.Record.Fields(), r.fields)
	if one.Unused, err = unusedValues(r.unused); err != nil {
		return one, err
	}
	one.Changes, err = changesOfRow(ctx, tx, t, r.fields)
	return one, err
}

// changesOfRow are a row's entries of the change log, oldest first.
func changesOfRow(ctx context.Context, from rebinder, t *record.Table, fields []any) ([]Change, error) {
	var rows []changeRow
	query := "SELECT " + joined(changeColumns) + " FROM changes WHERE table_name = ? AND row_key = ? ORDER BY batch_id, change_no"
	if err := sqlx.SelectContext(ctx, from, &rows, from.Rebind(query), t.Name, jsonText(keyTexts(t, fields))); err != nil {
		return nil, err
	}
	return changesOf(rows)
}

// Writers are the batches that have given the columns of a stored row the values that
// stand there, by column, as this transaction sees it: the last that changed it to that
// value, or the one that brought the row. They are empty where there is no such row.
func (tx *Tx) Writers(ctx context.Context, key record.Record) (map[string]int64, error) {
	there, err := tx.stored(ctx, key)
	if err != nil || there.fields == nil {
		return nil, err
	}
	t := key.Table()
	changes, err := changesOfRow(ctx, tx.sql, t, there.fields)
	if err != nil {
		return nil, tx.fail(ctx, err)
	}
	first := there.batch
	if len(changes) > 0 {
		first = changes[0].BeforeBatch
	}
	writers := map[string]int64{}
	for i, c := range t.Columns {
		writers[c.Name] = first
		for _, change := range changes {
			if to, ok := change.After[c.Name]; ok && change.Did == didChange && to == record.FieldText(there.fields[i]) {
				writers[c.Name] = change.Batch
			}
		}
	}
	return writers, nil
}

// Mended notes in the change log that cells of a row of the batch's file, which
// the batch has written, were mended before it went in: what they said as
// written, and what went in instead, by column.
func (tx *Tx) Mended(ctx context.Context, r record.Record, number int, written, instead map[string]string) error {
	if err := tx.usable(ctx); err != nil {
		return err
	}
	return tx.fail(ctx, tx.log(ctx, r.Table(), []change{{did: didMend, row: row{fields: r.Fields(), number: number}, before: written, after: instead}}))
}

// JobLine is what a job is found by.
type JobLine struct {
	JobNo, Site, Customer string
	Days                  []record.Date // of its pours, in order
	Crews, Uses           []string
	Placements            int
}

// JobLines are all jobs on record, by their numbers.
func (s *Store) JobLines(ctx context.Context) ([]JobLine, error) {
	var lines []JobLine
	err := s.reading(ctx, func(tx *sqlx.Tx) error {
		query := `SELECT job_no, '' AS placement, COALESCE(site, ''), COALESCE(customer, ''), '' AS placed_on, '' AS crew, '' AS kind, 0 AS placed FROM jobs
			UNION ALL SELECT job_no, placement, COALESCE(site, ''), COALESCE(customer, ''), COALESCE(placed_on, ''), COALESCE(crew, ''), COALESCE(use, ''), 1 FROM placements
			ORDER BY job_no, placed, placed_on, placement`
		rows, err := tx.QueryxContext(ctx, query)
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			var l JobLine
			var placement, on, crew, use string
			if err := rows.Scan(&l.JobNo, &placement, &l.Site, &l.Customer, &on, &crew, &use, &l.Placements); err != nil {
				return err
			}
			if n := len(lines); n == 0 || lines[n-1].JobNo != l.JobNo {
				lines = append(lines, JobLine{JobNo: l.JobNo})
			}
			if err := lines[len(lines)-1].add(l, on, crew, use); err != nil {
				return err
			}
		}
		return rows.Err()
	})
	return lines, err
}

// add takes over what a row of a job or a placement says.
func (l *JobLine) add(row JobLine, on, crew, use string) error {
	for _, at := range []struct {
		has  *string
		says string
	}{{&l.Site, row.Site}, {&l.Customer, row.Customer}} {
		if *at.has == "" {
			*at.has = at.says
		}
	}
	l.Placements += row.Placements
	l.Crews, l.Uses = withWord(l.Crews, crew), withWord(l.Uses, use)
	if on == "" {
		return nil
	}
	day, err := record.ParseDate(on)
	if n := len(l.Days); n == 0 || l.Days[n-1] != day {
		l.Days = append(l.Days, day)
	}
	return err
}

// withWord adds a word to others, once.
func withWord(words []string, word string) []string {
	if word == "" {
		return words
	}
	for _, w := range words {
		if w == word {
			return words
		}
	}
	return append(words, word)
}
