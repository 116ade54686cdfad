package store

import (
	"context"
	"errors"
)

// Feed is the secret address of the calendar of visits.
type Feed struct {
	Hash   string `db:"token_hash"` // of the token that stands in it
	MadeAt string `db:"made_at"`
	MadeBy string `db:"made_by"`
}

// ErrNoFeed says that no calendar has such an address.
var ErrNoFeed = errors.New("there is no calendar at this address")

// Feed is the address there is, or fails with [ErrNoFeed].
func (s *Store) Feed(ctx context.Context) (f Feed, err error) {
	return f, s.one(ctx, &f, ErrNoFeed, "SELECT token_hash, made_at, made_by FROM feeds")
}

// IsFeed says whether a token's hash is that of the address there is; it fails with
// [ErrNoFeed] where it is not.
func (s *Store) IsFeed(ctx context.Context, hash string) error {
	var f Feed
	return s.one(ctx, &f, ErrNoFeed, "SELECT token_hash, made_at, made_by FROM feeds WHERE token_hash = ?", hash)
}

// SetFeed puts a new address in the place of the one before, which then leads nowhere.
func (s *Store) SetFeed(ctx context.Context, f Feed) error {
	return s.write(ctx, func(tx *Tx) error {
		if _, err := tx.sql.ExecContext(ctx, "DELETE FROM feeds"); err != nil {
			return err
		}
		tx.did = "calendar"
		_, err := tx.sql.ExecContext(ctx, s.sqlText("INSERT INTO feeds (token_hash, made_at, made_by) VALUES (?, ?, ?)"), f.Hash, f.MadeAt, f.MadeBy)
		return err
	})
}

// EndFeed takes the address away.
func (s *Store) EndFeed(ctx context.Context) error {
	return s.write(ctx, func(tx *Tx) error {
		tx.did = "no calendar"
		_, err := tx.sql.ExecContext(ctx, "DELETE FROM feeds")
		return err
	})
}
