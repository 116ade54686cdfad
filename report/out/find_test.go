package out

import (
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pourback/ingest/record"
	"pourback/report/page"
	"pourback/report/say"
)

// longPage is a page with a table of 15 jobs, one of which lacks its dollars, and
// with a short one.
func longPage() []page.Page {
	type job struct {
		name  string
		day   int
		money float64
	}
	var jobs []job
	for i := range 15 {
		jobs = append(jobs, job{"Lot " + say.Count((i*7)%15+1), (i * 4) % 15, float64((i * 11) % 15 * 1000)})
	}
	v := say.New("", "", "")
	columns := []page.ColumnOf[job]{{Head: "Lot", Cell: func(j job) say.Cell { return say.Word(j.name) }},
		{Head: "Poured", Cell: func(j job) say.Cell {
			d := record.DateOf(2026, 10, 1) + record.Date(j.day)
			return say.Dated("day "+say.Count(d.Time().Day()), d)
		}},
		{Head: "Dollars", Number: true, Cell: func(j job) say.Cell {
			if j.money == 0 {
				return say.Blank()
			}
			return say.Valued(v.Amount(j.money, 0), j.money)
		}},
		{Head: "Crew", Cell: func(j job) say.Cell { return say.Word([]string{"Wren", "Heron", "Ångström"}[j.day%3]) }}}
	all := page.TableOf("All jobs", jobs, columns...)
	all.Find = say.FrameOf(v).Find(len(jobs))
	p := page.Page{Slug: "long", Title: "Long", Answer: "Fifteen jobs.", Basis: "Made up.", Exhibits: []page.Exhibit{
		{Title: "All", Table: all}, {Title: "Some", Table: page.TableOf("Some jobs", jobs[:12], columns...)}}}
	return []page.Page{{Slug: page.IndexSlug, Title: "Overview", Answer: "See the other page."}, p}
}

// shown are the cells of a column in the rows of the first table that are in sight.
func (v *visit) shown(column string) []string {
	v.t.Helper()
	return ask[[]string](v, `[...document.querySelector('table').tBodies[0].rows].filter(r => r.checkVisibility()).map(r => r.cells[[...document.querySelector('table').tHead.rows[0].cells].findIndex(h => h.textContent === '`+column+`')].textContent)`)
}

// TestSlabsAreFound: those in the closed details too, which open.
func TestSlabsAreFound(t *testing.T) {
	t.Parallel()
	_, folder, _ := companyWritten(t)
	v := open(t, browser(t), folder+"/slabs.html", screen{width: 390, height: 844})
	v.fold(true)
	const cards = `[...document.querySelectorAll('.card')]`
	last := ask[string](v, cards+`.at(-1).querySelector('h2').textContent`)
	all := ask[int](v, cards+`.length`)
	v.do(chromedp.Evaluate[chromedp.Void](`document.querySelector('.find input').focus()`), chromedp.KeyEvent(last))
	if n := ask[int](v, cards+`.filter(c => c.checkVisibility()).length`); n != 1 {
		t.Errorf("%d cards are in sight for %q, want 1 of %d", n, last, all)
	}
	if said := ask[string](v, `document.querySelector('.find [role=status]').textContent`); said != "1 of "+say.Count(all)+" slabs" {
		t.Errorf("it says %q", said)
	}
	v.do(chromedp.KeyEvent(kb.Escape))
	if n := ask[int](v, cards+`.filter(c => c.checkVisibility()).length`); n != all {
		t.Errorf("%d cards of %d are in sight once nothing is asked for", n, all)
	}
	v.quiet(folder)
}

// TestLongTablesAreSortedAndSearched: by mouse and by keyboard alike, and nothing
// of it is there on paper, in a short table, or without script.
func TestLongTablesAreSortedAndSearched(t *testing.T) {
	t.Parallel()
	folder := written(t, longPage())
	v := open(t, browser(t), folder+"/long.html", screen{width: 1200, height: 900})
	first := v.shown("Lot")
	if n := ask[int](v, `document.querySelectorAll('.find').length`); n != 1 {
		t.Fatalf("%d boxes to search in for one long table and a short one", n)
	}
	press := func(column string) string {
		v.do(chromedp.Evaluate[chromedp.Void](`[...document.querySelectorAll('table thead button')].find(b => b.textContent === '`+column+`').focus()`), chromedp.KeyEvent(kb.Enter))
		return ask[string](v, `[...document.querySelectorAll('th[aria-sort]')].map(h => h.textContent + ' ' + h.getAttribute('aria-sort')).join()`)
	}
	if said := press("Dollars"); said != "Dollars ascending" {
		t.Errorf("sorted by dollars, the heads say %q", said)
	}
	up := v.shown("Dollars")
	if up[0] != "$1,000" || up[8] != "$9,000" || up[13] != "$14,000" || up[14] != "–" {
		t.Errorf("by dollars: %q", up)
	}
	if said, down := press("Dollars"), v.shown("Dollars"); said != "Dollars descending" || down[0] != "$14,000" || down[14] != "–" {
		t.Errorf("%s: %q", said, down)
	}
	if said := press("Dollars"); said != "" || !slices.Equal(v.shown("Lot"), first) {
		t.Errorf("a third time: %q, %q, as it was written %q", said, v.shown("Lot"), first)
	}
	press("Poured")
	if days := v.shown("Poured"); days[1] != "day 2" || days[14] != "day 15" { // as text, day 10 would come before
		t.Errorf("by date: %q", days)
	}
	press("Lot")
	if lots := v.shown("Lot"); lots[1] != "Lot 2" || lots[14] != "Lot 15" {
		t.Errorf("by text with numbers in it: %q", lots)
	}
	press("Crew")
	if crews := v.shown("Crew"); crews[0] != "Ångström" || crews[14] != "Wren" {
		t.Errorf("by text: %q", crews)
	}
	v.accessible()

	v.do(chromedp.Click(chromedp.CSS(".find input")), chromedp.KeyEvent("heron  LOT 1"))
	left := ask[string](v, `document.querySelector('.find [role=status]').textContent`)
	if found := v.shown("Crew"); len(found) == 0 || len(found) == 15 || left != say.Count(len(found))+" of 15 rows" || slices.ContainsFunc(found, func(c string) bool { return c != "Heron" }) {
		t.Errorf("%q and %q are found for a crew and a lot", left, found)
	}
	v.accessible()
	v.as(sheetCase{width: 1200, look: "print"})
	if n := len(v.shown("Lot")); n != 15 || ask[bool](v, `document.querySelector('.find').checkVisibility()`) {
		t.Errorf("on paper %d rows, want all 15 and no box to write in", n)
	}
	v.as(sheetCase{width: 1200, look: "light"})
	v.do(chromedp.Click(chromedp.CSS(".find input")), chromedp.KeyEvent(kb.Escape)) // on paper the box lost the focus
	if rest := ask[string](v, `document.querySelector('.find input').value + document.querySelector('.find [role=status]').textContent`); rest != "" || len(v.shown("Lot")) != 15 {
		t.Errorf("after Escape %q is left, with %d rows", rest, len(v.shown("Lot")))
	}

	v.again(screen{width: 390, height: 844, dark: true})
	v.legible(sheetCase{"the long page", 390, "dark"})
	v.accessible()
	v.again(screen{width: 390, height: 844, noScript: true})
	if n := ask[int](v, `document.querySelectorAll('.find, thead button').length`); n != 0 || len(v.shown("Lot")) != 15 {
		t.Errorf("without script %d boxes and buttons, and %d rows", n, len(v.shown("Lot")))
	}
	v.quiet(folder)
}

// TestScriptHasNoWords: what it shows comes with the page, in its language.
func TestScriptHasNoWords(t *testing.T) {
	html := single(t, longPage())
	for _, want := range []string{`data-find="Find in this table"`, `data-left="# of 15 rows"`, `<time datetime="2026-10-05">day 5</time>`} {
		if !strings.Contains(html, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
}
