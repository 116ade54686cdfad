// Command pourback asks the records of finished concrete flatwork what the
// next job will take. See the README for what it reads and what it answers.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], system()))
}
