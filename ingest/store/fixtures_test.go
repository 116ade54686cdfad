package store_test

import (
	"compress/gzip"
	"database/sql"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestDatabasesOfEarlierSchemas opens what earlier programs kept, in both
// engines, and reads the same records, bids and batches back. See testdata.
func TestDatabasesOfEarlierSchemas(t *testing.T) {
	folders, err := filepath.Glob(filepath.Join("testdata", "schema-*"))
	if err != nil || len(folders) == 0 {
		t.Fatalf("no databases of earlier schemas (%v)", err)
	}
	for _, folder := range folders {
		t.Run(filepath.Base(folder)+"-sqlite", func(t *testing.T) {
			dsn := storetest.SQLite(t)
			restoreKept(t, dsn, folder)
			checkKept(t, dsn, folder)
		})
		t.Run(filepath.Base(folder)+"-postgres", func(t *testing.T) {
			dsn := storetest.Postgres(t)
			restoreKept(t, dsn, folder)
			checkKept(t, dsn, folder)
		})
	}
}

// restoreKept puts the database of a folder where dsn says.
func restoreKept(t *testing.T, dsn, folder string) {
	t.Helper()
	if path, file := store.File(dsn); file {
		if err := os.WriteFile(path, unpacked(t, filepath.Join(folder, "pourback.db.gz")), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	db, err := sql.Open("postgres", dsn)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err = db.Exec(string(unpacked(t, filepath.Join(folder, "pourback.sql.gz")))); err != nil {
		t.Fatal(err)
	}
}

func unpacked(t *testing.T, file string) []byte {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	all, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// checkKept opens a database twice, for the second time as one that is up to
// date, and holds it against what was kept beside it.
func checkKept(t *testing.T, dsn, folder string) {
	open(t, dsn).Close()
	s := open(t, dsn)
	equal(t, "digests", s.CheckDigests(t.Context()), nil)
	dir := t.TempDir()
	if _, _, err := ingest.Export(t.Context(), s, dir, ingest.ExportOptions{}); err != nil {
		t.Fatal(err)
	}
	for _, table := range record.Tables {
		checkTable(t, filepath.Join(folder, "export", table.Name+".csv"), filepath.Join(dir, table.Name+".csv"))
	}
	now, err := os.ReadFile(filepath.Join(dir, "bids.json"))
	if err != nil {
		t.Fatal(err)
	}
	checkBids(t, unpacked(t, filepath.Join(folder, "export", "bids.json.gz")), now)
	kept, err := os.ReadFile(filepath.Join(folder, "batches.txt"))
	equal(t, "error", err, nil)
	equal(t, "batches", batchLines(t, s), string(kept))
	checkSetAside(t, s, filepath.Join(folder, "set-aside.csv"))
}

// checkSetAside demands the rows set aside of the last batch, in schemas that
// keep them.
func checkSetAside(t *testing.T, s *store.Store, file string) {
	t.Helper()
	kept, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return
	}
	equal(t, "error", err, nil)
	parts, err := s.SetAside(t.Context(), 11)
	if err != nil || len(parts) != 1 || parts[0].Total != 2 {
		t.Fatalf("rows set aside: %v, %+v", err, parts)
	}
	equal(t, "rows set aside", string(parts[0].Content), string(kept))
}

// checkTable demands that every kept value is there still; columns may have
// been added since.
func checkTable(t *testing.T, kept, now string) {
	t.Helper()
	before, after := sheetRows(t, kept), sheetRows(t, now)
	if len(before) != len(after) || len(before) < 2 {
		t.Errorf("%s holds %d rows, of %d", filepath.Base(now), len(after)-1, len(before)-1)
		return
	}
	for c, head := range before[0] {
		at := slices.Index(after[0], head)
		if at < 0 {
			t.Errorf("%s lost its column %s", filepath.Base(now), head)
			continue
		}
		for r := range before {
			if before[r][c] != after[r][at] {
				t.Errorf("%s, row %d, %s: %q has become %q", filepath.Base(now), r+1, head, before[r][c], after[r][at])
			}
		}
	}
}

func sheetRows(t *testing.T, file string) [][]string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// checkBids demands that every key of every kept bid reads the same.
func checkBids(t *testing.T, kept, now []byte) {
	t.Helper()
	var before, after []map[string]any
	if err := json.Unmarshal(kept, &before); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(now, &after); err != nil {
		t.Fatal(err)
	}
	if len(before) != len(after) || len(before) == 0 {
		t.Fatalf("%d bids, of %d", len(after), len(before))
	}
	for i := range before {
		for key, v := range before[i] {
			if !reflect.DeepEqual(v, after[i][key]) {
				t.Errorf("bid %v: its %s reads otherwise", before[i]["bid"], key)
			}
		}
	}
}

// batchLines are the batches with what the change log holds of each.
func batchLines(t *testing.T, s *store.Store) string {
	t.Helper()
	batches, err := s.Batches(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, x := range batches {
		changes, err := s.Changes(t.Context(), x.ID)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintln(&b, x.ID, x.File, x.Read, x.New, x.Changed, x.Unchanged, len(changes), x.UndoneAt != "")
	}
	return b.String()
}
