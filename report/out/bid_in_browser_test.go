package out

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pourback/analysis/bid"
	"pourback/report/internal/trial"
	"pourback/report/page"
)

// TestBidInABrowser opens a bid's documents on a phone, on a desk and in the
// dark, and prints them: nothing is cut off, fetched or complained of.
func TestBidInABrowser(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	b := trial.MadeUpBid(t)
	second := b.Placements[0]
	second.Name, second.Use = "front walk", "walkway"
	b.Placements = append(b.Placements, second)
	b.Spec.Placements = append(b.Spec.Placements, bid.Placement{Name: "front walk", Use: "walkway", Method: "chute"})
	b.Cautions = nil
	var files []string
	for name, html := range bidDocuments(t, b, page.Options{Company: "Saltgrass Flatwork"}) {
		file := filepath.Join(dir, name+".html")
		if err := os.WriteFile(file, []byte(html), 0o644); err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	for _, file := range files {
		for _, s := range []screen{{width: 390, height: 800}, {width: 1280, height: 900, dark: true}} {
			v := open(t, browser(t), "file://"+file, s)
			if wide := ask[int](v, tooWide); wide > 0 {
				t.Errorf("%s at %d: %d pixels wider than the screen", file, s.width, wide)
			}
			if n := ask[int](v, `[...document.querySelectorAll('svg')].filter(s => s.getBoundingClientRect().width < 100).length`); n != 0 {
				t.Errorf("%s at %d: %d drawings are not drawn", file, s.width, n)
			}
			v.quiet("file://" + dir)
			if s.dark || !strings.Contains(file, "pour day") {
				continue
			}
			for name, paper := range map[string]chromedp.PaperSize{"Letter": chromedp.PaperLetter, "A4": chromedp.PaperA4} {
				pdf, err := chromedp.Run(v.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper)))
				if err != nil {
					t.Fatal(err)
				}
				if n := strings.Count(string(pdf), "/Type /Page\n"); n != 2 {
					t.Errorf("%s on %s takes %d sheets of paper, want 2", file, name, n)
				}
			}
		}
	}
}
