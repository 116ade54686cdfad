package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jmoiron/sqlx"
	"github.com/lib/pq"
)

// ErrLost says that the connection to the server ended before the work was
// kept. The same work may be done again.
var ErrLost = errors.New("the connection to the server was lost, nothing kept: try again")

// ErrDoubt is a connection that ended while the work was being kept, with a
// server that cannot be asked.
var ErrDoubt = errors.New("the connection to the server was lost while the work was being kept, and the server does not say whether it was: " +
	"`pourback batches` will, once it answers")

// ErrOutrun says that the server gave the work up in favor of another's, so that
// all look as if done one after the other. The same work may be done again.
var ErrOutrun = errors.New("the server gave this up in favor of another writer, nothing kept: try again")

// ErrAnswersOnly is a server that takes nothing in, as a standby does.
var ErrAnswersOnly = errors.New("this server answers questions and keeps nothing, as a standby does: give the primary's address with --db")

// comeBack is how long a server may take to come back that has gone away.
const comeBack = 10 * time.Second

// mostLosses is how often work may lose its connection: a server that crashes
// takes those down too that are made while it does.
const mostLosses = 3

// retry repeats work for as long as the engine says that trying again may help,
// and a few times where the connection was lost on the way. A server that we
// have met may be away for a while.
func (s *Store) retry(ctx context.Context, work func() error) error {
	pause := 5 * time.Millisecond
	var gone time.Time // when the connection was lost
	for try, losses := 1, 0; ; try++ {
		err := work()
		away := unreachable(err)
		switch {
		case err == nil:
			return nil
		case s.engine.lost(err) && (!away && losses < mostLosses || away && (losses > 0 || s.met.Load())):
			if gone.IsZero() {
				gone = time.Now()
			}
			if !away {
				losses++
				s.forgetIdle()
			}
			if time.Since(gone) > comeBack {
				return err
			}
		case try >= 10 || !s.engine.again(err):
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(pause):
		}
		pause = min(2*pause, time.Second)
	}
}

// unkept is the error of work that was to be kept, in our words where the server
// keeps nothing.
func (s *Store) unkept(ctx context.Context, err error) error {
	if s.engine.only == "" || pq.As(err, "25006", "0A000") == nil { // read only; not supported while it recovers
		return err
	}
	var only string
	if ask := s.db.GetContext(ctx, &only, s.engine.only); ask != nil || only != "on" {
		return err
	}
	return fmt.Errorf("%w (%w)", ErrAnswersOnly, err)
}

// write runs work in a transaction that has the database's turn, again where
// another writer came first.
func (s *Store) write(ctx context.Context, work func(tx *Tx) error) error {
	for {
		err := s.retry(ctx, func() error {
			tx, err := s.begin(ctx)
			if err != nil {
				return err
			}
			defer tx.Rollback() // nothing to keep, unless committed
			if err := work(tx); err != nil {
				return err
			}
			return tx.commit(ctx)
		})
		if err == nil || !s.engine.taken(err) {
			return s.explain(ctx, err)
		}
	}
}

// forgetIdle closes the connections that wait to be used: what ended one of them
// has most likely ended them all, and each would cost a try.
func (s *Store) forgetIdle() {
	s.db.SetMaxIdleConns(0)
	s.db.SetMaxIdleConns(idleConnections)
	if s.read != s.db {
		s.read.SetMaxIdleConns(0)
		s.read.SetMaxIdleConns(readAlone)
	}
}

// commit keeps the transaction, with the deed that ctx bears. Where the
// connection ends meanwhile, the server is asked what became of it.
func (tx *Tx) commit(ctx context.Context) error {
	s, number := tx.store, int64(0)
	deed := deedOf(ctx)
	if err := tx.note(ctx, deed); err != nil {
		return errors.Join(s.explain(ctx, err), tx.Rollback())
	}
	if s.engine.number != "" && s.lock {
		if err := tx.sql.GetContext(ctx, &number, s.engine.number); err != nil {
			return s.explain(ctx, err)
		}
	}
	var left *known
	if s.engine == embedded { // whoever writes next waits for this one
		is, err := stateOf(ctx, tx.sql)
		if err != nil {
			return errors.Join(s.explain(ctx, err), tx.Rollback())
		}
		left = &known{is, s.watch.turns.Add(1)}
	}
	err := tx.end(func(sql *sqlTx) error {
		err := sql.Commit()
		if s.engine.lost(err) {
			return s.fate(number, err)
		}
		return err
	})
	if err == nil && left != nil {
		s.watch.committed(left)
	}
	if err == nil && deed != nil {
		deed.noted = true
	}
	return err
}

// fate is the error of a commit during which the connection ended, or nil where
// the server has kept the transaction all the same. It is asked by the
// transaction's number; without one, 0, the server cannot tell.
func (s *Store) fate(number int64, err error) error {
	doubt := fmt.Errorf("%w (%v)", ErrDoubt, err) // not to be done again, so not the same error
	if number == 0 {
		return doubt
	}
	ctx, stop := context.WithTimeout(context.Background(), comeBack)
	defer stop()
	for pause := 5 * time.Millisecond; ctx.Err() == nil; pause = min(2*pause, time.Second) {
		var fate string
		ask := s.db.GetContext(ctx, &fate, s.sqlText(s.engine.fate), number)
		switch {
		case ask == nil && fate == "committed":
			return nil
		case ask == nil && fate == "aborted":
			return s.engine.explain(err)
		case ask == nil && fate == "in progress":
			s.db.ExecContext(ctx, s.sqlText(s.engine.stop), number) // asked again, whether or not that worked
		case ask == nil || !s.engine.lost(ask):
			return doubt
		}
		select {
		case <-ctx.Done():
		case <-time.After(pause):
		}
	}
	return doubt
}

// raw hands over the driver's connection. What it returns is kept from
// database/sql, which would close a connection reported as bad at once, and
// wait for ever for the transaction that is open on it.
func raw(conn *sqlx.Conn, work func(driverConn any) error) error {
	var done error
	err := conn.Raw(func(driverConn any) error {
		done = work(driverConn)
		return nil
	})
	if err != nil {
		return err
	}
	return done
}
