package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/outfile"
)

// backupSQLite copies the database into a file.
func backupSQLite(ctx context.Context, db *sqlx.DB, path string) error {
	if err := checkName(path); err != nil {
		return err
	}
	copied, err := copySQLite(ctx, db, path)
	if err != nil {
		return err
	}
	return copied.Put(path)
}

// copySQLite makes a whole and checked copy of a database that is to stand at
// path, and leaves it to the caller to give it that name.
func copySQLite(ctx context.Context, db *sqlx.DB, path string) (*outfile.File, error) {
	f, err := outfile.BeginPrivate(path)
	if err != nil {
		return nil, err
	}
	_, err = db.ExecContext(ctx, "VACUUM INTO ?", fileURI(f.Name()))
	if err == nil {
		err = checkCopy(ctx, f.Name())
	}
	if err != nil {
		f.Drop()
		return nil, fmt.Errorf("%s: %w", path, explainSQLite(err))
	}
	return f, nil
}

// checkCopy has the engine look over a copy that nobody else writes to.
func checkCopy(ctx context.Context, path string) error {
	s, err := peek(path, "immutable=1")
	if err != nil {
		return err
	}
	defer s.Close()
	return s.checkOurs(ctx)
}

// peek opens a file for reading, as it is.
func peek(path, how string) (*Store, error) {
	db, err := sqlx.Open(embedded.driver, fileURI(path)+"?mode=ro&_pragma=busy_timeout(5000)&"+how)
	if err != nil {
		return nil, err
	}
	return &Store{db: db, read: db, engine: embedded, at: fullPath(path), opt: Options{Existing: true}}, nil
}

// checkOurs says what keeps a file from being a whole database of ours, of a
// schema that this program knows.
func (s *Store) checkOurs(ctx context.Context) error {
	steps, err := s.steps()
	if err != nil {
		return err
	}
	if _, err := s.upToDate(ctx, steps); err != nil {
		return err
	}
	var found []string
	if err := s.db.SelectContext(ctx, &found, "PRAGMA integrity_check(1)"); err != nil {
		return err
	}
	if len(found) != 1 || found[0] != "ok" {
		return fmt.Errorf("this database file is damaged: %s", strings.Join(found, "; "))
	}
	return nil
}

// copyBefore copies a file of an earlier schema before that is brought up to
// date, unless another program has done so meanwhile.
func (s *Store) copyBefore(ctx context.Context, latest int64) error {
	if s.engine != embedded {
		return nil
	}
	version, _, err := s.version(ctx)
	if err != nil || version <= 0 || version >= latest {
		return err
	}
	path := freeName(outfile.Landing(s.at), fmt.Sprintf("before-schema-%d", latest))
	f, err := copySQLite(ctx, s.db, path)
	if err != nil {
		return fmt.Errorf("copying the database before its schema changes: %w", err)
	}
	if copied, err := versionOf(ctx, f.Name()); err != nil || copied == latest {
		return errors.Join(err, f.Drop())
	}
	if err := f.Put(path); err != nil {
		return err
	}
	s.notice("the database's schema changes from %d to %d: as it was it stands in %s", version, latest, path)
	return nil
}

func versionOf(ctx context.Context, path string) (int64, error) {
	s, err := peek(path, "immutable=1")
	if err != nil {
		return 0, err
	}
	defer s.Close()
	version, _, err := s.version(ctx)
	return version, err
}

// freeName is the path with a mark before its extension, and a number where
// that stands already.
func freeName(path, mark string) string {
	ext := filepath.Ext(path)
	stem := strings.TrimSuffix(path, ext) + "." + mark
	for n := 1; ; n++ {
		name := stem + ext
		if n > 1 {
			name = fmt.Sprintf("%s-%d%s", stem, n, ext)
		}
		if _, err := os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
			return name
		}
	}
}
