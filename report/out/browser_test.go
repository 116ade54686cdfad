package out

import (
	"context"
	"fmt"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"pourback/report/internal/browse"
)

func TestMain(m *testing.M) {
	code := m.Run()
	os.RemoveAll(companyFolder)
	browse.Close()
	os.Exit(code)
}

// browser is the Chromium of all tests.
func browser(t *testing.T) context.Context {
	t.Helper()
	return browse.Chromium(t)
}

// visit is a page as a browser sees it.
type visit struct {
	ctx   context.Context
	t     *testing.T
	close context.CancelFunc // its tab, which else closes with the test

	mu       sync.Mutex
	trouble  []string // console messages and errors
	requests []string
}

// screen is what a reader looks at.
type screen struct {
	width, height int64
	dark          bool
	noScript      bool
}

// open loads a page.
func open(t *testing.T, browser context.Context, url string, s screen) *visit {
	t.Helper()
	v := &visit{t: t}
	ctx, cancel := chromedp.NewContext(browser, chromedp.WithListener(v.listen))
	t.Cleanup(cancel)
	v.close = cancel
	ctx, cancelTime := context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(cancelTime)
	v.ctx = ctx
	v.do(command(network.Enable, network.EnableParams{}))
	v.see(s)
	v.do(chromedp.Navigate(url))
	v.unfold()
	return v
}

// again looks at the same page on another screen, loading it anew.
func (v *visit) again(s screen) {
	v.t.Helper()
	v.see(s)
	v.do(chromedp.Reload())
	v.unfold()
}

// unfold opens all details: what is in them is held to what everything is.
func (v *visit) unfold() { v.fold(false) }

// fold closes all details, as they are when a page is opened, or opens them.
func (v *visit) fold(closed bool) {
	v.t.Helper()
	ask[bool](v, fmt.Sprintf(`[...document.querySelectorAll('details')].map(d => d.open = !%v).length >= 0`, closed))
}

func (v *visit) see(s screen) {
	v.t.Helper()
	scheme := "light"
	if s.dark {
		scheme = "dark"
	}
	v.do(
		command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}),
		command(emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: s.noScript}),
		chromedp.EmulateViewport(s.width, s.height))
}

func (v *visit) listen(event any) {
	v.mu.Lock()
	defer v.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventConsoleAPICalled:
		for _, arg := range e.Args {
			v.trouble = append(v.trouble, "console: "+string(arg.Value))
		}
	case *runtime.EventExceptionThrown:
		v.trouble = append(v.trouble, "exception: "+e.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		v.trouble = append(v.trouble, string(e.Entry.Level)+": "+e.Entry.Text)
	case *page.EventJavascriptDialogOpening:
		v.trouble = append(v.trouble, "dialog: "+e.Message)
	case *network.EventRequestWillBeSent:
		v.requests = append(v.requests, e.Request.URL)
	}
}

func (v *visit) do(actions ...chromedp.Action[chromedp.Void]) {
	v.t.Helper()
	if err := chromedp.Do(v.ctx, actions...); err != nil {
		v.t.Fatal(err, v.trouble)
	}
}

// ask evaluates an expression of the page.
func ask[T any](v *visit, expression string) T {
	v.t.Helper()
	answer, err := chromedp.Run(v.ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		v.t.Fatalf("%s: %v", expression, err)
	}
	return answer
}

// quiet holds the page to having asked nothing but files beside it, and to
// having had nothing to complain of.
func (v *visit) quiet(within string) {
	v.t.Helper()
	v.mu.Lock()
	defer v.mu.Unlock()
	for _, r := range v.requests {
		if !strings.HasPrefix(r, within) && !strings.HasPrefix(r, "data:") {
			v.t.Errorf("the page asked for %s", r)
		}
	}
	for _, m := range v.trouble {
		v.t.Errorf("the page complained: %s", m)
	}
}

// command is a protocol command whose answer does not matter.
func command[P, R any](c cdp.Command[P, R], params P) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, c, params)
		return err
	})
}
