//go:build !unix

package storetest

import (
	"errors"
	"os/exec"
)

func asPostgres(*exec.Cmd, string) error {
	return errors.New("starting a throwaway server is written for Unix")
}
