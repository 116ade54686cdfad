package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/jmoiron/sqlx"
	sqlite3 "modernc.org/sqlite/lib"

	"pourback/ingest/outfile"
)

// Restore puts a copy of the backup at from in the place of the database that
// dsn names. The copy is made beside it and checked first; the present database
// is kept under another name, which is returned, "" where there was none. mark
// becomes a part of that name. A file there that is no database of ours is
// replaced only where force is true, and kept as well.
//
// At any moment the name holds the old database or the whole new one. It fails
// where another program is using the database.
func Restore(ctx context.Context, from, dsn, mark string, force bool) (kept string, err error) {
	path, ok := File(dsn)
	if !ok {
		return "", errors.New("a PostgreSQL database is restored with the server's own programs; restore is for a database that is a file")
	}
	if err := checkName(path); err != nil {
		return "", err
	}
	fresh, err := copyOfBackup(ctx, from, path)
	if err != nil {
		return "", err
	}
	if kept, err = setPresentAside(ctx, outfile.Landing(path), mark, force); err != nil {
		fresh.Drop()
		return "", err
	}
	return kept, fresh.Put(path)
}

// copyOfBackup is a checked copy of a backup, to stand at path.
func copyOfBackup(ctx context.Context, from, path string) (*outfile.File, error) {
	is, err := os.Stat(from)
	switch {
	case err != nil:
		return nil, err
	case is.Mode().IsRegular() && is.Size() == 0:
		return nil, fmt.Errorf("%s is empty: it is no backup", from)
	}
	if err := checkPath(from); err != nil {
		return nil, err
	}
	s, err := peek(from, "")
	if err != nil {
		return nil, err
	}
	defer s.Close()
	if err := s.checkOurs(ctx); err != nil {
		return nil, fmt.Errorf("%s cannot be restored: %w", from, explainSQLite(err))
	}
	return copySQLite(ctx, s.db, path)
}

// setPresentAside keeps the database at path under another name and makes sure
// that nobody uses it, so that another can take its place.
func setPresentAside(ctx context.Context, path, mark string, force bool) (kept string, err error) {
	is, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) || err == nil && is.Size() == 0 {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	foreign, err := isForeign(ctx, path)
	if err != nil {
		return "", err
	}
	if foreign && !force {
		return "", fmt.Errorf("%s is no database of pourback's; name another with --db, or give --force to put the backup in its place", path)
	}
	kept = freeName(path, mark)
	if err := keepPresent(ctx, path, kept); err != nil {
		return "", fmt.Errorf("keeping the present database as %s: %w", kept, err)
	}
	return kept, nil
}

// isForeign says whether a file is something else than a database of ours, be
// that damaged or not.
func isForeign(ctx context.Context, path string) (bool, error) {
	if err := checkHeader(path); errors.Is(err, errNoDatabase) {
		return true, nil
	} else if err != nil {
		return false, err
	}
	s, err := peek(path, "")
	if err != nil {
		return false, err
	}
	defer s.Close()
	version, tables, err := s.version(ctx)
	return err == nil && version < 0 && len(tables) > 0, nil
}

// keepPresent copies the present database: as the engine reads it, or byte for
// byte where it can no longer be read.
func keepPresent(ctx context.Context, path, kept string) error {
	db, err := sqlx.Open(embedded.driver, fileURI(path)+"?mode=rw&_pragma=busy_timeout(5000)")
	if err != nil {
		return err
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	whole, err := copySQLite(ctx, db, kept)
	switch code := sqliteCode(err); {
	case err == nil:
		err = whole.Put(kept)
	case code == sqlite3.SQLITE_BUSY || code == sqlite3.SQLITE_LOCKED || code == sqlite3.SQLITE_FULL || ctx.Err() != nil:
	default:
		err = copyBytes(path, kept)
	}
	if err != nil {
		return err
	}
	return leaveAlone(ctx, db, path)
}

// copyBytes copies a database that cannot be read, with what lies beside it.
func copyBytes(path, kept string) error {
	for _, part := range besides {
		from, err := os.Open(path + part)
		if part != "" && errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return err
		}
		f, err := outfile.BeginPrivate(kept + part)
		if err == nil {
			_, err = io.Copy(f, from)
		}
		if from.Close(); err != nil {
			return err
		}
		if err := f.Put(kept + part); err != nil {
			return err
		}
	}
	return nil
}

// besides are the endings of a database file's name and of those beside it.
var besides = []string{"", "-wal", "-journal", "-shm"}

// leaveAlone takes the write-ahead log into the file and away, which works only
// while nobody else has it open: the log of one file must never lie beside
// another.
func leaveAlone(ctx context.Context, db *sqlx.DB, path string) error {
	var mode string
	err := db.GetContext(ctx, &mode, "PRAGMA journal_mode = DELETE")
	if code := sqliteCode(err); code == sqlite3.SQLITE_BUSY || code == sqlite3.SQLITE_LOCKED || err == nil && !strings.EqualFold(mode, "delete") {
		return fmt.Errorf("another program is using %s; end it, and try again", path)
	}
	if err := db.Close(); err != nil {
		return err
	}
	for _, part := range besides[1:] {
		if err := os.Remove(path + part); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}
