package store

import (
	"context"
	"fmt"
	"strings"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// Fault is something in the database that is not as it was written.
type Fault struct {
	Table  string // "" where no table is meant
	Record string // the row's key: "J-104 A"; "" where no single row is meant
	Batch  int64  // that wrote it, as far as the row still tells
	File   string // of the batch
	Row    int    // in that file
	Wrong  string
}

// Checked is how much was looked at.
type Checked struct{ Rows, Batches, Bids, Pictures, Faults int }

// Check holds everything against what was written: each row's values against
// its digest, the rows of each batch against their number, each picture against
// its SHA-256, what is kept as JSON against its form, and the file against the
// engine's own rules. It tells every fault; the error is for what keeps it from
// looking further.
func (s *Store) Check(ctx context.Context, tell func(Fault)) (Checked, error) {
	c := &checker{tell: tell, found: map[int64]int{}}
	err := s.reading(ctx, func(tx *sqlx.Tx) error {
		if err := c.engine(ctx, tx, s.engine); err != nil {
			return err
		}
		batches, err := readBatches(ctx, tx)
		if err != nil {
			return err
		}
		c.batches, c.Batches = batches, len(batches)
		for _, t := range record.Stored {
			if err := c.table(ctx, tx, t); err != nil {
				return err
			}
		}
		if err := c.changes(ctx, tx); err != nil {
			return err
		}
		c.counts()
		if err := c.pictures(ctx, tx); err != nil {
			return err
		}
		return c.bids(ctx, tx)
	})
	return c.Checked, err
}

// checker is one check.
type checker struct {
	Checked
	tell    func(Fault)
	batches []Batch
	found   map[int64]int // rows of each batch, those that later batches changed included
}

func (c *checker) fault(f Fault) {
	c.Faults++
	if b := c.batch(f.Batch); b != nil {
		f.File = b.File
	}
	c.tell(f)
}

func (c *checker) batch(id int64) *Batch {
	for i := range c.batches {
		if c.batches[i].ID == id {
			return &c.batches[i]
		}
	}
	return nil
}

// engine asks the engine what it thinks of its own file, where it can tell.
func (c *checker) engine(ctx context.Context, tx *sqlx.Tx, e *engine) error {
	if e.check == "" {
		return nil
	}
	var said []string
	if err := tx.SelectContext(ctx, &said, e.check); err != nil {
		return err
	}
	for _, line := range said {
		if line != "ok" {
			c.fault(Fault{Wrong: "the engine's own check: " + line})
		}
	}
	return nil
}

// table reads every row whole. What cannot be read is a fault, and the rest of
// the table is read all the same.
func (c *checker) table(ctx context.Context, tx *sqlx.Tx, t *record.Table) error {
	rows, err := tx.QueryxContext(ctx, "SELECT "+wholeList(t)+" FROM "+t.Name)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		c.Rows++
		r, err := scanRow(rows, t)
		c.found[r.batch]++
		f := Fault{Table: t.Name, Record: strings.Join(keyTexts(t, r.fields), " "), Batch: r.batch, Row: r.number}
		switch b := c.batch(r.batch); {
		case err != nil:
			f.Wrong = fmt.Sprintf("a value that cannot be read: %v", err)
		case r.digest != digest(t, r.fields, r.unused):
			f.Wrong = "its values are not those that were written: their digest differs"
		case check(t, r.fields) != nil:
			f.Wrong = check(t, r.fields).Error()
		case b == nil:
			f.Wrong = fmt.Sprintf("written by batch %d, which there is not", r.batch)
		case b.UndoneAt != "":
			f.Wrong = fmt.Sprintf("written by batch %d, which was taken back", r.batch)
		default:
			continue
		}
		c.fault(f)
	}
	if err := rows.Err(); err != nil {
		c.fault(Fault{Table: t.Name, Wrong: fmt.Sprintf("cannot be read to its end: %v", err)})
	}
	return ctx.Err()
}

// changes reads the change log, and counts the rows that batches wrote and that
// others which stand have changed since.
func (c *checker) changes(ctx context.Context, tx *sqlx.Tx) error {
	rows, err := tx.QueryxContext(ctx, "SELECT "+joined(changeColumns)+" FROM changes")
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var r changeRow
		err := rows.StructScan(&r)
		if err == nil {
			_, err = r.change()
		}
		if err != nil {
			c.fault(Fault{Batch: r.Batch, Wrong: fmt.Sprintf("the change log cannot be read: %v", err)})
			continue
		}
		if b := c.batch(r.Batch); r.Did == didChange && b != nil && b.UndoneAt == "" {
			c.found[r.BeforeBatch]++
		}
	}
	return rows.Err()
}

// counts holds the rows that there are of each batch against what it wrote.
func (c *checker) counts() {
	for _, b := range c.batches {
		if wrote, are := b.New+b.Changed, c.found[b.ID]; b.UndoneAt == "" && wrote != are {
			c.fault(Fault{Batch: b.ID, Wrong: fmt.Sprintf("batch %d wrote %d rows, and %d are there", b.ID, wrote, are)})
		}
	}
}
