package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// mayImport states who may lean on whom, from left to right through the house:
// ingest, analysis, report. A folder stands for all below it, the longest name
// that fits counts, and a folder may always import what is below itself.
var mayImport = map[string][]string{
	"ingest/record":          {},
	"ingest/sheet":           {"ingest/record"},
	"ingest/invented":        {"ingest/record"},
	"ingest/outfile":         {},
	"migrations":             {},
	"ingest/store":           {"ingest/record", "ingest/outfile", "migrations"},
	"ingest":                 {"ingest/record", "ingest/sheet", "ingest/store", "ingest/outfile"},
	"analysis/stat":          {"analysis/stat"},
	"analysis/trade":         {},
	"analysis":               {"ingest/record", "analysis/stat", "analysis/trade"},
	"report":                 {"analysis", "ingest/record", "ingest/outfile"},
	"report/site":            {"report", "analysis", "ingest"},
	"cmd":                    {"ingest", "analysis", "report", "migrations"},
	"analysis/internal":      {},
	"ingest/store/storetest": {"ingest/store", "ingest/record"},
}

// onlyInTests may be imported by tests besides.
var onlyInTests = []string{"analysis/internal", "ingest/store/storetest", "ingest/invented", "ingest", "analysis/stat", "analysis"}

// TestImportsRunOneWay reads the import graph and holds it against the policy.
func TestImportsRunOneWay(t *testing.T) {
	root := filepath.Join("..", "..")
	seen := 0
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && strings.HasPrefix(d.Name(), ".") && file != root {
			return fs.SkipDir
		}
		if filepath.Ext(file) != ".go" {
			return nil
		}
		seen++
		rel, err := filepath.Rel(root, file)
		if err != nil {
			return err
		}
		checkImports(t, file, filepath.ToSlash(rel))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 20 {
		t.Fatalf("only %d Go files were found below %s", seen, root)
	}
}

func checkImports(t *testing.T, file, rel string) {
	parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
	if err != nil {
		t.Error(err)
		return
	}
	dir := path.Dir(rel)
	room := roomOf(dir)
	if room == "" {
		t.Errorf("%s stands in no room of the house", rel)
		return
	}
	allowed := mayImport[room]
	if strings.HasSuffix(rel, "_test.go") || strings.Contains(dir, "storetest") {
		allowed = append(slices.Clone(allowed), onlyInTests...)
	}
	for _, imp := range parsed.Imports {
		target, ours := strings.CutPrefix(strings.Trim(imp.Path.Value, `"`), "pourback/")
		if !ours || within(target, dir) || within(target, room) && room != "ingest" && room != "analysis" {
			continue
		}
		if !slices.ContainsFunc(allowed, func(a string) bool { return within(target, a) && !beyond(target, a) }) {
			t.Errorf("%s imports %s, which %s may not", rel, target, room)
		}
	}
}

// beyond says that target, though below allowed, is a room with a rule of its
// own that allowed does not cover: report is not report/site.
func beyond(target, allowed string) bool {
	return roomOf(target) != allowed && allowed == "report" && within(target, "report/site")
}

func within(target, dir string) bool { return target == dir || strings.HasPrefix(target, dir+"/") }

// roomOf is the longest name in the policy that holds dir.
func roomOf(dir string) string {
	for d := dir; d != "."; d = path.Dir(d) {
		if _, ok := mayImport[d]; ok {
			return d
		}
	}
	return ""
}

// TestHouseFront holds the top of the tree to what the house has.
func TestHouseFront(t *testing.T) {
	front := []string{"DEVELOPERS.md", "README.md", "LICENSE", "NOTICE", "analysis", "cmd", "go.mod", "go.sum", "ingest", "migrations", "report", "testdata"}
	entries, err := filepath.Glob(filepath.Join("..", "..", "*"))
	if err != nil || len(entries) == 0 {
		t.Fatal("the top of the tree was not found", err)
	}
	for _, e := range entries {
		name := filepath.Base(e)
		if !strings.HasPrefix(name, ".") && !slices.Contains(front, name) && name != "demo" && name != "pourback" && name != "pourback.db" && name != "report" {
			t.Errorf("%s stands at the top of the tree, where only %v do", name, front)
		}
	}
}
