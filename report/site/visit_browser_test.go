package site

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pourback/ingest/store/storetest"
)

// shapedSlabs are slabs of jobs of their own, by what their bid says of the shape; ""
// has no bid.
var shapedSlabs = []struct{ job, outline string }{
	{"V-1", ""}, {"V-2", "L 20 x 16 less 8 x 6"}, {"V-3", "circle 30"}, {"V-4", "0,12,12; 12,0; 12,4,-8; 4,12"}, {"V-5", "rectangle 60 x 4"}, {"V-6", "rectangle 30 x 20"},
}

// shapes takes the shaped slabs in, with their bids.
func (p *place) shapes(b *surfer) {
	p.t.Helper()
	text := "job_no,placement,placed_on,use,area_sqft,thickness_in,crew\n"
	for _, s := range shapedSlabs {
		text += s.job + ",A,2026-03-02,patio,320,4,Heron\n"
		if s.outline != "" {
			b.keepsBid("job_no", s.job, "p0.use", "patio", "p0.outline", s.outline, "p0.thickness_in", "4")
		}
	}
	p.takeFile("placements.csv", text)
}

// handheld is a window the size of a phone, with touch.
func (p *place) handheld(t *testing.T, width, height int64) *window {
	t.Helper()
	w := p.window(t, width)
	w.do(chromedp.EmulateViewport(width, height, chromedp.EmulateMobile, chromedp.EmulateTouch))
	return w
}

// box is where an element stands in the window.
type box struct{ X, Y, Width, Height float64 }

func (w *window) box(selector string) box {
	w.t.Helper()
	return ask[box](w, fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.scrollIntoView({block: 'center'}); const r = e.getBoundingClientRect(); return {X: r.x, Y: r.y, Width: r.width, Height: r.height}; })()`, selector))
}

// markAway is how many pixels the mark is from the place that it stands for.
const markAway = `(() => { const l = document.querySelector('.ninths').getBoundingClientRect(), m = document.querySelector('.marker').getBoundingClientRect();
	const [x, y] = document.querySelector('[name=spot_at]').value.split(' ').map(Number);
	return Math.hypot(m.x + m.width / 2 - l.x - x * l.width, m.y + m.height / 2 - l.y - y * l.height); })()`

// tapAt touches the screen at a place.
func (w *window) tapAt(x, y float64) {
	w.t.Helper()
	w.do(chromedp.TapXY(x, y))
}

func TestVisitFormInChromium(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.shapes(p.surfer())
	for _, size := range [][2]int64{{360, 640}, {390, 844}} {
		t.Run(fmt.Sprint(size[0]), func(t *testing.T) {
			w := p.handheld(t, size[0], size[1])
			for _, s := range shapedSlabs {
				w.open("/slabs/" + s.job + "/A/visit")
				if size[0] == 360 || s.outline == "" {
					w.sound(s.job)
				}
				for _, at := range [][2]float64{{0.5, 0.5}, {0.07, 0.93}, {0.98, 0.11}, {0.3, 0.45}} {
					layer := w.box(".ninths")
					w.tapAt(layer.X+at[0]*layer.Width, layer.Y+at[1]*layer.Height)
					var x, y float64
					fmt.Sscan(ask[string](w, `document.querySelector('[name=spot_at]').value`), &x, &y)
					if dx, dy := (x-at[0])*layer.Width, (y-at[1])*layer.Height; math.Hypot(dx, dy) > 1.5 {
						t.Errorf("%s: tapped at %v, and the mark is at %.3f %.3f", s.job, at, x, y)
					}
					if away := ask[float64](w, markAway); away > 1 {
						t.Errorf("%s: the mark is drawn %.1f pixels from where it is", s.job, away)
					}
				}
				w.lookAt(fmt.Sprint("visit-", size[0], "-", s.job))
			}
			ask[bool](w, `document.querySelector('[name=finding][value=crack]').click() || true`)
			ask[bool](w, `document.querySelector('[name=why][value=callback]').click() || true`)
			w.sound("a crack")
			w.lookAt(fmt.Sprint("visit-", size[0], "-crack"))
			if strings.Contains(ask[string](w, `document.querySelector('main').innerText`), "{") {
				t.Error("a name in braces is left")
			}
		})
	}
}
