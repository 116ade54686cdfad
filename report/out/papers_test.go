package out

import (
	"bytes"
	"context"
	"fmt"
	"image"
	_ "image/png"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"pourback/analysis/bid"
	"pourback/report/internal/trial"
	"pourback/report/page"
	"pourback/report/say"
)

// headed is a company that has set all that papers show.
var headed = page.Options{Company: "Saltgrass Flatwork (invented)", Letterhead: page.Letterhead{Address: "12 Cinder Road, Low Mesa", Email: "office@saltgrass.example", License: "000000",
	Phones:  page.Phones{Plant: "555-0142", Pump: "(505) 555-0171 x12", Owner: "+1 505 555 0110"},
	SiteURL: "http://10.0.0.5:8377", HoldsDays: 30, Payment: "Half before the pour, half when it is done."}}

var longNames = []string{"driveway behind the north garage with the long approach", "Losa de cobertizo al fondo, junto a la barda del vecino"}

func proposalHTML(t testing.TB, b *bid.Bid, lang string, opt page.Options) string {
	t.Helper()
	opt.Lang = lang
	var out bytes.Buffer
	if err := WriteProposal(&out, page.ProposalOf(b, 3, opt)); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// paperCase is a paper as somebody may have it.
type paperCase struct {
	name, html string
	most       int // sheets of paper
}

// paperCases are both papers for 1 to 6 placements, with short and long names, in
// either language and system of units.
func paperCases(t testing.TB) (all []paperCase) {
	for n := 1; n <= 6; n++ {
		names := longNames
		if n%2 == 0 {
			names = nil
		}
		opt, b := headed, trial.JobOf(t, n, names...)
		opt.Units = []string{"us", "si"}[n/2%2]
		for _, lang := range say.Languages() {
			all = append(all, paperCase{fmt.Sprintf("pour day, %d, %s", n, lang), pourDayHTML(t, b, lang, opt), 2 + n/5},
				paperCase{fmt.Sprintf("proposal, %d, %s", n, lang), proposalHTML(t, b, lang, opt), 2 + n/5})
		}
	}
	apart := twoDays(t)
	return append(all, paperCase{"pour day, two days, es", pourDayHTML(t, apart, "es", headed), 3}, paperCase{"proposal, two days, es", proposalHTML(t, apart, "es", headed), 2})
}

// twoDays is a bid of four placements, two of them a day.
func twoDays(t testing.TB) *bid.Bid {
	b := trial.JobOf(t, 4)
	first := trial.JobOf(t, 2).Days[0]
	second := first
	second.Day, second.Placements = 2, []string{b.Placements[2].Name, b.Placements[3].Name}
	again := *first.Clock
	again.Line, again.Saw = slices.Clone(again.Line), slices.Clone(again.Saw)
	for i := range again.Line {
		again.Line[i].Placement = second.Placements[slices.Index(first.Placements, again.Line[i].Placement)]
	}
	for i := range again.Saw {
		again.Saw[i].Placement = second.Placements[slices.Index(first.Placements, again.Saw[i].Placement)]
	}
	second.Clock = &again
	b.Days = []bid.Day{first, second}
	b.Placements[2].Day, b.Placements[3].Day = 2, 2
	return b
}

// TestPapersInABrowser opens both papers on phones and a desk, and prints them.
// Nothing is wider than the screen, numbers to tap are as large as a thumb, and up
// to four placements of one day take two sheets of either paper.
func TestPapersInABrowser(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	for i, c := range paperCases(t) {
		file := filepath.Join(dir, c.name+".html")
		if err := os.WriteFile(file, []byte(c.html), 0o644); err != nil {
			t.Fatal(err)
		}
		v := open(t, browser(t), "file://"+file, screen{width: 360, height: 740})
		for _, s := range []screen{{width: 360, height: 740}, {width: 390, height: 844, dark: true}, {width: 1200, height: 900}} {
			if s.width != 360 {
				v.again(s)
			}
			if wide := ask[int](v, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); wide > 0 {
				t.Errorf("%s at %d: %d pixels to scroll sideways", c.name, s.width, wide)
			}
			if cut := ask[[]string](v, `[...document.querySelectorAll('main *')].filter(e => e.checkVisibility() && !e.closest('svg') && (e.getBoundingClientRect().right > innerWidth + 0.5 || e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).overflowX !== 'visible')).map(e => e.outerHTML.slice(0, 80))`); len(cut) > 0 {
				t.Errorf("%s at %d: cut off: %q", c.name, s.width, cut)
			}
			if small := ask[[]string](v, `[...document.querySelectorAll('a')].filter(e => e.checkVisibility()).filter(e => { const r = e.getBoundingClientRect(); return r.width < 44 || r.height < 44 }).map(e => e.outerHTML)`); len(small) > 0 {
				t.Errorf("%s at %d: smaller than a thumb: %q", c.name, s.width, small)
			}
		}
		if i < 4 {
			v.accessible()
		}
		v.quiet("file://" + dir)
		v.sheets(c)
	}
}

// sheets holds a paper to two sheets of Letter and of A4.
func (v *visit) sheets(c paperCase) {
	v.t.Helper()
	for name, paper := range map[string]chromedp.PaperSize{"Letter": chromedp.PaperLetter, "A4": chromedp.PaperA4} {
		pdf, err := chromedp.Run(v.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper), chromedp.PDFPreferCSSPageSize()))
		if err != nil {
			v.t.Fatal(err)
		}
		if n := strings.Count(string(pdf), "/Type /Page\n"); n < 2 || n > c.most {
			v.t.Errorf("%s on %s takes %d sheets of paper, want %d", c.name, name, n, c.most)
		}
		if out := os.Getenv("POURBACK_KEEP_PDF"); out != "" {
			os.WriteFile(filepath.Join(out, c.name+" "+name+".pdf"), pdf, 0o644)
			os.WriteFile(filepath.Join(out, c.name+".html"), []byte(c.html), 0o644)
		}
	}
}

// TestCodeOnThePourDaySheet: a reader of other people's making reads the address
// of the job's form off a picture of the sheet, in the light and in the dark, and
// the number alone where there is no site.
func TestCodeOnThePourDaySheet(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	b := trial.JobOf(t, 1)
	b.JobNo = "SF 10/43"
	alone := headed
	alone.Letterhead.SiteURL = ""
	for name, c := range map[string]struct {
		opt  page.Options
		want string
	}{"site": {headed, "http://10.0.0.5:8377/pour/SF%2010%2F43"}, "alone": {alone, "SF 10/43"}} {
		file := filepath.Join(dir, name+".html")
		if err := os.WriteFile(file, []byte(pourDayHTML(t, b, "en", c.opt)), 0o644); err != nil {
			t.Fatal(err)
		}
		for _, s := range []screen{{width: 390, height: 844}, {width: 390, height: 844, dark: true}} {
			v := open(t, browser(t), "file://"+file, s)
			read, err := readOff(v.ctx)
			if err != nil || read != c.want {
				t.Errorf("%s, dark %v: the code is read as %q (%v), want %q", name, s.dark, read, err, c.want)
			}
		}
	}
	b.JobNo = ""
	if strings.Contains(pourDayHTML(t, b, "en", headed), `class="code"`) {
		t.Error("a job without a number has a code")
	}
}

// readOff reads the code off a picture of the whole page.
func readOff(ctx context.Context) (string, error) {
	shot, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	if err != nil {
		return "", err
	}
	pic, _, err := image.Decode(bytes.NewReader(shot))
	if err != nil {
		return "", err
	}
	bits, err := gozxing.NewBinaryBitmapFromImage(pic)
	if err != nil {
		return "", err
	}
	read, err := qrcode.NewQRCodeReader().Decode(bits, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil {
		return "", err
	}
	return read.GetText(), nil
}

// TestFirstPhoneScreen: the trucks, the call and the first cut are in sight on a
// phone before anybody moves it.
func TestFirstPhoneScreen(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "day.html")
	for _, lang := range say.Languages() {
		if err := os.WriteFile(file, []byte(pourDayHTML(t, trial.JobOf(t, 2), lang, headed)), 0o644); err != nil {
			t.Fatal(err)
		}
		v := open(t, browser(t), "file://"+file, screen{width: 360, height: 640})
		v.do(command(emulation.SetScrollbarsHidden, emulation.SetScrollbarsHiddenParams{Hidden: true}))
		if n := ask[int](v, `document.querySelectorAll('.tile').length`); n != 3 {
			t.Errorf("%s: %d tiles, want the trucks, the call and the cut", lang, n)
		}
		if low := ask[int](v, `Math.ceil(Math.max(...[...document.querySelectorAll('.tile')].map(e => e.getBoundingClientRect().bottom)))`); low > 640 {
			t.Errorf("%s: what a foreman looks for first ends at %d of 640 pixels", lang, low)
		}
	}
}

// TestTelephoneLinks: numbers that are set are there to tap, as digits alone, and
// none where none is set.
func TestTelephoneLinks(t *testing.T) {
	html := pourDayHTML(t, trial.JobOf(t, 1), "en", headed)
	for _, want := range []string{`href="tel:5550142"`, `href="tel:5055550171;ext=12"`, `href="tel:&#43;15055550110"`} {
		if !strings.Contains(html, want) {
			t.Errorf("no %s in %q", want, regexp.MustCompile(`href="tel[^"]*"`).FindAllString(html, -1))
		}
	}
	odd := headed
	odd.Letterhead.Phones = page.Phones{Plant: `javascript:alert(1)"><script>`, Owner: "ask at the office"}
	html = pourDayHTML(t, trial.JobOf(t, 1), "en", odd) + proposalHTML(t, trial.JobOf(t, 1), "en", odd)
	if strings.Contains(html, "<script") || strings.Contains(html, `href="javascript`) || !strings.Contains(html, "ask at the office") {
		t.Error("a number that is none does harm, or is not shown")
	}
	if strings.Contains(pourDayHTML(t, trial.JobOf(t, 1), "en", page.Options{}), "tel:") {
		t.Error("a number that nobody set")
	}
}

// TestTheReckonerIsWholeOnPaper: of a large pour, whose yards have two digits and a
// quarter, every column of what is still needed is on the printed sheet.
func TestTheReckonerIsWholeOnPaper(t *testing.T) {
	t.Parallel()
	cells := []bid.ReckonerCell{}
	for i := range 5 {
		cells = append(cells, bid.ReckonerCell{PlacedYd: 30.25 + float64(i), HaveYd: 17.75 + float64(i)/4})
	}
	large := []bid.Reckoner{{Day: 1, Rows: []bid.ReckonerRow{{Covered: 0.3, Cells: cells}, {Covered: 0.6, Cells: cells}}}}
	for _, lang := range []string{"en", "es"} {
		opt := headed
		opt.Lang = lang
		var html strings.Builder
		if err := WritePourDay(&html, page.PourDay{Bid: trial.MadeUpBid(t), ID: 3, Reckoner: large}, opt); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), lang+".html")
		if err := os.WriteFile(file, []byte(html.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		v := open(t, browser(t), "file://"+file, screen{width: 1200, height: 900})
		v.do(command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}), chromedp.EmulateViewport(paperWidth, 950))
		if n := ask[int](v, `document.querySelectorAll('.reckoner tbody td').length`); n != 10 {
			t.Errorf("%s: %d cells, want 10", lang, n)
		}
		if over := ask[float64](v, `Math.max(...[...document.querySelectorAll('.day *')].map(e => e.getBoundingClientRect().right)) - document.documentElement.clientWidth`); over > 0.5 {
			t.Errorf("%s: %.0f pixels of the day's order are off the paper", lang, over)
		}
	}
}
