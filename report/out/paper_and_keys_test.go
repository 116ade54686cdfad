package out

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pourback/report/page"
)

// TestPrint: every page of the single file comes out on paper, in dark and
// light alike with the charts in dark ink, none so high that it is cut.
func TestPrint(t *testing.T) {
	t.Parallel()
	pages := sheetPages(t, usual)
	folder := written(t, pages)
	v := open(t, browser(t), folder+"/"+singleName, screen{width: 390, height: 800, dark: true})
	v.fold(true) // as most people print
	for name, paper := range map[string]chromedp.PaperSize{"Letter": chromedp.PaperLetter, "A4": chromedp.PaperA4} {
		pdf, err := chromedp.Run(v.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper), chromedp.PDFPreferCSSPageSize(), chromedp.PDFOutlineAndTagged()))
		if err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(string(pdf), "/Type /Page\n"); n < len(pages) || n > 3*len(pages)+6 {
			t.Errorf("%s: %d sheets for %d pages", name, n, len(pages))
		}
		for _, p := range pages {
			if !strings.Contains(string(pdf), "/Title ("+p.Title+")") {
				t.Errorf("%s: the page %q is not in the outline", name, p.Title)
			}
		}
		if out := os.Getenv("POURBACK_KEEP_PDF"); out != "" {
			if err := os.WriteFile(filepath.Join(out, name+".pdf"), pdf, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	v.paper(len(chartsOf(pages)))
	v.quiet(folder)
}

// paper looks at a page as it is printed, 7.4 inches wide with its margins: the
// width of Letter, the narrower of the two in height.
func (v *visit) paper(charts int) {
	v.t.Helper()
	v.do(command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print", Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}}),
		chromedp.EmulateViewport(710, 950))
	const rest = `.filter(e => e.checkVisibility()).length`
	for _, want := range []struct {
		what, count string
		n           int
	}{
		{"drawings", `[...document.querySelectorAll('.chart svg')]` + rest, charts},
		{"links to other pages and folded methods", `[...document.querySelectorAll('nav, .skip, .top, summary')]` + rest, 0},
		{"charts higher than the sheet", `[...document.querySelectorAll('figure')].filter(f => f.getBoundingClientRect().height > 900).length`, 0},
		{"charts and tables wider than the sheet", `[...document.querySelectorAll('svg, table')].filter(f => f.checkVisibility() && f.getBoundingClientRect().right > 711).map(f => f.outerHTML.slice(0, 99)).length`, 0},
		{"heads that do not repeat", `[...document.querySelectorAll('thead')].filter(h => getComputedStyle(h).display !== 'table-header-group').length`, 0},
		{"colors of a dark screen", `['paper', 'ink', 'own'].filter(c => getComputedStyle(document.documentElement).getPropertyValue('--' + c) !== {paper: '#fff', ink: '#000', own: '#0b6e8f'}[c]).length`, 0},
	} {
		if got := ask[int](v, want.count); got != want.n {
			v.t.Errorf("on paper: %d %s, want %d", got, want.what, want.n)
		}
	}
}

// TestKeyboard walks a page by the Tab key: the way to the answer comes first,
// everything that can be reached shows that it is, and the page does not trap.
// The details open by the Enter key.
func TestKeyboard(t *testing.T) {
	t.Parallel()
	pages, folder, _ := companyWritten(t)
	v := open(t, browser(t), folder+"/cracks.html", screen{width: 390, height: 800})
	v.sound(folder, len(chartsOf([]page.Page{pageOf(t, pages, "cracks")})))
	v.fold(true)
	reached := map[string]bool{}
	for step := range 60 {
		v.do(chromedp.KeyEvent(kb.Tab))
		at := ask[struct {
			Tag, Class string
			Outlined   bool
			Left       float64
		}](v, `(e => ({tag: e.tagName, class: e.className, outlined: e === document.body || getComputedStyle(e).outlineStyle !== 'none', left: e.getBoundingClientRect().left}))(document.activeElement)`)
		if step == 0 && (at.Class != "skip" || at.Left < 0) {
			t.Errorf("the first stop is %+v, want the way to the answer, in sight", at)
		}
		if !at.Outlined {
			t.Errorf("nothing shows that %s.%s is reached", at.Tag, at.Class)
		}
		if at.Tag == "SUMMARY" {
			if ask[bool](v, `document.activeElement.parentElement.open`) {
				t.Error("the details are open before anybody asks")
			}
			v.do(chromedp.KeyEvent(kb.Enter))
		}
		if reached[at.Tag+"."+at.Class] = true; at.Tag == "BODY" {
			break
		}
	}
	for _, want := range []string{"A.skip", "A.", "DIV.scroll", "SUMMARY.", "BODY."} {
		if !reached[want] {
			t.Errorf("the Tab key does not come to %s: %v", want, reached)
		}
	}
	v.do(chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Enter))
	if hash := ask[string](v, `location.hash`); hash != "#answer" {
		t.Errorf("the way to the answer leads to %q", hash)
	}
	v.quiet(folder)
}
