package out

import (
	"fmt"
	"testing"

	"pourback/report/internal/browse"
)

// firefox is a Firefox that looks at the report.
type firefox struct {
	*browse.Firefox
	t *testing.T
}

// open loads a page on a screen.
func (f *firefox) open(url string, s screen) {
	f.t.Helper()
	f.Open(url, s.width, s.height)
}

// TestReportInFirefox: every page loads without a complaint and without being
// wider than the screen; details open when they are clicked and on paper, and are
// closed again after it; long tables sort.
func TestReportInFirefox(t *testing.T) {
	t.Parallel()
	f := &firefox{browse.StartFirefox(t), t}
	pages := sheetPages(t, usual)
	folder := written(t, pages)
	for i, p := range pages {
		s := screen{width: []int64{390, 768, 1200}[i%3], height: 844}
		f.open(folder+"/"+p.Slug+".html", s)
		f.plain(p.Slug, s)
	}
	f.open(folder+"/"+singleName, screen{width: 390, height: 844})
	f.plain("single file", screen{width: 390})

	f.open(folder+"/margin.html", screen{width: 1200, height: 844})
	open := func() (all []bool) {
		f.Ask(`[...document.querySelectorAll('details')].map(d => d.open)`, &all)
		return all
	}
	if at := open(); len(at) != 1 || at[0] {
		t.Errorf("details are open %v before anybody asks", at)
	}
	var onPaper, after bool
	f.Ask(`(() => { dispatchEvent(new Event('beforeprint')); return document.querySelector('details').open; })()`, &onPaper)
	f.Ask(`(() => { dispatchEvent(new Event('afterprint')); return document.querySelector('details').open; })()`, &after)
	if !onPaper || after {
		t.Errorf("details are open on paper %v, after it %v", onPaper, after)
	}
	f.Click("summary")
	if !open()[0] {
		t.Error("the details do not open by a click")
	}
	f.Click("table[data-find] thead th:nth-child(2) button")
	var sorted []float64
	f.Ask(`[...document.querySelector('table[data-find]').tBodies[0].rows].map(r => Number(r.cells[1].querySelector('data')?.value ?? Infinity))`, &sorted)
	for i := 1; i < len(sorted); i++ {
		if sorted[i] < sorted[i-1] {
			t.Fatalf("not in order: %v", sorted)
		}
	}
	f.printed(folder)
	for _, said := range f.Trouble {
		t.Error("the page complained: ", said)
	}
}

// plain holds a page, with its details open, to what every screen keeps.
func (f *firefox) plain(name string, s screen) {
	f.t.Helper()
	var wide int
	f.Ask(`[...document.querySelectorAll('details')].map(d => d.open = true).length * 0 + `+tooWide, &wide)
	if wide > 0 {
		f.t.Errorf("%s at %d: %d pixels wider than the screen", name, s.width, wide)
	}
	var crowded []string
	if f.Ask(crowdedWords, &crowded); len(crowded) > 0 {
		f.t.Errorf("%s at %d: words that cannot be read: %.200q", name, s.width, crowded)
	}
}

// printed prints a page as a reader does, who has not opened its details, and holds
// it to being more than what stands above them.
func (f *firefox) printed(folder string) {
	f.t.Helper()
	size := func() int {
		var pdf struct{ Data string }
		f.Call("browsingContext.print", fmt.Sprintf(`{"context": %q, "page": {"width": 21.59, "height": 27.94}}`, f.Tab), &pdf)
		return len(pdf.Data)
	}
	f.open(folder+"/margin.html", screen{width: 1200, height: 844})
	whole := size()
	var removed bool
	f.Ask(`document.querySelector('details').remove() === undefined`, &removed)
	if above := size(); whole < above*3/2 {
		f.t.Errorf("%d bytes are printed, and %d without the details", whole, above)
	}
}
