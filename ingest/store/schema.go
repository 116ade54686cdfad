package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
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
		latest := lastOf(steps)
		done, err := s.upToDate(ctx, steps)
		if done || err != nil {
			return err
		}
		if err := s.copyBefore(ctx, latest); err != nil {
			return err
		}
		if _, err = steps.Up(ctx); err == nil {
			return nil
		}
		if err = s.unkept(ctx, err); errors.Is(err, ErrAnswersOnly) || try == 20 || ctx.Err() != nil || s.engine.lost(err) {
			return fmt.Errorf("bringing the schema up to date: %w", err)
		}
		select {
		case <-ctx.Done():
		case <-time.After(10 * time.Millisecond * time.Duration(try)):
		}
	}
}

// lastOf is the version of the schema that this program makes.
func lastOf(steps *goose.Provider) int64 {
	sources := steps.ListSources()
	return sources[len(sources)-1].Version
}

func (s *Store) steps() (*goose.Provider, error) {
	files, err := migrations.For(s.engine.name)
	if err != nil {
		return nil, err
	}
	return goose.NewProvider(s.engine.goose, s.db.DB, files, goose.WithTableName(versionTable),
		goose.WithLogger(goose.NopLogger()), goose.WithDisableGlobalRegistry(true), goose.WithAllowOutofOrder(true))
}

// upToDate says whether every step of the schema has been taken. It is an error if
// it is beyond the latest, or if the file is somebody else's database.
func (s *Store) upToDate(ctx context.Context, steps *goose.Provider) (bool, error) {
	latest := lastOf(steps)
	version, names, err := s.version(ctx)
	switch {
	case err != nil:
		return false, err
	case version < 0 && s.opt.Existing && (s.engine != embedded || len(names) == 0):
		return false, &NoDatabaseError{At: s.at, Empty: true}
	case version < 0:
		return false, s.refuseForeign(names)
	case version > latest:
		return false, fmt.Errorf("this database was made by a newer pourback (schema %d, and this program knows up to %d); "+
			"use the newer program, or take its export into a new database", version, latest)
	}
	if version < latest {
		return false, nil
	}
	taken := 0 // a step with an earlier number may have come to the program later
	err = s.retry(ctx, func() error {
		return s.db.GetContext(ctx, &taken, "SELECT COUNT(DISTINCT version_id) FROM "+versionTable+" WHERE version_id > 0")
	})
	return taken >= len(steps.ListSources()), err
}

// version is that of the schema, and -1 where the database is not ours; then
// names are the tables that it holds.
func (s *Store) version(ctx context.Context) (version int64, names []string, err error) {
	err = s.retry(ctx, func() error {
		names = nil
		return s.db.SelectContext(ctx, &names, s.engine.tables)
	})
	if err != nil || !slices.Contains(names, versionTable) {
		return -1, names, err
	}
	err = s.retry(ctx, func() error {
		return s.db.GetContext(ctx, &version, "SELECT COALESCE(MAX(version_id), 0) FROM "+versionTable)
	})
	return version, names, err
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
