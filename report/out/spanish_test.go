package out

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
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

	"github.com/xuri/excelize/v2"

	"pourback/analysis"
	"pourback/analysis/backtest"
	"pourback/analysis/bid"
	"pourback/analysis/concrete"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
	"pourback/report/page"
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

// TestNoEnglishIsLeftInSpanish reads all that is written of the trial companies in
// Spanish, in both systems of units: pages, the documents around them with their
// titles and labels, the terminal, workbooks and calendars. No function word of
// English is in them, and of a company whose names are known each word is one of
// the catalogue's, a name or a sign.
func TestNoEnglishIsLeftInSpanish(t *testing.T) {
	spanish := catalogueWords(t)
	for _, units := range []string{"us", "si"} {
		for name, f := range inAllStates(t) {
			opt := page.Options{Lang: "es", Units: units, WithSites: true, Bids: trial.SomeBids("Lot 14, Mesquite Lane", "J-1")}
			names := namesIn(t)
			if name == "hostile" {
				names = append(names, trial.Hostile...)
				opt.Company = trial.Hostile[9]
			}
			for what, text := range inSpanish(t, f, opt) {
				readSpanish(t, fmt.Sprintf("%s of %s in %s", what, name, units), text, names, spanish, name != "hostile")
			}
		}
	}
}

// TestNoEnglishIsLeftOfBids holds what other commands show to the same: bids, kept
// bids, the last load, the walk through the past, the crew's sheet.
func TestNoEnglishIsLeftOfBids(t *testing.T) {
	spanish := catalogueWords(t)
	h := record.NewHistory(trial.AsOf, trial.Company(t))
	walked, err := backtest.New(h, setting.Options{})
	if err != nil {
		t.Fatal(err)
	}
	none := record.NewHistory(trial.AsOf, record.Set{})
	for _, units := range []string{"us", "si"} {
		opt := page.Options{Lang: "es", Units: units}
		at := concrete.Progress{PlacedYd: 6, Covered: 0.6, OnHandYd: 2, OrderedYd: 8}
		pages := map[string][]page.Page{
			"kept bids": {page.BidsPage(trial.SomeBids("Lot 14, Mesquite Lane", "J-1"), opt), page.BidsPage(&bid.Record{}, opt)},
			"backtest":  {page.BacktestPage(walked, opt)},
		}
		for name, history := range map[string]*record.History{"company": h, "no records": none} {
			for i, s := range trialSpecs() {
				made, err := bid.Make(history, s, setting.Options{})
				if err != nil {
					t.Fatal(err)
				}
				what := fmt.Sprintf("bid %d of %s", i, name)
				pages[what] = []page.Page{page.BidPage(made, opt)}
				call, err := bid.Balance(history, s, setting.Options{}, 0, at)
				if err != nil {
					t.Fatal(err)
				}
				pages[what+", last load"] = []page.Page{page.BalancePage(call, at, opt)}
				var sheet bytes.Buffer
				if err := WriteBid(&sheet, made, opt); err != nil {
					t.Fatal(err)
				}
				readSpanish(t, what+", sheet, "+units, readOf(sheet.String()), namesIn(t), spanish, true)
				sheet.Reset()
				if err := WritePourDay(&sheet, page.PourDay{Bid: made, ID: 3, Reckoner: madeUpReckoner}, opt); err != nil {
					t.Fatal(err)
				}
				readSpanish(t, what+", pour day, "+units, readOf(sheet.String()), append(namesIn(t), recordNames()...), spanish, true)
			}
		}
		pages["made-up bid"] = []page.Page{page.BidPage(trial.MadeUpBid(t), opt)}
		for what, p := range pages {
			readSpanish(t, what+" in "+units, saidOn(t, p)+onTerminal(t, p, 80, false), namesIn(t), spanish, true)
		}
	}
}

// TestAnswersOfJSONAreSpanish: keys and codes stay, and sentences follow the
// language.
func TestAnswersOfJSONAreSpanish(t *testing.T) {
	v := say.New("es", "", "")
	var factors, bids bytes.Buffer
	if err := errors.Join(JSON(&factors, trial.CompanyFactors(t), v), BidJSON(&bids, 3, trial.MadeUpBid(t), v)); err != nil {
		t.Fatal(err)
	}
	n := 0
	for what, text := range map[string][]byte{"factors": factors.Bytes(), "bid": bids.Bytes()} {
		var doc any
		if err := json.Unmarshal(text, &doc); err != nil {
			t.Fatal(err)
		}
		eachAnswer(doc, func(answer string) {
			n++
			readSpanish(t, "JSON of "+what, answer, namesIn(t), catalogueWords(t), true)
		})
	}
	if n < 8 {
		t.Errorf("only %d answers were found", n)
	}
}

func eachAnswer(doc any, do func(string)) {
	switch doc := doc.(type) {
	case map[string]any:
		for key, v := range doc {
			if text, ok := v.(string); ok && key == "answer" {
				do(text)
			}
			eachAnswer(v, do)
		}
	case []any:
		for _, v := range doc {
			eachAnswer(v, do)
		}
	}
}

// trialSpecs are bids of all that a bid can be asked for.
func trialSpecs() []bid.Spec {
	return []bid.Spec{
		{Name: "Lot 14, Mesquite Lane", On: "2026-07", Crew: "Nobody", HaulMin: 70, Items: []bid.Item{{Item: "permit", Amount: 150}}, Placements: []bid.Placement{
			{Use: "driveway", LengthFt: 44, WidthFt: 24, NotchLengthFt: 12, NotchWidthFt: 8, ThicknessIn: 4, Method: "pump", Reinforcement: "rebar", Base: "crushed base"},
			{Use: "walkway", AreaSqft: 120, ThicknessIn: 3, Day: 2, JointCut: "tooled"}}},
		{On: "2026-01-14", Placements: []bid.Placement{
			{Use: "shed slab", LengthFt: 20, WidthFt: 20, ThicknessIn: 4, EdgeWidthIn: 12, EdgeDepthIn: 12, Reinforcement: "mesh", Bar: "6x6-W2.9", JointCut: "early-entry"},
			{Use: "steps", Steps: bid.Steps{Risers: 4, RiseIn: 7, TreadIn: 12, WidthFt: 4, Solid: true}},
			{Use: "patio", LengthFt: 30, WidthFt: 20, ThicknessIn: 4, Reinforcement: "fiber", Against: []int{1}}}},
	}
}

// inAllStates are answers to companies of every size, and to one with hostile names.
func inAllStates(t *testing.T) map[string]*analysis.Factors {
	asked := setting.Options{Visits: setting.VisitOptions{Asked: true}}
	all := trial.Histories(t)
	all["nothing, visits asked"] = trial.FactorsOf(t, record.Set{}, asked)
	all["company, visits asked"] = trial.FactorsOf(t, trial.Company(t), asked)
	all["one placement"] = trial.FactorsOf(t, trial.OnePlacement(), asked)
	all["hostile"] = trial.FactorsOf(t, trial.HostileEverywhere(t), asked)
	return all
}

// inSpanish is all that is written of factors, each by its name.
func inSpanish(t *testing.T, f *analysis.Factors, opt page.Options) map[string]string {
	pages := page.Pages(f, opt)
	all := map[string]string{}
	for _, p := range pages {
		all["page "+p.Slug] = saidOn(t, []page.Page{p})
	}
	all["the document"], all["the terminal"] = readOf(single(t, pages)), onTerminal(t, pages, 80, false)
	all["the workbook"] = workbookText(t, pages)
	if f.Margin != nil {
		var letter bytes.Buffer
		if err := WriteLetter(&letter, page.MonthLetter(f, opt)); err != nil {
			t.Fatal(err)
		}
		all["the letter"] = readOf(letter.String())
	}
	if f.Visits != nil {
		if len(f.Visits.Due)+len(f.Visits.Overdue) > 0 {
			_, events := calendarOf(t, f, CalendarOptions{Lang: "es", Units: opt.Units})
			for _, e := range events {
				all["the calendar"] += e["SUMMARY"] + "\n" + e["DESCRIPTION"] + "\n"
			}
		}
		all["the visits"] = onTerminal(t, page.VisitPages(f, opt), 80, false)
	}
	return all
}

// saidOn is what pages say, in sentences, cells, charts and around them.
func saidOn(t *testing.T, pages []page.Page) string {
	var said []string
	for _, p := range pages {
		said = append(append(said, words(p)...), around(t, p)...)
	}
	return strings.Join(said, "\n") + "\n"
}

func workbookText(t *testing.T, pages []page.Page) string {
	var b bytes.Buffer
	if err := WriteWorkbook(&b, pages); err != nil {
		t.Fatal(err)
	}
	x, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	var said []string
	for _, sheet := range x.GetSheetList() {
		said = append(said, sheet)
		for _, row := range raw(t, x, sheet) {
			said = append(said, row...)
		}
	}
	return strings.Join(said, "\n")
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

// TestSentencesBeginWithACapital: months and words of the records are written small
// in Spanish, and not where they begin a sentence.
func TestSentencesBeginWithACapital(t *testing.T) {
	for _, lang := range say.Languages() {
		for name, f := range inAllStates(t) {
			if name == "hostile" {
				continue
			}
			for _, p := range page.Pages(f, page.Options{Lang: lang, Bids: trial.SomeBids("Lot 14, Mesquite Lane", "J-1")}) {
				said := slices.Concat([]string{p.Title, p.Answer, p.Basis, p.Reading}, p.Notes, p.Do, p.Method)
				for _, e := range p.Exhibits {
					said = append(said, e.Title, e.Says)
				}
				for _, s := range said {
					if r, _ := utf8.DecodeRuneInString(s); unicode.IsLower(r) {
						t.Errorf("%s of %s in %s: %q", p.Slug, name, lang, s)
					}
				}
			}
		}
	}
}
