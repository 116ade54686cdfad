package outfile

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"time"
)

// Files in the making are called .NAME.pourback-HOST-PROCESS-RUN-NUMBER.tmp. So a
// later run can tell what a killed one left behind from what a living one is
// writing, and from what is not ours.
var madeByUs = regexp.MustCompile(`(?s)^\..*\.pourback-([0-9a-f]{8})-(\d+)-([0-9a-f]{8})-\d+\.tmp(?:-journal|-wal|-shm)?$`)

// longAgo is when the maker of a file, of whom nothing else is known, is taken
// to be gone.
const longAgo = 24 * time.Hour

var thisHost = sync.OnceValue(func() string {
	name, _ := os.Hostname() // "" is one host as well
	sum := sha256.Sum256([]byte(name))
	return hex.EncodeToString(sum[:4])
})

// thisRun tells this run from an earlier one with the same process number, as
// in a container that is started again.
var thisRun = sync.OnceValue(func() string {
	b := make([]byte, 4)
	rand.Read(b) // never fails
	return hex.EncodeToString(b)
})

var (
	tempMu    sync.Mutex
	tempCount int
)

func nextTemp() int {
	tempMu.Lock()
	defer tempMu.Unlock()
	tempCount++
	return tempCount
}

// makeTemp makes an empty file in dir that no other has.
func makeTemp(dir, name string, mode fs.FileMode) (*os.File, error) {
	const mostOfName = 100 // the whole must stay below what a file's name may have
	if len(name) > mostOfName {
		name = strings.ToValidUTF8(name[:mostOfName], "")
	}
	temp := fmt.Sprintf(".%s.pourback-%s-%d-%s-%d.tmp", name, thisHost(), os.Getpid(), thisRun(), nextTemp())
	return os.OpenFile(filepath.Join(dir, temp), os.O_RDWR|os.O_CREATE|os.O_EXCL, mode)
}

// sweep takes away what killed runs left in a folder. What cannot be taken away
// stays: it is in nobody's way.
func sweep(dir string) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		if e.Type().IsRegular() && abandoned(e) {
			os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

// abandoned says whether a file is one in the making whose maker is gone.
func abandoned(e fs.DirEntry) bool {
	part := madeByUs.FindStringSubmatch(e.Name())
	if part == nil {
		return false
	}
	host, run := part[1], part[3]
	pid, err := strconv.Atoi(part[2])
	if err == nil && host == thisHost() {
		if pid == os.Getpid() {
			return run != thisRun()
		}
		if gone(pid) {
			return true
		}
	}
	info, err := e.Info()
	return err == nil && time.Since(info.ModTime()) > longAgo
}

// gone says whether there is surely no such process on this machine.
func gone(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return true
	}
	defer p.Release()
	return errors.Is(p.Signal(syscall.Signal(0)), os.ErrProcessDone)
}
