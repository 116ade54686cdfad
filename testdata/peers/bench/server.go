package main

import (
	"fmt"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strings"
)

// server is a PostgreSQL of the bench's own.
type server struct{ bin, data, socket, as string }

const port = "54877"

// startServer starts one where it is installed; nil where it is not.
func startServer(b *bench) (*server, error) {
	bin, err := exec.Command("pg_config", "--bindir").Output()
	if err != nil || !b.has("psql") {
		b.missing = append(b.missing, "PostgreSQL")
		return nil, nil
	}
	data, err := os.MkdirTemp("", "bench-pg")
	if err != nil {
		return nil, err
	}
	s := &server{bin: strings.TrimSpace(string(bin)), data: filepath.Join(data, "data"), socket: data}
	if me, err := user.Current(); err == nil && me.Uid == "0" { // the server refuses to run as root
		s.as = "postgres"
		if out, err := exec.Command("chown", s.as, data).CombinedOutput(); err != nil {
			return nil, fmt.Errorf("%w: %s", err, out)
		}
	}
	for _, command := range []string{
		fmt.Sprintf("%s/initdb -D %s -A trust -U bench --locale=C.UTF-8 -E UTF8", s.bin, s.data),
		fmt.Sprintf("%s/pg_ctl -w -D %s -l %s/log -o '-p %s -c listen_addresses= -c unix_socket_directories=%s' start", s.bin, s.data, s.socket, port, s.socket),
	} {
		if out, err := s.command(command).CombinedOutput(); err != nil {
			return nil, fmt.Errorf("PostgreSQL: %w: %s", err, out)
		}
	}
	return s, b.fill(s)
}

func (s *server) command(line string) *exec.Cmd {
	if s.as != "" {
		return exec.Command("su", s.as, "-s", "/bin/sh", "-c", line)
	}
	return exec.Command("sh", "-c", line)
}

func (s *server) stop() {
	s.command(fmt.Sprintf("%s/pg_ctl -D %s -m fast stop", s.bin, s.data)).Run()
	os.RemoveAll(s.socket)
}

// dsn is a database of the server.
func (s *server) dsn(name string) string {
	return fmt.Sprintf("host=%s port=%s user=bench dbname=%s", s.socket, port, name)
}

func (s *server) psql(database string, statements ...string) []string {
	c := []string{"psql", "-q", "-X", "-v", "ON_ERROR_STOP=1", s.dsn(database)}
	for _, text := range statements {
		c = append(c, "-c", text)
	}
	return c
}

// fill takes the large log into a database that is only read.
func (b *bench) fill(s *server) error {
	if _, err := b.timed(nil, s.psql("postgres", "CREATE DATABASE large", "CREATE DATABASE run"), ""); err != nil {
		return err
	}
	_, err := b.timed(nil, []string{b.pourback, "--db", s.dsn("large"), "ingest", "--yes", "--quiet", b.at("large.csv")}, "")
	if err != nil && warned(err) {
		return nil
	}
	return err
}

// jobs are those on the server; a nil server has none.
func (s *server) jobs(b *bench) []job {
	if s == nil {
		return nil
	}
	empty := func() error {
		_, err := b.timed(nil, s.psql("postgres", "DROP DATABASE IF EXISTS run", "CREATE DATABASE run"), "")
		if err == nil {
			_, err = b.timed(nil, s.psql("run", "CREATE TABLE peer("+strings.ReplaceAll(strings.TrimSpace(header), ",", " text, ")+" text, UNIQUE(job_no, placement))"), "")
		}
		return err
	}
	onServer := func(database string, args ...string) []string {
		return append([]string{b.pourback, "--db", s.dsn(database), "--as-of", "2025-12-31"}, args...)
	}
	return []job{
		{name: "CSV to PostgreSQL", rows: b.rows, before: empty, ours: onServer("run", "ingest", "--yes", "--quiet", b.at("large.csv")),
			peer: s.psql("run", `\copy peer FROM '`+b.at("large.csv")+`' CSV HEADER`), goal: 1.2},
		{name: "factors --json: PostgreSQL beside SQLite", rows: b.rows, before: b.fresh("large"), ours: onServer("large", "factors", "--json"),
			peer: b.ours("run", "factors", "--json"), goal: 2},
	}
}
