package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files of the demo anew; look at every line that changed")

// demoFiles are the demo's database and spec, made once for all tests: the
// invented history of seed 1 as of the day on which calls are made.
var demoFiles = map[string][]byte{}

// inDemo moves the test into a folder with the demo's database and spec.
func inDemo(t *testing.T) {
	t.Helper()
	inFolder(t, nil)
	if len(demoFiles) == 0 {
		call(t, "demo", "--seed", "1", "--as-of", "2026-03-31", "--dir", "made").want(t, exitDone)
		for _, name := range []string{"pourback.db", "bid.yaml"} {
			content, err := os.ReadFile(filepath.Join("made", name))
			if err != nil {
				t.Fatal(err)
			}
			demoFiles[name] = content
		}
	}
	for name, content := range demoFiles {
		if err := os.WriteFile(name, content, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// demoCalls are the calls whose answers are held to golden files.
var demoCalls = []struct {
	file string
	args []string
}{
	{"factors", []string{"factors"}},
	{"visits", []string{"visits"}},
	{"visits", []string{"factors", "visits"}}, // the same by another door
	{"bid", []string{"bid", "bid.yaml", "--dry-run"}},
	{"bids", []string{"bids"}},
	{"explained", []string{"bids", "--explain", "9"}},
	{"compared", []string{"bids", "--compare", "8,9"}},
	{"backtest", []string{"backtest"}},
	{"balance", []string{"balance", "--bid", "9", "--placed-yd", "6", "--covered", "50%"}},
}

// TestNumbersOfTheDemo holds every number of the demo's JSON to the last digit,
// and beside it every name that is data; sentences are free to change. Numbers
// and names stand in files of their own, so that a name can change where no
// number may.
func TestNumbersOfTheDemo(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("the last digits stand as amd64 rounds them; where multiply and add are one step they may differ")
	}
	golden := goldenFolder(t, "numbers")
	inDemo(t)
	for _, c := range demoCalls {
		t.Run(c.file, func(t *testing.T) {
			us, si := jsonOf(t, c.args, "us"), jsonOf(t, c.args, "si")
			numbers := scalars(us, isNumber)
			golden.compare(t, c.file+".txt", numbers)
			golden.compare(t, c.file+".names.txt", scalars(us, isName))
			if scalars(si, isNumber) != numbers {
				t.Error("the numbers of the JSON change with the units that are shown")
			}
		})
	}
}

func jsonOf(t *testing.T, args []string, units string) any {
	t.Helper()
	r := call(t, slices.Concat(args, []string{"--as-of", "2026-03-31", "--json", "--units", units})...)
	r.want(t, exitDone)
	read := json.NewDecoder(strings.NewReader(r.stdout))
	read.UseNumber() // digits as they are written
	var v any
	if err := read.Decode(&v); err != nil {
		t.Fatal(err)
	}
	return v
}

// scalars lists what wanted keeps of a JSON value: a line for each object or
// list that holds some, in the order of sorted keys, whatever order they are
// written in.
func scalars(v any, wanted func(path string, v any) bool) string {
	var lines []string
	walk(v, "", func(path string, members []string) { lines = append(lines, path+": "+strings.Join(members, " ")) }, wanted)
	return strings.Join(lines, "\n") + "\n"
}

// longList is from how many entries a list is kept as its first lines and a
// checksum of all.
const longList = 200

func walk(v any, path string, line func(path string, members []string), wanted func(string, any) bool) {
	var members []string
	var deeper []func()
	see := func(name, at string, v any) {
		switch v.(type) {
		case map[string]any, []any:
			deeper = append(deeper, func() { walk(v, at, line, wanted) })
		default:
			if wanted(at, v) {
				members = append(members, name+written(v))
			}
		}
	}
	switch v := v.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(v)) {
			see(key+"=", path+"."+key, v[key])
		}
		if len(v) == 0 {
			see("", path+"{}", nil)
		}
	case []any:
		if len(v) > longList {
			walkLong(v, path, line, wanted)
			return
		}
		for i, e := range v {
			see("", fmt.Sprintf("%s[%d]", path, i), e)
		}
		if len(v) == 0 {
			see("", path+"[]", nil)
		}
	}
	if len(members) > 0 {
		line(path, members)
	}
	for _, down := range deeper {
		down()
	}
}

// walkLong lists the first entries of a long list, and a checksum of all lines.
func walkLong(v []any, path string, line func(string, []string), wanted func(string, any) bool) {
	const shown = 20
	sum := sha256.New()
	for i, e := range v {
		walk([]any{e}, fmt.Sprintf("%s[%d]", path, i), func(at string, members []string) {
			fmt.Fprintln(sum, at, members)
			if i < shown {
				line(at, members)
			}
		}, wanted)
	}
	line(path, []string{fmt.Sprintf("%d entries, sha256 %x", len(v), sum.Sum(nil))})
}

func written(v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		panic(err) // it was read from JSON
	}
	return string(text)
}

// isNumber says whether a value is a number, a yes or no, or the lack of one.
func isNumber(path string, v any) bool {
	_, text := v.(string)
	return !text && !isProse(path)
}

// proseKeys are the keys whose strings are sentences or parts of one.
var proseKeys = []string{"answer", "findings_answer", "notes", "says", "why", "sentence", "means", "event_means", "evidence", "guide",
	"detail", "caution", "cautions", "saw_hours", "source", "limit", "did", "signs", "made_alike", "reference_job", "of"}

// isName says whether a value is a string that is data: a key, a code, a day,
// a name.
func isName(path string, v any) bool {
	_, text := v.(string)
	return text && !isProse(path)
}

func isProse(path string) bool {
	steps := strings.Split(path, ".")
	last, _, _ := strings.Cut(steps[len(steps)-1], "[")
	if (strings.Contains(path, "ssumptions[") || strings.HasPrefix(path, ".settings[")) && (last == "name" || last == "from") {
		return true
	}
	return slices.Contains(proseKeys, last) || strings.HasSuffix(last, "_says")
}

// goldens is a folder of golden files.
type goldens struct{ dir string }

// goldenFolder is a folder below testdata; ask for it before the test moves.
func goldenFolder(t *testing.T, name string) goldens {
	t.Helper()
	dir, err := filepath.Abs(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return goldens{dir}
}

// compare holds got against a golden file, and shows the first lines that differ.
func (g goldens) compare(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join(g.dir, name)
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Equal(want, []byte(got)) {
		return
	}
	before, after := strings.Split(string(want), "\n"), strings.Split(got, "\n")
	shown := 0
	for i := range max(len(before), len(after)) {
		if a, b := lineAt(before, i), lineAt(after, i); a != b && shown < 5 {
			shown++
			t.Errorf("%s, line %d: was\n  %s\nand is\n  %s", name, i+1, a, b)
		}
	}
	t.Errorf("%s has changed: %d lines before, %d now. Where that is meant, go test ./cmd/pourback -run %s -update, and look at the difference", name, len(before), len(after), strings.Split(t.Name(), "/")[0])
}

func lineAt(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return "(nothing)"
}
