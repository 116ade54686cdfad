package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"

	"pourback/ingest/store/storetest"
)

// built is the program as it is handed out, built once for all tests that need
// a process of its own: to be killed, or to be given odd files to write to.
var built = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "pourback-built-")
	if err != nil {
		return "", err
	}
	name := filepath.Join(dir, "pourback.exe")
	out, err := exec.Command("go", "build", "-o", name, ".").CombinedOutput()
	if err != nil {
		return "", errors.New(string(out))
	}
	return name, nil
})

func TestMain(m *testing.M) {
	status := storetest.Main(m)
	if builtHere {
		if name, err := built(); err == nil {
			os.RemoveAll(filepath.Dir(name))
		}
	}
	os.Exit(status)
}

var (
	builtHere bool
	startedIn = must(os.Getwd())
)

func must(dir string, err error) string {
	if err != nil {
		panic(err)
	}
	return dir
}

// program is a call of the built program in the current folder.
func program(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	here := must(os.Getwd())
	if !builtHere {
		os.Chdir(startedIn)
	}
	name, err := built()
	builtHere = true
	os.Chdir(here)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(name, args...)
	cmd.Dir = here
	return cmd
}

// ended runs a call, with its standard output into stdout where that is not nil.
func ended(t *testing.T, cmd *exec.Cmd, stdout *os.File) result {
	t.Helper()
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	if stdout != nil {
		cmd.Stdout = stdout
	}
	var exit *exec.ExitError
	if err := cmd.Run(); err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return result{cmd.ProcessState.ExitCode(), out.String(), errs.String()}
}

func readFile(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// needs skips where a device is missing.
func needs(t *testing.T, path string) {
	t.Helper()
	if _, err := os.Stat(path); err != nil {
		t.Skip(path, " is not here")
	}
}
