package store

import (
	"bytes"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	"pourback/ingest/outfile"
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
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) && opt.Existing && checkName(path) == nil {
		return "", &NoDatabaseError{At: fullPath(path)}
	}
	if err := checkPath(path); err != nil {
		return "", err
	}
	if err := makeSQLite(path, opt); err != nil {
		return "", err
	}
	q := url.Values{"_txlock": {"immediate"}, "_dqs": {"0"}}
	q.Add("_pragma", fmt.Sprintf("busy_timeout(%d)", opt.BusyTimeout.Milliseconds()))
	for _, setting := range sqliteSettings {
		q.Add("_pragma", setting)
	}
	return fileURI(path) + "?" + q.Encode(), nil
}

// makeSQLite makes the file where there is none, for its owner alone, and says
// so. What lies beside it later gets the same permissions by SQLite itself.
func makeSQLite(path string, opt Options) error {
	is, err := os.Stat(path)
	full := fullPath(path)
	switch {
	case err == nil && is.Size() > 0:
		return nil
	case opt.Existing:
		return &NoDatabaseError{At: full, Empty: true}
	case err == nil:
		opt.notice("%s is empty: making a new database of it", full)
		return nil
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return fmt.Errorf("cannot open or make this file; check that its folder exists and can be written to: %w", err)
	}
	opt.notice("making a new database at %s", full)
	return f.Close()
}

// FullPath is the path of a file from the root on, by which it is known wherever
// a program was started.
func FullPath(path string) string { return outfile.Landing(fullPath(path)) }

func fullPath(path string) string {
	if full, err := filepath.Abs(path); err == nil {
		return full
	}
	return path
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
	if err := checkName(path); err != nil {
		return err
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

// checkName finds out what by its name alone cannot be the path of a database.
func checkName(path string) error {
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
	return nil
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

var errNoDatabase = errors.New("is no database")

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
		return fmt.Errorf("%s %w; name another file, or one that does not exist yet", path, errNoDatabase)
	}
	return nil
}
