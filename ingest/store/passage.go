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
	greatest string           // the greatest key in the table
	seen     map[uint64]int32 // rows of the file that were there just so: hash of the key to row number
	sparse   bool             // the file's keys lie far apart among the table's
}

// passage begins with the greatest key that the table holds.
func (tx *Tx) passage(ctx context.Context, t *record.Table) (*passage, error) {
	if p := tx.tables[t]; p != nil {
		return p, nil
	}
	p := &passage{table: t, seen: map[uint64]int32{}}
	fields := t.New().Fields()
	keys := keyNames(t)
	query := "SELECT " + joined(keys) + " FROM " + t.Name + " ORDER BY " + joined(descending(keys)) + " LIMIT 1"
	err := tx.sql.QueryRowxContext(ctx, query).Scan(keyFields(t, fields)...)
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	} else if err == nil {
		p.greatest = string(appendKey(nil, t, fields))
	}
	tx.tables[t] = p
	return p, err
}

// note remembers a row that was there just so. Unlike one that this file wrote,
// nothing in the database shows that the file had it.
func (p *passage) note(key string, number int) { p.seen[stirText(0, key)] = int32(number) }

// earlier is the number of the row with this key earlier in the file, if there
// was one, given who wrote the row that is stored.
func (p *passage) earlier(key string, writer int64, number int, batch int64) (int, bool) {
	if writer == batch {
		return number, true
	}
	seen, ok := p.seen[stirText(0, key)]
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
// [record.Tables].
func (tx *Tx) touched() []*record.Table {
	var tables []*record.Table
	for _, t := range record.Tables {
		if tx.tables[t] != nil {
			tables = append(tables, t)
		}
	}
	return tables
}
