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

// rooms are the folders of the house with what each may import of ours, from
// left to right: ingest, analysis, report, the door. A folder that is not named
// here is no room, and a room imports what its line names and no more; a name
// that ends in /… stands for all folders below it.
var rooms = []struct {
	dir string
	may string
}{
	{"migrations", ""},
	{"analysis/trade", ""}, // published formulas, which know nothing of ours
	{"analysis/shape", ""}, // geometry, which knows nothing of concrete's price
	{"analysis/layout", "analysis/shape analysis/trade"},
	{"analysis/clock", "analysis/trade"},
	{"ingest/record", ""},
	{"ingest/outfile", ""},
	{"ingest/picture", "ingest/record"},
	{"ingest/sheet", "ingest/record"},
	{"ingest/spec", "ingest/record ingest/sheet"},
	{"ingest/invented", "ingest/record analysis/trade"},
	{"ingest/store", "ingest/record ingest/outfile migrations"},
	{"ingest/store/storetest", "ingest/store ingest/record"},
	{"ingest", "ingest/record ingest/sheet ingest/spec ingest/store ingest/outfile ingest/picture"},

	{"analysis/stat", ""},
	{"analysis/stat/interval", "analysis/stat"},
	{"analysis/stat/regress", "analysis/stat"},
	{"analysis/stat/survival", "analysis/stat"},
	{"analysis/stat/control", "analysis/stat analysis/stat/interval"},
	{"analysis/stat/resample", "analysis/stat analysis/stat/interval"},
	{"analysis/stat/pool", "analysis/stat analysis/stat/regress"},
	{"analysis/stat/decide", "analysis/stat analysis/stat/interval analysis/stat/resample"},
	{"analysis/stat/score", "analysis/stat analysis/stat/interval analysis/stat/resample"},

	{"analysis/figure", "ingest/record analysis/stat/…"},
	{"analysis/setting", "ingest/record analysis/stat/… analysis/trade"},
	{"analysis/concrete", base},
	{"analysis/cracks", base},
	{"analysis/work", base + " analysis/cracks"},
	{"analysis/steel", base + " analysis/cracks"},
	{"analysis/money", base + " analysis/cracks analysis/work"},
	{"analysis/visits", base + " analysis/cracks analysis/work analysis/money"},
	{"analysis/bid", base + " analysis/clock analysis/shape analysis/layout analysis/concrete analysis/cracks analysis/work analysis/steel"},
	{"analysis/backtest", base + " analysis/concrete analysis/cracks analysis/work analysis/money"},
	{"analysis/findings", base + " analysis/backtest analysis/concrete analysis/cracks analysis/work analysis/steel analysis/money"},
	{"analysis", base + " analysis/backtest " + topics},
	{"analysis/internal/reftest", ""},
	{"analysis/internal/trial", "ingest/record ingest/invented"},

	{"report/say", "ingest/record analysis/trade analysis/shape " + answers},
	{"report/chart", "ingest/record report/say " + answers},
	{"report/page", "ingest/record analysis/trade analysis/shape report/say report/chart " + answers},
	{"report/out", "ingest/record ingest/outfile report/say report/chart report/page " + answers},
	{"report/internal/ics", ""},    // calendar files, for tests
	{"report/internal/browse", ""}, // Chromium and Firefox, for tests
	{"report/internal/trial", "ingest/record ingest/invented analysis analysis/shape analysis/steel analysis/setting analysis/figure analysis/clock analysis/bid"},

	{"report/desk", "ingest/record ingest/spec ingest/store analysis analysis/bid analysis/setting report/say report/page report/out"},
	{"report/site", "analysis/stat analysis/trade ingest/picture ingest/spec report/chart report/desk ingest ingest/record ingest/sheet ingest/store ingest/invented report/say report/page report/out " + answers},

	{"cmd/pourback", "ingest/… analysis/… report/… migrations"},
}

const (
	base    = "ingest/record analysis/figure analysis/setting analysis/trade analysis/stat/…"
	topics  = "analysis/concrete analysis/cracks analysis/work analysis/steel analysis/money analysis/visits analysis/findings"
	answers = "analysis analysis/figure analysis/setting analysis/clock analysis/bid analysis/backtest " + topics
)

// inTests are what tests may import besides: benches of their own, invented
// records, and the wings to the left of the room they stand in.
var inTests = map[string]string{
	"ingest":   "ingest/…",
	"analysis": "analysis/… ingest/record ingest/invented",
	"report":   "analysis/… ingest/… report/…",
	"cmd":      "",
}

// TestImportsRunOneWay reads the import graph and holds it against the policy.
func TestImportsRunOneWay(t *testing.T) {
	root := filepath.Join("..", "..")
	met := map[string]int{}
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && file != root || d.Name() == "testdata") {
			return fs.SkipDir
		}
		if filepath.Ext(file) != ".go" {
			return nil
		}
		rel, err := filepath.Rel(root, file)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		met[path.Dir(rel)]++
		checkImports(t, file, rel)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rooms {
		if met[r.dir] == 0 {
			t.Errorf("the policy names %s, where no Go file stands", r.dir)
		}
	}
}

func checkImports(t *testing.T, file, rel string) {
	parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
	if err != nil {
		t.Error(err)
		return
	}
	dir := path.Dir(rel)
	allowed, known := mayImport(dir)
	if !known {
		t.Errorf("%s stands in no room of the house: say in this test what %s may import", rel, dir)
		return
	}
	if strings.HasSuffix(rel, "_test.go") {
		wing, _, _ := strings.Cut(dir, "/")
		allowed = append(append(slices.Clone(allowed), strings.Fields(inTests[wing])...), dir)
	}
	for _, imp := range parsed.Imports {
		target, ours := strings.CutPrefix(strings.Trim(imp.Path.Value, `"`), "pourback/")
		if ours && !slices.ContainsFunc(allowed, func(a string) bool { return covers(a, target) }) {
			t.Errorf("%s imports %s, which %s may not", rel, target, dir)
		}
	}
}

// mayImport is what the policy lets a folder import, and whether it knows it.
func mayImport(dir string) (allowed []string, known bool) {
	for _, r := range rooms {
		if r.dir == dir {
			return strings.Fields(r.may), true
		}
	}
	return nil, false
}

// covers says whether a name of the policy stands for a folder.
func covers(name, dir string) bool {
	if wing, all := strings.CutSuffix(name, "/…"); all {
		return dir == wing || strings.HasPrefix(dir, wing+"/")
	}
	return name == dir
}

// TestThePolicyHasNoRing follows the policy itself: no room may reach itself.
func TestThePolicyHasNoRing(t *testing.T) {
	place := map[string]int{}
	for i, r := range rooms {
		place[r.dir] = i
	}
	for i, r := range rooms {
		for _, name := range strings.Fields(r.may) {
			for dir, at := range place {
				if covers(name, dir) && at >= i && dir != "ingest/store/storetest" {
					t.Errorf("%s may import %s, which stands to the right of it", r.dir, dir)
				}
			}
		}
	}
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
