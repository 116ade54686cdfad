package ingest_test

import (
	"database/sql"
	"errors"
	"fmt"
	"testing"

	"pourback/ingest"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// outrunFirst has the server give up the first so many transactions at a moment,
// as one does that puts them in a row: SQLSTATE 40001 (PostgreSQL documentation,
// 13.5 Serialization Failure Handling).
func outrunFirst(t *testing.T, dsn string, n int, when string) {
	t.Helper()
	db, err := sql.Open("postgres", dsn)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	_, err = db.Exec(fmt.Sprintf(`CREATE SEQUENCE struck;
		CREATE FUNCTION strike() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
			IF nextval('struck') <= %d THEN RAISE 'injected' USING ERRCODE = '40001'; END IF;
			RETURN NULL;
		END $$;
		%s EXECUTE FUNCTION strike()`, n, when))
	if err != nil {
		t.Fatal(err)
	}
}

// TestOutrunByAnotherWriter: what the server gives up is done again, whole.
func TestOutrunByAnotherWriter(t *testing.T) {
	h := handIn(t)
	for name, when := range map[string]string{
		"while it begins": "CREATE TRIGGER struck AFTER INSERT ON batches FOR EACH STATEMENT",
		"while it adds":   "CREATE TRIGGER struck AFTER INSERT ON visits FOR EACH STATEMENT",
		"while it ends":   "CREATE CONSTRAINT TRIGGER struck AFTER UPDATE ON batches DEFERRABLE INITIALLY DEFERRED FOR EACH ROW",
	} {
		t.Run(name, func(t *testing.T) {
			dsn := storetest.Like(t, h.dsn)
			outrunFirst(t, dsn, 2, when)
			mustTake(t, dsn, h.second)
			asHeld(t, dsn, h.after)
		})
	}
	t.Run("for good", func(t *testing.T) {
		dsn := storetest.Like(t, h.dsn)
		outrunFirst(t, dsn, 1000, "CREATE CONSTRAINT TRIGGER struck AFTER UPDATE ON batches DEFERRABLE INITIALLY DEFERRED FOR EACH ROW")
		if err := takeFiles(dsn, h.second, store.Options{}); !errors.Is(err, store.ErrOutrun) {
			t.Errorf("%v, want that another writer came between", err)
		}
		asHeld(t, dsn, h.between)
	})
	t.Run("a value corrected", func(t *testing.T) {
		dsn := storetest.Like(t, h.dsn)
		outrunFirst(t, dsn, 2, "CREATE CONSTRAINT TRIGGER struck AFTER UPDATE ON batches DEFERRABLE INITIALLY DEFERRED FOR EACH ROW")
		st := open(t, dsn)
		defer st.Close()
		jobs, err := st.JobNos(t.Context())
		if err != nil || len(jobs) == 0 {
			t.Fatal(err)
		}
		fixed, err := ingest.Fix(t.Context(), st, ingest.Fixing{Target: jobs[0], Values: [][2]string{{"site", "9 Dry Wash Rd"}}, TakenAt: today + "T12:00:00Z"})
		if err != nil || fixed.Batch == 0 {
			t.Errorf("%+v, %v", fixed, err)
		}
	})
	t.Run("taken back", func(t *testing.T) {
		dsn := storetest.Like(t, h.dsn)
		outrunFirst(t, dsn, 2, "CREATE CONSTRAINT TRIGGER struck AFTER UPDATE ON batches DEFERRABLE INITIALLY DEFERRED FOR EACH ROW")
		st := open(t, dsn)
		defer st.Close()
		batches, err := st.Batches(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for i := range batches {
			if _, err := st.Undo(t.Context(), batches[len(batches)-1-i].ID, today+"T12:00:00Z"); err != nil {
				t.Fatal(err)
			}
		}
	})
}

func asHeld(t *testing.T, dsn, want string) {
	t.Helper()
	if holding(t, dsn) != want {
		t.Error("the store holds something else")
	}
}
