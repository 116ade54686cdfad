package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/jmoiron/sqlx"
)

// Deed is what somebody asks for through a form, which is to be done once
// however often the form arrives: browsers send a form again by themselves when
// a connection drops. A context that bears a deed ([WithDeed]) has its key, and a
// line of the log, kept in the same transaction as the first thing that is kept
// within it.
type Deed struct {
	Key  string // of the form, made when it was shown; "" logs and keeps no key
	Who  string // the user's name
	What string // the form: "POST /upload"
	Body string // tells what was sent from what else might be
	At   string // UTC to the second

	noted bool
}

// Noted says whether something has been kept within the deed.
func (d *Deed) Noted() bool { return d.noted }

// DoneError says that a form with this key has arrived before.
type DoneError struct {
	Did  string // what came of it: "batch 12", "bid 3", or ""
	Same bool   // it asked for the same; else a key was used for something else
}

func (e *DoneError) Error() string {
	if e.Same {
		return "this has been done before, and was not done again"
	}
	return "a form with this key has asked for something else before; nothing was kept: load the page again"
}

type deedKey struct{}

// WithDeed is a context within which what is kept is kept once.
func WithDeed(ctx context.Context, d *Deed) context.Context {
	return context.WithValue(ctx, deedKey{}, d)
}

// deedOf is the deed of a context, or nil where there is none or it is noted already.
func deedOf(ctx context.Context) *Deed {
	if d, ok := ctx.Value(deedKey{}).(*Deed); ok && !d.noted {
		return d
	}
	return nil
}

// By is WithDeed, unless the context bears a deed already.
func By(ctx context.Context, d *Deed) context.Context {
	if _, ok := ctx.Value(deedKey{}).(*Deed); ok {
		return ctx
	}
	return WithDeed(ctx, d)
}

// whoOf is who asks for what is done within a context, "" where that is no form.
func whoOf(ctx context.Context) string {
	if d, ok := ctx.Value(deedKey{}).(*Deed); ok {
		return d.Who
	}
	return ""
}

// Done says what came of a form, where one with this key has arrived before:
// then it is a [*DoneError].
func (s *Store) Done(ctx context.Context, d *Deed) error {
	err := d.before(ctx, s.read)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	return s.explain(ctx, err)
}

// Done is [Store.Done] of the form that ctx bears, as this transaction sees it:
// once it has its turn, no other can do meanwhile what this form asks for.
func (tx *Tx) Done(ctx context.Context) error {
	d := deedOf(ctx)
	if d == nil || d.Key == "" {
		return nil
	}
	if err := tx.usable(ctx); err != nil {
		return err
	}
	if err := tx.settle(); err != nil {
		return tx.fail(ctx, err)
	}
	err := d.before(ctx, tx.sql)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	return tx.store.explain(ctx, err)
}

// before is the [*DoneError] of a deed's key, or sql.ErrNoRows.
func (d *Deed) before(ctx context.Context, from rebinder) error {
	var is struct{ Who, What, Body, Did string }
	if err := sqlx.GetContext(ctx, from, &is, from.Rebind("SELECT who, what, body, did FROM form_keys WHERE form_key = ?"), d.Key); err != nil {
		return err
	}
	return &DoneError{Did: is.Did, Same: is.Who == d.Who && is.What == d.What && is.Body == d.Body}
}

// BatchOf is the batch that somebody's form has come to, by its key; 0 where none has
// arrived under it, or it came to something else.
func (s *Store) BatchOf(ctx context.Context, who, key string) (int64, error) {
	var did string
	err := sqlx.GetContext(ctx, s.read, &did, s.sqlText("SELECT did FROM form_keys WHERE form_key = ? AND who = ?"), key, who)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil
	}
	batch, found := strings.CutPrefix(did, "batch ")
	if err != nil || !found {
		return 0, s.explain(ctx, err)
	}
	return strconv.ParseInt(batch, 10, 64)
}

// note keeps a deed with what it does.
func (tx *Tx) note(ctx context.Context, d *Deed) error {
	if d == nil {
		return nil
	}
	if err := tx.settle(); err != nil {
		return err
	}
	did := tx.did
	if did == "" && tx.batch.ID != 0 {
		did = fmt.Sprintf("batch %d", tx.batch.ID)
	}
	s := tx.store
	if d.Key != "" {
		kept, err := tx.sql.ExecContext(ctx, s.sqlText("INSERT INTO form_keys (form_key, who, what, body, did, done_at) VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (form_key) DO NOTHING"),
			d.Key, d.Who, d.What, d.Body, did, d.At)
		if err != nil {
			return err
		}
		if n, err := kept.RowsAffected(); err != nil || n == 0 {
			return errors.Join(err, d.before(ctx, tx.sql))
		}
	}
	_, err := tx.sql.ExecContext(ctx, s.sqlText("INSERT INTO site_log (entry_no, done_at, who, what, did) SELECT COALESCE(MAX(entry_no), 0) + 1, ?, ?, ?, ? FROM site_log"),
		d.At, d.Who, d.What, did)
	return err
}

// LogEntry is a line of the log of who did what on the site.
type LogEntry struct {
	No   int64  `db:"entry_no"`
	At   string `db:"done_at"`
	Who  string `db:"who"`
	What string `db:"what"`
	Did  string `db:"did"`
}

// Log are the latest lines of the log, the last first.
func (s *Store) Log(ctx context.Context, most int) ([]LogEntry, error) {
	entries := []LogEntry{}
	err := s.read.SelectContext(ctx, &entries, s.sqlText("SELECT entry_no, done_at, who, what, did FROM site_log ORDER BY entry_no DESC LIMIT ?"), most)
	return entries, s.explain(ctx, err)
}
