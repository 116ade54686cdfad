package store

import (
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"sync"

	"github.com/jmoiron/sqlx"
)

// SetAside is rows of one table of a batch's file that were set aside, as the
// file for them has them.
type SetAside struct {
	Tab     string // of a workbook; "" where there is none, or an earlier program kept it
	Table   string
	Total   int // how many were set aside
	Kept    int // how many of them, the first ones, Content holds
	Content []byte
}

// KeepSetAside keeps with the batch what of its file was set aside. Where the
// batch comes to nothing, so does this.
func (tx *Tx) KeepSetAside(ctx context.Context, parts []SetAside) error {
	if err := tx.usable(ctx); err != nil {
		return err
	}
	if err := tx.settle(); err != nil {
		return tx.fail(ctx, err)
	}
	insert := tx.store.sqlText("INSERT INTO set_aside (batch_id, part_no, table_name, rows_total, rows_kept, content, tab) VALUES (?, ?, ?, ?, ?, ?, ?)")
	for i, p := range parts {
		packed, err := packed(p.Content)
		if err != nil {
			return err
		}
		if _, err := tx.sql.ExecContext(ctx, insert, tx.batch.ID, i+1, p.Table, p.Total, p.Kept, packed, p.Tab); err != nil {
			return tx.fail(ctx, err)
		}
	}
	return nil
}

// SetAside is what of a batch's file was set aside; it fails where there is no
// such batch.
func (s *Store) SetAside(ctx context.Context, batchID int64) ([]SetAside, error) {
	var known int
	if err := s.read.GetContext(ctx, &known, s.sqlText("SELECT COUNT(*) FROM batches WHERE batch_id = ?"), batchID); err != nil {
		return nil, s.explain(ctx, err)
	}
	if known == 0 {
		return nil, fmt.Errorf("there is no batch %d; `pourback batches` lists them", batchID)
	}
	var rows []struct {
		Tab     string `db:"tab"`
		Table   string `db:"table_name"`
		Total   int    `db:"rows_total"`
		Kept    int    `db:"rows_kept"`
		Content []byte `db:"content"`
	}
	query := s.sqlText("SELECT COALESCE(tab, '') AS tab, table_name, rows_total, rows_kept, content FROM set_aside WHERE batch_id = ? ORDER BY part_no")
	if err := sqlx.SelectContext(ctx, s.read, &rows, query, batchID); err != nil {
		return nil, s.explain(ctx, err)
	}
	parts := make([]SetAside, len(rows))
	for i, r := range rows {
		content, err := unpacked(r.Content)
		if err != nil {
			return nil, fmt.Errorf("rows set aside of batch %d, as kept, cannot be read: %w", batchID, err)
		}
		parts[i] = SetAside{Tab: r.Tab, Table: r.Table, Total: r.Total, Kept: r.Kept, Content: content}
	}
	return parts, nil
}

// packers pack: one takes far more room than what is packed mostly does.
var packers = sync.Pool{New: func() any { return gzip.NewWriter(nil) }}

func packed(content []byte) ([]byte, error) {
	var b bytes.Buffer
	z := packers.Get().(*gzip.Writer)
	defer func() {
		z.Reset(nil) // or it keeps what it packed last
		packers.Put(z)
	}()
	z.Reset(&b)
	if _, err := z.Write(content); err != nil {
		return nil, err
	}
	err := z.Close()
	return b.Bytes(), err
}

func unpacked(content []byte) ([]byte, error) {
	z, err := gzip.NewReader(bytes.NewReader(content))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(z)
}
