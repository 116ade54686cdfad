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

// TestSpanishIsOfOurMessages: each entry of the catalogue is a message or a word
// that is said somewhere, and holds the same values and as many forms.
func TestSpanishIsOfOurMessages(t *testing.T) {
	known := map[string]bool{}
	for _, m := range messages(t) {
		known[m.text] = true
	}
	for _, month := range months {
		known[month] = true
	}
	for _, passed := range []string{"{first} and {last}", "{first} or {last}", "{low} to {high}"} {
		known[passed] = true // by the machinery, which passes messages on
	}
	for english, said := range languages["es"].messages {
		if said == "" {
			t.Errorf("%q is said by nothing at all", english)
		}
		if !known[english] && !vocabulary[english] {
			t.Errorf("nothing says %q", english)
		}
		if got, want := namesOf(said), namesOf(english); !slices.Equal(got, want) {
			t.Errorf("%q holds %v, its English %v", said, got, want)
		}
		if strings.Count(said, "|") != strings.Count(english, "|") {
			t.Errorf("%q has other forms than %q", said, english)
		}
	}
}

func namesOf(message string) (names []string) {
	for _, found := range named.FindAllStringSubmatch(message, -1) {
		names = append(names, found[1])
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// TestSpanishSaysEverything: every message and every word of the vocabularies is in
// the catalogue.
func TestSpanishSaysEverything(t *testing.T) {
	said := languages["es"].messages
	for _, m := range messages(t) {
		if said[m.text] == "" {
			t.Errorf("%s: %q has no Spanish", m.at, m.text)
		}
	}
	for word := range vocabulary {
		if said[word] == "" {
			t.Errorf("the records' word %q has no Spanish", word)
		}
	}
	for _, month := range months {
		if said[month] == "" {
			t.Errorf("%s has no Spanish", month)
		}
	}
}

// TestSpanishIsGivenOnce: a message stands in one list of the catalogue, so that
// there is one place to correct it in.
func TestSpanishIsGivenOnce(t *testing.T) {
	at := map[string]string{}
	for _, m := range given(t) {
		if other, twice := at[m.text]; twice {
			t.Errorf("%q is given in %s and again at %s", m.text, other, m.at)
		}
		at[m.text] = m.at.String()
	}
	if len(at) != len(languages["es"].messages) {
		t.Errorf("%d entries stand in the source and %d in the catalogue: is a list left out of languages?", len(at), len(languages["es"].messages))
	}
}

// given are the entries of the catalogue with where they stand in the source.
func given(t *testing.T) (all []message) {
	t.Helper()
	set := token.NewFileSet()
	files, err := filepath.Glob("es*.go")
	if err != nil || len(files) == 0 {
		t.Fatal("the catalogue was not found", err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, decl := range f.Decls {
			list, ok := decl.(*ast.GenDecl)
			if !ok || list.Tok != token.VAR {
				continue
			}
			for _, spec := range list.Specs {
				if v := spec.(*ast.ValueSpec); !noMessages[v.Names[0].Name] {
					all = append(all, keysOf(set, v)...)
				}
			}
		}
	}
	return all
}

// noMessages are lists of the catalogue's files that hold something else.
var noMessages = map[string]bool{"spanishSigns": true, "spanishOnes": true}

func keysOf(set *token.FileSet, v *ast.ValueSpec) (keys []message) {
	for _, value := range v.Values {
		list, ok := value.(*ast.CompositeLit)
		if !ok {
			continue
		}
		for _, e := range list.Elts {
			if kv, ok := e.(*ast.KeyValueExpr); ok {
				if key, ok := kv.Key.(*ast.BasicLit); ok {
					text, _ := strconv.Unquote(key.Value)
					keys = append(keys, message{text: text, at: set.Position(key.Pos())})
				}
			}
		}
	}
	return keys
}

// TestSpanishLinks: "and" is e before the sound of an i, and "or" is u before that of
// an o (Real Academia Española, Diccionario panhispánico de dudas, "y" and "o").
func TestSpanishLinks(t *testing.T) {
	v := New("es", "", "")
	for _, c := range []struct{ got, want string }{
		{v.List([]string{"bomba", "canaleta"}), "bomba y canaleta"},
		{v.List([]string{"bomba", "imprevistos"}), "bomba e imprevistos"},
		{v.List([]string{"a", "b", "hilo"}), "a, b e hilo"},
		{v.List([]string{"agua", "hielo"}), "agua y hielo"},
		{v.List([]string{"North", "Ivy Court"}), "North e Ivy Court"},
		{v.Either([]string{"siete", "ocho"}), "siete u ocho"},
		{v.Either([]string{"7", "8"}), "7 u 8"},
		{v.Either([]string{"10", "11"}), "10 u 11"},
		{v.Either([]string{"100", "110"}), "100 o 110"},
		{v.Either([]string{"1,000", "11,000"}), "1,000 u 11,000"},
		{v.Either([]string{"malla", "hoja"}), "malla u hoja"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// TestSpanishDaysAndUnits: days in the order of Spanish with their months in small
// letters, numbers as the United States write them, signs of units in Spanish.
func TestSpanishDaysAndUnits(t *testing.T) {
	us, si := New("es", "us", ""), New("es", "si", "")
	day, err := record.ParseDate("2026-07-14")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ got, want string }{
		{us.Day(day), "14 de julio de 2026"},
		{us.Month("2026-10"), "octubre de 2026"},
		{us.MonthLetters(1), "ene"},
		{us.Yards(9.25), "9¼ yd³"},
		{us.Area(1320), "1,320 pies²"},
		{us.Feet(7.5), "7½ pies"},
		{us.Feet(1), "1 pie"},
		{us.Inches(4.5), "4½ pulg."},
		{us.Percent(0.09), "9\u00a0%"},
		{us.Drying(0.2), "0.2 lb/pie²/h"},
		{us.Degrees(92), "92 °F"},
		{si.Yards(10), "7.6 m³"},
		{si.Inches(4), "102 mm"},
		{us.say("Order: {yards}", with{"yards": us.Inches(4)}), "Pedir: 4 pulg."},
		{us.filled("Es de {depth}. Ya.", with{"depth": us.Inches(4)}), "Es de 4 pulg. Ya."},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}
