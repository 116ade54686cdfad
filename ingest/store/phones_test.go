package store_test

import (
	"database/sql"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

const (
	before = "2025-06-03T07:00:00Z"
	later  = "2099-01-01T00:00:00Z"
)

// TestPhonesAreLetInWithoutAPassword, and others by one alone: an invitation that is
// accepted the other way stays. A browser's session before it ends.
func TestPhonesAreLetInWithoutAPassword(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		session := func(hash string) store.Session {
			return store.Session{Hash: hash, MadeAt: now, ExpiresAt: later, SeenAt: now}
		}
		for _, i := range []store.Invitation{{Hash: "phone", Name: "Luis", Role: "crew", Crew: "Heron", Phone: true, MadeAt: before, ExpiresAt: later}, {Hash: "person", Name: "Ana", Role: "owner", MadeAt: before, ExpiresAt: later}} {
			equal(t, "invited", s.Invite(t.Context(), i), nil)
			got, err := s.InvitationOf(t.Context(), i.Hash, now)
			equal(t, "error", err, nil)
			equal(t, "the invitation", got, i)
		}
		equal(t, "a phone by a password", s.Accept(t.Context(), "phone", "hash", session("x"), ""), store.ErrNoneSuch)
		equal(t, "a person by none", s.Accept(t.Context(), "person", "", session("x"), ""), store.ErrNoneSuch)
		has, err := s.HasUsers(t.Context())
		equal(t, "users", fmt.Sprint(has, err), "false <nil>")
		equal(t, "a phone", s.Accept(t.Context(), "phone", "", session("of the phone"), ""), nil)
		has, err = s.HasUsers(t.Context())
		equal(t, "a phone is a user", fmt.Sprint(has, err), "false <nil>")
		g, err := s.SessionOf(t.Context(), "of the phone", now)
		equal(t, "error", err, nil)
		equal(t, "the phone", g, store.Guest{User: store.User{ID: 1, Name: "Luis", Role: "crew", MadeAt: now, Crew: "Heron", Phone: true}, Until: later, SeenAt: now})

		equal(t, "a person in the same browser", s.Accept(t.Context(), "person", "hash", session("of the person"), "of the phone"), nil)
		if _, err = s.SessionOf(t.Context(), "of the phone", now); err != store.ErrNoUser {
			t.Error("the browser's session before is open: ", err)
		}
		has, err = s.HasUsers(t.Context())
		equal(t, "users", fmt.Sprint(has, err), "true <nil>")
		equal(t, "a role for a phone", s.SetRole(t.Context(), 1, "owner"), store.ErrNoUser)
		equal(t, "a password for a phone", s.Invite(t.Context(), store.Invitation{Hash: "odd", UserID: sql.NullInt64{Int64: 1, Valid: true}, Name: "Luis", Role: "crew", MadeAt: before, ExpiresAt: later}), nil)
		equal(t, "a password for a phone", s.Accept(t.Context(), "odd", "hash", session("x"), ""), store.ErrNoUser)
		equal(t, "a code for a person", s.Invite(t.Context(), store.Invitation{Hash: "odder", UserID: sql.NullInt64{Int64: 2, Valid: true}, Name: "Ana", Role: "crew", Phone: true, MadeAt: before, ExpiresAt: later}), nil)
		equal(t, "a code for a person", s.Accept(t.Context(), "odder", "", session("x"), ""), store.ErrNoneSuch)
		if _, err = s.SessionOf(t.Context(), "of the person", now); err != nil {
			t.Error("the person is signed out by it: ", err)
		}
		equal(t, "touching an ended session", s.Touch(t.Context(), "of the phone", now, later), nil)
		if _, err = s.SessionOf(t.Context(), "of the phone", now); err != store.ErrNoUser {
			t.Error("it is open again: ", err)
		}
	})
}

// TestUsersOfAnEarlierSchema are who they were: none is a phone or has a crew, and they
// are let in as before.
func TestUsersOfAnEarlierSchema(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		restoreKept(t, dsn, filepath.Join("testdata", "schema-15"))
		s := open(t, dsn)
		users, err := s.Users(t.Context())
		var lines []string
		for _, u := range users {
			lines = append(lines, fmt.Sprintf("%d %s %s %q %v %v", u.ID, u.Name, u.Role, u.Crew, u.Phone, strings.HasPrefix(u.Password, "$argon2id$")))
		}
		equal(t, "users", fmt.Sprint(strings.Join(lines, ", "), err), `1 Ana owner "" false true, 2 Bo crew "" false true<nil>`)
		has, err := s.HasUsers(t.Context())
		equal(t, "has users", fmt.Sprint(has, err), "true <nil>")
		open, err := s.Sessions(t.Context(), before)
		equal(t, "sessions", fmt.Sprint(len(open), err), "2 <nil>")
		for _, is := range open {
			g, err := s.SessionOf(t.Context(), is.Hash, before)
			equal(t, "a guest", fmt.Sprint(g.ID, g.SeenAt, err), fmt.Sprint(is.UserID, "", nil))
		}
		waiting, err := s.Invitations(t.Context(), before)
		if err != nil || len(waiting) != 1 || waiting[0].Name != "Cy" || waiting[0].Phone {
			t.Errorf("%+v, %v", waiting, err)
		}
	})
}

// TestCrewsOnRecord are those that placements name, each once, by name.
func TestCrewsOnRecord(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		crews, err := s.Crews(t.Context())
		equal(t, "none", fmt.Sprint(crews, err), "[] <nil>")
		var rows []record.Record
		for i, crew := range []string{"Wren", "", "Heron", "Wren"} {
			rows = append(rows, &record.Placement{JobNo: "J1", Placement: string(rune('A' + i)), PlacedOn: record.DateOf(2025, 6, 3), Use: "patio", Crew: crew})
		}
		take(t, s, record.Placements, nil, numbered(rows...))
		crews, err = s.Crews(t.Context())
		equal(t, "crews", fmt.Sprint(crews, err), "[Heron Wren] <nil>")
	})
}

// TestOneCodeLetsOneIn, however many come with it at once, on servers that lock and on
// those that do not.
func TestOneCodeLetsOneIn(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		for _, lock := range []string{"advisory", "none"} {
			if lock == "none" && strings.HasPrefix(dsn, "postgres") {
				dsn += "&application_name=" + storetest.Lockless
			}
			s, err := store.Open(t.Context(), dsn, store.Options{Lock: lock})
			if err != nil {
				t.Fatal(err)
			}
			other, err := store.Open(t.Context(), dsn, store.Options{Lock: lock})
			if err != nil {
				t.Fatal(err)
			}
			for round := range 5 {
				code := fmt.Sprint(lock, round)
				equal(t, "invited", s.Invite(t.Context(), store.Invitation{Hash: code, Name: "Luis " + code, Role: "crew", Phone: true, MadeAt: before, ExpiresAt: later}), nil)
				var mu sync.Mutex
				var wait sync.WaitGroup
				came := map[error]int{}
				for i := range 6 {
					wait.Go(func() {
						err := []*store.Store{s, other}[i%2].Accept(t.Context(), code, "", store.Session{Hash: fmt.Sprint(code, " ", i), MadeAt: now, ExpiresAt: later}, "")
						mu.Lock()
						defer mu.Unlock()
						came[err]++
					})
				}
				wait.Wait()
				if len(came) != 2 || came[nil] != 1 || came[store.ErrNoneSuch] != 5 {
					t.Errorf("%s: %v", code, came)
				}
			}
			s.Close()
			other.Close()
		}
	})
}
