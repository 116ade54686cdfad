package out

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pourback/analysis/setting"
	"pourback/report/internal/trial"
	"pourback/report/page"
)

// TestLetterIsOnePage: a month fits one sheet of either paper, and a phone.
func TestLetterIsOnePage(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	f := trial.FactorsOf(t, trial.Company(t), setting.Options{Visits: setting.VisitOptions{Asked: true}})
	hostile := trial.FactorsOf(t, trial.HostileEverywhere(t), setting.Options{Visits: setting.VisitOptions{Asked: true}})
	for name, l := range map[string]page.Letter{
		"company": page.MonthLetter(f, page.Options{Company: "Saltgrass Flatwork (invented)"}),
		"metric":  page.MonthLetter(f, page.Options{Units: "si"}),
		"Spanish": page.MonthLetter(f, page.Options{Lang: "es", Company: "Saltgrass Flatwork (invented)"}),
		"hostile": page.MonthLetter(hostile, page.Options{Company: `</style><script>alert(1)</script>`}),
		"empty":   page.MonthLetter(trial.Histories(t)["empty"], page.Options{}),
		"three":   page.MonthLetter(trial.Histories(t)["three"], page.Options{}),
	} {
		file := filepath.Join(dir, name+".html")
		var b bytes.Buffer
		if err := WriteLetter(&b, l); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		v := open(t, browser(t), "file://"+file, screen{width: 390, height: 800})
		if wide := ask[int](v, tooWide); wide > 0 {
			t.Errorf("%s: %d pixels wider than a phone", name, wide)
		}
		v.quiet("file://" + dir)
		for paper, size := range map[string]chromedp.PaperSize{"Letter": chromedp.PaperLetter, "A4": chromedp.PaperA4} {
			pdf, err := chromedp.Run(v.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size), chromedp.PDFPreferCSSPageSize()))
			if err != nil {
				t.Fatal(err)
			}
			if n := strings.Count(string(pdf), "/Type /Page\n"); n != 1 {
				t.Errorf("%s takes %d sheets of %s, want 1", name, n, paper)
			}
		}
	}
}

// TestLetterNamesNobody: a letter goes to others, so it names no site, whatever
// is asked.
func TestLetterNamesNobody(t *testing.T) {
	for name, s := range namedHistories(t) {
		sites := map[string]page.Place{}
		for _, j := range s.Jobs {
			sites[j.JobNo] = page.Place{Site: j.Site}
		}
		f := trial.FactorsOf(t, s, setting.Options{Visits: setting.VisitOptions{Asked: true}})
		var b bytes.Buffer
		if err := WriteLetter(&b, page.MonthLetter(f, page.Options{WithSites: true, Places: sites})); err != nil {
			t.Fatal(err)
		}
		for _, mark := range []string{"site-mark", "note-mark"} {
			if strings.Contains(b.String(), mark) {
				t.Errorf("%s: %s is named", name, mark)
			}
		}
	}
}
