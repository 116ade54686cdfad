package store_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store"
)

// TestCopyBeforeMigration: a file of an earlier schema is copied, whole, before
// that changes, once, and the owner is told; a new file is not.
func TestCopyBeforeMigration(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.db")
	if err := store.FirstRelease(t.Context(), path, cost("J1", "pump", "h"), 0); err != nil {
		t.Fatal(err)
	}
	var told []string
	for range 2 {
		s, err := store.Open(t.Context(), path, store.Options{Existing: true, Notice: func(text string) { told = append(told, text) }})
		if err != nil {
			t.Fatal(err)
		}
		equal(t, "rows", dump(t, s, record.Costs), []string{"J1|pump|||||h|||"})
		s.Close()
	}
	copies, _ := filepath.Glob(filepath.Join(dir, "*before-schema*"))
	if len(copies) != 1 || len(told) != 1 || !strings.Contains(told[0], copies[0]) || !strings.Contains(told[0], "from 2 to ") {
		t.Fatalf("copies %v, told %q", copies, told)
	}
	if is, err := os.Stat(copies[0]); err != nil || is.Mode().Perm()&0o077 != 0 {
		t.Errorf("the copy's mode is %v (%v)", is.Mode(), err)
	}
	if _, err := store.Restore(t.Context(), copies[0], path, "aside", false); err != nil {
		t.Fatal(err)
	}
	equal(t, "restored rows", dump(t, open(t, path), record.Costs), []string{"J1|pump|||||h|||"})
}

// TestCopyIsChecked: a damaged database is not copied into a backup that looks
// whole.
func TestCopyIsChecked(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	s := open(t, path)
	take(t, s, record.Costs, nil, numbered(cost("J1", "pump", "h"), cost("J2", "pump", "h")))
	if err := s.Exec("DROP TABLE pourback_schema"); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "copy.db")
	if err := s.Backup(t.Context(), to, false); err == nil || !strings.Contains(err.Error(), to) {
		t.Errorf("backup of what is no database of ours: %v", err)
	}
	if left, _ := os.ReadDir(filepath.Dir(to)); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}
