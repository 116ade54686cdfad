package out

import (
	"go/ast"
	"go/parser"
	"go/token"
	"html"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"pourback/ingest/record"
	"pourback/report/internal/trial"
	"pourback/report/say"
)

// functionWords are those that bind an English sentence, and are no word of
// Spanish: where one is left, so is a part of a sentence.
var functionWords = wordSet(`the of and with your is are was were to for per each than from by on or not this that these those it its
	if when there have had been be an at but which who all more most only over under out what how they them their you we our where would
	could will does did into after before between while about any every other same such then yet still too some few nothing`)

func wordSet(text string) map[string]bool {
	words := map[string]bool{}
	addWords(words, text)
	return words
}

// readSpanish reports the English that is left in a text once names are taken out.
func readSpanish(t *testing.T, what, text string, names []string, spanish map[string]bool, strictly bool) {
	t.Helper()
	text = keyNames.ReplaceAllString(strings.Join(strings.Fields(html.UnescapeString(text)), " "), " ")
	slices.SortFunc(names, func(a, b string) int { return len(b) - len(a) }) // so that none is taken out of another
	for _, n := range names {
		text = without(text, n)
	}
	found := map[string]bool{}
	plainWords(cutWord.ReplaceAllString(text, " "), nil, found)
	for _, w := range slices.Sorted(maps.Keys(found)) {
		low := strings.ToLower(w)
		switch {
		case functionWords[low]:
			t.Errorf("%s says %q in English: …%s…", what, w, beside(text, w))
		case strictly && recordsOnly[low]:
			t.Errorf("%s says %q as the records have it: …%s…", what, w, beside(text, w))
		case strictly && !spanish[low]:
			t.Errorf("%s says %q, which is no word of the catalogue: …%s…", what, w, beside(text, w))
		}
	}
	if strings.Contains(text, "..") {
		t.Errorf("%s ends a sentence twice: …%s…", what, beside(text, ".."))
	}
}

// keyNames are the names of columns and of what a spec is asked for.
var keyNames = regexp.MustCompile(`\b[a-z]+(_[a-z]+)+\b`)

// recordsOnly are the words of the vocabularies that Spanish says in other words.
var recordsOnly = func() map[string]bool {
	english, spanish, v := map[string]bool{}, map[string]bool{}, say.New("es", "", "")
	for _, w := range recordNames() {
		if said := v.Word(w); said != w {
			addWords(english, w)
			addWords(spanish, said)
		}
	}
	for w := range spanish {
		delete(english, w)
	}
	return english
}()

// toWrite are the words that are said as they are to be written into a record.
var toWrite = []string{"crack, scaling, settlement, ponding, finish u other", "method pump", "cause clog", "finding crack", "reinforcement: rebar"}

// cutWord is what is left of a word where a label had to end.
var cutWord = regexp.MustCompile(`\pL+…`)

// without is a text without a name, where that stands as a word of its own.
func without(text, name string) string {
	var b strings.Builder
	for {
		at := strings.Index(text, name)
		if at < 0 {
			return b.String() + text
		}
		before, _ := utf8.DecodeLastRuneInString(text[:at])
		after, size := utf8.DecodeRuneInString(text[at+len(name):])
		if end := at + len(name); unicode.IsLetter(before) || size > 0 && unicode.IsLetter(after) {
			b.WriteString(text[:end])
		} else {
			b.WriteString(text[:at] + " ")
		}
		text = text[at+len(name):]
	}
}

// beside is what stands around a word of a text.
func beside(text, word string) string {
	at := max(0, strings.Index(text, word))
	if whole := regexp.MustCompile(`(?:^|\PL)` + regexp.QuoteMeta(word) + `(?:\PL|$)`).FindStringIndex(text); whole != nil {
		at = whole[0]
	}
	return strings.ToValidUTF8(strings.ReplaceAll(text[max(0, at-60):min(len(text), at+60)], "\n", " "), "")
}

// namesIn are what stands in records and specs as it was written: names, and the
// publications that are cited.
func namesIn(t *testing.T) []string {
	names := append(slices.Clone(toWrite), "Lot 14, Mesquite Lane", "Mesquite Lane", "Lot", "North", "River", "Nobody", "permit", "pourback", "Pourback", "Saltgrass Flatwork")
	s := trial.Company(t)
	for i := range s.Jobs {
		names = append(names, s.Jobs[i].Site, s.Jobs[i].Customer, s.Jobs[i].JobNo)
	}
	for i := range s.Placements {
		p := &s.Placements[i]
		names = append(names, p.Crew, p.PumpOutfit, p.Mix, p.Finish)
	}
	for i := range s.Visits {
		names = append(names, s.Visits[i].Note)
	}
	for _, source := range citations(t) {
		text, _ := strconv.Unquote(source)
		names = append(names, text)
	}
	for _, table := range record.Tables {
		for _, c := range table.Columns {
			names = append(names, c.Name)
		}
	}
	return slices.DeleteFunc(slices.Compact(names), func(n string) bool { return len(n) < 2 })
}

// recordNames are the words that a crew writes into the records.
func recordNames() (names []string) {
	for _, t := range record.Tables {
		names = append(names, t.Name)
		for _, c := range t.Columns {
			if c.Words != nil {
				names = append(names, c.Words.Words...)
			}
		}
	}
	return names
}

// catalogueWords are the words of the Spanish catalogue, as its source has them.
func catalogueWords(t *testing.T) map[string]bool {
	t.Helper()
	words := map[string]bool{}
	files, err := filepath.Glob(filepath.Join("..", "say", "es*.go"))
	if err != nil || len(files) < 5 {
		t.Fatal("the catalogue was not found", err)
	}
	for _, file := range files {
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(parsed, func(n ast.Node) bool {
			if kv, ok := n.(*ast.KeyValueExpr); ok {
				if value, ok := kv.Value.(*ast.BasicLit); ok {
					text, _ := strconv.Unquote(value.Value)
					addWords(words, text)
				}
			}
			return true
		})
	}
	for _, month := range []string{"ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic"} {
		words[month] = true
	}
	return words
}
