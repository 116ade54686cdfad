package store

import (
	"bufio"
	"context"
	"database/sql"
	"errors"
	"net"
	"os"
	"sync"
	"sync/atomic"
	"time"

	"github.com/lib/pq"
)

// A server may be silent because it is at work, or waits for another writer; or
// because what we asked never reached it, or its answer never us. No time limit
// tells these apart. So when a connection has been silent for a while, another
// one asks the server what it is doing for the first.

var errSilent = errors.New("the server does not answer")

// atOnce is how many bytes are taken from a server at once, at most.
const atOnce = 1 << 16

// newPatient makes a connection patient.
func newPatient(conn net.Conn, patience time.Duration, ask func() error) *patient {
	c := &patient{Conn: conn, patience: patience, ask: ask}
	c.in = bufio.NewReaderSize(reading{c}, atOnce)
	return c
}

// patient is a connection that looks after itself where nothing comes or goes.
type patient struct {
	net.Conn
	in       *bufio.Reader // of what the server sends, more at a time than its driver takes
	patience time.Duration
	ask      func() error // nil while there is something to wait for
	limited  atomic.Bool  // the driver has set a limit of its own
}

// SetDeadline notes whether the driver keeps time itself, as it does while it
// connects.
func (c *patient) SetDeadline(t time.Time) error {
	c.limited.Store(!t.IsZero())
	return c.Conn.SetDeadline(t)
}

// Read waits for as long as the server is at work for us.
func (c *patient) Read(b []byte) (int, error) { return c.in.Read(b) }

// reading is what lies behind a patient connection's Read.
type reading struct{ *patient }

func (r reading) Read(b []byte) (int, error) {
	return r.wait(r.SetReadDeadline, func() (int, error) { return r.Conn.Read(b) })
}

// Write waits for as long as the server takes what we send, or is at work.
func (c *patient) Write(b []byte) (sent int, err error) {
	for {
		n, err := c.wait(c.SetWriteDeadline, func() (int, error) { return c.Conn.Write(b[sent:]) })
		if sent += n; err != nil && !(n > 0 && errors.Is(err, os.ErrDeadlineExceeded)) || sent == len(b) {
			return sent, err
		}
	}
}

// wait repeats what ran out of time with nothing done.
func (c *patient) wait(limit func(time.Time) error, work func() (int, error)) (int, error) {
	for {
		own := !c.limited.Load()
		if own {
			if err := limit(time.Now().Add(c.patience)); err != nil {
				return 0, err
			}
		}
		n, err := work()
		if n > 0 || !own || !errors.Is(err, os.ErrDeadlineExceeded) {
			return n, err
		}
		if err := c.ask(); err != nil {
			return 0, errors.Join(err, c.Close())
		}
	}
}

// askAfter asks the server, by a connection of its own, what it does for the
// one that bears a name: an error says that nothing will come of that one. Then
// it is ended there too, where it might still hold the lock. Where the server
// does not tell, it is taken to be at work.
func (c connector) askAfter(name string) error {
	cfg := c.cfg.Clone()
	cfg.ApplicationName = "pourback asks"
	inner, err := pq.NewConnectorConfig(cfg)
	if err != nil {
		return err
	}
	end := time.Now().Add(min(2*cfg.ConnectTimeout, max(time.Second, 2*c.patience)))
	inner.Dialer(&dialer{wrap: func(conn net.Conn) net.Conn { return brief{conn, end} }})
	db := sql.OpenDB(inner)
	defer db.Close()
	var busy bool
	err = db.QueryRow("SELECT COUNT(*) > 0 FROM pg_stat_activity WHERE application_name = $1 AND"+
		" (COALESCE(state, '') NOT LIKE 'idle%' OR state_change > clock_timestamp() - CAST($2 AS DOUBLE PRECISION) * INTERVAL '1 second')",
		name, c.patience.Seconds()/2).Scan(&busy)
	switch {
	case err != nil && lost(err):
		return errSilent
	case err != nil || busy:
		return nil
	}
	_, err = db.Exec("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE application_name = $1", name)
	return errors.Join(errSilent, err)
}

// brief is a connection that has to be done by a time.
type brief struct {
	net.Conn
	end time.Time
}

// SetDeadline sets no later time than the end.
func (c brief) SetDeadline(t time.Time) error {
	if t.IsZero() || t.After(c.end) {
		t = c.end
	}
	return c.Conn.SetDeadline(t)
}

// dialer makes connections on which the system notices a peer that is gone,
// and can end those that it has made.
type dialer struct {
	wrap func(net.Conn) net.Conn
	mu   sync.Mutex
	made []net.Conn
}

// Dial is for a driver that knows no contexts; ours does.
func (d *dialer) Dial(network, address string) (net.Conn, error) {
	return d.DialContext(context.Background(), network, address)
}

// DialTimeout is Dial with a limit.
func (d *dialer) DialTimeout(network, address string, limit time.Duration) (net.Conn, error) {
	ctx, stop := context.WithTimeout(context.Background(), limit)
	defer stop()
	return d.DialContext(ctx, network, address)
}

// DialContext connects.
func (d *dialer) DialContext(ctx context.Context, network, address string) (net.Conn, error) {
	alive := net.KeepAliveConfig{Enable: true, Idle: 15 * time.Second, Interval: 5 * time.Second, Count: 3}
	conn, err := (&net.Dialer{KeepAliveConfig: alive}).DialContext(ctx, network, address)
	if err != nil {
		return nil, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.made = append(d.made, conn)
	return d.wrap(conn), nil
}

// hangUp ends what was made.
func (d *dialer) hangUp() {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, conn := range d.made {
		conn.Close()
	}
}
