package store

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// Undone is what taking a batch back did.
type Undone struct {
	Batch    Batch `json:"batch"`
	Removed  int   `json:"removed"`  // rows that the batch had added
	Restored int   `json:"restored"` // rows that have the values again that they had before it
}

// StandsOnError says that a batch cannot be taken back yet: later batches have
// changed rows that it wrote, or found them in their files just so.
type StandsOnError struct {
	Batch int64
	First []int64 // the batches to take back first, in that order
}

func (e *StandsOnError) Error() string {
	ids := make([]string, len(e.First))
	for i, id := range e.First {
		ids[i] = fmt.Sprint(id)
	}
	if len(ids) == 1 {
		return fmt.Sprintf("batch %d cannot be taken back while batch %s stands on it; take back batch %s first", e.Batch, ids[0], ids[0])
	}
	return fmt.Sprintf("batch %d cannot be taken back while later batches stand on it; take back batches %s first, in this order",
		e.Batch, strings.Join(ids, ", "))
}

// Undo takes a batch back whole. Rows that it added are removed, and their
// values kept in the change log; rows that it changed get back the values, the
// batch and the row they had. at is the time in UTC to the second.
//
// It fails with a [*StandsOnError] while later batches stand on this one.
func (s *Store) Undo(ctx context.Context, batchID int64, at string) (Undone, error) {
	var done Undone
	err := s.retry(ctx, func() error {
		tx, err := s.beginBatch(ctx, Batch{}) // for its place in the queue only
		if err != nil {
			return err
		}
		defer tx.Rollback() // nothing to keep, unless committed
		if err := tx.dropBatch(ctx); err != nil {
			return err
		}
		if done, err = tx.undo(ctx, batchID, at); err != nil {
			return err
		}
		return tx.commit(ctx)
	})
	if err != nil {
		return Undone{}, s.explain(ctx, err)
	}
	return done, nil
}

func (tx *Tx) undo(ctx context.Context, id int64, at string) (done Undone, err error) {
	if tx.batch, err = tx.undoable(ctx, id); err != nil {
		return done, err
	}
	if done.Restored, err = tx.restore(ctx); err != nil {
		return done, err
	}
	for _, t := range record.Stored {
		n, err := tx.remove(ctx, t)
		if err != nil {
			return done, err
		}
		done.Removed += n
	}
	if err := tx.purgedAgain(ctx); err != nil {
		return done, err
	}
	done.Batch = tx.batch
	done.Batch.UndoneAt, done.Batch.UndoneBy = at, whoOf(ctx)
	return done, tx.do(ctx, "UPDATE batches SET undone_at = ?, undone_by = ? WHERE batch_id = ?", at, nullable(done.Batch.UndoneBy), id)
}

// WouldUndo is what taking a batch back would do, without doing it. It fails as
// [Store.Undo] would.
func (s *Store) WouldUndo(ctx context.Context, id int64) (would Undone, err error) {
	err = s.reading(ctx, func(sql *sqlx.Tx) error {
		tx := &Tx{store: s, sql: sql}
		if would.Batch, err = tx.undoable(ctx, id); err != nil {
			return err
		}
		changed := s.sqlText("SELECT COUNT(*) FROM changes WHERE batch_id = ? AND did = ?")
		if err := sql.GetContext(ctx, &would.Restored, changed, id, didChange); err != nil {
			return err
		}
		for _, t := range record.Tables {
			written := 0
			if err := sql.GetContext(ctx, &written, s.sqlText("SELECT COUNT(*) FROM "+t.Name+" WHERE batch_id = ?"), id); err != nil {
				return err
			}
			would.Removed += written
		}
		would.Removed -= would.Restored // what it wrote and did not change, it added
		return nil
	})
	return would, err
}

// undoable is the batch, if it can be taken back.
func (tx *Tx) undoable(ctx context.Context, id int64) (Batch, error) {
	batches, err := readBatches(ctx, tx.sql)
	if err != nil {
		return Batch{}, err
	}
	i := slices.IndexFunc(batches, func(b Batch) bool { return b.ID == id })
	switch {
	case i < 0:
		return Batch{}, fmt.Errorf("there is no batch %d; %s", id, standing(batches))
	case batches[i].UndoneAt != "":
		return Batch{}, fmt.Errorf("batch %d was taken back already, at %s; %s", id, batches[i].UndoneAt, standing(batches))
	}
	first, err := tx.standingOn(ctx, id)
	if err == nil && len(first) > 0 {
		err = &StandsOnError{Batch: id, First: first}
	}
	return batches[i], err
}

// standing says which batches there are to take back, the latest ones if many.
func standing(batches []Batch) string {
	const most = 10
	var ids []string
	for _, b := range slices.Backward(batches) {
		if b.UndoneAt == "" {
			ids = append(ids, fmt.Sprint(b.ID))
		}
	}
	switch {
	case len(ids) == 0:
		return "no batch stands that could be"
	case len(ids) > most:
		return "those that can be are " + strings.Join(ids[:most], ", ") + " and earlier ones"
	}
	return "those that can be are " + strings.Join(ids, ", ")
}

// standingOn lists the batches that stand on one, directly or by others,
// latest first: the order in which they can be taken back.
func (tx *Tx) standingOn(ctx context.Context, id int64) ([]int64, error) {
	query := tx.store.sqlText(`WITH RECURSIVE above (id) AS (
		SELECT leans.batch_id FROM leans JOIN batches ON batches.batch_id = leans.batch_id
		WHERE on_batch = ? AND undone_at IS NULL
		UNION
		SELECT leans.batch_id FROM above JOIN leans ON on_batch = id JOIN batches ON batches.batch_id = leans.batch_id
		WHERE undone_at IS NULL
	) SELECT id FROM above ORDER BY id DESC`)
	var ids []int64
	return ids, tx.sql.SelectContext(ctx, &ids, query, id)
}
