package out

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"

	"pourback/analysis"
	"pourback/analysis/setting"
	"pourback/ingest/outfile"
	"pourback/ingest/record"
	"pourback/report/chart"
	"pourback/report/internal/trial"
	"pourback/report/page"
	"pourback/report/say"
)

// written is a report on a disk: its folder, as a browser names it, with the
// single file in it.
func written(t *testing.T, pages []page.Page) (folder string) {
	t.Helper()
	dir := t.TempDir()
	if err := writeBoth(dir, pages); err != nil {
		t.Fatal(err)
	}
	return (&url.URL{Scheme: "file", Path: dir}).String()
}

const singleName = "single.html"

// writeBoth writes a report as a folder and as a single file in it.
func writeBoth(dir string, pages []page.Page) error {
	if err := Write(&outfile.Out{}, dir, pages); err != nil {
		return err
	}
	return writeWhole(filepath.Join(dir, singleName), func(w io.Writer) error { return WriteSingle(w, pages) })
}

// companyFolder is where writeCompany has put the invented company's report,
// once for all tests.
var (
	companyFolder string
	writeCompany  = sync.OnceValue(func() error {
		f, err := trial.Invention()
		if err != nil {
			return err
		}
		if companyFolder, err = os.MkdirTemp("", "pourback-report-"); err != nil {
			return err
		}
		return writeBoth(companyFolder, companyPages(f))
	})
)

func companyPages(f *analysis.Factors) []page.Page {
	return page.Pages(f, page.Options{Company: "Saltgrass Flatwork", Bids: trial.SomeBids("Lot 14, Mesquite Lane", "J-1")})
}

// companyWritten is that report: its pages, its folder and its single file.
func companyWritten(t *testing.T) (pages []page.Page, folder, single string) {
	t.Helper()
	if err := writeCompany(); err != nil {
		t.Fatal(err)
	}
	base := (&url.URL{Scheme: "file", Path: companyFolder}).String()
	return companyPages(trial.CompanyFactors(t)), base, base + "/" + singleName
}

const (
	// emptyCharts lists the charts in which next to nothing is drawn, or of which
	// a part lies beyond the screen.
	emptyCharts = `[...document.querySelectorAll('.chart svg')].filter(s => {
		const box = s.getBoundingClientRect(), marks = s.querySelectorAll('path, rect, circle, text');
		return marks.length < 5 || box.width < 200 || box.height < 50 || box.left < 0 || box.right > innerWidth + 1;
	}).map(s => s.closest('.chart').id)`
	// crowdedWords lists the words of drawings that leave their drawing, or stand
	// on others.
	crowdedWords = `[...document.querySelectorAll('svg')].flatMap(svg => {
		const view = svg.viewBox.baseVal, words = [...svg.querySelectorAll('text')].map(t => ({said: t.textContent, turned: t.hasAttribute('transform'), at: t.getBBox()}));
		const apart = (a, b) => a.x + a.width <= b.x + .5 || b.x + b.width <= a.x + .5 || a.y + a.height <= b.y + .5 || b.y + b.height <= a.y + .5;
		return words.filter(w => !w.turned).flatMap((w, i) => [
			...(w.at.x < -1.5 || w.at.y < -1.5 || w.at.x + w.at.width > view.width + 1.5 || w.at.y + w.at.height > view.height + 1.5 ? ['cut off: ' + w.said + ' ' + [w.at.x, w.at.y, w.at.width, w.at.height].map(Math.round) + ' in ' + svg.closest('figure').id] : []),
			...words.slice(0, i).filter(o => !o.turned && !apart(o.at, w.at)).map(o => o.said + ' under ' + w.said)]);
	})`
	// uncolored lists the marks of drawings that the style leaves black or unseen.
	uncolored = `[...document.querySelectorAll('svg')].flatMap(svg => [...svg.querySelectorAll('path, rect, circle, text')]).filter(e => {
		const s = getComputedStyle(e), black = s.fill === 'rgb(0, 0, 0)' && getComputedStyle(document.documentElement).getPropertyValue('--ink') !== '#000';
		return black || s.fill === 'none' && s.stroke === 'none';
	}).map(e => e.outerHTML.slice(0, 99))`
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

// TestPagesInABrowser opens every page from the disk on a light desk, and all of
// them in one file on a dark phone and on a dark desk, and holds their tables to
// the JSON. What axe has to say of a page it says on the light desk, and of them
// all on the dark phone. TestKeyboard opens a page by itself on a light phone.
func TestPagesInABrowser(t *testing.T) {
	t.Parallel()
	b, doc := browser(t), companyJSON(t)
	pages, folder, single := companyWritten(t)
	if len(pages) != 17 {
		t.Fatalf("%d pages: want all that there are", len(pages))
	}
	for i, p := range pages {
		t.Run(p.Slug, func(t *testing.T) {
			t.Parallel()
			v := open(t, b, folder+"/"+p.Slug+".html", screen{width: 1280, height: 900})
			v.sound(folder, len(chartsOf(pages[i:i+1])))
			v.accessible()
			for _, m := range matches[p.Slug] {
				m.hold(t, ask[[]pageTable](v, tables), doc)
			}
		})
	}
	t.Run("single file", func(t *testing.T) {
		t.Parallel()
		v := open(t, b, single, screen{width: 320, height: 640, dark: true})
		v.sound(folder, len(chartsOf(pages)))
		v.accessible()
		v.again(screen{width: 1280, height: 900, dark: true})
		v.sound(folder, len(chartsOf(pages)))
	})
}

// TestEveryKindOfChartInABrowser draws one of each kind, which the records at
// hand may not, with and without script, and a shaded table.
func TestEveryKindOfChartInABrowser(t *testing.T) {
	t.Parallel()
	folder := written(t, kindsPage(t))
	v := open(t, browser(t), folder+"/kinds.html", screen{width: 1280, height: 900})
	v.sound(folder, len(kindsOfChart(t)))
	v.accessible()
	v.again(screen{width: 320, height: 640, dark: true})
	v.sound(folder, len(kindsOfChart(t)))
	v.accessible()
	for _, s := range []screen{{width: 1280, height: 900, noScript: true}, {width: 320, height: 640, dark: true, noScript: true}} {
		v.again(s)
		v.drawn(len(kindsOfChart(t)))
	}
	v.again(screen{width: 360, height: 740})
	if small := ask[[]string](v, tooSmall); len(small) > 0 {
		t.Errorf("on a phone 360 pixels wide these words are under 11 pixels: %q", small)
	}
	v.quiet(folder)
}

// tooSmall lists the charts whose words are too small to be read.
const tooSmall = `[...document.querySelectorAll('.chart svg')].filter(s => {
	const scale = s.getBoundingClientRect().width / s.viewBox.baseVal.width;
	return [...s.querySelectorAll('text')].some(t => parseFloat(getComputedStyle(t).fontSize) * scale < 11);
}).map(s => s.closest('.chart').id)`

// drawn holds a page to showing its charts, each once, whole, in colors of its
// own, and with all its words to be read.
func (v *visit) drawn(charts int) {
	v.t.Helper()
	if got := ask[int](v, `[...document.querySelectorAll('.chart svg')].filter(s => s.checkVisibility()).length`); got != charts {
		v.t.Errorf("%d charts are shown, want %d", got, charts)
	}
	for what, found := range map[string]string{"charts with nothing in them": emptyCharts, "words that cannot be read": crowdedWords, "marks that cannot be seen": uncolored} {
		if bad := ask[[]string](v, found); len(bad) > 0 {
			v.t.Errorf("%d %s: %.80q", len(bad), what, bad)
		}
	}
	if wide := ask[int](v, tooWide); wide > 0 {
		v.t.Errorf("%d pixels wider than the screen", wide)
	}
}

// sound holds a page to what every page keeps.
func (v *visit) sound(within string, charts int) {
	v.t.Helper()
	v.drawn(charts)
	for _, rule := range []struct{ keeps, breaks string }{
		{"one h1 for each article", `document.querySelectorAll('h1').length - document.querySelectorAll('article').length`},
		{"a heading or name for each section", `[...document.querySelectorAll('section')].filter(s => !s.ariaLabel && !(s.getAttribute('aria-labelledby') || 'none').split(' ').every(id => document.getElementById(id))).length`},
		{"a caption for each table", `[...document.querySelectorAll('table')].filter(t => !t.caption || !t.caption.textContent).length`},
		{"a scope for each head", `document.querySelectorAll('th:not([scope])').length`},
		{"words for each chart", `[...document.querySelectorAll('svg')].filter(c => c.getAttribute('role') !== 'img' || (c.ariaLabel ?? document.getElementById(c.getAttribute('aria-labelledby')).textContent).length < 20).length`},
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
	name    func(map[string]any) string // a row's first cell
	columns map[int]string
	most    int // rows, where not all entries are shown
}

func named(member string) func(map[string]any) string {
	return func(e map[string]any) string { return fmt.Sprint(e[member]) }
}

func useAndMethod(g map[string]any) string { return fmt.Sprint(g["use"], ", ", g["method"]) }

func monthOf(m map[string]any) string { return say.New("", "", "").Month(m["month"].(string)) }

func slabOf(v map[string]any) string { return fmt.Sprint(v["job_no"], " ", v["placement"]) }

func clogMatch(caption, entries, kind, unit string) match {
	return match{caption, entries, func(o map[string]any) string { return kind + o["pump_outfit"].(string) + unit },
		map[int]string{1: "clogs_per_100yd.value", 2: "pooled.value", 3: "clogs", 4: "pumped_yd", 5: "placements", 6: "chance_of_clog_10yd.value"}, 0}
}

func callMatch(by int, name string) match {
	return match{"Callbacks by " + name, fmt.Sprintf("visits.callbacks.groups.%d.rows", by), named("name"),
		map[int]string{1: "calls", 2: "cost.value", 3: "cost_each.value", 4: "rate_per_100_placement_years.value", 5: "placements"}, chart.MostKinds}
}

var matches = map[string][]match{
	"month": {
		{"5 facts and what to do about each, the most within reach, times how sure, first", "findings", named("rank"), map[int]string{0: "rank", 2: "dollars_per_year", 3: "within_reach", 4: "probability"}, 0},
		{"Margin by month, the latest first", "margin.months", monthOf,
			map[int]string{1: "margin_pct.value", 2: "bid_margin_pct.value", 3: "jobs", 4: "revenue", 5: "cost", 6: "margin_pct_after_reserve.value"}, 13}},
	"waste": {
		{"The next job of each kind at its usual size, volumes in yd", "overage.groups", useAndMethod,
			map[int]string{1: "typical_yd", 2: "order_yd.value", 3: "order_allowance.value", 4: "chance_short.value", 5: "expected_leftover_yd.value", 6: "pooled_mean.value", 7: "next_job.p90.value"}, 0},
		{"Used over the drawing, by kind of job", "overage.groups", useAndMethod,
			map[int]string{1: "raw_mean.value", 2: "ratio_of_totals.value", 3: "past.p50.value", 4: "past.p90.value", 5: "n"}, 0}},
	"crews": {
		{"What each crew placed", "crews", named("crew"),
			map[int]string{1: "sqft_per_hour.value", 2: "n", 3: "area_sqft", 4: "labor_hours", 5: "hours_lost_to_delay.value", 6: "cost_of_delay.value"}, 0},
		{"Hours by kind of work where the average kind needs 100", "labor.uses", named("use"), map[int]string{1: "hours_vs_average.value", 2: "n"}, 0}},
	"pump": {
		clogMatch("Clogs by pump outfit", "pump.outfits", "", ""),
		clogMatch("Clogs by mix, by inside diameter of the hose and by largest stone", "pump.by_mix", "mix ", "")},
	"cracks": {
		{"Cracks by reinforcement, all joint spacings together", "cracks.by_reinforcement", named("reinforcement"),
			map[int]string{1: "risk_1yr.value", 2: "callbacks", 3: "placements", 4: "placement_years", 5: "share_full_year.value"}, 0},
		{"Slabs still watched and free of cracks at an age", "cracks.by_reinforcement", named("reinforcement"), map[int]string{7: "risk_warranty.value", 8: "rate_per_100_placement_years.value"}, 0}},
	"reinforcement": {
		{"Cracks with mesh and with rebar against others", "reinforcement.in_short", func(c map[string]any) string { return fmt.Sprint(c["of"], " against ", c["against"]) },
			map[int]string{1: "rate_ratio.value", 2: "raw_difference.value"}, 0}},
	"margin": {
		{"Margin by month, the latest first", "margin.months", monthOf,
			map[int]string{1: "margin_pct.value", 2: "bid_margin_pct.value", 3: "jobs", 4: "revenue", 5: "cost"}, page.MostMonths}},
	"visits": {
		{"Jobs to visit, most at stake first", "visits.trips", named("job_no"), map[int]string{2: "worth.value"}, page.MostRows},
		{"Overdue visits, most at stake first", "visits.overdue", slabOf, map[int]string{4: "chance.value", 5: "worth.value"}, page.MostRows}},
	"early": {
		{"What earlier pours with each sign did", "visits.early_signs.signs", func(s map[string]any) string { return say.Capital(s["sign"].(string)) },
			map[int]string{1: "now", 2: "with.placements", 3: "with.callbacks", 4: "with.share.value", 5: "with.rate_per_100_placement_years.value", 6: "without.rate_per_100_placement_years.value"}, 0}},
	"callbacks": {callMatch(0, "kind"), callMatch(1, "crew")},
	"seen": {
		{"Slabs with a crack by age, in 100", "visits.seen.ages", named("age_days"),
			map[int]string{0: "age_days", 1: "called.value", 2: "seen.value", 3: "between.value", 4: "at_least.value", 5: "at_most.value"}, 0},
		{"Visits by what they found", "visits.findings.found", named("finding"), map[int]string{1: "planned_visits", 2: "callbacks"}, 0}},
	"warranty": {
		{"Still to come, by the month in which the warranty ends", "visits.warranty.months", monthOf, map[int]string{1: "placements", 2: "expected_callbacks.value", 3: "expected_cost.value"}, page.MostRows}},
	"bids": {
		{"Ranges that held the actual figure; 80 in 100 should", "held", named("what"), map[int]string{1: "value", 2: "n"}, 0}},
}

// companyJSON is the JSON of the company's factors, with that of its bids.
func companyJSON(t testing.TB) map[string]any {
	t.Helper()
	doc := factorsJSON(t, trial.CompanyFactors(t))
	var b bytes.Buffer
	if err := BidsJSON(&b, trial.SomeBids("", ""), say.New("", "", "")); err != nil {
		t.Fatal(err)
	}
	var bids map[string]any
	if err := json.Unmarshal(b.Bytes(), &bids); err != nil {
		t.Fatal(err)
	}
	var held []any
	for what, share := range bids["held_of_80_pct"].(map[string]any) {
		share.(map[string]any)["what"] = what
		held = append(held, share)
	}
	doc["held"] = held
	return doc
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
	want := len(byName)
	if m.most > 0 {
		want = min(want, m.most)
	}
	if want == 0 || matched < want {
		t.Errorf("%s: %d rows were found for %d entries", m.caption, matched, want)
	}
}

func valueAt(entry map[string]any, path string) any {
	var v any = entry
	for step := range strings.SplitSeq(path, ".") {
		switch in := v.(type) {
		case map[string]any:
			v = in[step]
		case []any:
			i, err := strconv.Atoi(step)
			if err != nil || i >= len(in) {
				return nil
			}
			v = in[i]
		}
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
	pages, folder, single := companyWritten(t)
	v := open(t, browser(t), single, screen{width: 390, height: 800, noScript: true})
	v.drawn(len(chartsOf(pages)))
	v.quiet(folder)
	text, err := chromedp.Run(v.ctx, chromedp.Text(chromedp.CSS("main")))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pages {
		if !strings.Contains(text, p.Answer) {
			t.Errorf("without script the page lacks %q", p.Answer)
		}
		for _, e := range p.Exhibits {
			if cell := e.Table.Rows[0][0].Text; !strings.Contains(text, cell) {
				t.Errorf("without script the page lacks %q", cell)
			}
		}
	}
}

// TestHostileTextInABrowser opens pages whose records try to run, to draw and
// to turn the page around, in every column of text of all seven tables, in the
// settings and in bids, with and without script.
func TestHostileTextInABrowser(t *testing.T) {
	t.Parallel()
	for name, s := range map[string]record.Set{"job log": trial.HostileRecords(), "seven tables": trial.HostileEverywhere(t)} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			sites := map[string]page.Place{}
			for _, j := range s.Jobs {
				sites[j.JobNo] = page.Place{Site: j.Site}
			}
			f := trial.FactorsOf(t, s, setting.Options{Visits: setting.VisitOptions{Asked: true}})
			pages := page.Pages(f, page.Options{Company: trial.Hostile[0], Currency: trial.Hostile[4][:12], WithSites: true, Places: sites, Bids: trial.SomeBids(trial.Hostile[4], trial.Hostile[0])})
			folder := written(t, pages)
			v := open(t, browser(t), folder+"/"+singleName, screen{width: 390, height: 800})
			v.sound(folder, len(chartsOf(pages)))
			v.tame(len(pages))
			if tips := ask[string](v, tips); !strings.Contains(tips, "placement") {
				t.Errorf("nothing appears when a chart is pointed at: %q", tips)
			}
			v.quiet(folder)
			v.again(screen{width: 390, height: 800, noScript: true})
			v.drawn(len(chartsOf(pages)))
			v.tame(len(pages))
			v.quiet(folder)
		})
	}
}

// tips is what appears where charts are pointed at.
const tips = `[...document.querySelectorAll('.chart svg title')].map(t => t.textContent).join('\n')`

// tame holds a single file to having no element but those of our templates and
// drawings: what text would have made is another.
func (v *visit) tame(pages int) {
	v.t.Helper()
	if made := ask[[]string](v, `[...document.querySelectorAll('img, iframe, object, embed, form, input:not(.find input), b, i, u, style ~ style, svg script, svg image, svg foreignObject, svg a, [onerror], [onload], [onclick], a[href^="javascript"], main script')].map(e => e.outerHTML.slice(0, 200))`); len(made) > 0 {
		v.t.Errorf("made from text: %q", made)
	}
	if n := ask[int](v, `document.querySelectorAll('article').length`); n != pages {
		v.t.Errorf("%d pages, want %d", n, pages)
	}
	if ran := ask[bool](v, `'pourbackRan' in window`); ran {
		v.t.Error("a script from the records ran")
	}
}
