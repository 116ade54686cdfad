package store

import (
	"context"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// keysAsked is how many keys one query asks for.
const keysAsked = 200

// stored is what a chunk needs to know of a row that is there.
type stored struct {
	digest int64
	batch  int64
	number int
}

// lookUp finds which of the chunk's keys the table holds. Where the keys lie
// close together among the table's, their whole range is read; else each is
// asked for.
func (tx *Tx) lookUp(ctx context.Context, p *passage, c *chunk) (map[string]stored, error) {
	if c.keys[c.least()] > p.greatest {
		return nil, nil
	}
	found := make(map[string]stored, len(c.rows))
	if !p.sparse {
		whole, err := tx.readRange(ctx, c, found)
		if whole || err != nil {
			return found, err
		}
		p.sparse = true
		clear(found)
	}
	query := "SELECT " + joined(keyNames(c.table)) + ", " + joined(provenance) + " FROM " + c.table.Name + " WHERE "
	err := tx.among(ctx, query, c.table, c.order, c.at, func(rows *sqlx.Rows) error {
		return scanStored(rows, c.table, found)
	})
	return found, err
}

func (c *chunk) at(i int) []any { return c.rows[i].fields }

// readRange reads all keys from the chunk's least to its greatest, unless they
// are many more than the chunk's.
func (tx *Tx) readRange(ctx context.Context, c *chunk, found map[string]stored) (whole bool, err error) {
	keys := joined(keyNames(c.table))
	stmt, err := tx.prepare(ctx, "SELECT "+keys+", "+joined(provenance)+" FROM "+c.table.Name+
		" WHERE "+betweenText(c.table)+" ORDER BY "+keys+" LIMIT ?")
	if err != nil {
		return false, err
	}
	most := 4*len(c.rows) + 100
	args := append(keyValues(c.table, c.at(c.least())), keyValues(c.table, c.at(c.greatest()))...)
	rows, err := stmt.QueryxContext(ctx, append(args, most)...)
	if err != nil {
		return false, err
	}
	err = scanStored(rows, c.table, found)
	return len(found) < most, err
}

// scanStored reads rows of a key and its provenance into found, and closes them.
func scanStored(rows *sqlx.Rows, t *record.Table, found map[string]stored) error {
	defer rows.Close()
	fields := t.New().Fields()
	var s stored
	into := append(keyFields(t, fields), &s.batch, &s.number, &s.digest)
	var key []byte
	for rows.Next() {
		if err := rows.Scan(into...); err != nil {
			return err
		}
		key = appendKey(key[:0], t, fields)
		found[string(key)] = s
	}
	return rows.Err()
}

// among runs a query, which ends in WHERE, for the keys of the rows that which
// lists, so many at a time. The last ones are asked for again to fill up the
// query.
func (tx *Tx) among(ctx context.Context, query string, t *record.Table, which []int, fields func(int) []any, read func(*sqlx.Rows) error) error {
	for len(which) > 0 {
		size := keysAsked
		if len(which) < 8 {
			size = 1
		}
		stmt, err := tx.prepare(ctx, query+amongText(t, size))
		if err != nil {
			return err
		}
		n := min(size, len(which))
		var args []any
		for i := range size {
			args = append(args, keyValues(t, fields(which[min(i, n-1)]))...)
		}
		rows, err := stmt.QueryxContext(ctx, args...)
		if err != nil {
			return err
		}
		if err := read(rows); err != nil {
			return err
		}
		which = which[n:]
	}
	return nil
}

// fetch reads the whole rows with the keys of the rows that which lists.
func (tx *Tx) fetch(ctx context.Context, t *record.Table, which []int, fields func(int) []any) (map[string]row, error) {
	found := make(map[string]row, len(which))
	query := "SELECT " + wholeList(t) + " FROM " + t.Name + " WHERE "
	err := tx.among(ctx, query, t, which, fields, func(rows *sqlx.Rows) error {
		defer rows.Close()
		for rows.Next() {
			r, err := scanRow(rows, t)
			if err != nil {
				return err
			}
			found[string(appendKey(nil, t, r.fields))] = r
		}
		return rows.Err()
	})
	return found, err
}

// scanRow reads a whole row, as wholeList names it.
func scanRow(rows *sqlx.Rows, t *record.Table) (row, error) {
	r := row{fields: t.New().Fields()}
	n := len(r.fields)
	err := rows.Scan(append(r.fields[:n:n], &r.batch, &r.number, &r.digest, &r.unused)...)
	return r, err
}
