// Package migrations is the database's schema, as numbered steps of SQL for
// each kind of database. A step that has been released is never edited: what
// changes later is a further step, under the same number for both.
package migrations

import (
	"embed"
	"io/fs"
)

//go:embed sqlite/*.sql postgres/*.sql
var files embed.FS

// For is the folder of steps for an engine, "sqlite" or "postgres".
func For(engine string) (fs.FS, error) { return fs.Sub(files, engine) }
