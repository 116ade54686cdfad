package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"maps"
	"net"
	"strings"
	"time"

	"github.com/lib/pq"
)

// connectWait is how long a server may take to let us in, where the address
// has no connect_timeout.
const connectWait = 10 * time.Second

// openPostgres reads the address before an error can repeat it.
func openPostgres(dsn string, opt Options) (*sql.DB, error) {
	cfg, err := serverConfig(dsn)
	if err != nil {
		return nil, err
	}
	if cfg.ConnectTimeout <= 0 {
		cfg.ConnectTimeout = connectWait
	}
	maps.DeleteFunc(cfg.Runtime, func(key, _ string) bool { // libpq's words for what dialer does
		return strings.HasPrefix(key, "keepalives") || key == "tcp_user_timeout"
	})
	return sql.OpenDB(connector{cfg, opt.Patience}), nil
}

// connector makes connections that can be found again among the server's, each
// by a name of its own.
type connector struct {
	cfg      pq.Config
	patience time.Duration
}

// Driver is what database/sql asks for.
func (c connector) Driver() driver.Driver { return &pq.Driver{} }

// Connect ends with ctx, even where a server lets us in and never answers.
func (c connector) Connect(ctx context.Context) (driver.Conn, error) {
	cfg := c.cfg.Clone()
	cfg.ApplicationName = fmt.Sprintf("%.40s %s", strings.TrimSpace(cfg.ApplicationName+" pourback"), rand.Text()[:12])
	inner, err := pq.NewConnectorConfig(cfg)
	if err != nil {
		return nil, err
	}
	d := &dialer{wrap: func(conn net.Conn) net.Conn {
		return newPatient(conn, c.patience, func() error { return c.askAfter(cfg.ApplicationName) })
	}}
	inner.Dialer(d)
	stop := context.AfterFunc(ctx, d.hangUp)
	defer stop()
	conn, err := inner.Connect(ctx)
	if ended := ctx.Err(); err != nil && ended != nil {
		return nil, ended
	}
	return conn, err
}

// lost says whether an error is the end of the connection, or of all of them.
func lost(err error) bool {
	var network *net.OpError
	return errors.Is(err, driver.ErrBadConn) || errors.Is(err, sql.ErrConnDone) || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) ||
		errors.Is(err, errSilent) || errors.Is(err, net.ErrClosed) || errors.As(err, &network) ||
		pq.As(err, "57P01", "57P02", "57P03", "08000", "08003", "08006") != nil // shutting down, crashed, starting up; connection failures
}

// unreachable says whether there never was a connection, or a server that
// starts up has let nobody in yet.
func unreachable(err error) bool {
	var network *net.OpError
	return errors.As(err, &network) && network.Op == "dial" || err != nil && pq.As(err, "57P03") != nil
}

// outrun says whether the server gave work up in favor of another's: a
// serialization failure, or a deadlock.
func outrun(err error) bool { return err != nil && pq.As(err, "40001", "40P01") != nil }

func explainPostgres(err error) error {
	if e := pq.As(err); e != nil && e.Code.Class() == "53" { // insufficient resources
		if e.Code == "53100" && !errors.Is(err, ErrDiskFull) {
			err = fmt.Errorf("%w: %w", ErrDiskFull, err)
		}
		return fmt.Errorf("the server has no room: %w", err)
	}
	if err != nil && lost(err) && !unreachable(err) && !errors.Is(err, ErrLost) {
		return fmt.Errorf("%w (%w)", ErrLost, err)
	}
	if outrun(err) && !errors.Is(err, ErrOutrun) {
		return fmt.Errorf("%w (%w)", ErrOutrun, err)
	}
	return err
}
