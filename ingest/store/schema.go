package store

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/pressly/goose/v3"

	"pourback/migrations"
)

// versionTable is where the migrations note which steps have been taken.
const versionTable = "pourback_schema"

// migrate brings the schema up to date. Another program may be doing the same
// at this moment: whoever comes second fails at a step that the first has
// taken, looks again and finds it done.
func (s *Store) migrate(ctx context.Context) error {
	return s.retry(ctx, func() error { return s.takeSteps(ctx) })
}

func (s *Store) takeSteps(ctx context.Context) error {
	for try := 1; ; try++ {
		steps, err := s.steps() // anew each time: it remembers a first step that a lost connection has undone
		if err != nil {
			return err
		}
		sources := steps.ListSources()
		done, err := s.upToDate(ctx, sources[len(sources)-1].Version)
		if done || err != nil {
			return err
		}
		if _, err = steps.Up(ctx); err == nil {
			return nil
		}
		if try == 20 || ctx.Err() != nil || s.engine.lost(err) {
			return fmt.Errorf("bringing the schema up to date: %w", err)
		}
		select {
		case <-ctx.Done():
		case <-time.After(10 * time.Millisecond * time.Duration(try)):
		}
	}
}

func (s *Store) steps() (*goose.Provider, error) {
	files, err := migrations.For(s.engine.name)
	if err != nil {
		return nil, err
	}
	return goose.NewProvider(s.engine.goose, s.db.DB, files, goose.WithTableName(versionTable),
		goose.WithLogger(goose.NopLogger()), goose.WithDisableGlobalRegistry(true))
}

// upToDate says whether the schema is at the latest version. It is an error if
// it is beyond that, or if the file is somebody else's database.
func (s *Store) upToDate(ctx context.Context, latest int64) (bool, error) {
	var names []string
	err := s.retry(ctx, func() error {
		names = nil
		return s.db.SelectContext(ctx, &names, s.engine.tables)
	})
	if err != nil {
		return false, err
	}
	ours := false
	for _, name := range names {
		ours = ours || name == versionTable
	}
	if !ours {
		return false, s.refuseForeign(names)
	}
	var version int64
	err = s.retry(ctx, func() error {
		return s.db.GetContext(ctx, &version, "SELECT COALESCE(MAX(version_id), 0) FROM "+versionTable)
	})
	if err != nil {
		return false, err
	}
	if version > latest {
		return false, fmt.Errorf("this database was made by a newer pourback (schema %d, and this program knows up to %d); "+
			"use the newer program, or take its export into a new database", version, latest)
	}
	return version == latest, nil
}

// refuseForeign keeps us out of a file that holds another program's tables. A
// server's database may well be shared.
func (s *Store) refuseForeign(tables []string) error {
	if s.engine.name != embedded.name || len(tables) == 0 {
		return nil
	}
	if len(tables) > 3 {
		tables = append(tables[:3:3], "…")
	}
	return errors.New("this is another program's database (it holds " + strings.Join(tables, ", ") + "); name another file")
}
