package out

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
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
