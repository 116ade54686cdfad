package out

import (
	"context"
	"flag"
	"fmt"
	"html/template"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"pourback/report/page"
)

var (
	contactDir  = flag.String("contact", "", "write screenshots of reports into this folder, with contact.html that shows them all")
	contactOf   = flag.String("contact-of", "", "in the contact sheet, only pages whose names match this regular expression")
	contactMore = flag.Bool("contact-100k", false, "in the contact sheet, a report of 100 thousand placements besides")
)

// contactSheet is contact.html: a line of pictures for each page.
type contactSheet struct {
	Cases []string
	Pages []contactLine
	Told  []string // how large the reports are, how soon they are there, how many sheets they print on
}

type contactLine struct {
	Slug  string
	Shots []string // files, in the order of the cases; "" where a report lacks the page
}

var contactTemplate = template.Must(template.New("").Parse(`<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>Contact sheet</title>
<style>body{font:14px system-ui;margin:1rem}table{border-spacing:6px}th{text-align:left;vertical-align:top}img{height:260px;width:170px;object-fit:cover;object-position:top;border:1px solid #bbb}thead th{position:sticky;top:0;background:#fff}</style>
<h1>Contact sheet</h1>{{range .Told}}<p>{{.}}</p>{{end}}
<table><thead><tr><th></th>{{range .Cases}}<th>{{.}}</th>{{end}}</tr></thead>{{range .Pages}}{{$slug := .Slug}}
<tr><th>{{.Slug}}</th>{{range .Shots}}<td>{{if .}}<a href="{{.}}"><img loading="lazy" src="{{.}}" alt="{{$slug}}"></a>{{end}}</td>{{end}}</tr>{{end}}</table>`))

// TestContactSheet takes pictures of every page of the reports of the pairwise
// cases, of the components, and of two reports with their details open, to be
// looked at by a person: go test ./report/out -run ContactSheet -contact DIR
func TestContactSheet(t *testing.T) {
	if *contactDir == "" {
		t.Skip("no folder is named by -contact")
	}
	cases := append(pairwise(), sheetCase{usual, 390, "light, details"}, sheetCase{usual, 1200, "light, details"})
	if *contactMore {
		cases = append(cases, sheetCase{hundredThousand, 1200, "light"}, sheetCase{hundredThousand, 390, "light"})
	}
	if err := os.MkdirAll(*contactDir, 0o755); err != nil {
		t.Fatal(err)
	}
	wanted, err := regexp.Compile(*contactOf)
	if err != nil {
		t.Fatal(err)
	}
	var sheet contactSheet
	lines, folders := map[string]*contactLine{}, map[string]string{}
	for at, c := range cases {
		pages := sheetPages(t, c.records)
		if folders[c.records] == "" {
			folders[c.records] = written(t, pages)
		}
		if wanted.MatchString("weight") && at == slices.IndexFunc(cases, func(o sheetCase) bool { return o.records == c.records }) {
			told := weigh(t, c.records, folders[c.records], pages)
			t.Log(told)
			sheet.Told = append(sheet.Told, told)
		}
		sheet.Cases = append(sheet.Cases, c.String())
		for _, p := range pages {
			if !wanted.MatchString(p.Slug) {
				continue
			}
			if lines[p.Slug] == nil {
				lines[p.Slug] = &contactLine{Slug: p.Slug, Shots: make([]string, len(cases))}
			}
			name := fmt.Sprintf("%s-%02d.jpg", p.Slug, at)
			shoot(t, folders[c.records]+"/"+p.Slug+".html", c, filepath.Join(*contactDir, name))
			lines[p.Slug].Shots[at] = name
		}
	}
	for _, p := range sheetPages(t, usual) {
		if l := lines[p.Slug]; l != nil {
			sheet.Pages = append(sheet.Pages, *l)
		}
	}
	sheet.Pages = append(sheet.Pages, shootComponents(t, cases, wanted)...)
	f, err := os.Create(filepath.Join(*contactDir, "contact.html"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := contactTemplate.Execute(f, sheet); err != nil {
		t.Fatal(err)
	}
}

// shootComponents takes pictures of each component, and of the letters, on every
// screen of the cases, once.
func shootComponents(t *testing.T, cases []sheetCase, wanted *regexp.Regexp) (lines []contactLine) {
	t.Helper()
	folder, names := componentsWritten(t)
	for _, name := range names {
		if !wanted.MatchString(name) {
			continue
		}
		line, seen := contactLine{Slug: name, Shots: make([]string, len(cases))}, map[sheetCase]bool{}
		for at, c := range cases {
			if c.records = ""; c.look == "print" {
				c.width = paperWidth
			}
			if seen[c] || strings.Contains(c.look, "details") {
				continue
			}
			seen[c], line.Shots[at] = true, fmt.Sprintf("%s-%02d.jpg", name, at)
			shoot(t, folder+"/"+name+".html", c, filepath.Join(*contactDir, line.Shots[at]))
		}
		lines = append(lines, line)
	}
	return lines
}

// shoot takes a picture of a whole page, up to a height at which there is nothing
// to be seen any more.
func shoot(t *testing.T, url string, c sheetCase, path string) {
	t.Helper()
	v := open(t, browser(t), url, screen{width: c.width, height: 844})
	v.as(c)
	v.fold(!strings.Contains(c.look, "details") && c.look != "print")
	height := min(ask[float64](v, `document.documentElement.scrollHeight`), 16_000)
	quality, beyond, width := int64(70), true, c.width
	if c.look == "print" {
		width = paperWidth
	}
	v.do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		shot, err := cdp.Call(ctx, target, cdppage.CaptureScreenshot, cdppage.CaptureScreenshotParams{Format: cdppage.CaptureScreenshotFormatJpeg, Quality: &quality,
			CaptureBeyondViewport: &beyond, Clip: &cdppage.Viewport{Width: float64(width), Height: height, Scale: 1}})
		if err != nil {
			return err
		}
		return os.WriteFile(path, shot.Data, 0o644)
	}))
	v.close()
}

// weigh says how large a report is, how soon its slowest page is there after its
// file is read, and how many sheets of paper its single file takes.
func weigh(t *testing.T, records, folder string, pages []page.Page) string {
	t.Helper()
	size, dir := 0, strings.TrimPrefix(folder, "file://")
	texts := filesIn(t, dir)
	for name, text := range texts {
		if name != singleName {
			size += len(text)
		}
	}
	var ready []float64
	for _, p := range pages {
		v := open(t, browser(t), folder+"/"+p.Slug+".html", screen{width: 390, height: 844})
		ready = append(ready, v.readyAfter())
		v.close()
	}
	v := open(t, browser(t), folder+"/"+singleName, screen{width: 390, height: 844})
	whole := v.readyAfter()
	pdf, err := chromedp.Run(v.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperLetter), chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		t.Fatal(err)
	}
	v.close()
	slices.Sort(ready)
	return fmt.Sprintf("%s: %d pages, %.2f MB in all, the single file %.2f MB; a page is there %.0f ms after its file is read (the slowest %.0f ms), the single file %.0f ms; it prints on %d sheets of Letter",
		records, len(pages), float64(size)/1e6, float64(len(texts[singleName]))/1e6, ready[len(ready)/2], ready[len(ready)-1], whole, strings.Count(string(pdf), "/Type /Page\n"))
}

// readyAfter is the time from the end of reading a page's file to its being laid
// out with its script run, in milliseconds: the least of five loads, as whatever
// else the machine does only adds to it.
func (v *visit) readyAfter() float64 {
	v.t.Helper()
	least := math.Inf(1)
	for range 5 {
		v.do(chromedp.Reload())
		least = min(least, ask[float64](v, `(n => n.loadEventEnd - n.responseEnd)(performance.getEntriesByType('navigation')[0])`))
	}
	return least
}
