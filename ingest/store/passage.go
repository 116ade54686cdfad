package store

import (
	"context"
	"database/sql"
	"errors"
	"slices"

	"pourback/ingest/record"
)

// passage is what the file being taken in has done to one table so far.
type passage struct {
	table    *record.Table
	greatest string // the greatest key in the table
	last     string // the greatest key that the file has had so far
	back     bool   // the chunk at hand goes back to keys before that
	seen     sightings
	sparse   bool // the file's keys lie far apart among the table's
}

// passage begins with the greatest key that the table holds.
func (tx *Tx) passage(ctx context.Context, t *record.Table) (*passage, error) {
	if p := tx.tables[t]; p != nil {
		return p, nil
	}
	p := &passage{table: t}
	fields := t.New().Fields()
	keys := keyNames(t)
	query := "SELECT " + joined(keys) + " FROM " + t.Name + " ORDER BY " + joined(descending(keys)) + " LIMIT 1"
	if err := tx.settle(); err != nil {
		return nil, err
	}
	err := tx.sql.QueryRowxContext(ctx, query).Scan(keyFields(t, fields)...)
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	} else if err == nil {
		p.greatest = string(appendKey(nil, t, fields))
	}
	tx.tables[t] = p
	return p, err
}

// earlier is the number of the row with this key earlier in the file, if there
// was one, given who wrote the row that is stored.
func (p *passage) earlier(key string, writer int64, number int, batch int64) (int, bool) {
	if writer == batch {
		return number, true
	}
	if !p.back {
		return 0, false
	}
	seen, ok := p.seen.indexed[hashOf(key)]
	return int(seen), ok
}

func descending(names []string) []string {
	down := slices.Clone(names)
	for i := range down {
		down[i] += " DESC"
	}
	return down
}

// touched are the tables that the file has rows for, in the order of
// [record.Stored].
func (tx *Tx) touched() []*record.Table {
	var tables []*record.Table
	for _, t := range record.Stored {
		if tx.tables[t] != nil {
			tables = append(tables, t)
		}
	}
	return tables
}
