package say

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// message is one message of this package's source with the names of the values
// that are handed to it.
type message struct {
	text   string
	values []string // nil where they are not written out beside it
	plural bool
	at     token.Position
}

// messages reads all messages out of the source: the first argument of text,
// say, plural and As, both phrases of ShareOf, and the phrases of measures.
func messages(t *testing.T) []message {
	t.Helper()
	set := token.NewFileSet()
	var all []message
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 5 {
		t.Fatal("the source was not found", err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok {
				if m, ok := messageOf(t, set, call); ok {
					all = append(all, m)
				}
			}
			for _, phrase := range phrasesOf(n) {
				text, _ := strconv.Unquote(phrase.Value)
				all = append(all, message{text: text, at: set.Position(phrase.Pos())})
			}
			return true
		})
	}
	return all
}

// phrasesOf are the phrases of measures that a node hands on: those given to
// ShareOf, those that a field called Phrase is set to, and those that stand in a list.
func phrasesOf(n ast.Node) (phrases []*ast.BasicLit) {
	var set []ast.Expr
	switch n := n.(type) {
	case *ast.CallExpr:
		if fn, ok := n.Fun.(*ast.Ident); ok && fn.Name == "ShareOf" {
			set = n.Args
		}
	case *ast.ValueSpec:
		if list, ok := valueOf(n); ok && listed[n.Names[0].Name] {
			set = list.Elts
		}
	case *ast.KeyValueExpr:
		if key, ok := n.Key.(*ast.Ident); ok && key.Name == "Phrase" {
			set = []ast.Expr{n.Value}
		}
	case *ast.AssignStmt:
		for i, to := range n.Lhs {
			if field, ok := to.(*ast.SelectorExpr); ok && field.Sel.Name == "Phrase" && len(n.Rhs) == len(n.Lhs) {
				set = append(set, n.Rhs[i])
			}
		}
	}
	for _, e := range set {
		if lit, ok := e.(*ast.BasicLit); ok {
			phrases = append(phrases, lit)
		}
	}
	return phrases
}

func valueOf(v *ast.ValueSpec) (list *ast.CompositeLit, ok bool) {
	if len(v.Values) == 1 {
		list, ok = v.Values[0].(*ast.CompositeLit)
	}
	return list, ok
}

// passedOn are the functions of the machinery itself, which pass messages on.
var passedOn = regexp.MustCompile(`^(voice|language|words|calendar|list|problems)\.go$`)

// listed are lists of messages that are said by what matches them.
var listed = map[string]bool{"oddCodes": true, "oddities": true, "oddPlaces": true}

func messageOf(t *testing.T, set *token.FileSet, call *ast.CallExpr) (message, bool) {
	sel, ok := call.Fun.(*ast.SelectorExpr)
	if !ok || len(call.Args) == 0 || !slices.Contains([]string{"text", "say", "plural", "As"}, sel.Sel.Name) {
		return message{}, false
	}
	m := message{at: set.Position(call.Pos()), plural: sel.Sel.Name == "plural"}
	first := call.Args[0]
	if m.plural && len(call.Args) > 1 {
		first = call.Args[1]
	}
	lit, ok := first.(*ast.BasicLit)
	if !ok {
		if !passedOn.MatchString(filepath.Base(m.at.Filename)) {
			t.Errorf("%s: a message is written out where it is said, so that it can be found", m.at)
		}
		return message{}, false
	}
	m.text, _ = strconv.Unquote(lit.Value)
	last, ok := call.Args[len(call.Args)-1].(*ast.CompositeLit)
	if ok {
		m.values = []string{}
		for _, e := range last.Elts {
			if kv, ok := e.(*ast.KeyValueExpr); ok {
				if key, ok := kv.Key.(*ast.BasicLit); ok {
					name, _ := strconv.Unquote(key.Value)
					m.values = append(m.values, name)
				}
			}
		}
	}
	return m, true
}

var named = regexp.MustCompile(`\{([a-z_]+)\}`)

// TestMessagesHoldTheValuesTheyAreGiven: each name in braces is given a value,
// and each value has its place.
func TestMessagesHoldTheValuesTheyAreGiven(t *testing.T) {
	all := messages(t)
	if len(all) < 20 {
		t.Fatalf("only %d messages were found", len(all))
	}
	for _, m := range all {
		forms := strings.Split(m.text, "|")
		if m.plural != (len(forms) == 2) {
			t.Errorf("%s: %q: a plural has two forms, and nothing else has", m.at, m.text)
		}
		var names []string
		for _, found := range named.FindAllStringSubmatch(m.text, -1) {
			names = append(names, found[1])
		}
		for _, name := range names {
			if m.values != nil && !slices.Contains(m.values, name) && !(m.plural && name == "n") {
				t.Errorf("%s: %q has no value for {%s}", m.at, m.text, name)
			}
		}
		for _, name := range m.values {
			if !slices.Contains(names, name) {
				t.Errorf("%s: %q has no place for %s", m.at, m.text, name)
			}
		}
	}
}

// inTemplates are the sayings that templates of the site call by name.
func inTemplates(t *testing.T, used map[string]bool) {
	t.Helper()
	names, err := filepath.Glob(filepath.Join("..", "site", "templates", "*.html"))
	if err != nil || len(names) == 0 {
		t.Fatal("the templates of the site were not found", err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, found := range regexp.MustCompile(`(?:\.W|\$w)\.([A-Za-z]+)`).FindAllStringSubmatch(string(text), -1) {
			used[found[1]] = true
		}
	}
}

// TestEveryWordIsUsed: a function of this package that nothing calls says
// nothing; it is taken out.
func TestEveryWordIsUsed(t *testing.T) {
	defined, used := map[string]bool{}, map[string]bool{}
	set := token.NewFileSet()
	err := filepath.WalkDir(filepath.Join("..", ".."), func(path string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			return err
		}
		ours := f.Name.Name == "say"
		for _, decl := range f.Decls {
			if fn, ok := decl.(*ast.FuncDecl); ok && ours {
				defined[fn.Name.Name] = true
			}
		}
		names := map[*ast.Ident]bool{}
		for _, decl := range f.Decls {
			if fn, ok := decl.(*ast.FuncDecl); ok {
				names[fn.Name] = true
			}
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if id, ok := n.(*ast.Ident); ok && !names[id] {
				used[id.Name] = true
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	inTemplates(t, used)
	for name := range defined {
		if !used[name] && !yetToBeUsed[name] {
			t.Errorf("nothing calls %s", name)
		}
	}
}

// yetToBeUsed are sayings of quantities that topics will take up.
var yetToBeUsed = map[string]bool{"DegreesApart": true, "Either": true,
	"languageCodes": true}
