package store

import (
	"context"
	"fmt"
	"slices"

	"pourback/ingest/record"
)

// Kind is what became of a row.
type Kind int8

// What can become of a row.
const (
	New       Kind = iota // its key was not there
	Changed               // its key was there, with other values
	Unchanged             // it was there just so
	Repeated              // its key stood earlier in this file, with the same values
	Conflict              // its key stood earlier in this file, with other values: not written
)

func (k Kind) String() string {
	return [...]string{"new", "changed", "unchanged", "repeated", "conflict"}[k]
}

// Outcome is what became of one row.
type Outcome struct {
	Kind     Kind
	FirstRow int // for Repeated and Conflict, the number of the earlier row
}

// Add takes in rows of one table, in the order of the file, and says what
// became of each. given tells which columns the file has; nil means all. A
// column that the file does not have leaves the stored value as it is; an
// empty cell in a column that it has makes the value missing.
//
// After an error the transaction can only be rolled back.
func (tx *Tx) Add(ctx context.Context, t *record.Table, given []bool, rows []Row) ([]Outcome, error) {
	if err := tx.usable(ctx); err != nil {
		return nil, err
	}
	if given != nil && len(given) != len(t.Columns) {
		return nil, tx.fail(ctx, fmt.Errorf("%s has %d columns, told of %d", t.Name, len(t.Columns), len(given)))
	}
	p, err := tx.passage(ctx, t)
	if err != nil {
		return nil, tx.fail(ctx, err)
	}
	outcomes := make([]Outcome, len(rows))
	for from := 0; from < len(rows); from += chunkRows {
		to := min(from+chunkRows, len(rows))
		c, err := newChunk(t, tx.batch.ID, given, tx.headings[t], rows[from:to], outcomes[from:to])
		if err != nil {
			return nil, tx.fail(ctx, err)
		}
		if err := tx.addChunk(ctx, p, c); err != nil {
			return nil, tx.fail(ctx, err)
		}
	}
	return outcomes, nil
}

// addChunk decides what becomes of each row and writes the new and the changed.
func (tx *Tx) addChunk(ctx context.Context, p *passage, c *chunk) error {
	least, greatest := c.keys[c.least()], c.keys[c.greatest()]
	if p.back = least <= p.last; p.back {
		if err := tx.index(ctx, p); err != nil {
			return err
		}
	}
	found, err := tx.lookUp(ctx, p, c)
	if err != nil {
		return err
	}
	doubtful := tx.compareDigests(p, c, found)
	changes, err := tx.compareValues(ctx, p, c, doubtful)
	if err != nil {
		return err
	}
	p.note(c, found)
	if err := tx.insertNew(ctx, c); err != nil {
		return err
	}
	p.greatest, p.last = max(p.greatest, greatest), max(p.last, greatest)
	return tx.writeChanges(ctx, c.table, changes)
}

// insertNew writes the chunk's new rows.
func (tx *Tx) insertNew(ctx context.Context, c *chunk) error {
	var rows []row
	for _, i := range c.order {
		if c.result[i].Kind == New {
			rows = append(rows, c.rows[i])
		}
	}
	tx.batch.New += len(rows)
	if len(rows) == 0 {
		return nil
	}
	into := targetOf(c.table, c.given)
	into.unused = slices.ContainsFunc(rows, func(r row) bool { return r.unused != "" })
	return tx.store.engine.insert(ctx, tx, into, rows)
}

// writeChanges puts changed rows in place of those stored, and logs what they were.
func (tx *Tx) writeChanges(ctx context.Context, t *record.Table, changes []change) error {
	rows := make([]row, len(changes))
	for i := range changes {
		rows[i] = changes[i].row
	}
	tx.batch.Changed += len(rows)
	if err := tx.replace(ctx, t, rows); err != nil {
		return err
	}
	return tx.log(ctx, t, changes)
}
