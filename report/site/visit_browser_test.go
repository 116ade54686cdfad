package site

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pourback/ingest/record"
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

// call is an action of one command.
func call[P, R any](method cdp.Command[P, R], params P) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, method, params)
		return err
	})
}

// drag moves a finger over the screen.
func (w *window) drag(x, y, toX, toY float64) {
	w.t.Helper()
	const steps = 5
	touch := func(kind input.DispatchTouchEventType, points ...*input.TouchPoint) {
		w.do(call(input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: append([]*input.TouchPoint{}, points...)}))
	}
	touch(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x, Y: y})
	for i := 1.0; i <= steps; i++ {
		touch(input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x + (toX-x)*i/steps, Y: y + (toY-y)*i/steps})
	}
	touch(input.DispatchTouchEventTypeTouchEnd)
}

// spot is the place that the mark stands for.
func (w *window) spot() (x, y float64) {
	w.t.Helper()
	fmt.Sscan(ask[string](w, `document.querySelector('[name=spot_at]').value || document.querySelector('[name=spot]:checked').value`), &x, &y)
	return x, y
}

// TestTheMarkMoves by a finger that drags it and by the arrow keys; the parts of the
// drawing are chosen by the keys too, and no place at all is an answer.
func TestTheMarkMoves(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.shapes(p.surfer())
	w := p.handheld(t, 390, 844)
	w.open("/slabs/V-6/A/visit")
	near := func(what string, wantX, wantY float64) {
		t.Helper()
		if x, y := w.spot(); math.Abs(x-wantX) > 0.006 || math.Abs(y-wantY) > 0.006 {
			t.Errorf("%s: at %.3f %.3f, want %.3f %.3f", what, x, y, wantX, wantY)
		}
	}
	layer := w.box(".ninths")
	w.tapAt(layer.X+0.5*layer.Width, layer.Y+0.5*layer.Height)
	near("tapped", 0.5, 0.5)
	w.drag(layer.X+0.5*layer.Width+8, layer.Y+0.5*layer.Height+5, layer.X+0.8*layer.Width+8, layer.Y+0.25*layer.Height+5)
	near("dragged by its rim", 0.8, 0.25)
	if checked := ask[string](w, `document.querySelector('[name=spot]:checked').value`); checked != "0.833 0.167" {
		t.Error("the part that is chosen with it: ", checked)
	}
	w.drag(layer.X+0.8*layer.Width, layer.Y+0.25*layer.Height, layer.X+2*layer.Width, layer.Y-300)
	near("dragged out of the drawing", 1, 0)
	w.tapAt(layer.X+0.99*layer.Width, layer.Y+0.02*layer.Height)
	near("a tap on the mark itself", 0.99, 0.02)
	ask[bool](w, `document.querySelector('.marker').focus() || true`)
	w.do(chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowDown))
	near("by keys", 0.97, 0.03)
	if says := ask[string](w, `document.getElementById('spot-says').textContent`); says != "29 ft from the left, 1 ft from the top" {
		t.Errorf("it says %q", says)
	}
	ask[bool](w, `document.querySelector('[name=spot]:checked').focus() || true`)
	w.do(chromedp.KeyEvent(kb.ArrowLeft))
	near("a part by keys", 0.5, 0.167)
	if away := ask[float64](w, strings.Replace(markAway, `'[name=spot_at]'`, `'[name=spot]:checked'`, 1)); away > 1 {
		t.Errorf("the mark is %.1f pixels from the part", away)
	}
	ask[bool](w, `document.querySelector('[name=spot][value=""]').click() || true`)
	if !ask[bool](w, `document.querySelector('.marker').hidden && document.querySelector('[name=spot_at]').value === ''`) {
		t.Error("no place, and there is a mark")
	}
	w.sound("after all")
}

// heights are those of the gauge's lines and of what is held against the screen, in dots
// of it.
const heights = `(() => { const dots = devicePixelRatio * visualViewport.scale;
	return [...document.querySelectorAll('.gauge li rect')].map(r => r.getBoundingClientRect().height * dots); })()`

// TestTheGaugeIsTrueToSize: once a card or a coin fits its outline, each line is as wide
// as it says, whatever the page is enlarged by, and it stays so on this phone.
func TestTheGaugeIsTrueToSize(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.shapes(p.surfer())
	w := p.handheld(t, 390, 844)
	open := func() {
		t.Helper()
		w.open("/slabs/V-1/A/visit")
		ask[bool](w, `document.querySelector('[name=finding][value=crack]').click() || true`)
		ask[bool](w, `document.querySelector('.gauge').open = true`)
	}
	open()
	const perMm = 6.25
	ask[bool](w, fmt.Sprintf(`(() => { const r = document.querySelector('.gauge input'); r.value = %v; r.dispatchEvent(new Event('input')); return true; })()`, perMm))
	outline := func(what string, wide, high float64) {
		t.Helper()
		if is := w.box(".gauge .outline rect"); math.Abs(is.Width-wide*perMm) > 1.1 || math.Abs(is.Height-high*perMm) > 1.1 { // its line is one wide
			t.Errorf("%s: %.2f by %.2f, want %.2f by %.2f", what, is.Width, is.Height, wide*perMm, high*perMm)
		}
	}
	outline("the card", 53.98, 85.60) // ISO/IEC 7810, ID-1
	ask[bool](w, `document.querySelector('[data-thing=coin]').click() || true`)
	outline("the coin", 24.26, 24.26)
	w.sound("fitting")
	w.lookAt("gauge-fit")
	ask[bool](w, `document.querySelector('[data-fits]').click() || true`)
	lines := func(what string) {
		t.Helper()
		is := ask[[]float64](w, heights)
		if len(is) != len(gaugeWidths) {
			t.Fatalf("%s: %d lines", what, len(is))
		}
		for i, in := range gaugeWidths {
			if want := in * 25.4 * perMm; math.Abs(is[i]-want) > 0.02 {
				t.Errorf("%s: the line of %v in is %.3f dots, want %.3f", what, in, is[i], want)
			}
		}
	}
	lines("fitted")
	w.sound("the lines")
	w.lookAt("gauge-lines")
	open()
	lines("opened again")
	w.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulateScale(3)))
	open()
	lines("with smaller pixels")
	w.do(call(emulation.SetPageScaleFactor, emulation.SetPageScaleFactorParams{PageScaleFactor: 2}))
	for range 50 {
		if is := ask[[]float64](w, heights); math.Abs(is[6]-0.125*25.4*perMm) < 0.02 {
			break
		}
	}
	lines("enlarged by two fingers")
	w.do(call(emulation.SetPageScaleFactor, emulation.SetPageScaleFactorParams{PageScaleFactor: 1}))
	if fine := ask[[]bool](w, `[...document.querySelectorAll('.gauge li small')].map(s => !s.hidden)`); !slices.Equal(fine, []bool{true, false, false, false, false, false, false}) {
		t.Error("finer than the screen draws: ", fine)
	}
	ask[bool](w, `document.querySelector('.gauge li button[value="0.016 in"]').click() || true`)
	if width := ask[string](w, `document.querySelector('[name=width]').value`); width != "0.016 in" {
		t.Error("the width is ", width)
	}
	ask[bool](w, `document.querySelector('[data-again]').click() || true`)
	if value := ask[string](w, `document.querySelector('.gauge input').value`); value != fmt.Sprintf("%.2f", perMm/3) && value != "2.08" {
		t.Error("fitted again from ", value)
	}
}

// photos puts pictures into files, for a browser to choose.
func (w *window) photos(files ...uploaded) {
	w.t.Helper()
	dir := w.t.TempDir()
	var paths []string
	for _, f := range files {
		path := filepath.Join(dir, f.name)
		if err := os.WriteFile(path, f.content, 0o600); err != nil {
			w.t.Fatal(err)
		}
		paths = append(paths, path)
	}
	w.do(chromedp.SetUploadFiles(chromedp.CSS(`input[type=file]`), paths))
}

// TestVisitWithoutScript: a part of the drawing is tapped, pictures are chosen, and what
// cannot be taken comes back with what was filled in.
func TestVisitWithoutScript(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.shapes(p.surfer())
	w := p.handheld(t, 360, 640)
	w.noScript()
	tap := func(selector string) {
		t.Helper()
		b := w.box(selector)
		w.tapAt(b.X+b.Width/2, b.Y+b.Height/2)
	}
	w.open("/slabs/V-2/A/visit")
	fits := func(name string) { // axe is a script
		t.Helper()
		if wide := ask[int](w, tooWide); wide > 0 {
			t.Errorf("%s: %d pixels wider than the screen", name, wide)
		}
		if small := ask[[]string](w, tooSmall); len(small) > 0 {
			t.Errorf("%s: too small to touch: %q", name, small)
		}
	}
	fits("without script")
	if !ask[bool](w, `document.querySelector('.gauge').hidden && document.querySelector('.marker').hidden`) {
		t.Error("what needs script is shown")
	}
	if n := ask[int](w, `document.querySelectorAll('.ninths input').length`); n != 8 { // nothing of it lies in one corner
		t.Error(n, " parts of an L")
	}
	tap(`label:has([name=why][value=callback])`)
	tap(`label:has([name=finding][value=crack])`)
	tap(`label:has([name=crack_kind][value=corner])`)
	tap(`.ninths .r2.c0`)
	w.lookAt("visit-without-script")
	w.do(chromedp.SendKeys(chromedp.CSS(`[name=width]`), "wide"), chromedp.SendKeys(chromedp.CSS(`[name=called]`), "the builder"))
	w.photos(uploaded{"IMG_1.jpg", photo(t, 640, 480, 0)}, uploaded{"IMG_2.jpg", photo(t, 480, 640, 30)})
	w.push("form > p > button.main")
	w.forget()
	fits("not taken")
	w.lookAt("visit-not-taken")
	if says := ask[string](w, `document.querySelector('[role=alert]').textContent`); !strings.Contains(says, "Width of the crack: “wide” is no number here") {
		t.Error(says)
	}
	if spot := ask[string](w, `document.querySelector('[name=spot]:checked').value + ' ' + document.querySelector('[name=called]').value`); spot != "0.167 0.833 the builder" {
		t.Error("what was filled in: ", spot)
	}
	w.set("[name=width]", "1/32")
	w.photos(uploaded{"IMG_1.jpg", photo(t, 640, 480, 0)}, uploaded{"IMG_2.jpg", photo(t, 480, 640, 30)})
	w.push("form > p > button.main")
	fits("taken")
	w.lookAt("slab-after-a-visit")
	if at := ask[string](w, `location.pathname`); at != "/slabs/V-2/A" {
		t.Fatal("at ", at)
	}
	if says := ask[string](w, `document.querySelector('.entry-told').textContent`); !strings.Contains(says, "V-2 A: crack, on record.") {
		t.Error(says)
	}
	want := record.Visit{JobNo: "V-2", Placement: "A", SeenOn: testDay, Why: "callback", Finding: "crack", CrackKind: "corner", WidthIn: record.Some(1. / 32), SpotX: record.Some(0.167), SpotY: record.Some(0.833), Note: "called: the builder"}
	if all := p.visits(); len(all) != 1 || all[0] != want {
		t.Errorf("%+v", all)
	}
	w.goes("a tap on a picture", func() { tap(".life li a img") })
	fits("in large")
}

// TestASlabsLifeInChromium: pictures stand in a row that is pushed along by itself, in
// both languages, light and dark; a tap shows one in large.
func TestASlabsLifeInChromium(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.slabs()
	b := p.surfer()
	for i, of := range []string{"", "load 881", "visit 2025-09-01", ""} {
		if got := b.enter("/slabs/J-1/A/pictures", keyed("of", of, "caption", "a long caption that goes on for more than one line"), uploaded{"a.jpg", photo(t, 600, 450+200*i, uint8(10*i))}); got.status != http.StatusSeeOther {
			t.Fatal(got)
		}
	}
	w := p.handheld(t, 360, 640)
	for _, scheme := range []string{"light", "dark"} {
		w.do(call(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}))
		for _, at := range []string{"/slabs/J-1/A", "/slabs/J-1/A?lang=es", "/slabs/J-1/A/visit", "/slabs/J-1/A/visit?lang=es&units=si&why=callback", "/visits?lang=es"} {
			w.open(at)
			if strings.Contains(at, "visit?") {
				ask[bool](w, `document.querySelector('[name=finding][value=crack]').click() || true`)
			}
			w.sound(scheme + at)
			w.lookAt(scheme + at)
		}
	}
	w.open("/slabs/J-1/A")
	if !ask[bool](w, `(() => { const l = document.querySelector('.life'); return l.scrollWidth > l.clientWidth; })()`) {
		t.Error("the row does not go on beside the screen")
	}
	days := ask[[]string](w, `[...document.querySelectorAll('.life figcaption')].map(f => f.textContent.slice(0, 10))`)
	if len(days) != 4 || !slices.IsSorted(days) || days[0] != "2025-09-01" {
		t.Error("in the order of time: ", days)
	}
	if n := ask[int](w, `Promise.all([...document.querySelectorAll('.life img')].map(i => { i.loading = 'eager'; return i.decode().then(() => i.naturalWidth > 0 ? 1 : 0); })).then(all => all.reduce((a, b) => a + b))`); n != 4 {
		t.Error(n, " pictures are shown")
	}
	w.push(".life li:nth-child(2) a")
	w.sound("in large")
	w.lookAt("picture-in-large")
	if n := ask[int](w, `document.querySelector('.large img').decode().then(() => document.querySelector('.large img').naturalWidth)`); n != 600 {
		t.Error("in large it is ", n)
	}
	w.push(`a[rel=next]`)
	w.push(`a[rel=prev]`)
	w.push(`.links li:last-child a`)
	if at := ask[string](w, `location.pathname`); at != "/slabs/J-1/A" {
		t.Error("back, and at ", at)
	}
	ask[bool](w, `document.querySelector('#pictures').open = true`)
	w.photos(uploaded{"x.jpg", []byte("<html><script>alert(1)</script>")})
	w.do(chromedp.Tap(chromedp.CSS("#pictures button.main")))
	w.until(`document.querySelector('[data-waiting]').textContent.includes('Picture x.jpg: no picture of a kind that is kept')`)
	w.forget()
	w.sound("a page named .jpg")
}

// TestAVisitGoesThroughTheQueue: what is filled in with script is kept on the phone until
// it is on record, with pictures made small; the form is empty then, its mark too, and what
// is said by one tap is put away once it is on record.
func TestAVisitGoesThroughTheQueue(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.shapes(p.surfer())
	w := p.handheld(t, 390, 844)
	w.open("/slabs/V-6/A/visit")
	for _, answer := range []string{`[name=why][value=planned]`, `[name=finding][value=crack]`, `[name=at_joint][value=yes]`} {
		ask[bool](w, fmt.Sprintf(`document.querySelector(%q).click() || true`, answer))
	}
	w.set("[name=length]", "4 ft")
	layer := w.box(".ninths")
	w.tapAt(layer.X+0.4*layer.Width, layer.Y+0.7*layer.Height)
	w.pick(0, "IMG_1.jpg", camera(t, 4000, 3000, 6))
	send := func() {
		t.Helper()
		w.do(chromedp.Tap(chromedp.CSS("form > p > button.main")))
		w.until(`!document.querySelector('[name=finding]:checked')`)
	}
	send()
	w.until(`document.querySelector('[data-waiting]').textContent.includes('V-6 A: crack, on record.')`)
	if !ask[bool](w, `document.querySelector('.marker').hidden && document.querySelector('[name=spot_at]').value === '' && document.querySelector('.of-crack').disabled`) {
		t.Error("the form is not as it was")
	}
	w.sound("kept")
	w.lookAt("visit-kept")
	all := p.visits()
	if len(all) != 1 || math.Abs(all[0].SpotX.V-0.4) > 0.005 || math.Abs(all[0].SpotY.V-0.7) > 0.005 || all[0].LengthFt.V != 4 || all[0].AtJoint != record.Yes {
		t.Fatalf("%+v", all)
	}
	pictures, err := p.store.Pictures(t.Context(), "V-6")
	if err != nil || len(pictures) != 1 || pictures[0].WidthPx.V != 1536 || pictures[0].HeightPx.V != 2048 || math.Abs(pictures[0].XFt.V-12) > 0.2 || pictures[0].SeenOn != testDay {
		t.Fatalf("%+v %v", pictures, err)
	}
	w.open("/slabs/V-5/A")
	w.do(chromedp.Tap(chromedp.CSS(`form[action="/slabs/V-5/A/visit"] button`)))
	w.until(`document.querySelector('[data-waiting]').textContent.includes('V-5 A: sound, on record.')`)
	w.until(`document.querySelector('[data-part=story]').textContent.includes('Planned: sound')`)
	w.push(`form[action="/slabs/V-5/A/undo"] button`)
	if all := p.visits(); len(all) != 1 {
		t.Errorf("taken back, and there: %+v", all)
	}
	w.sound("taken back")
}
