// Package reftest reads the reference values in testdata/refs, made with R on
// public data and published worked examples, and holds results against them
// to each entry's own tolerance.
package reftest

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"
)

// Ref is one reference entry.
type Ref struct {
	ID, Method, Source string
	Inputs, Expected   any
	Tolerance          struct{ Relative, Absolute float64 }
}

func dir() string {
	_, file, _, _ := runtime.Caller(0)
	return filepath.Join(filepath.Dir(file), "../../../testdata/refs")
}

// All reads every entry, once.
var All = sync.OnceValues(func() ([]Ref, error) {
	b, err := os.ReadFile(filepath.Join(dir(), "open.json"))
	if err != nil {
		return nil, err
	}
	var set struct{ Refs []Ref }
	return set.Refs, json.Unmarshal(b, &set)
})

// Load returns the entry with the id, failing the test if there is none.
func Load(t testing.TB, id string) *Ref {
	t.Helper()
	refs, err := All()
	if err != nil {
		t.Fatal(err)
	}
	for i := range refs {
		if refs[i].ID == id {
			return &refs[i]
		}
	}
	t.Fatalf("no reference value %q", id)
	return nil
}

// At follows a dotted path such as "inputs.x" or "expected.blup.0".
func (r *Ref) At(t testing.TB, path string) any {
	t.Helper()
	v := any(map[string]any{"inputs": r.Inputs, "expected": r.Expected})
	for _, step := range strings.Split(path, ".") {
		switch node := v.(type) {
		case map[string]any:
			next, ok := node[step]
			if !ok {
				t.Fatalf("%s: nothing at %s", r.ID, path)
			}
			v = next
		case []any:
			i, err := strconv.Atoi(step)
			if err != nil || i < 0 || i >= len(node) {
				t.Fatalf("%s: no element %s in %s", r.ID, step, path)
			}
			v = node[i]
		default:
			t.Fatalf("%s: %s goes deeper than the entry", r.ID, path)
		}
	}
	return v
}

// Float returns the number at path.
func (r *Ref) Float(t testing.TB, path string) float64 {
	t.Helper()
	return number(t, r.ID+" "+path, r.At(t, path))
}

// Floats returns the list of numbers at path; null becomes NaN.
func (r *Ref) Floats(t testing.TB, path string) []float64 {
	t.Helper()
	list, ok := r.At(t, path).([]any)
	if !ok {
		t.Fatalf("%s: %s is not a list", r.ID, path)
	}
	out := make([]float64, len(list))
	for i, v := range list {
		out[i] = number(t, r.ID+" "+path, v)
	}
	return out
}

// Ints returns the list of whole numbers at path.
func (r *Ref) Ints(t testing.TB, path string) []int {
	t.Helper()
	fs := r.Floats(t, path)
	out := make([]int, len(fs))
	for i, f := range fs {
		out[i] = int(f)
	}
	return out
}

// Strings returns the list of texts at path.
func (r *Ref) Strings(t testing.TB, path string) []string {
	t.Helper()
	list, ok := r.At(t, path).([]any)
	if !ok {
		t.Fatalf("%s: %s is not a list", r.ID, path)
	}
	out := make([]string, len(list))
	for i, v := range list {
		out[i], ok = v.(string)
		if !ok {
			t.Fatalf("%s: %s[%d] is not text", r.ID, path, i)
		}
	}
	return out
}

// Check holds got against the expected number at path, to the entry's tolerance.
func (r *Ref) Check(t testing.TB, path string, got float64) {
	t.Helper()
	r.near(t, path, got, r.Float(t, "expected."+path))
}

// CheckAll holds got against the expected list of numbers at path.
func (r *Ref) CheckAll(t testing.TB, path string, got []float64) {
	t.Helper()
	want := r.Floats(t, "expected."+path)
	if len(got) != len(want) {
		t.Errorf("%s %s: got %d values, want %d", r.ID, path, len(got), len(want))
		return
	}
	for i := range want {
		r.near(t, path+"."+strconv.Itoa(i), got[i], want[i])
	}
}

func (r *Ref) near(t testing.TB, path string, got, want float64) {
	t.Helper()
	if math.IsNaN(want) && math.IsNaN(got) || got == want {
		return
	}
	if !(math.Abs(got-want) <= r.Tolerance.Absolute+r.Tolerance.Relative*math.Abs(want)) {
		t.Errorf("%s %s: got %.15g, want %.15g (%s)", r.ID, path, got, want, r.Source)
	}
}

func number(t testing.TB, where string, v any) float64 {
	t.Helper()
	switch v := v.(type) {
	case float64:
		return v
	case bool:
		if v {
			return 1
		}
		return 0
	case nil:
		return math.NaN()
	case string:
		switch v {
		case "Inf":
			return math.Inf(1)
		case "-Inf":
			return math.Inf(-1)
		case "NA":
			return math.NaN()
		}
	}
	t.Fatalf("%s: %v is not a number", where, v)
	return 0
}

// Table reads a file of testdata/refs/data by column; NA becomes NaN and text
// that is no number is kept in Text alone.
func Table(t testing.TB, name string) (num map[string][]float64, text map[string][]string) {
	t.Helper()
	f, err := os.Open(filepath.Join(dir(), "data", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	num, text = map[string][]float64{}, map[string][]string{}
	for c, head := range rows[0] {
		for _, row := range rows[1:] {
			x, err := strconv.ParseFloat(row[c], 64)
			if err != nil {
				x = math.NaN()
			}
			num[head] = append(num[head], x)
			text[head] = append(text[head], row[c])
		}
	}
	return num, text
}
