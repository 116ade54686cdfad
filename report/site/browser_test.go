package site

import (
	"context"
	"flag"
	"fmt"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"pourback/ingest/store/storetest"
	"pourback/report/internal/browse"
)

func closeBrowsers() { browse.Close() }

// window is a page of the site in Chromium.
type window struct {
	t   *testing.T
	ctx context.Context
	at  string // the site's address
	bad bool   // the line is bad at times, and what the browser says of that is no trouble

	mu      sync.Mutex
	trouble []string // what the console was told
}

func (p *place) window(t *testing.T, width int64) *window {
	t.Helper()
	if testing.Short() {
		t.Skip("no browsers in a short run")
	}
	server := httptest.NewServer(p.site)
	t.Cleanup(server.Close)
	w := &window{t: t, at: server.URL}
	ctx, cancel := chromedp.NewContext(browse.Chromium(t), chromedp.WithListener(w.listen))
	t.Cleanup(cancel)
	w.ctx, cancel = context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(cancel)
	w.do(chromedp.EmulateViewport(width, 844))
	return w
}

func (w *window) listen(event any) {
	w.mu.Lock()
	defer w.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		w.trouble = append(w.trouble, "exception: "+e.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		if w.bad && (strings.HasPrefix(e.Entry.Text, "Failed to load resource: ") || e.Entry.Text == "An unknown error occurred when fetching the script.") {
			return
		}
		w.trouble = append(w.trouble, string(e.Entry.Level)+": "+e.Entry.Text)
	}
}

func (w *window) do(actions ...chromedp.Action[chromedp.Void]) {
	w.t.Helper()
	if err := chromedp.Do(w.ctx, actions...); err != nil {
		w.t.Fatal(err, w.trouble)
	}
}

func (w *window) open(path string) {
	w.t.Helper()
	w.do(chromedp.Navigate(w.at + path))
}

// ask evaluates an expression of the page.
func ask[T any](w *window, expression string) T {
	w.t.Helper()
	answer, err := chromedp.Run(w.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		w.t.Fatalf("%.200s: %v", expression, err)
	}
	return answer
}

const (
	openAll = `[...document.querySelectorAll('details')].map(d => d.open = true).length >= 0`
	tooWide = `document.documentElement.scrollWidth - document.documentElement.clientWidth`
	// what is touched and under 44 pixels: a link within a sentence may be (WCAG 2.2, 2.5.8)
	tooSmall = `[...document.querySelectorAll('button, select, input:not([type=hidden]), summary, nav a')].filter(e => {
		const r = e.getBoundingClientRect(); return r.width > 0 && (r.height < 43.5 || r.width < 43.5); }).map(e => e.outerHTML.slice(0, 80))`
)

// sound holds a page to every rule of axe, to its screen, to fingers, and to having
// nothing to complain of: nothing that its policy forbids, for one.
func (w *window) sound(name string) {
	w.t.Helper()
	ask[bool](w, openAll)
	if wide := ask[int](w, tooWide); wide > 0 {
		w.t.Errorf("%s: %d pixels wider than the screen", name, wide)
	}
	if small := ask[[]string](w, tooSmall); len(small) > 0 {
		w.t.Errorf("%s: too small to touch: %q", name, small)
	}
	finds, err := browse.AxeViolations("")
	if err != nil {
		w.t.Fatal(err)
	}
	for _, x := range ask[[]struct {
		ID, Help string
		Nodes    []string
	}](w, finds) {
		w.t.Errorf("%s: axe: %s: %s\n\t%s", name, x.ID, x.Help, strings.Join(x.Nodes, "\n\t"))
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, said := range w.trouble {
		w.t.Errorf("%s complained: %s", name, said)
	}
	w.trouble = nil
}

// press presses the button of a form that is sent to an address.
func (w *window) press(action string) {
	w.t.Helper()
	ask[bool](w, `window.pressed = true`)
	w.do(chromedp.Click(chromedp.CSS(fmt.Sprintf(`form[action^=%q] button`, action))))
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if there, err := chromedp.Run(w.ctx, chromedp.Evaluate[bool](`!window.pressed && document.readyState === 'complete'`)); err == nil && there {
			return
		}
	}
	w.t.Fatal("nothing came of ", action)
}

var look = flag.String("look", "", "a folder to put pictures of the site's pages into")

// lookAt puts a picture of the page into the folder that is named for them.
func (w *window) lookAt(name string) {
	dir := *look
	if dir == "" {
		return
	}
	picture, err := chromedp.Run(w.ctx, chromedp.FullScreenshot(100))
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, strings.Trim(strings.NewReplacer("/", "_", "?", "_", "=", "_", "&", "_").Replace(name), "_")+".png"), picture, 0o600)
	}
	if err != nil {
		w.t.Error(err)
	}
}

// TestPagesInChromium looks at every kind of page on a phone and on a desk.
func TestPagesInChromium(t *testing.T) {
	for _, width := range []int64{390, 1200} {
		t.Run(fmt.Sprint(width), func(t *testing.T) {
			p := newPlace(t, storetest.SQLite(t), 60, atHome)
			w := p.window(t, width)
			at := func(path string) {
				t.Helper()
				w.open(path)
				w.sound(path)
				w.lookAt(fmt.Sprint(width, path))
			}
			for _, path := range []string{"/", "/report/month", "/report/waste?use=driveway&from=2025-01", "/report/slabs?lang=es&units=si", "/report/records", "/start", "/users", "/log", "/you", "/upload"} {
				at(path)
			}
			p.user("Ana", Owner)
			p.user("Bo", Viewer)
			at("/login")
			w.do(chromedp.SendKeys(chromedp.CSS(`input[name=name]`), "Ana"), chromedp.SendKeys(chromedp.CSS(`input[name=password]`), everybodys))
			w.press("/login")
			at("/users")
			w.do(chromedp.SendKeys(chromedp.CSS(`form[action="/users/invite"] input[name=name]`), "Cy"))
			w.press("/users/invite")
			w.sound("the link")
			link := ask[string](w, `document.querySelector('input[readonly]').value`)
			w.do(chromedp.Navigate(link))
			w.sound("/join")
			at("/log")
			w.open("/start")
			w.press("/invented")
			w.sound("/invented/")
			w.lookAt(fmt.Sprint(width, "invented"))
			if !strings.HasSuffix(ask[string](w, `location.pathname`), "/invented/") {
				t.Error("the invented company was not shown")
			}
			w.press("/invented/gone")
			if path := ask[string](w, `location.pathname`); path != "/" {
				t.Error("gone, and at ", path)
			}
		})
	}
}

// TestFailsInChromium: what went wrong is a page like others.
func TestFailsInChromium(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	w := p.window(t, 390)
	w.open("/nowhere")
	w.mu.Lock()
	w.trouble = nil // the browser itself says that it was a 404
	w.mu.Unlock()
	w.sound("/nowhere")
	w.open("/")
	w.sound("the first start")
	w.lookAt("first")
}

// TestWithoutScript: choosing and going on work where no script runs.
func TestWithoutScript(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 40, atHome)
	w := p.window(t, 390)
	w.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		return err
	}))
	w.open("/report/waste")
	w.do(chromedp.Click(chromedp.CSS(".choose summary")), chromedp.SetValue(chromedp.CSS(`select[name=use]`), "driveway"))
	w.press("/report/waste")
	if at := ask[string](w, `location.search`); !strings.Contains(at, "use=driveway") {
		t.Error("at ", at)
	}
	if says := ask[string](w, `document.querySelector('.chosen:not([hidden])').textContent`); !strings.Contains(says, "driveway") {
		t.Error(says)
	}
}

// TestSiteInFirefox opens some pages there, signs in, and goes on.
func TestSiteInFirefox(t *testing.T) {
	if testing.Short() {
		t.Skip("no browsers in a short run")
	}
	p := newPlace(t, storetest.SQLite(t), 40, atHome)
	p.user("Ana", Owner)
	server := httptest.NewServer(p.site)
	defer server.Close()
	f := browse.StartFirefox(t)
	f.Open(server.URL+"/report/waste", 390, 844)
	var at string
	f.Ask(`location.pathname`, &at)
	if at != "/login" {
		t.Error("before signing in at ", at)
	}
	var sent bool
	f.Ask(fmt.Sprintf(`(() => { const f = document.querySelector('form'); f.name.value = 'Ana'; f.elements.name.value = 'Ana'; f.elements.password.value = %q; return true; })()`, everybodys), &sent)
	f.Click("form button")
	for end := time.Now().Add(10 * time.Second); at != "/report/waste" && time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		f.Ask(`location.pathname`, &at)
	}
	if at != "/report/waste" {
		t.Fatal("signed in, and at ", at)
	}
	for _, path := range []string{"/", "/report/cracks", "/users", "/log"} {
		f.Open(server.URL+path, 390, 844)
		var wide int
		f.Ask(tooWide, &wide)
		if wide > 0 {
			t.Errorf("%s: %d pixels wider than the screen", path, wide)
		}
	}
	for _, said := range f.Trouble {
		t.Error("Firefox complained: ", said)
	}
}
