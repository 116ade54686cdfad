// Command bench times pourback beside general-purpose peers, whole processes in
// alternating pairs, and says which goals are met.
//
//	go run ./testdata/peers/bench [-rows 100000] [-pairs 7] [-only TEXT]
//
// Every row of the table is a job: the median seconds of both, their ratio, the
// goal, and the processor time and peak memory of ours. What is not installed is
// said, and its rows have our figures alone. The database is a copy made for each
// run; nothing of it is kept between them.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

func main() {
	rows := flag.Int("rows", 100_000, "rows of the large job log: 1000000 for the goals, 10000000 for the growth")
	pairs := flag.Int("pairs", 7, "pairs of runs of each job")
	only := flag.String("only", "", "only the jobs whose name has this in it")
	flag.Parse()
	if err := run(*rows, *pairs, *only); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(rows, pairs int, only string) error {
	dir, err := os.MkdirTemp("", "bench")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	here, err := os.Getwd()
	if err != nil {
		return err
	}
	b := &bench{here: here, dir: dir, rows: rows, pairs: pairs, pourback: filepath.Join(dir, "pourback")}
	if out, err := exec.Command("go", "build", "-o", b.pourback, "./cmd/pourback").CombinedOutput(); err != nil {
		return fmt.Errorf("building: %w\n%s", err, out)
	}
	if err := b.prepare(); err != nil {
		return err
	}
	defer b.stop()
	fmt.Printf("%-44s %9s %8s %8s %7s %16s %-6s %8s %7s\n", "job", "rows", "ours s", "peer s", "ratio", "goal", "", "cpu s", "MiB")
	for _, j := range b.jobs() {
		if !strings.Contains(j.name, only) {
			continue
		}
		line, err := b.line(j)
		if err != nil {
			return fmt.Errorf("%s: %w", j.name, err)
		}
		fmt.Println(line)
	}
	for _, missing := range b.missing {
		fmt.Println("not installed:", missing)
	}
	return nil
}
