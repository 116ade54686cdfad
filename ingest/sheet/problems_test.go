package sheet

import (
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pourback/ingest/record"
)

var update = flag.Bool("update", false, "write the golden wording anew; read it before you keep it")

var dayOfTests = record.DateOf(2025, 12, 31)

// special are the options that some of the inputs need.
var special = map[string]Options{
	"file-too-large":   {Limits: Limits{File: 60}},
	"row-too-long":     {Limits: Limits{Row: 300}},
	"too-many-columns": {Limits: Limits{Columns: 4}},
	"unknown-encoding": {Encoding: "latin-9"},
}

// everything reads a file and lists all that is said about it, in order.
func everything(path string, opt Options) (said []record.Problem, rows int) {
	opt.Today = dayOfTests
	f, err := Open(path, opt)
	if err != nil {
		return []record.Problem{err.(*Refusal).Problem}, 0
	}
	defer f.Close()
	for _, t := range f.Tables {
		for row, err := range t.Rows() {
			if err != nil {
				return []record.Problem{err.(*Refusal).Problem}, 0
			}
			rows++
			said = append(said, row.Problems...)
		}
		said = append(said, t.Problems...)
	}
	return said, rows
}

// TestProblems is the catalogue of everything this package says: for each code
// an input that brings it about, and the wording as users read it.
func TestProblems(t *testing.T) {
	var b strings.Builder
	paths, _ := filepath.Glob("testdata/problems/*.*s[vx]*")
	have := map[string]bool{}
	for _, path := range paths {
		code := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
		have[code] = true
		said, _ := everything(path, special[code])
		found := false
		for _, p := range said {
			found = found || p.Code == code
			fmt.Fprintf(&b, "%s %s: %s\n", p.Severity, p.Code, p)
		}
		if !found {
			t.Errorf("%s does not bring about its problem", path)
		}
	}
	for _, code := range append(ownCodes(t), recordCodes(t)...) {
		if !have[code] {
			t.Errorf("no input shows %s", code)
		}
	}
	golden(t, "testdata/problems/wording.txt", b.String())
}

// golden compares with a file that a person has read.
func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; now:\n%s", path, got)
	}
}

// ownCodes are the codes declared in codes.go.
func ownCodes(t *testing.T) (codes []string) {
	return append(codes, literals(t, "codes.go")...)
}

// recordCodes are the codes that record's rules for a single row use: the first
// argument of fail and warn, and the two of ranges.
func recordCodes(t *testing.T) []string {
	codes := []string{"impossible-value", "unusual-value", "dates-out-of-order"}
	for _, file := range []string{"placement.go", "event.go", "job.go", "cost.go"} {
		tree, err := parser.ParseFile(token.NewFileSet(), "../record/"+file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok && len(call.Args) == 5 {
				if sel, ok := call.Fun.(*ast.SelectorExpr); ok && (sel.Sel.Name == "fail" || sel.Sel.Name == "warn") {
					code, _ := strconv.Unquote(call.Args[0].(*ast.BasicLit).Value)
					codes = append(codes, code)
				}
			}
			return true
		})
	}
	if len(codes) < 20 {
		t.Errorf("only %d codes found in record", len(codes))
	}
	return codes
}

func literals(t *testing.T, file string) (values []string) {
	tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		if lit, ok := n.(*ast.BasicLit); ok {
			value, _ := strconv.Unquote(lit.Value)
			values = append(values, value)
		}
		return true
	})
	return values
}
