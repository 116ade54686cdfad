//go:build unix

package main

import (
	"bytes"
	"context"
	"net"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

// silent is the address of a server that lets callers in and never answers.
func silent(t *testing.T) string {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	var in []net.Conn
	go func() {
		for {
			conn, err := listener.Accept()
			if err != nil {
				return
			}
			in = append(in, conn)
		}
	}()
	t.Cleanup(func() { listener.Close() })
	return listener.Addr().String()
}

// waits are calls that wait for what never comes.
func waits(t *testing.T) map[string][]string {
	t.Helper()
	inFolder(t, map[string]string{"log.csv": jobLog})
	for _, name := range []string{"pipe.csv", "pipe.yaml", "pipe.xlsx"} {
		if err := syscall.Mkfifo(name, 0o600); err != nil {
			t.Skipf("no pipes here: %v", err)
		}
	}
	server := "postgres://me@" + silent(t) + "/x?sslmode=disable&connect_timeout=600"
	return map[string][]string{
		"server":           {"ingest", "log.csv", "--db", server},
		"server with TLS":  {"report", "--db", strings.Replace(server, "disable", "require", 1)},
		"input":            {"ingest", "pipe.csv", "--db", "kept.db"},
		"workbook":         {"ingest", "pipe.xlsx", "--db", "kept.db"},
		"settings":         {"config", "--config", "pipe.yaml"},
		"spec":             {"bid", "pipe.yaml", "--db", "kept.db"},
		"input with check": {"ingest", "pipe.csv", "--dry-run", "--db", "kept.db"},
	}
}

// TestEveryWaitEndsWhenStopped stops calls that wait for a server that never
// answers, and for pipes that nobody writes to.
func TestEveryWaitEndsWhenStopped(t *testing.T) {
	var all sync.WaitGroup
	for name, args := range waits(t) {
		all.Go(func() { stopIt(t, name, args) })
	}
	all.Wait()
}

func stopIt(t *testing.T, name string, args []string) {
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	var out, errs bytes.Buffer
	ended := make(chan int, 1)
	go func() { ended <- run(ctx, args, environment{stdout: &out, stderr: &errs, now: time.Now}) }()
	select {
	case status := <-ended: // refused at once is as good
		if status == exitDone {
			t.Errorf("%s: done: %s%s", name, out.String(), errs.String())
		}
		return
	case <-time.After(300 * time.Millisecond):
	}
	stop()
	select {
	case status := <-ended:
		if status != exitFailed || !strings.Contains(errs.String(), "stopped") {
			t.Errorf("%s: status %d: %s", name, status, errs.String())
		}
	case <-time.After(lastMoment + 5*time.Second):
		t.Errorf("%s: it does not end", name)
	}
}
