package storetest_test

import (
	"database/sql"
	"testing"

	"pourback/ingest/store/storetest"
)

// TestPostgresIsFresh demands that each test gets a database of its own.
func TestPostgresIsFresh(t *testing.T) {
	for range 2 {
		db, err := sql.Open("postgres", storetest.Postgres(t))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := db.Exec("CREATE TABLE once (n integer)"); err != nil {
			t.Error(err)
		}
		db.Close()
	}
}
