package storetest

import (
	"database/sql"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"sync/atomic"
	"time"

	_ "github.com/lib/pq" // the driver
)

// throwaway is a running PostgreSQL server.
type throwaway struct {
	dir   string // its folder, with the socket in it
	admin *sql.DB
	again io.Writer // takes a line to crash and come back
	made  atomic.Int64
}

var server = sync.OnceValues(func() (*throwaway, error) { return start("", "-c wal_level=minimal -c max_wal_senders=0") })

// script keeps a server for as long as its standard input stays open, which is
// as long as the test binary lives, however that ends. A line of input has it crash
// and come back. $1 is the folder of PostgreSQL's programs, $2 the server's own,
// $3 that of the server whose standby it is, if it is one, and $4 settings.
const script = `
trap 'rm -rf "$2"' EXIT
if [ -z "$3" ]
then
	"$1/initdb" -D "$2/data" -U postgres -A trust -E UTF8 --locale=C --no-sync --wal-segsize=1 >"$2/log" 2>&1 || exit 1
else
	"$1/pg_basebackup" -D "$2/data" -h "$3" -U postgres -R -X stream -c fast --no-sync >"$2/log" 2>&1 || exit 1
fi
while
	"$1/postgres" -D "$2/data" -k "$2" -c listen_addresses= -c fsync=off \
		-c full_page_writes=off -c autovacuum=off -c timezone=UTC $4 \
		</dev/null >>"$2/log" 2>&1 &
	trap 'kill -QUIT $!; wait; rm -rf "$2"' EXIT
	read again
do
	kill -QUIT $!
	wait $!
done
`

// running are the servers by their folders.
var running sync.Map

// start starts a server, as the standby of the one in another folder if that is
// named.
func start(standbyOf, settings string) (*throwaway, error) {
	bin, err := programs()
	if err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp(memory(), "pourback-pg-")
	if err != nil {
		return nil, err
	}
	cmd := exec.Command("/bin/sh", "-c", script, "sh", bin, dir, standbyOf, settings+" "+logPrefix)
	if err := asPostgres(cmd, dir); err != nil {
		return nil, err
	}
	again, err := cmd.StdinPipe() // closed by the end of this process
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	s := &throwaway{dir: dir, again: again}
	if s.admin, err = sql.Open("postgres", s.dsn("postgres")); err != nil {
		return nil, err
	}
	running.Store(dir, s)
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	return s, s.await(ended)
}

// await waits until the server answers, or has ended if it may.
func (s *throwaway) await(ended <-chan error) (err error) {
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); {
		if err = s.admin.Ping(); err == nil {
			return nil
		}
		select {
		case <-ended:
			return errors.New("the throwaway PostgreSQL server ended before it answered")
		case <-time.After(5 * time.Millisecond):
		}
	}
	return fmt.Errorf("the throwaway PostgreSQL server does not answer: %w", err)
}

func (s *throwaway) dsn(database string) string {
	q := url.Values{"host": {s.dir}, "user": {"postgres"}, "sslmode": {"disable"}}
	return "postgres:///" + database + "?" + q.Encode()
}

// create makes a database, empty or like another one.
func (s *throwaway) create(like string) (string, error) {
	if err := s.await(nil); err != nil { // after a crash
		return "", err
	}
	if like == "" {
		like = "template1"
	}
	name := fmt.Sprintf("test_%d", s.made.Add(1))
	if _, err := s.admin.Exec("CREATE DATABASE " + name + " TEMPLATE " + like + " STRATEGY FILE_COPY"); err == nil {
		return name, nil
	}
	_, err := s.admin.Exec("CREATE DATABASE " + name + " TEMPLATE " + like) // before PostgreSQL 15
	return name, err
}

func (s *throwaway) drop(name string) error {
	if err := s.await(nil); err != nil {
		return err
	}
	_, err := s.admin.Exec("DROP DATABASE " + name + " WITH (FORCE)")
	return err
}

// programs finds the folder of initdb and postgres.
func programs() (string, error) {
	var folders []string
	if at, err := exec.LookPath("initdb"); err == nil {
		folders = append(folders, filepath.Dir(at))
	}
	for _, pattern := range []string{"/usr/lib/postgresql/*/bin", "/usr/pgsql-*/bin", "/usr/local/pgsql/bin", "/opt/homebrew/opt/postgresql*/bin"} {
		found, _ := filepath.Glob(pattern)
		folders = append(folders, found...)
	}
	for i := len(folders) - 1; i >= 0; i-- {
		if _, err := os.Stat(filepath.Join(folders[i], "initdb")); err != nil {
			continue
		}
		if _, err := os.Stat(filepath.Join(folders[i], "postgres")); err == nil {
			return folders[i], nil
		}
	}
	return "", errors.New("its programs initdb and postgres are not installed")
}

// memory is a folder held in memory, where there is one.
func memory() string {
	if info, err := os.Stat("/dev/shm"); err == nil && info.IsDir() {
		return "/dev/shm"
	}
	return ""
}
