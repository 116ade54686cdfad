package report

import (
	"fmt"
	"math"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pourback/analysis"
)

// written is a report on a disk: its folder and its single file, as a browser
// names them.
func written(t *testing.T, pages []Page) (folder, single string) {
	t.Helper()
	dir := t.TempDir()
	if err := Write(dir, pages); err != nil {
		t.Fatal(err)
	}
	if err := WriteFile(filepath.Join(dir, "single.html"), pages); err != nil {
		t.Fatal(err)
	}
	base := (&url.URL{Scheme: "file", Path: dir}).String()
	return base, base + "/single.html"
}

const (
	// emptyCharts lists the charts on whose canvas nothing is drawn: a canvas
	// with one colour alone.
	emptyCharts = `[...document.querySelectorAll('.chart')].filter(box => {
		if (box.querySelector('.still').checkVisibility()) return true;
		const canvas = box.querySelector('canvas');
		if (!canvas || canvas.width < 100) return true;
		const dots = new Uint32Array(canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height).data.buffer);
		return new Set(dots).size < 10;
	}).map(box => box.id)`
	// tooWide says by how much the page must be moved sideways to be read.
	tooWide = `document.documentElement.scrollWidth - window.innerWidth`
	tables  = `[...document.querySelectorAll('table')].map(t => ({
		caption: t.caption.textContent,
		heads: [...t.tHead.rows[0].cells].map(c => c.textContent),
		rows: [...t.tBodies[0].rows].map(r => [...r.cells].map(c => ({text: c.textContent, value: c.querySelector('data')?.value ?? '', head: c.scope}))),
	}))`
)

type pageTable struct {
	Caption string
	Heads   []string
	Rows    [][]struct{ Text, Value, Head string }
}

// TestPagesInABrowser opens every page from the disk, in turn on a dark phone
// and on a light desk, and holds its tables to the JSON.
func TestPagesInABrowser(t *testing.T) {
	t.Parallel()
	b, f := browser(t), factorsOf(t, company(t), analysis.Options{})
	pages, doc := Pages(f, Options{Company: "Saltgrass Flatwork"}), factorsJSON(t, f)
	folder, single := written(t, pages)
	phone, desk := screen{width: 320, height: 640, dark: true}, screen{width: 1280, height: 900}
	for i, p := range pages {
		t.Run(p.Slug, func(t *testing.T) {
			t.Parallel()
			v := open(t, b, folder+"/"+p.Slug+".html", []screen{desk, phone}[i%2])
			v.sound(folder, len(chartsOf(pages[i:i+1])))
			if m, ok := matches[p.Slug]; ok {
				m.hold(t, ask[[]pageTable](v, tables), doc)
			}
		})
	}
	t.Run("single file", func(t *testing.T) {
		t.Parallel()
		open(t, b, single, phone).sound(folder, len(chartsOf(pages)))
	})
}

// sound holds a page to what every page keeps.
func (v *visit) sound(within string, charts int) {
	v.t.Helper()
	if got := ask[int](v, `+document.documentElement.dataset.charts`); got != charts {
		v.t.Errorf("%d charts were drawn, want %d", got, charts)
	}
	if empty := ask[[]string](v, emptyCharts); len(empty) > 0 {
		v.t.Errorf("nothing is drawn in %v", empty)
	}
	if wide := ask[int](v, tooWide); wide > 0 {
		v.t.Errorf("%d pixels wider than the screen", wide)
	}
	for _, rule := range []struct{ keeps, breaks string }{
		{"one h1 for each article", `document.querySelectorAll('h1').length - document.querySelectorAll('article').length`},
		{"a heading or name for each section", `[...document.querySelectorAll('section')].filter(s => !s.ariaLabel && !document.getElementById(s.getAttribute('aria-labelledby'))).length`},
		{"a caption for each table", `[...document.querySelectorAll('table')].filter(t => !t.caption || !t.caption.textContent).length`},
		{"a scope for each head", `document.querySelectorAll('th:not([scope])').length`},
		{"words for each chart", `[...document.querySelectorAll('.chart')].filter(c => c.getAttribute('role') !== 'img' || document.getElementById(c.getAttribute('aria-labelledby')).textContent.length < 20).length`},
		{"names that are given once", `(ids => ids.length - new Set(ids).size)([...document.querySelectorAll('[id]')].map(e => e.id))`},
		{"the landmarks", `['header', 'nav', 'main', 'footer'].filter(l => document.querySelectorAll(l).length !== 1).length`},
		{"a language and a title", `(document.documentElement.lang && document.title) ? 0 : 1`},
	} {
		if n := ask[int](v, rule.breaks); n != 0 {
			v.t.Errorf("%d times without %s", n, rule.keeps)
		}
	}
	v.quiet(within)
}

// match says which entry of the JSON each row of a table is about, and which
// of its members the columns show.
type match struct {
	caption string
	entries string
	name    func(map[string]any) string
	columns map[int]string
}

var matches = map[string]match{
	"waste": {"Waste by kind of placement", "overage.groups", func(g map[string]any) string { return fmt.Sprint(g["use"], ", ", g["method"]) },
		map[int]string{1: "raw_mean.value", 2: "ratio_of_totals.value", 3: "past.p50.value", 4: "past.p90.value", 5: "n"}},
	"crews": {"What each crew placed", "crews", func(c map[string]any) string { return c["crew"].(string) },
		map[int]string{1: "sqft_per_hour.value", 2: "n", 3: "area_sqft", 4: "labor_hours", 5: "hours_lost_to_delay.value", 6: "cost_of_delay.value"}},
	"pump": {"Clogs by pump outfit", "pump.outfits", func(o map[string]any) string { return o["pump_outfit"].(string) },
		map[int]string{1: "clogs_per_100yd.value", 2: "pooled.value", 3: "clogs", 4: "pumped_yd", 5: "placements"}},
	"cracks": {"Cracks by reinforcement, all joint spacings together", "cracks.by_reinforcement", func(r map[string]any) string { return r["reinforcement"].(string) },
		map[int]string{1: "risk_1yr.value", 2: "callbacks", 3: "placements", 4: "placement_years", 5: "share_full_year.value"}},
	"margin": {"Margin by month, the latest first", "margin.months", func(m map[string]any) string { return monthText(m["month"].(string)) },
		map[int]string{1: "margin_pct.value", 2: "bid_margin_pct.value", 3: "jobs", 4: "revenue", 5: "cost"}},
}

// hold compares each row of the table with its entry.
func (m match) hold(t *testing.T, onPage []pageTable, doc map[string]any) {
	byName := map[string]map[string]any{}
	for _, e := range list(valueAt(doc, m.entries)) {
		byName[m.name(e.(map[string]any))] = e.(map[string]any)
	}
	matched := 0
	for _, table := range onPage {
		for _, row := range table.Rows {
			entry := byName[row[0].Text]
			if table.Caption != m.caption || entry == nil {
				continue // another table, or the row of all together
			}
			matched++
			for at, member := range m.columns {
				if got := row[at].Value; !same(got, valueAt(entry, member)) {
					t.Errorf("%s, %s: the page has %q, the JSON %v", row[0].Text, table.Heads[at], got, valueAt(entry, member))
				}
			}
		}
	}
	if want := min(len(byName), mostMonths); matched < want {
		t.Errorf("%d rows were found for %d entries", matched, want)
	}
}

func valueAt(entry map[string]any, path string) any {
	var v any = entry
	for step := range strings.SplitSeq(path, ".") {
		v = v.(map[string]any)[step]
	}
	return v
}

// same says whether a cell holds the value, or nothing where there is none.
func same(cell string, want any) bool {
	got, err := strconv.ParseFloat(cell, 64)
	if want == nil {
		return cell == ""
	}
	return err == nil && math.Abs(got-want.(float64)) <= 1e-12*math.Abs(want.(float64))
}

func TestWithoutScriptThePageStillAnswers(t *testing.T) {
	t.Parallel()
	pages := Pages(factorsOf(t, company(t), analysis.Options{}), Options{})
	folder, _ := written(t, pages)
	v := open(t, browser(t), folder+"/pump.html", screen{width: 800, height: 600, noScript: true})
	text, err := chromedp.Run(v.ctx, chromedp.Text(chromedp.CSS("main")))
	if err != nil {
		t.Fatal(err)
	}
	pump := pageOf(t, pages, "pump")
	for _, want := range []string{pump.Answer, pump.Exhibits[0].Table.Rows[0][1].Text} {
		if !strings.Contains(text, want) {
			t.Errorf("without script the page lacks %q", want)
		}
	}
}

// TestHostileTextInABrowser opens pages whose records try to run, to draw and
// to turn the page around.
func TestHostileTextInABrowser(t *testing.T) {
	t.Parallel()
	pages := Pages(factorsOf(t, hostileRecords(), analysis.Options{}), Options{Company: hostile[0]})
	folder, single := written(t, pages)
	v := open(t, browser(t), single, screen{width: 390, height: 800})
	v.sound(folder, len(chartsOf(pages)))
	if n := ask[int](v, `document.querySelectorAll('img, main script:not([type])').length`); n != 0 {
		t.Errorf("%d elements were made from text", n)
	}
	// Point at every chart: what appears is text too.
	tips := ask[string](v, `[...document.querySelectorAll('.chart')].map(box => {
		const chart = echarts.getInstanceByDom(box.querySelector('.live')), option = chart.getOption();
		option.series.forEach((s, i) => s.data.forEach((_, k) => { if (k < 40) chart.dispatchAction({type: 'showTip', seriesIndex: i, dataIndex: k}); }));
		return box.querySelector('.live').innerText;
	}).join('\n')`)
	if !strings.Contains(tips, "placement") {
		t.Errorf("nothing appears when a chart is pointed at: %q", tips)
	}
	if n := ask[int](v, `document.querySelectorAll('img, .live script, .live b').length`); n != 0 {
		t.Errorf("%d elements were made from text that appears when a chart is pointed at", n)
	}
	v.quiet(folder)
}

// TestPrint: every page of the single file comes out on paper, charts and all,
// on Letter and on A4.
func TestPrint(t *testing.T) {
	t.Parallel()
	pages := Pages(factorsOf(t, company(t), analysis.Options{}), Options{})
	folder, single := written(t, pages)
	v := open(t, browser(t), single, screen{width: 390, height: 800, dark: true})
	for name, paper := range map[string]chromedp.PaperSize{"Letter": chromedp.PaperLetter, "A4": chromedp.PaperA4} {
		pdf, err := chromedp.Run(v.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper)))
		if err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(string(pdf), "/Type /Page\n"); n < len(pages) {
			t.Errorf("%s: %d sheets for %d pages", name, n, len(pages))
		}
		if out := os.Getenv("POURBACK_KEEP_PDF"); out != "" {
			if err := os.WriteFile(filepath.Join(out, name+".pdf"), pdf, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	v.quiet(folder)
}
