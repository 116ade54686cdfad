package stat_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"pourback/analysis/internal/reftest"
)

// notBuilt lists the reference entries that no method answers yet, and why.
var notBuilt = map[string]string{}

// TestEveryReferenceIsChecked reads the tests of analysis/ and demands that
// each reference entry is loaded by one of them.
func TestEveryReferenceIsChecked(t *testing.T) {
	refs, err := reftest.All()
	if err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	load := regexp.MustCompile(`"([a-z0-9][A-Za-z0-9.-]+)"`)
	err = filepath.WalkDir("..", func(path string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, "_test.go") || strings.HasSuffix(path, "stat/refs_test.go") {
			return err
		}
		src, err := os.ReadFile(path)
		if err != nil || !strings.Contains(string(src), "reftest.") {
			return err
		}
		for _, m := range load.FindAllStringSubmatch(string(src), -1) {
			used[m[1]] = true
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range refs {
		why, excused := notBuilt[r.ID]
		switch {
		case used[r.ID] && excused:
			t.Errorf("%s is checked: take it off the list of what is not built (%s)", r.ID, why)
		case !used[r.ID] && !excused:
			t.Errorf("%s (%s) is checked by no test", r.ID, r.Method)
		}
	}
}
