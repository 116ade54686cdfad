// Package storetest gives tests a new, empty database of each kind.
//
// SQLite databases are files in the test's temporary folder. PostgreSQL
// databases live in a throwaway server, one to a test binary, that is started
// when the first test asks for it and goes away with the binary. Where no
// PostgreSQL is installed those tests skip, or fail if POURBACK_REQUIRE_POSTGRES
// is set.
package storetest

import (
	"os"
	"path/filepath"
	"testing"
)

// Each runs a test on a new database of each kind.
func Each(t *testing.T, test func(t *testing.T, dsn string)) {
	t.Helper()
	t.Run("sqlite", func(t *testing.T) { test(t, SQLite(t)) })
	t.Run("postgres", func(t *testing.T) { test(t, Postgres(t)) })
}

// SQLite names a database file that does not exist yet.
func SQLite(t testing.TB) string { return filepath.Join(t.TempDir(), "pourback.db") }

// Postgres makes an empty database in the throwaway server and returns its DSN.
// The database is dropped when the test ends.
func Postgres(t testing.TB) string {
	t.Helper()
	return postgres(t, "")
}

// Like is [Postgres] with all that another of its databases holds, on which
// there must be no connections.
func Like(t testing.TB, dsn string) string {
	t.Helper()
	return postgres(t, databaseOf(dsn))
}

func postgres(t testing.TB, like string) string {
	t.Helper()
	s, err := server()
	required(t, err)
	return s.dsn(fresh(t, s, like))
}

// required skips a test where there is no server, or fails it.
func required(t testing.TB, err error) {
	t.Helper()
	if err == nil {
		return
	}
	if os.Getenv("POURBACK_REQUIRE_POSTGRES") != "" {
		t.Fatalf("a PostgreSQL server is required: %v", err)
	}
	t.Skipf("no PostgreSQL to test with: %v", err)
}

// fresh makes a database in a server, which is dropped when the test ends, and
// returns its name.
func fresh(t testing.TB, s *throwaway, like string) string {
	t.Helper()
	name, err := s.create(like)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.drop(name); err != nil {
			t.Error(err)
		}
	})
	return name
}
