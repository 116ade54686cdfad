package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// bench is what the jobs work on.
type bench struct {
	here, dir, pourback string
	rows, pairs         int
	missing             []string
	postgres            *server
}

func (b *bench) at(name string) string { return filepath.Join(b.dir, name) }

// has says whether a peer is there, and notes it where it is not.
func (b *bench) has(program string, needs ...string) bool {
	what := strings.Join(append([]string{program}, needs...), " with ")
	_, err := exec.LookPath(program)
	for _, library := range needs {
		if err == nil {
			err = exec.Command(program, "-e", "library("+library+")").Run()
		}
	}
	if err != nil && !slices.Contains(b.missing, what) {
		b.missing = append(b.missing, what)
	}
	return err == nil
}

// prepare writes the logs and takes them into databases.
func (b *bench) prepare() error {
	for name, log := range map[string]struct {
		rows int
		shape
	}{
		"large": {b.rows, usual}, "small": {600, usual}, "tenth": {b.rows / 10, usual},
		"crews": {b.rows / 10, shape{crews: 10_000, callbackIn: 25}}, "one-job": {b.rows / 10, shape{crews: 12, callbackIn: 25, oneJob: true}},
		"one-day": {b.rows / 10, shape{crews: 12, callbackIn: 2, oneDay: true}},
	} {
		if err := writeLog(b.at(name+".csv"), log.rows, log.shape); err != nil {
			return err
		}
		if _, err := b.timed(nil, b.ours(name, "ingest", "--yes", "--quiet", b.at(name+".csv")), ""); err != nil && !warned(err) {
			return err
		}
	}
	var err error
	b.postgres, err = startServer(b)
	return err
}

// warned says that a call did its work and had something to say.
func warned(err error) bool { return strings.Contains(err.Error(), "exit status 3") }

func (b *bench) stop() {
	if b.postgres != nil {
		b.postgres.stop()
	}
}

// ours is a call on a database of that name.
func (b *bench) ours(database string, args ...string) []string {
	return append([]string{b.pourback, "--db", b.at(database + ".db"), "--as-of", "2025-12-31"}, args...)
}

// fresh makes the database for a run a copy of another, or none.
func (b *bench) fresh(of string) func() error {
	return func() error {
		for _, rest := range []string{"", "-wal", "-shm"} {
			os.Remove(b.at("run.db" + rest))
		}
		os.RemoveAll(b.at("report"))
		if of == "" {
			return nil
		}
		from, err := os.Open(b.at(of + ".db"))
		if err != nil {
			return err
		}
		defer from.Close()
		to, err := os.Create(b.at("run.db"))
		if err != nil {
			return err
		}
		if _, err := io.Copy(to, from); err != nil {
			return err
		}
		return to.Close()
	}
}

func (b *bench) jobs() []job {
	run := func(args ...string) []string { return b.ours("run", args...) }
	large := b.at("large.csv")
	bid := []string{"bid", "--dry-run", "--json", "--use", "driveway", "--length", "40", "--width", "20", "--thickness", "4", "--reinforcement", "rebar", "--month", "July"}
	jobs := []job{
		{name: "CSV to SQLite", rows: b.rows, before: b.fresh(""), ours: run("ingest", "--yes", "--quiet", large), peer: b.sqliteImport(large), goal: 1},
		{name: "the same file again", rows: b.rows, before: b.fresh("large"), ours: run("ingest", "--yes", "--quiet", large), peer: b.sqliteAgain(large), goal: 0.7},
		{name: "factors --json, cold", rows: b.rows, before: b.fresh("large"), ours: run("factors", "--json"), limit: 1.5, most: 500},
		{name: "factors --json, a tenth", rows: b.rows / 10, before: b.fresh("tenth"), ours: run("factors", "--json")},
		{name: "help, start-up", rows: 0, ours: []string{b.pourback, "--help"}, limit: 0.01},
		{name: "visits --json, cold", rows: b.rows, before: b.fresh("large"), ours: run("visits", "--json"), limit: 1.5},
		{name: "bid --dry-run, cold", rows: b.rows, before: b.fresh("large"), ours: run(bid...), limit: 1.5},
		{name: "bid --dry-run, a small company", rows: 600, before: b.fresh("small"), ours: run(bid...), limit: 1.5},
		{name: "report, cold", rows: b.rows, before: b.fresh("large"), ours: run("report", "--out", b.at("report")), peer: b.rReport("large"), goal: 0.3, limit: 2.5},
		{name: "report, a tenth", rows: b.rows / 10, before: b.fresh("tenth"), ours: run("report", "--out", b.at("report")), peer: b.rReport("tenth"), goal: 0.3},
		{name: "factors, a small company", rows: 600, before: b.fresh("small"), ours: run("factors", "--json"), limit: 0.08},
		{name: "report, a small company", rows: 600, before: b.fresh("small"), ours: run("report", "--out", b.at("report")), limit: 0.35, most: 100},
		{name: "a job log of 600 rows understood", rows: 600, before: b.fresh(""), ours: run("ingest", "--explain", b.at("small.csv")), limit: 0.3},
	}
	for _, hostile := range []string{"crews", "one-job", "one-day"} {
		jobs = append(jobs, job{name: "factors --json, hostile: " + hostile, rows: b.rows / 10, before: b.fresh(hostile), ours: run("factors", "--json")})
	}
	return append(jobs, b.postgres.jobs(b)...)
}

// sqliteImport is the SQLite shell's own way in, into a table with a unique key.
func (b *bench) sqliteImport(csv string) []string {
	if !b.has("sqlite3") {
		return nil
	}
	columns := strings.ReplaceAll(strings.TrimSpace(header), ",", ", ")
	table := fmt.Sprintf("CREATE TABLE placements(%s, UNIQUE(job_no, placement))", columns)
	return []string{"sqlite3", b.at("run.db"), table, ".mode csv", ".import --skip 1 '" + csv + "' placements"}
}

// sqliteAgain is the same into a table of its own.
func (b *bench) sqliteAgain(csv string) []string {
	c := b.sqliteImport(csv)
	if c == nil {
		return nil
	}
	for i := range c {
		c[i] = strings.ReplaceAll(strings.ReplaceAll(c[i], "TABLE placements", "TABLE peer"), "' placements", "' peer")
	}
	return c
}

// rReport does the same sums, and six plots, in R.
func (b *bench) rReport(database string) []string {
	if !b.has("Rscript", "data.table", "survival") {
		return nil
	}
	return []string{"Rscript", filepath.Join(b.here, "testdata/peers/report.R"), b.at(database + ".csv"), b.at("report")}
}
