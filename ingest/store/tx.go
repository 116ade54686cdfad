package store

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

type sqlTx = sqlx.Tx

// Tx is a transaction that writes: a file being taken in, or a batch being
// taken back. It is for one goroutine.
type Tx struct {
	store    *Store
	conn     *sqlx.Conn
	sql      *sqlTx
	prepared map[string]*sqlx.Stmt
	inserts  inserts // what was prepared beneath database/sql

	copying   *copying                   // a copy into the server under way
	batch     Batch                      // being written, or taken back
	tables    map[*record.Table]*passage // what this file has done to each table
	headings  map[*record.Table]headings // what it has above columns of no use, and others
	leans     map[int64]bool             // the batches whose rows this one changed or found unchanged
	confirmed int                        // values that the owner says are right
	logged    int64                      // entries of the change log written
	stays     bool                       // the batch is kept even where it brings nothing
	did       string                     // what a form's key is kept with, where it is no batch: "bid 3"
	bidSaid   int64                      // the last number of the log of bids, before this
	broken    error                      // what makes it impossible to commit
	ended     bool
	over      func() error // why the context that it began in has ended, and it with it
}

// begin waits for its turn and starts a transaction that writes.
func (s *Store) begin(ctx context.Context) (*Tx, error) {
	select {
	case s.writing <- struct{}{}:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	tx := &Tx{store: s, prepared: map[string]*sqlx.Stmt{}, tables: map[*record.Table]*passage{}, headings: map[*record.Table]headings{}, leans: map[int64]bool{}, over: ctx.Err}
	if err := tx.start(ctx); err != nil {
		tx.release()
		return nil, err
	}
	return tx, nil
}

func (tx *Tx) start(ctx context.Context) (err error) {
	if tx.conn, err = tx.store.db.Connx(ctx); err != nil {
		return err
	}
	if tx.sql, err = tx.conn.BeginTxx(ctx, nil); err != nil {
		return tx.store.unkept(ctx, err)
	}
	if e := tx.store.engine; tx.store.lock && e.lock != "" {
		_, err = tx.sql.ExecContext(ctx, e.lock)
	}
	return err
}

// Rollback gives up everything since Begin. After Commit it does nothing, so
// that it can be deferred.
func (tx *Tx) Rollback() error {
	err := tx.end((*sqlTx).Rollback)
	if errors.Is(err, sql.ErrTxDone) || errors.Is(err, ErrLost) { // rolled back already, by the end of its context or its connection
		return nil
	}
	return err
}

// end ends the transaction and lets the next writer have its turn.
func (tx *Tx) end(how func(*sqlTx) error) error {
	if tx.ended {
		return nil
	}
	tx.ended = true
	defer tx.release()
	tx.settle() // before a commit it was, and a rollback has no use for what was wrong
	err := how(tx.sql)
	if errors.Is(err, sql.ErrTxDone) {
		return fmt.Errorf("nothing was kept: the end of its context ended this transaction before: %w", err)
	}
	return tx.store.engine.explain(err)
}

// release gives back the connection and the turn.
func (tx *Tx) release() {
	if tx.sql != nil {
		tx.sql.Rollback() // does nothing after a commit
	}
	if tx.conn != nil {
		tx.inserts.finalize(tx.conn)
		tx.conn.Close()
	}
	<-tx.store.writing
}

// usable says why the transaction cannot go on, if it cannot.
func (tx *Tx) usable(ctx context.Context) error {
	switch {
	case tx.ended:
		return errors.New("this transaction has ended")
	case tx.broken != nil:
		return fmt.Errorf("this transaction can only be rolled back: %w", tx.broken)
	}
	return cmp.Or(ctx.Err(), tx.over())
}

// fail notes that the transaction can only be rolled back.
func (tx *Tx) fail(ctx context.Context, err error) error {
	if err != nil {
		err = tx.store.explain(ctx, err)
		tx.broken = err
	}
	return err
}

// prepare is the statement for a query with ? placeholders, made once.
func (tx *Tx) prepare(ctx context.Context, query string) (*sqlx.Stmt, error) {
	if err := tx.settle(); err != nil {
		return nil, err
	}
	if stmt := tx.prepared[query]; stmt != nil {
		return stmt, nil
	}
	stmt, err := tx.sql.PreparexContext(ctx, tx.store.sqlText(query))
	if err == nil {
		tx.prepared[query] = stmt
	}
	return stmt, err
}
