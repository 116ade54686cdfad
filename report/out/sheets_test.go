package out

import (
	"fmt"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"pourback/analysis"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
	"pourback/report/page"
)

// sheetCase is a report as somebody looks at it.
type sheetCase struct {
	records string // of which it is made: a key of sheetRecords
	width   int64  // of the window, pixels; paper has its own
	look    string // light, dark or print
}

func (c sheetCase) String() string { return fmt.Sprint(c.records, ", ", c.width, ", ", c.look) }

const (
	fortyJobs, usual, hostileNames, metric = "40 jobs", "600 placements", "hostile names", "metric"
	spanish                                = "600 placements in Spanish"
	hundredThousand                        = "100 thousand placements" // only where asked for
	paperWidth                             = 710                       // 7.4 inches: Letter between its margins, pixels
)

// pairwise has every two of records, width and look together at least once:
// 15 cases, where all would be 45.
func pairwise() (all []sheetCase) {
	for i, records := range []string{fortyJobs, usual, hostileNames, metric, spanish} {
		for j, width := range []int64{390, 768, 1200} {
			all = append(all, sheetCase{records, width, []string{"light", "dark", "print"}[(i+j)%3]})
		}
	}
	return all
}

func TestPairwiseHasEveryPair(t *testing.T) {
	pairs := map[string]bool{}
	for _, c := range pairwise() {
		pairs[fmt.Sprint(c.records, c.width)], pairs[fmt.Sprint(c.width, c.look)], pairs[c.records+c.look] = true, true, true
	}
	if want := 5*3 + 3*3 + 5*3; len(pairs) != want {
		t.Errorf("%d pairs, want %d", len(pairs), want)
	}
}

// sheetPages are the pages of a report with its names, as its owner has it, of
// records that are worked out once.
var sheetPages = func() func(t testing.TB, records string) []page.Page {
	var lock sync.Mutex
	done := map[string][]page.Page{}
	return func(t testing.TB, records string) []page.Page {
		t.Helper()
		lock.Lock()
		defer lock.Unlock()
		if done[records] == nil {
			done[records] = pagesOf(t, records)
		}
		return done[records]
	}
}()

func pagesOf(t testing.TB, records string) []page.Page {
	t.Helper()
	opt := page.Options{Company: "Saltgrass Flatwork", WithSites: true, Places: map[string]page.Place{}, Bids: trial.SomeBids("Lot 14, Mesquite Lane", "J-1")}
	var s record.Set
	switch records {
	case fortyJobs:
		s = companyOf(t, 40)
	case hundredThousand:
		s = companyOf(t, 72_000)
	case hostileNames:
		s = trial.HostileEverywhere(t)
		opt.Company, opt.Bids = trial.Hostile[0], trial.SomeBids(trial.Hostile[4], trial.Hostile[0])
	case metric:
		opt.Units = "si"
		fallthrough
	case spanish:
		opt.Lang = "es"
		s = trial.Company(t)
	default:
		s = trial.Company(t)
	}
	for _, j := range s.Jobs {
		opt.Places[j.JobNo] = page.Place{Site: j.Site, Customer: j.Customer}
	}
	if records == usual || records == metric {
		return page.Pages(trial.CompanyFactors(t), opt)
	}
	return page.Pages(visitedFactors(t, s), opt)
}

func companyOf(t testing.TB, jobs int) record.Set {
	t.Helper()
	s, _, err := invented.Generate(invented.Options{Jobs: jobs, Seed: 1, Until: trial.AsOf})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func visitedFactors(t testing.TB, s record.Set) *analysis.Factors {
	t.Helper()
	return trial.FactorsOf(t, s, setting.Options{Visits: setting.VisitOptions{Asked: true}})
}

// as shows the page as a case has it.
func (v *visit) as(c sheetCase) {
	v.t.Helper()
	v.see(screen{width: c.width, height: 844, dark: c.look == "dark"})
	if c.look == "print" {
		v.do(command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}), chromedp.EmulateViewport(paperWidth, 950))
	}
}

// What a person would call broken, each listed by the script of its test.
const (
	// cutWords lists texts that leave their box, the box of the tile or of the cell
	// that holds them, or the screen, and those that are squeezed to a letter a line.
	cutWords = `[...document.querySelectorAll('h1, h2, .answer, .tile > a, .tile p, .tile span, .tile strong, nav a, .siblings a, summary, .do p, caption span, .basis, th, td, figcaption')].flatMap(e => {
		if (!e.checkVisibility() || e.closest('.unseen') || getComputedStyle(e.closest('thead') ?? e).clipPath !== 'none') return [];
		const box = e.getBoundingClientRect(), scrolls = e.closest('.scroll'), said = e.textContent.trim().slice(0, 60), range = document.createRange();
		range.selectNodeContents(e);
		if (said.length > 2 && box.width < 1.7 * parseFloat(getComputedStyle(e).fontSize) && box.height > 3 * box.width) return [e.tagName + ' has a letter a line: ' + said];
		const wide = [...range.getClientRects()].find(r => r.width > 1 && (r.right > box.right + 1.5 || r.left < box.left - 1.5));
		if (wide) return [e.tagName + ' leaves its box by ' + Math.round(Math.max(wide.right - box.right, box.left - wide.left)) + ': ' + said];
		if (e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0 && getComputedStyle(e).display !== 'inline') return [e.tagName + ' is cut: ' + said];
		return !scrolls && (box.right > innerWidth + 1 || box.left < -1) ? [e.tagName + ' leaves the screen: ' + said] : [];
	})`
	// overlaps lists headings, answers, tiles and what is in them that stand on each other.
	overlaps = `(() => {
		const said = [...document.querySelectorAll('h1, h2, .answer, .left-out, .tile p, .tile li, .tile svg, nav a, .siblings a, summary, .do p, .scroll, figure, .basis, .foot, .below, .find')]
			.filter(e => e.checkVisibility() && !e.closest('.unseen') && !e.classList.contains('unseen')).map(e => ({e, r: e.getBoundingClientRect()})).filter(x => x.r.width > 0 && x.r.height > 0).sort((a, b) => a.r.top - b.r.top);
		const on = [];
		for (let i = 0; i < said.length; i++) for (let j = i + 1; j < said.length && said[j].r.top < said[i].r.bottom - 1.5; j++) {
			const a = said[i], b = said[j];
			if (a.e.contains(b.e) || b.e.contains(a.e)) continue;
			if (a.r.left < b.r.right - 1.5 && b.r.left < a.r.right - 1.5) on.push(a.e.textContent.trim().slice(0, 40) + ' under ' + b.e.textContent.trim().slice(0, 40));
		}
		return on;
	})()`
	// hardToTouch lists what leads somewhere, or does something, and is smaller than
	// 44 pixels either way (WCAG 2.2, target size, level AAA; links in sentences are
	// exempt there too).
	hardToTouch = `[...document.querySelectorAll('nav a, .siblings a, .tile > a, summary, .find input, thead button, .top a')].filter(e => {
		const r = e.getBoundingClientRect();
		return e.checkVisibility() && (r.height < 43.9 || r.width < 43.9);
	}).map(e => e.tagName + ' ' + e.textContent.trim().slice(0, 40) + ' ' + Math.round(e.getBoundingClientRect().width) + ' by ' + Math.round(e.getBoundingClientRect().height))`
	// outOfOrder lists what the Tab key comes to out of the order in which it is read:
	// above and left of where it came from.
	outOfOrder = `[...document.querySelectorAll('a[href], button, input, summary, [tabindex]')].filter(e => e.checkVisibility() && !e.matches('.skip')).flatMap((e, i, all) => {
		if (e.tabIndex !== 0) return ['not reached in order: ' + e.outerHTML.slice(0, 80)];
		if (i === 0) return [];
		const r = e.getBoundingClientRect(), was = all[i - 1].getBoundingClientRect();
		return r.bottom <= was.top && r.left <= was.left ? [all[i - 1].textContent.slice(0, 40) + ' before ' + e.textContent.slice(0, 40)] : [];
	})`
)

// TestReportPairwise holds whole reports, with all their details, to what every
// screen keeps.
func TestReportPairwise(t *testing.T) {
	t.Parallel()
	b := browser(t)
	byRecords := map[string][]sheetCase{}
	for _, c := range pairwise() {
		byRecords[c.records] = append(byRecords[c.records], c)
	}
	for records, cases := range byRecords {
		t.Run(records, func(t *testing.T) {
			t.Parallel()
			folder := written(t, sheetPages(t, records))
			v := open(t, b, folder+"/"+singleName, screen{width: cases[0].width, height: 844})
			for _, c := range cases {
				v.as(c)
				v.legible(c)
			}
			v.quiet(folder)
		})
	}
}

// legible holds a page to what a case of it keeps.
func (v *visit) legible(c sheetCase) {
	v.t.Helper()
	if wide := ask[int](v, tooWide); wide > 0 {
		v.t.Errorf("%s: %d pixels wider than the screen", c, wide)
	}
	rules := map[string]string{"words that cannot be read": crowdedWords, "words that are cut": cutWords, "things that stand on others": overlaps}
	if c.look != "print" {
		rules["things too small to touch"], rules["stops out of order"] = hardToTouch, outOfOrder
	}
	for what, script := range rules {
		if bad := ask[[]string](v, script); len(bad) > 0 {
			v.t.Errorf("%s: %d %s: %.120q", c, len(bad), what, bad[:min(len(bad), 6)])
		}
	}
}
