package out

import (
	"bytes"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"pourback/analysis/backtest"
	"pourback/analysis/bid"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
	"pourback/report/page"
)

// yetInEnglish are the pages whose words have not all moved into the room that
// says them.
var yetInEnglish = map[string]bool{}

// TestPagesAreSaidInAnyLanguage writes the report in a language made up of
// letters that no English has. What is left in plain letters is data (names and
// words of the records), a sign of a unit, a command or the name of a published
// source; anything else was never handed to the voice.
func TestPagesAreSaidInAnyLanguage(t *testing.T) {
	f := trial.CompanyFactors(t)
	data := dataWords(trial.Company(t))
	for _, source := range citations(t) {
		addWords(data, source)
	}
	for i := range f.Checks { // what is wrong with a row is said as it was when it was handed in
		addWords(data, f.Checks[i].String()+" "+strings.ReplaceAll(f.Checks[i].Code, "-", " "))
	}
	for _, units := range []string{"us", "si"} {
		for _, p := range page.Pages(f, page.Options{Lang: "qps", Units: units, Bids: trial.SomeBids("Lot 14, Mesquite Lane", "J-1")}) {
			if yetInEnglish[p.Slug] {
				continue
			}
			left := map[string]bool{}
			for _, said := range append(words(p), around(t, p)...) {
				plainWords(said, data, left)
			}
			for w := range left {
				t.Errorf("%s in %s says %q in English", p.Slug, units, w)
			}
		}
	}
}

// TestBidsAreSaidInAnyLanguage holds the pages that a command of their own
// writes, on paper and on the screen, to the same: a bid, kept bids, the walk
// through the past and the crew's sheet.
func TestBidsAreSaidInAnyLanguage(t *testing.T) {
	set := trial.Company(t)
	data := dataWords(set)
	h := record.NewHistory(trial.AsOf, set)
	walked, err := backtest.New(h, setting.Options{})
	if err != nil {
		t.Fatal(err)
	}
	made, err := bid.Make(h, bid.Spec{Name: "Lot 14, Mesquite Lane", On: "2026-07", Crew: "Nobody", HaulMin: 70, Items: []bid.Item{{Item: "permit", Amount: 150}}, Placements: []bid.Placement{
		{Use: "driveway", LengthFt: 44, WidthFt: 24, NotchLengthFt: 12, NotchWidthFt: 8, ThicknessIn: 4, Method: "pump", Reinforcement: "rebar", Base: "crushed base"},
		{Use: "walkway", AreaSqft: 120, ThicknessIn: 3, Day: 2, JointCut: "tooled"}}}, setting.Options{})
	if err != nil {
		t.Fatal(err)
	}
	addWords(data, "Lot 14, Mesquite Lane, Nobody, permit, haul_min")
	kept := keptBid(made)
	compared := bid.Compare(&bid.Kept{ID: 3, Bid: made}, &bid.Kept{ID: 5, Version: 2, Bid: trial.MadeUpBid(t)})
	for _, change := range compared.Spec { // keys of a spec and what was entered for them
		addWords(data, change.Of+" "+change.Key+" "+change.One+" "+change.Other)
	}
	for _, source := range citations(t) {
		addWords(data, source)
	}
	for _, units := range []string{"us", "si"} {
		opt := page.Options{Lang: "qps", Units: units}
		for _, p := range []page.Page{page.BidPage(made, opt), page.BidPage(trial.MadeUpBid(t), opt), page.BidsPage(trial.SomeBids("Lot 14, Mesquite Lane", "J-1"), opt), page.BacktestPage(walked, opt),
			page.ExplainedPage(made, opt), page.ExplainedPage(trial.MadeUpBid(t), opt), page.ComparedPage(compared, opt), page.RevisedPage(compared, opt), page.KeptBidPage(kept, opt)} {
			left := map[string]bool{}
			for _, said := range append(words(p), around(t, p)...) {
				plainWords(said, data, left)
			}
			for w := range left {
				t.Errorf("%s in %s says %q in English", p.Slug, units, w)
			}
		}
		var bidSheet, pourDay, proposal bytes.Buffer
		if err := errors.Join(WriteBid(&bidSheet, made, opt), WriteProposal(&proposal, page.ProposalOf(made, 3, opt)), WritePourDay(&pourDay, page.PourDay{Bid: made, Reckoner: madeUpReckoner}, opt)); err != nil {
			t.Fatal(err)
		}
		for name, html := range map[string]string{"the cost sheet": bidSheet.String(), "the pour-day sheet": pourDay.String(), "the proposal": proposal.String()} {
			left, known := map[string]bool{}, data
			if name == "the pour-day sheet" { // it names the records' tables and words, to be filled in
				known = recordWords(data)
			}
			plainWords(readOf(html), known, left)
			for w := range left {
				t.Errorf("%s in %s says %q in English", name, units, w)
			}
			if !strings.Contains(html, `<html lang="qps">`) {
				t.Errorf("%s does not say in which language it is", name)
			}
		}
	}
}

// keptBid is a bid as it is kept, with its versions and all that may be said of it.
func keptBid(b *bid.Bid) *page.KeptBid {
	versions := trial.SomeBids("Lot 14, Mesquite Lane", "J-1").Outcomes
	return &page.KeptBid{Bid: b, Is: versions[1], Versions: versions, Log: []bid.Said{
		{On: trial.AsOf - 9, Did: "mark", After: "won"}, {On: trial.AsOf - 8, Did: "mark", Before: "won", After: "lost"}, {On: trial.AsOf - 7, Did: "mark", Before: "lost"},
		{On: trial.AsOf - 6, Did: "mark", After: "void"}, {On: trial.AsOf - 5, Did: "job", After: "J-1"}, {On: trial.AsOf - 4, Did: "job", Before: "J-1"}, {On: trial.AsOf - 3, Did: "revise", After: "7"}}}
}

// TestDocumentsAreFramedInAnyLanguage: what stands around pages, in a folder's
// files and in a single one, is said in the pages' language too.
func TestDocumentsAreFramedInAnyLanguage(t *testing.T) {
	p := page.BidsPage(trial.SomeBids("Lot 14, Mesquite Lane", "J-1"), page.Options{Lang: "qps"})
	index := page.Page{Voice: p.Voice, Slug: page.IndexSlug, Title: "Saltgrass", Cautions: []page.Caution{{}}}
	data := dataWords(trial.Company(t))
	addWords(data, "Saltgrass Mesquite Lane")
	for _, source := range citations(t) {
		addWords(data, source)
	}
	var folder bytes.Buffer
	if err := renderPage(&folder, []page.Page{index, p}, 1); err != nil {
		t.Fatal(err)
	}
	for name, html := range map[string]string{"a folder": folder.String(), "a single file": single(t, []page.Page{index, p})} {
		left := map[string]bool{}
		plainWords(readOf(html), data, left)
		for w := range left {
			t.Errorf("%s says %q in English", name, w)
		}
	}
}

// recordWords are the names of tables and the words of vocabularies, beside
// others.
func recordWords(others map[string]bool) map[string]bool {
	words := maps.Clone(others)
	for _, t := range record.Tables {
		addWords(words, t.Name)
		for _, c := range t.Columns {
			if c.Words != nil {
				addWords(words, strings.Join(c.Words.Words, " "))
			}
		}
	}
	return words
}

// readOf is the text of a document that is read or heard: what stands between
// tags, and the labels and titles within them.
func readOf(html string) string {
	html = scriptsAndStyles.ReplaceAllString(html, " ")
	var labels []string
	for _, found := range labelled.FindAllStringSubmatch(html, -1) {
		labels = append(labels, found[1])
	}
	return strings.Join(append(labels, tags.ReplaceAllString(commands.ReplaceAllString(html, " "), " ")), " ")
}

var (
	scriptsAndStyles = regexp.MustCompile(`(?s)<script.*?</script>|<style.*?</style>|<meta[^>]*>`)
	commands         = regexp.MustCompile(`(?s)<code>.*?</code>`)
	labelled         = regexp.MustCompile(`(?:aria-label|title|alt)="([^"]*)"`)
	tags             = regexp.MustCompile(`(?s)<[^>]*>`)
)

// around is what a page says beside its sentences and cells: heads, cautions,
// links, and the names and tips of its charts.
func around(t *testing.T, p page.Page) (all []string) {
	for _, c := range p.Cautions {
		all = append(all, c.Text)
	}
	for _, tile := range p.Tiles {
		all = append(all, tile.Title, tile.Big, tile.Says)
		for _, l := range tile.Lines {
			all = append(all, l.What, l.Much)
		}
	}
	all = append(all, p.Do...)
	all = append(all, p.Group)
	for _, e := range p.Exhibits {
		if e.Table != nil {
			all = append(all, e.Table.Below...)
			for _, c := range e.Table.Columns {
				all = append(all, c.Head)
			}
			for _, row := range e.Table.Rows {
				for _, c := range row {
					all = append(all, c.Below)
				}
			}
		}
		if e.Chart != nil && e.Chart.Why == "" {
			all = append(all, e.Chart.Says)
			for _, s := range e.Chart.Drawing().Shapes {
				all = append(append(all, s.Words...), s.Tip)
			}
		} else if e.Chart != nil {
			all = append(all, e.Chart.Why)
		}
	}
	return all
}

// plainWords gathers the English words of a text that are no data.
func plainWords(text string, data, into map[string]bool) {
	text = inBackquotes.ReplaceAllString(text, " ")
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' }) {
		if len(w) > 2 && asciiWord.MatchString(w) && !data[strings.ToLower(w)] && !signs[w] {
			into[w] = true
		}
	}
}

var (
	inBackquotes = regexp.MustCompile("`[^`]*`")
	asciiWord    = regexp.MustCompile(`^[A-Za-z']+$`)
)

// signs are units, and what publications are known by.
var signs = map[string]bool{"min": true, "psi": true, "cwt": true, "gal": true, "mph": true, "MPa": true, "CHF": true,
	"ACI": true, "ASTM": true, "CSA": true, "UFC": true, "CIP": true, "NRMCA": true, "OSHA": true, "NIOSH": true, "CFR": true, "PCA": true, "FHWA": true}

// dataWords are all words that stand in records, the vocabularies' and columns'
// names among them.
func dataWords(s record.Set) map[string]bool {
	words := map[string]bool{}
	add := func(text string) { addWords(words, text) }
	for _, t := range record.Tables {
		for _, c := range t.Columns {
			add(c.Name)
		}
	}
	for i := range s.Jobs {
		add(s.Jobs[i].Site)
		add(s.Jobs[i].JobNo)
	}
	for i := range s.Placements {
		p := &s.Placements[i]
		for _, name := range []string{p.JobNo, p.Use, p.Crew, p.PumpOutfit, p.Mix, p.Base, p.Reinforcement, p.Bar, p.Finish, p.Curing, p.JointCut, p.Method} {
			add(name)
		}
	}
	return words
}

func addWords(words map[string]bool, text string) {
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' }) {
		words[strings.ToLower(w)] = true
	}
}

// citations are what the sayings cite: the values that their messages call a
// source, which are names of publications and so the same in every language.
func citations(t *testing.T) (all []string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "say", "*.go"))
	if err != nil || len(files) == 0 {
		t.Fatal("the sayings were not found", err)
	}
	for _, file := range files {
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(parsed, func(n ast.Node) bool {
			kv, ok := n.(*ast.KeyValueExpr)
			if !ok {
				return true
			}
			key, isText := kv.Key.(*ast.BasicLit)
			value, cited := kv.Value.(*ast.BasicLit)
			if isText && cited && strings.HasPrefix(key.Value, `"source`) {
				all = append(all, value.Value)
			}
			return true
		})
	}
	return all
}
