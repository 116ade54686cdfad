package say

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pourback/ingest/record"
)

// TestWhatIsOddIsSaidInEveryLanguage reads the rules that find what is odd about a
// record: each of their codes, and each text that they write, is known here, so
// that it is said in the reader's language.
func TestWhatIsOddIsSaidInEveryLanguage(t *testing.T) {
	w := Records{New("qps", "", "")}
	found := oddTexts(t)
	if len(found) < 40 {
		t.Fatalf("only %d texts of rules were found", len(found))
	}
	for text, at := range found {
		if said := w.oddText(text); strings.Contains(" "+said, " "+firstWord(text)) {
			t.Errorf("%s: %q is said in English: %q", at, text, said)
		}
	}
	for code, at := range oddCodesOfRules(t) {
		if words := strings.ReplaceAll(code, "-", " "); !slices.Contains(oddCodes, words) {
			t.Errorf("%s: the code %q is not said", at, code)
		}
	}
}

// firstWord is the first that is not made up.
func firstWord(s string) string {
	words := strings.Fields(s)
	return words[slices.IndexFunc(words, func(w string) bool { return !strings.HasPrefix(w, "X1") })]
}

// TestOddityInEnglishIsAsItWasWritten: what finds a sentence changes nothing of it
// in the language in which it was written.
func TestOddityInEnglishIsAsItWasWritten(t *testing.T) {
	w := Records{New("en", "si", "")}
	for text := range oddTexts(t) {
		if said := w.oddText(text); said != w.inWords(text) {
			t.Errorf("%q became %q", text, said)
		}
	}
}

func TestOddityInSpanish(t *testing.T) {
	w := Records{New("es", "", "")}
	for _, c := range []struct{ text, want string }{
		{"thicker than 24 in", "espesor de más de 24 pulg."},
		{"cannot be beside neat_yd and planned_yd: kept, and left out of every figure", "no puede ser junto a concreto según el plano y concreto pedido al principio: se guarda y queda fuera de todas las cifras"},
		{"correct it; if it is right, say so: pourback fix J-1/A area_sqft=9", "corregirlo; si es correcto, confirmarlo: pourback fix J-1/A area_sqft=9"},
		{"used 40 % more than the drawing; 6 % more was to be expected", "se usó 40 % más que el plano; se esperaba 6 % más"},
		{"no actual amount for disposal", "sin importe real: tiro de escombro"},
		{"more than 12 million", "más de 12 millones"},
		{"nearest to placements, but without the columns job_no, use; add what is missing; a table of placements needs job_no, use", "lo más parecido: tramos, pero sin las columnas: núm. de trabajo y para qué es la losa; agregar lo que falta; una tabla de tramos necesita: núm. de trabajo y para qué es la losa"},
	} {
		if got := strings.ReplaceAll(w.oddText(c.text), "\u00a0", " "); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	english := Records{New("", "", "")}
	if got, want := english.oddText("area and thickness, or neat_yd; if it is right, say so: pourback fix J-1/A area_sqft=9"), "area and thickness, or concrete on the drawing; if it is right, say so: pourback fix J-1/A area_sqft=9"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := w.Where(record.Problem{Record: "SF-12 A visit 2026-07-01"}); got != "SF-12 A visita 2026-07-01" {
		t.Error(got)
	}
	if got := w.Where(record.Problem{Record: "SF-12 A"}); got != "SF-12 A" {
		t.Error(got)
	}
}

// oddTexts are the texts that the rules write, with where they do: of warn, of
// problem, of visitProblem, of misfit and of Problem the literals, what stands
// between them made up.
func oddTexts(t *testing.T) map[string]string {
	t.Helper()
	texts := map[string]string{}
	eachOfRules(t, func(set *token.FileSet, n ast.Node) {
		add := func(e ast.Expr) {
			if text, ok := textOf(e); ok && text != "" {
				texts[text] = set.Position(e.Pos()).String()
			}
		}
		switch n := n.(type) {
		case *ast.CallExpr:
			if name := calledName(n); name == "warn" || name == "problem" && len(n.Args) == 4 || name == "visitProblem" {
				for _, e := range n.Args[len(n.Args)-2:] {
					add(e)
				}
			}
		case *ast.CompositeLit:
			if typ, ok := n.Type.(*ast.Ident); ok && typ.Name == "misfit" && len(n.Elts) == 4 {
				add(n.Elts[2])
			}
		case *ast.KeyValueExpr:
			if key, ok := n.Key.(*ast.Ident); ok && (key.Name == "Wrong" || key.Name == "Right") {
				add(n.Value)
			}
		case *ast.AssignStmt:
			if field, ok := n.Lhs[0].(*ast.SelectorExpr); ok && (field.Sel.Name == "Wrong" || field.Sel.Name == "Right") {
				add(n.Rhs[0])
			}
		}
	})
	return texts
}

// oddCodesOfRules are the codes that the rules give.
func oddCodesOfRules(t *testing.T) map[string]string {
	t.Helper()
	codes := map[string]string{record.LeftOut: "", record.UnlikeEvents: "", "unusual-value": "", "impossible-value": ""}
	eachOfRules(t, func(set *token.FileSet, n ast.Node) {
		var e ast.Expr
		switch n := n.(type) {
		case *ast.CallExpr:
			switch name := calledName(n); {
			case name == "warn":
				e = n.Args[0]
			case name == "problem" && len(n.Args) == 4:
				e = n.Args[1]
			case name == "visitProblem":
				e = n.Args[2]
			}
		case *ast.KeyValueExpr:
			if key, ok := n.Key.(*ast.Ident); ok && key.Name == "Code" {
				e = n.Value
			}
		}
		if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			code, _ := strconv.Unquote(lit.Value)
			codes[code] = set.Position(lit.Pos()).String()
		}
	})
	return codes
}

func calledName(n *ast.CallExpr) string {
	switch fn := n.Fun.(type) {
	case *ast.SelectorExpr:
		return fn.Sel.Name
	case *ast.Ident:
		return fn.Name
	}
	return ""
}

// textOf is a text of literals, with what stands between them made up.
func textOf(e ast.Expr) (text string, literal bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		text, err := strconv.Unquote(e.Value)
		return text, err == nil
	case *ast.BinaryExpr:
		left, one := textOf(e.X)
		right, other := textOf(e.Y)
		return left + right, one || other
	case *ast.CallExpr:
		switch name := calledName(e); {
		case name == "Sprintf":
			format, _ := textOf(e.Args[0])
			return strings.NewReplacer("%s", "X1", "%q", `"X1"`, "%v", "X1").Replace(format), true
		case name == "moreText":
			return "7 % more", false
		case name == "Or":
			return textOf(e.Args[len(e.Args)-1])
		}
	}
	return "X1", false
}

// eachOfRules calls do with every node of the rooms that write what is odd.
func eachOfRules(t *testing.T, do func(set *token.FileSet, n ast.Node)) {
	t.Helper()
	for _, folder := range []string{"ingest/record", "analysis", "analysis/concrete", "analysis/visits"} {
		files, err := filepath.Glob(filepath.Join("..", "..", folder, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatal(folder, err)
		}
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			set := token.NewFileSet()
			f, err := parser.ParseFile(set, name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if n != nil {
					do(set, n)
				}
				return true
			})
		}
	}
}
