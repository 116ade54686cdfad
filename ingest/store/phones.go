package store

import (
	"context"
	"slices"
)

// called is a user as the log names one, where it tells of crews: "phone Ana, crew Wren".
func (u User) called() string {
	kind, whose := "user ", "any crew"
	if u.Phone {
		kind = "phone "
	}
	if u.Crew != "" {
		whose = "crew " + u.Crew
	}
	return kind + u.Name + ", " + whose
}

// flag is a flag as the database holds it.
func flag(is bool) int64 {
	if is {
		return 1
	}
	return 0
}

// renewPhone lets a phone that is on record in again, in place of whatever was let in
// as it before.
func (tx *Tx) renewPhone(ctx context.Context, i Invitation) error {
	u, err := tx.userNumbered(ctx, i.UserID.Int64)
	if err != nil {
		return err
	}
	if !u.Phone {
		return ErrNoneSuch
	}
	tx.did = u.called() + ", again"
	return tx.do(ctx, "DELETE FROM sessions WHERE user_id = ?", u.ID)
}

// SetCrew says whose pours somebody of the role crew sees; "" is any crew's.
func (s *Store) SetCrew(ctx context.Context, id int64, crew string) error {
	return s.writePeople(ctx, func(tx *Tx) error {
		u, err := tx.userNumbered(ctx, id)
		if err != nil {
			return err
		}
		u.Crew = crew
		tx.did = u.called()
		return tx.do(ctx, "UPDATE users SET crew = ? WHERE user_id = ?", nullable(crew), id)
	})
}

// Touch notes that a session was heard of, and until when it is open from then on. One
// that was ended stays ended.
func (s *Store) Touch(ctx context.Context, hash, at, until string) error {
	return s.writePeople(ctx, func(tx *Tx) error {
		return tx.do(ctx, "UPDATE sessions SET seen_at = ?, expires_at = ? WHERE token_hash = ?", at, until, hash)
	})
}

// Crews are the crews that placements on record name, by name.
func (s *Store) Crews(ctx context.Context) ([]string, error) {
	crews := []string{}
	err := s.read.SelectContext(ctx, &crews, "SELECT DISTINCT crew FROM placements WHERE crew <> ''")
	slices.Sort(crews)
	return crews, s.explain(ctx, err)
}
