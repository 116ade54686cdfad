package out

import (
	"testing"

	"pourback/report/page"
)

// TestPagesAreShort: with its details closed no page is longer than three screens of
// a desk or five of a phone, and the overview fits a desk's screen.
func TestPagesAreShort(t *testing.T) {
	t.Parallel()
	pages, folder, _ := companyWritten(t)
	const height = `Math.round(document.querySelector('main').getBoundingClientRect().bottom)`
	for _, s := range []struct {
		screen
		most, overview int
	}{{screen{width: 1200, height: 800}, 3 * 800, 800}, {screen{width: 390, height: 844}, 5 * 844, 5 * 844 / 2}} {
		v := open(t, browser(t), folder+"/index.html", s.screen)
		for _, p := range pages {
			v := open(t, browser(t), folder+"/"+p.Slug+".html", s.screen)
			v.fold(true)
			most := s.most
			if p.Slug == page.IndexSlug {
				most = s.overview
			}
			if got := ask[int](v, height); got > most {
				t.Errorf("%s at %d pixels is %d high, want at most %d", p.Slug, s.width, got, most)
			}
			v.quiet(folder)
		}
		if n := ask[int](v, `document.querySelectorAll('.tile svg').length`); n < 6 {
			t.Errorf("%d pictures on the overview, want 6 or more", n)
		}
		if n := ask[int](v, `[...document.querySelectorAll('.tile a')].filter(a => a.getBoundingClientRect().height < 44).length`); n > 0 {
			t.Errorf("%d tiles are too small to touch", n)
		}
	}
}
