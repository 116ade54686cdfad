package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"github.com/jmoiron/sqlx"
)

// User is somebody who may use the site.
type User struct {
	ID       int64  `db:"user_id"`
	Name     string `db:"name"`
	Role     string `db:"role"`
	Password string `db:"password"` // as it is kept: a hash that the site reads; "" of a phone
	MadeAt   string `db:"made_at"`
	Crew     string `db:"crew"`  // whose pours alone somebody of the role crew sees; "" for any
	Phone    bool   `db:"phone"` // a crew's phone: it has no password, and is let in by a code
}

// Session is a browser that is let in.
type Session struct {
	Hash      string `db:"token_hash"` // of the token that the browser holds
	UserID    int64  `db:"user_id"`
	Browser   string `db:"browser"`
	MadeAt    string `db:"made_at"`
	ExpiresAt string `db:"expires_at"`
	SeenAt    string `db:"seen_at"` // when it was last heard of, to some minutes; "" where nobody notes that
}

// Invitation is a link that lets somebody in once.
type Invitation struct {
	Hash      string        `db:"token_hash"`
	UserID    sql.NullInt64 `db:"user_id"` // who it lets in anew, if it does
	Name      string        `db:"name"`
	Role      string        `db:"role"`
	MadeAt    string        `db:"made_at"`
	ExpiresAt string        `db:"expires_at"`
	Crew      string        `db:"crew"`
	Phone     bool          `db:"phone"` // it lets in a phone, without a password
}

// What cannot be done to users.
var (
	ErrNoUser    = errors.New("there is no such user")
	ErrLastOwner = errors.New("this is the last owner: make somebody else an owner first")
	ErrNameTaken = errors.New("somebody has this name already: choose another")
	ErrNoneSuch  = errors.New("this link was used already, or it is too old: ask for a new one")
)

// OwnerRole may do everything. A site has an owner as long as it has users.
const OwnerRole = "owner"

const (
	userColumns    = "user_id, name, role, password, made_at, COALESCE(crew, '') AS crew, phone"
	sessionColumns = "token_hash, user_id, browser, made_at, expires_at, COALESCE(seen_at, '') AS seen_at"
	inviteColumns  = "token_hash, user_id, name, role, made_at, expires_at, COALESCE(crew, '') AS crew, phone"
)

// nameKey is a name as names are compared.
func nameKey(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

// Users are all users by name.
func (s *Store) Users(ctx context.Context) ([]User, error) {
	users := []User{}
	err := s.read.SelectContext(ctx, &users, "SELECT "+userColumns+" FROM users ORDER BY name_key, user_id")
	return users, s.explain(ctx, err)
}

// HasUsers says whether there is anybody with a password: a crew's phone is let in
// by a code, and could let nobody else in.
func (s *Store) HasUsers(ctx context.Context) (bool, error) {
	var n int
	err := s.read.GetContext(ctx, &n, "SELECT COUNT(*) FROM users WHERE phone = 0")
	return n > 0, s.explain(ctx, err)
}

// UserNamed finds a user by name, whatever its case, or fails with [ErrNoUser].
func (s *Store) UserNamed(ctx context.Context, name string) (u User, err error) {
	return u, s.one(ctx, &u, ErrNoUser, "SELECT "+userColumns+" FROM users WHERE name_key = ?", nameKey(name))
}

// one reads the one row of a query, or fails with none.
func (s *Store) one(ctx context.Context, into any, none error, query string, args ...any) error {
	err := s.read.GetContext(ctx, into, s.sqlText(query), args...)
	if errors.Is(err, sql.ErrNoRows) {
		return none
	}
	return s.explain(ctx, err)
}

// Guest is the user of an open session, until when it is open, and when it was last
// heard of.
type Guest struct {
	User
	Until  string `db:"expires_at"`
	SeenAt string `db:"seen_at"`
}

// writePeople is write of users and sessions.
func (s *Store) writePeople(ctx context.Context, work func(tx *Tx) error) error {
	defer s.people.Add(1)
	return s.write(ctx, work)
}

// People is another number as soon as this program has written of users or sessions.
func (s *Store) People() int64 { return s.people.Load() }

// SessionOf is the user of an open session by the hash of its token, or
// [ErrNoUser] where it was ended or is too old at a moment.
func (s *Store) SessionOf(ctx context.Context, hash, at string) (g Guest, err error) {
	return g, s.one(ctx, &g, ErrNoUser, "SELECT u.user_id, u.name, u.role, u.password, u.made_at, COALESCE(u.crew, '') AS crew, u.phone, s.expires_at, COALESCE(s.seen_at, '') AS seen_at FROM sessions s JOIN users u ON u.user_id = s.user_id WHERE s.token_hash = ? AND s.expires_at > ?", hash, at)
}

// Sessions are the open sessions at a moment, the latest first.
func (s *Store) Sessions(ctx context.Context, at string) ([]Session, error) {
	open := []Session{}
	err := s.read.SelectContext(ctx, &open, s.sqlText("SELECT "+sessionColumns+" FROM sessions WHERE expires_at > ? ORDER BY made_at DESC, token_hash"), at)
	return open, s.explain(ctx, err)
}

// BeginSession keeps a session, in place of another of the same browser, if there is
// one, and forgets those that are too old.
func (s *Store) BeginSession(ctx context.Context, open Session, inPlaceOf string) error {
	return s.writePeople(ctx, func(tx *Tx) error {
		if err := tx.do(ctx, "DELETE FROM sessions WHERE token_hash = ? OR expires_at <= ?", inPlaceOf, open.MadeAt); err != nil {
			return err
		}
		return tx.beginSession(ctx, open)
	})
}

func (tx *Tx) beginSession(ctx context.Context, open Session) error {
	return tx.do(ctx, "INSERT INTO sessions (token_hash, user_id, browser, made_at, expires_at, seen_at) VALUES (?, ?, ?, ?, ?, ?)",
		open.Hash, open.UserID, open.Browser, open.MadeAt, open.ExpiresAt, nullable(open.SeenAt))
}

// do runs a statement with ? placeholders.
func (tx *Tx) do(ctx context.Context, query string, args ...any) error {
	_, err := tx.sql.ExecContext(ctx, tx.store.sqlText(query), args...)
	return err
}

// EndSession ends the session of a token's hash, if it is open.
func (s *Store) EndSession(ctx context.Context, hash string) error {
	return s.writePeople(ctx, func(tx *Tx) error { return tx.do(ctx, "DELETE FROM sessions WHERE token_hash = ?", hash) })
}

// EndSessions ends all sessions of a user.
func (s *Store) EndSessions(ctx context.Context, id int64) error {
	return s.writePeople(ctx, func(tx *Tx) error {
		tx.did = fmt.Sprintf("user %d signed out", id)
		return tx.do(ctx, "DELETE FROM sessions WHERE user_id = ?", id)
	})
}

// Invite keeps an invitation, and forgets those that are too old, as one of a phone
// those of the same name before it.
func (s *Store) Invite(ctx context.Context, i Invitation) error {
	return s.write(ctx, func(tx *Tx) error {
		if !i.UserID.Valid {
			if err := tx.free(ctx, i.Name); err != nil {
				return err
			}
		}
		before := "" // nobody's name
		tx.did = "invitation of " + i.Name
		if i.Phone {
			before, tx.did = i.Name, "code for "+User{Name: i.Name, Crew: i.Crew, Phone: true}.called()
		}
		if err := tx.do(ctx, "DELETE FROM invitations WHERE expires_at <= ? OR phone = 1 AND name = ?", i.MadeAt, before); err != nil {
			return err
		}
		return tx.do(ctx, "INSERT INTO invitations (token_hash, user_id, name, role, made_at, expires_at, crew, phone) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
			i.Hash, i.UserID, i.Name, i.Role, i.MadeAt, i.ExpiresAt, nullable(i.Crew), flag(i.Phone))
	})
}

// free fails with [ErrNameTaken] where a user has a name.
func (tx *Tx) free(ctx context.Context, name string) error {
	var n int
	if err := tx.sql.GetContext(ctx, &n, tx.store.sqlText("SELECT COUNT(*) FROM users WHERE name_key = ?"), nameKey(name)); err != nil {
		return err
	}
	if n > 0 {
		return ErrNameTaken
	}
	return nil
}

// InvitationOf finds an invitation by the hash of its token, or fails with [ErrNoneSuch].
func (s *Store) InvitationOf(ctx context.Context, hash, at string) (i Invitation, err error) {
	return i, s.one(ctx, &i, ErrNoneSuch, "SELECT "+inviteColumns+" FROM invitations WHERE token_hash = ? AND expires_at > ?", hash, at)
}

// Invitations are those that were not used yet, by name.
func (s *Store) Invitations(ctx context.Context, at string) ([]Invitation, error) {
	all := []Invitation{}
	err := s.read.SelectContext(ctx, &all, s.sqlText("SELECT "+inviteColumns+" FROM invitations WHERE expires_at > ? ORDER BY name, token_hash"), at)
	return all, s.explain(ctx, err)
}

// Withdraw takes an invitation back, if it is there.
func (s *Store) Withdraw(ctx context.Context, hash string) error {
	return s.write(ctx, func(tx *Tx) error {
		var whose string
		err := tx.sql.GetContext(ctx, &whose, s.sqlText("SELECT name FROM invitations WHERE token_hash = ?"), hash)
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		if err != nil {
			return err
		}
		tx.did = "invitation of " + whose + " taken back"
		return tx.do(ctx, "DELETE FROM invitations WHERE token_hash = ?", hash)
	})
}

// Accept uses an invitation up: it makes the user, or sets the password anew and
// ends the sessions there were, and lets the browser in, in place of another session
// of its own, if it has one. Of however many that come at once it lets in one.
//
// A phone's invitation is accepted without a password, and another with one.
func (s *Store) Accept(ctx context.Context, hash, password string, open Session, inPlaceOf string) error {
	return s.writePeople(ctx, func(tx *Tx) error {
		var i Invitation
		err := tx.sql.GetContext(ctx, &i, s.sqlText("SELECT "+inviteColumns+" FROM invitations WHERE token_hash = ? AND expires_at > ?"), hash, open.MadeAt)
		if errors.Is(err, sql.ErrNoRows) || err == nil && i.Phone != (password == "") {
			return ErrNoneSuch
		}
		if err == nil {
			err = tx.change(ctx, ErrNoneSuch, "DELETE FROM invitations WHERE token_hash = ?", hash)
		}
		if err != nil {
			return err
		}
		open.UserID = i.UserID.Int64
		switch {
		case !i.UserID.Valid:
			open.UserID, err = tx.addUser(ctx, User{Name: i.Name, Role: i.Role, Password: password, MadeAt: open.MadeAt, Crew: i.Crew, Phone: i.Phone})
		case i.Phone:
			err = tx.renewPhone(ctx, i)
		default:
			err = tx.setPassword(ctx, open.UserID, password)
		}
		if err == nil {
			err = tx.do(ctx, "DELETE FROM sessions WHERE token_hash = ?", inPlaceOf)
		}
		if err != nil {
			return err
		}
		return tx.beginSession(ctx, open)
	})
}

// setPassword sets a user's password and ends the sessions that the old one opened.
func (tx *Tx) setPassword(ctx context.Context, id int64, password string) error {
	tx.did = fmt.Sprintf("password of user %d", id)
	if err := tx.change(ctx, ErrNoUser, "UPDATE users SET password = ? WHERE user_id = ? AND phone = 0", password, id); err != nil {
		return err
	}
	return tx.do(ctx, "DELETE FROM sessions WHERE user_id = ?", id)
}

// change is do, which fails with none where it changes nothing.
func (tx *Tx) change(ctx context.Context, none error, query string, args ...any) error {
	done, err := tx.sql.ExecContext(ctx, tx.store.sqlText(query), args...)
	if err != nil {
		return err
	}
	n, err := done.RowsAffected()
	if err == nil && n == 0 {
		err = none
	}
	return err
}

// AddUser adds a user, whose number it returns.
func (s *Store) AddUser(ctx context.Context, u User) (id int64, err error) {
	err = s.writePeople(ctx, func(tx *Tx) (err error) {
		id, err = tx.addUser(ctx, u)
		return err
	})
	return id, err
}

func (tx *Tx) addUser(ctx context.Context, u User) (id int64, err error) {
	if err := tx.free(ctx, u.Name); err != nil {
		return 0, err
	}
	if err := sqlx.GetContext(ctx, tx.sql, &id, "SELECT COALESCE(MAX(user_id), 0) + 1 FROM users"); err != nil {
		return 0, err
	}
	tx.did = "user " + u.Name
	if u.Phone {
		tx.did = u.called()
	}
	return id, tx.do(ctx, "INSERT INTO users (user_id, name, name_key, role, password, made_at, crew, phone) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
		id, u.Name, nameKey(u.Name), u.Role, u.Password, u.MadeAt, nullable(u.Crew), flag(u.Phone))
}

// SetRole gives a user another role, unless it leaves no owner. A phone stays one.
func (s *Store) SetRole(ctx context.Context, id int64, role string) error {
	return s.writePeople(ctx, func(tx *Tx) error {
		if role != OwnerRole {
			if err := tx.notLast(ctx, id); err != nil {
				return err
			}
		}
		tx.did = fmt.Sprintf("user %d %s", id, role)
		return tx.change(ctx, ErrNoUser, "UPDATE users SET role = ? WHERE user_id = ? AND phone = 0", role, id)
	})
}

// RemoveUser removes a user and ends the sessions, unless it leaves no owner.
func (s *Store) RemoveUser(ctx context.Context, id int64) error {
	return s.writePeople(ctx, func(tx *Tx) error {
		if err := tx.notLast(ctx, id); err != nil {
			return err
		}
		u, err := tx.userNumbered(ctx, id)
		if err != nil {
			return err
		}
		if tx.did = fmt.Sprintf("user %d %s removed", id, u.Name); u.Phone {
			tx.did = u.called() + ", removed"
		}
		for _, from := range []string{"sessions", "invitations", "users"} {
			if err := tx.do(ctx, "DELETE FROM "+from+" WHERE user_id = ?", id); err != nil {
				return err
			}
		}
		return nil
	})
}

// userNumbered finds a user by number, or fails with [ErrNoUser].
func (tx *Tx) userNumbered(ctx context.Context, id int64) (u User, err error) {
	err = tx.sql.GetContext(ctx, &u, tx.store.sqlText("SELECT "+userColumns+" FROM users WHERE user_id = ?"), id)
	if errors.Is(err, sql.ErrNoRows) {
		err = ErrNoUser
	}
	return u, err
}

// notLast fails with [ErrLastOwner] where a user is the only owner.
func (tx *Tx) notLast(ctx context.Context, id int64) error {
	var owners []int64
	if err := tx.sql.SelectContext(ctx, &owners, tx.store.sqlText("SELECT user_id FROM users WHERE role = ?"), OwnerRole); err != nil {
		return err
	}
	if len(owners) == 1 && owners[0] == id {
		return ErrLastOwner
	}
	return nil
}
