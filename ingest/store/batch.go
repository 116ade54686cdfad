package store

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"github.com/jmoiron/sqlx"
)

// Batch is one file taken in.
type Batch struct {
	ID      int64    `json:"id"`
	File    string   `json:"file"`
	SHA256  string   `json:"sha256"`   // of the file, in hex
	Tables  []string `json:"tables"`   // those that the file had rows for
	TakenAt string   `json:"taken_at"` // UTC to the second, as the caller said

	Read      int `json:"read"` // rows, as those below
	New       int `json:"new"`
	Changed   int `json:"changed"`
	Unchanged int `json:"unchanged"`
	SetAside  int `json:"set_aside"`
	Warnings  int `json:"warnings"` // about them

	UndoneAt string `json:"undone_at,omitempty"` // "" while the batch stands

	Who      string `json:"who,omitempty"`       // took it in, where that was on the site
	UndoneBy string `json:"undone_by,omitempty"` // took it back, the same
	OfBatch  int64  `json:"of_batch,omitempty"`  // the batch whose rows set aside it brings in
}

// batchRow is a batch as the database holds it.
type batchRow struct {
	BatchID   int64          `db:"batch_id"`
	File      string         `db:"file"`
	SHA256    string         `db:"sha256"`
	Tables    string         `db:"tables"`
	TakenAt   string         `db:"taken_at"`
	Read      int            `db:"rows_read"`
	New       int            `db:"rows_new"`
	Changed   int            `db:"rows_changed"`
	Unchanged int            `db:"rows_unchanged"`
	SetAside  int            `db:"rows_set_aside"`
	Warnings  int            `db:"warnings"`
	UndoneAt  sql.NullString `db:"undone_at"`
	Who       sql.NullString `db:"who"`
	UndoneBy  sql.NullString `db:"undone_by"`
	OfBatch   sql.NullInt64  `db:"of_batch"`
}

const batchColumns = "batch_id, file, sha256, tables, taken_at, rows_read, rows_new, rows_changed, rows_unchanged, rows_set_aside, warnings"

func (b batchRow) batch() Batch {
	return Batch{ID: b.BatchID, File: b.File, SHA256: b.SHA256, Tables: strings.Fields(b.Tables), TakenAt: b.TakenAt,
		Read: b.Read, New: b.New, Changed: b.Changed, Unchanged: b.Unchanged, SetAside: b.SetAside, Warnings: b.Warnings,
		UndoneAt: b.UndoneAt.String, Who: b.Who.String, UndoneBy: b.UndoneBy.String, OfBatch: b.OfBatch.Int64}
}

// Batches lists all batches, those taken back included, oldest first.
func (s *Store) Batches(ctx context.Context) ([]Batch, error) {
	batches, err := readBatches(ctx, s.read)
	return batches, s.explain(ctx, err)
}

// BatchesSince lists those that were taken in at a time, in UTC to the second, or after
// it, oldest first.
func (s *Store) BatchesSince(ctx context.Context, at string) ([]Batch, error) {
	batches, err := batchesWhere(ctx, s.read, s.read.Rebind(" WHERE taken_at >= ?"), at)
	return batches, s.explain(ctx, err)
}

func readBatches(ctx context.Context, from sqlx.QueryerContext) ([]Batch, error) {
	return batchesWhere(ctx, from, "")
}

func batchesWhere(ctx context.Context, from sqlx.QueryerContext, where string, values ...any) ([]Batch, error) {
	var rows []batchRow
	if err := sqlx.SelectContext(ctx, from, &rows, "SELECT "+batchColumns+", undone_at, who, undone_by, of_batch FROM batches"+where+" ORDER BY batch_id", values...); err != nil {
		return nil, err
	}
	batches := make([]Batch, len(rows))
	for i, r := range rows {
		batches[i] = r.batch()
	}
	return batches, nil
}

// Begin starts taking in a file, in one transaction. Writers queue: it waits
// until it is this one's turn, or ctx ends. takenAt is the time in UTC to the
// second. The transaction must be ended by [Tx.Commit] or [Tx.Rollback]; the
// end of ctx rolls it back.
func (s *Store) Begin(ctx context.Context, file, sha256, takenAt string) (*Tx, error) {
	return s.beginBatch(ctx, Batch{File: file, SHA256: sha256, TakenAt: takenAt})
}

// beginBatch begins until it has a number that no other writer has taken. It
// may have to try often where there is no lock, but each time because another
// writer has got its work done.
func (s *Store) beginBatch(ctx context.Context, b Batch) (*Tx, error) {
	for {
		var tx *Tx
		err := s.retry(ctx, func() (err error) {
			if tx, err = s.begin(ctx); err != nil {
				return err
			}
			if err = tx.openBatch(ctx, b); err != nil {
				tx.Rollback()
			}
			return err
		})
		if err == nil {
			return tx, nil
		}
		if !s.engine.taken(err) {
			return nil, fmt.Errorf("beginning to write: %w", s.explain(ctx, err))
		}
	}
}

// openBatch gives the batch the next number. Were there no lock, a writer that
// came at the same time would now wait at the number that we both chose, until
// we are done: so writers queue all the same.
func (tx *Tx) openBatch(ctx context.Context, b Batch) error {
	if err := tx.sql.GetContext(ctx, &b.ID, "SELECT COALESCE(MAX(batch_id), 0) + 1 FROM batches"); err != nil {
		return err
	}
	tx.batch = b
	b.Who = whoOf(ctx)
	tx.batch.Who = b.Who
	insert := tx.store.sqlText("INSERT INTO batches (" + batchColumns + ", who) VALUES (?, ?, ?, '', ?, 0, 0, 0, 0, 0, 0, ?)")
	_, err := tx.sql.ExecContext(ctx, insert, b.ID, b.File, b.SHA256, b.TakenAt, nullable(b.Who))
	return err
}

// Of notes that the batch brings in what was set aside of another.
func (tx *Tx) Of(ctx context.Context, batch int64) error {
	if err := tx.usable(ctx); err != nil {
		return err
	}
	if err := tx.settle(); err != nil {
		return tx.fail(ctx, err)
	}
	tx.batch.OfBatch = batch
	return tx.fail(ctx, tx.do(ctx, "UPDATE batches SET of_batch = ? WHERE batch_id = ?", batch, tx.batch.ID))
}

// Stay has the batch kept even where it brings nothing new: then it is what came
// of a form, and with it the form's key is kept.
func (tx *Tx) Stay() { tx.stays = true }

// Commit keeps what was added. Read, SetAside and Warnings are taken from
// counts, and SHA256 where it was not known at the beginning; the rest the
// store knows itself. A file that brought nothing new and
// changed nothing leaves no batch, unless it is to [Tx.Stay]: the returned one
// has no ID.
func (tx *Tx) Commit(ctx context.Context, counts Batch) (Batch, error) {
	if err := tx.usable(ctx); err != nil {
		return Batch{}, err
	}
	b := tx.batch
	b.Read, b.SetAside, b.Warnings = counts.Read, counts.SetAside, counts.Warnings
	b.SHA256 = cmp.Or(b.SHA256, counts.SHA256)
	for _, t := range tx.touched() {
		b.Tables = append(b.Tables, t.Name)
	}
	if b.New+b.Changed+tx.confirmed == 0 && !tx.stays {
		b.ID = 0
		return b, tx.Rollback()
	}
	if err := tx.closeBatch(ctx, b); err != nil {
		return Batch{}, errors.Join(tx.store.explain(ctx, err), tx.Rollback())
	}
	if err := tx.commit(ctx); err != nil {
		return Batch{}, err
	}
	return b, nil
}

func (tx *Tx) closeBatch(ctx context.Context, b Batch) error {
	if err := tx.settle(); err != nil {
		return err
	}
	update := tx.store.sqlText(`UPDATE batches SET sha256 = ?, tables = ?, rows_read = ?, rows_new = ?, rows_changed = ?,
		rows_unchanged = ?, rows_set_aside = ?, warnings = ? WHERE batch_id = ?`)
	_, err := tx.sql.ExecContext(ctx, update, b.SHA256, strings.Join(b.Tables, " "), b.Read, b.New, b.Changed, b.Unchanged, b.SetAside, b.Warnings, b.ID)
	if err != nil {
		return err
	}
	return tx.writeLeans(ctx)
}

// dropBatch gives the batch's number back.
func (tx *Tx) dropBatch(ctx context.Context) error {
	_, err := tx.sql.ExecContext(ctx, tx.store.sqlText("DELETE FROM batches WHERE batch_id = ?"), tx.batch.ID)
	return err
}
