package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"github.com/jmoiron/sqlx"
)

// sqliteSettings are set on every connection. The page size counts only for a
// new file. A commit is on the disk before it is reported.
var sqliteSettings = []string{
	"page_size(8192)",
	"journal_mode(WAL)",
	"synchronous(FULL)",
	"cache_size(-8192)",
	"journal_size_limit(67108864)",
}

func openSQLite(path string, opt Options) (*sql.DB, error) {
	source, err := sqliteSource(path, opt)
	if err != nil {
		return nil, err
	}
	return sql.Open("sqlite", source)
}

// sqliteSource checks the path and makes it a DSN. Transactions that write take
// the lock when they begin: one that took it later could not wait for it.
func sqliteSource(path string, opt Options) (string, error) {
	if err := checkPath(path); err != nil {
		return "", err
	}
	q := url.Values{"_txlock": {"immediate"}, "_dqs": {"0"}}
	q.Add("_pragma", fmt.Sprintf("busy_timeout(%d)", opt.BusyTimeout.Milliseconds()))
	for _, setting := range sqliteSettings {
		q.Add("_pragma", setting)
	}
	return fileURI(path) + "?" + q.Encode(), nil
}

// fileURI is the path as SQLite reads a URI, with what has a meaning there escaped.
func fileURI(path string) string {
	path = filepath.ToSlash(path)
	if filepath.VolumeName(path) != "" {
		path = "/" + path
	}
	return "file:" + strings.NewReplacer("%", "%25", "?", "%3f", "#", "%23").Replace(path)
}

// checkPath finds out, before SQLite sees it, that a path cannot be a database.
func checkPath(path string) error {
	switch {
	case path == "":
		return errors.New("no database named; give the path of a file or a postgres:// address")
	case strings.HasPrefix(path, ":"):
		return fmt.Errorf("%s: a database is a file; give its path", path)
	case namesServer(path):
		return errAddress
	case strings.ContainsRune(path, 0):
		return fmt.Errorf("%q: not the path of a file", path)
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return checkFolder(path)
	case err != nil:
		return err
	case info.IsDir():
		return fmt.Errorf("%s is a folder; name a file in it, such as %s", path, filepath.Join(path, "pourback.db"))
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s is not a file that can hold a database", path)
	}
	return checkHeader(path)
}

func checkFolder(path string) error {
	folder := filepath.Dir(path)
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return fmt.Errorf("%s: the folder %s does not exist; make it first, or name another file", path, folder)
	}
	return nil
}

// sqliteMagic begins every SQLite database (sqlite.org, Database File Format, 1.3).
var sqliteMagic = []byte("SQLite format 3\x00")

// checkHeader opens the file as we shall have to, and looks at how it begins.
func checkHeader(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if errors.Is(err, fs.ErrPermission) {
		return fmt.Errorf("%s: cannot write to this file; check its permissions", path)
	}
	if err != nil {
		return err
	}
	defer f.Close()
	head := make([]byte, len(sqliteMagic))
	n, err := io.ReadFull(f, head)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return err
	}
	if n > 0 && !bytes.Equal(head, sqliteMagic) {
		return fmt.Errorf("%s is no database; name another file, or one that does not exist yet", path)
	}
	return nil
}

// backupSQLite copies the database into a new file.
func backupSQLite(ctx context.Context, db *sqlx.DB, path string) error {
	if _, err := os.Lstat(path); err == nil {
		return fmt.Errorf("%s exists; name a new file for the backup", path)
	}
	if err := checkPath(path); err != nil {
		return err
	}
	if _, err := db.ExecContext(ctx, "VACUUM INTO ?", fileURI(path)); err != nil {
		os.Remove(path) // what there is of it
		return fmt.Errorf("%s: %w", path, explainSQLite(err))
	}
	return nil
}
