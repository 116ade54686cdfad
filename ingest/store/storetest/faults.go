package storetest

import (
	"errors"
	"fmt"
	"net/url"
	"path/filepath"
	"testing"
	"time"
)

// These bring about what happens to the connections of a PostgreSQL server, by
// the means by which it happens.

// EndConnections has the server end every connection to the database that dsn
// names, and says how many there were.
func EndConnections(t testing.TB, dsn string) (ended int) {
	t.Helper()
	s, there := running.Load(parsed(dsn).Query().Get("host"))
	err := errors.New("no server of ours")
	if there {
		err = s.(*throwaway).admin.QueryRow("SELECT COUNT(pg_terminate_backend(pid)) FROM pg_stat_activity WHERE datname = $1", databaseOf(dsn)).Scan(&ended)
	}
	if err != nil {
		t.Error(err)
	}
	return ended
}

// Crash has the server end at once, as if its machine had failed, and start
// again; it returns once the new one answers.
func Crash(t testing.TB) {
	t.Helper()
	s, err := server()
	if err != nil {
		t.Error(err)
		return
	}
	before, err := s.began()
	if err == nil {
		_, err = fmt.Fprintln(s.again, "again")
	}
	for end := time.Now().Add(30 * time.Second); err == nil; time.Sleep(5 * time.Millisecond) {
		if now, ask := s.began(); ask == nil && now != before {
			return
		} else if time.Now().After(end) {
			err = errors.New("the server does not come back")
		}
	}
	t.Error(err)
}

// began is when the server was started.
func (s *throwaway) began() (at string, err error) {
	err = s.admin.QueryRow("SELECT CAST(pg_postmaster_start_time() AS TEXT)").Scan(&at)
	return at, err
}

// Socket is where the server listens.
func Socket(t testing.TB) string {
	t.Helper()
	s, err := server()
	if err != nil {
		t.Fatal(err)
	}
	return filepath.Join(s.dir, ".s.PGSQL.5432")
}

// Through is the dsn of the same database by way of a proxy at a TCP address.
func Through(dsn, address string) string {
	return "postgres://postgres@" + address + "/" + databaseOf(dsn) + "?sslmode=disable"
}

func databaseOf(dsn string) string { return parsed(dsn).Path[1:] }

func parsed(dsn string) *url.URL {
	u, err := url.Parse(dsn)
	if err != nil {
		panic(err) // one of ours
	}
	return u
}
