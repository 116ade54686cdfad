package out

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"sync"
	"testing"
	"time"

	"golang.org/x/net/websocket"
)

// firefox is a Firefox, driven by WebDriver BiDi (W3C working draft), the protocol
// it speaks by itself.
type firefox struct {
	t    *testing.T
	conn *websocket.Conn
	tab  string
	last int

	trouble []string // errors of scripts, and what the console was told
}

// startFirefox starts one. Where there is none the test is skipped, or fails if
// POURBACK_REQUIRE_FIREFOX is set.
func startFirefox(t *testing.T) *firefox {
	t.Helper()
	path, err := exec.LookPath("firefox-esr")
	if err != nil {
		path, err = exec.LookPath("firefox")
	}
	if err != nil {
		if os.Getenv("POURBACK_REQUIRE_FIREFOX") != "" {
			t.Fatal("POURBACK_REQUIRE_FIREFOX is set, and no Firefox was found on the PATH")
		}
		t.Skip("no Firefox was found on the PATH: the pages were not tried in it")
	}
	const origin = "http://localhost"
	cmd := exec.Command(path, "--headless", "--no-remote", "--profile", t.TempDir(), "--remote-debugging-port", "0", "--remote-allow-origins", origin)
	cmd.Env = append(os.Environ(), "HOME="+t.TempDir())
	says, err := cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait() })
	f := &firefox{t: t}
	config, err := websocket.NewConfig(listensAt(t, bufio.NewScanner(says))+"/session", origin)
	if err != nil {
		t.Fatal(err)
	}
	if f.conn, err = websocket.DialConfig(config); err != nil {
		t.Fatal("Firefox did not answer: ", err)
	}
	t.Cleanup(func() { f.conn.Close() })
	f.conn.SetDeadline(time.Now().Add(3 * time.Minute))
	f.call("session.new", `{"capabilities": {}}`, nil)
	f.call("session.subscribe", `{"events": ["log.entryAdded"]}`, nil)
	var tree struct{ Contexts []struct{ Context string } }
	f.call("browsingContext.getTree", `{}`, &tree)
	f.tab = tree.Contexts[0].Context
	return f
}

// listensAt waits for the address that Firefox prints, and reads on, so that it
// may go on printing.
func listensAt(t *testing.T, says *bufio.Scanner) string {
	t.Helper()
	found, once := make(chan string, 1), sync.Once{}
	go func() {
		for says.Scan() {
			if at := regexp.MustCompile(`ws://\S+`).FindString(says.Text()); at != "" {
				once.Do(func() { found <- at })
			}
		}
	}()
	select {
	case at := <-found:
		return at
	case <-time.After(90 * time.Second):
		t.Fatal("Firefox did not start within 90 s")
		return ""
	}
}

// call sends a command and reads its result into an answer, with what happened
// meanwhile.
func (f *firefox) call(method, params string, into any) {
	f.t.Helper()
	f.last++
	if err := websocket.Message.Send(f.conn, fmt.Sprintf(`{"id": %d, "method": %q, "params": %s}`, f.last, method, params)); err != nil {
		f.t.Fatal(err)
	}
	for {
		var text string
		if err := websocket.Message.Receive(f.conn, &text); err != nil {
			f.t.Fatal(method, ": ", err)
		}
		var m struct {
			ID      int
			Type    string
			Error   string
			Message string
			Method  string
			Params  struct{ Level, Text string }
			Result  json.RawMessage
		}
		if err := json.Unmarshal([]byte(text), &m); err != nil {
			f.t.Fatal(err)
		}
		switch {
		case m.Method == "log.entryAdded":
			f.trouble = append(f.trouble, m.Params.Level+": "+m.Params.Text)
		case m.ID == f.last && m.Type == "error":
			f.t.Fatal(method, ": ", errors.New(m.Error+": "+m.Message))
		case m.ID == f.last:
			if into != nil {
				if err := json.Unmarshal(m.Result, into); err != nil {
					f.t.Fatal(err)
				}
			}
			return
		}
	}
}

// open loads a page on a screen.
func (f *firefox) open(url string, s screen) {
	f.t.Helper()
	f.call("browsingContext.setViewport", fmt.Sprintf(`{"context": %q, "viewport": {"width": %d, "height": %d}}`, f.tab, s.width, s.height), nil)
	f.call("browsingContext.navigate", fmt.Sprintf(`{"context": %q, "url": %q, "wait": "complete"}`, f.tab, url), nil)
}

// ask evaluates an expression of the page, which gives anything that JSON has.
func (f *firefox) ask(expression string, into any) {
	f.t.Helper()
	params, err := json.Marshal(map[string]any{"expression": "JSON.stringify(" + expression + ")", "target": map[string]any{"context": f.tab}, "awaitPromise": true})
	if err != nil {
		f.t.Fatal(err)
	}
	var got struct {
		Result           struct{ Value string }
		ExceptionDetails struct{ Text string }
	}
	f.call("script.evaluate", string(params), &got)
	if got.ExceptionDetails.Text != "" {
		f.t.Fatalf("%s: %s", expression, got.ExceptionDetails.Text)
	}
	if err := json.Unmarshal([]byte(got.Result.Value), into); err != nil {
		f.t.Fatalf("%s: %q: %v", expression, got.Result.Value, err)
	}
}

// click clicks a mouse on an element.
func (f *firefox) click(css string) {
	f.t.Helper()
	var at struct{ X, Y int }
	f.ask(fmt.Sprintf(`(e => { e.scrollIntoView({block: 'center'}); const r = e.getBoundingClientRect(); return {x: Math.round(r.left + Math.min(r.width / 2, 60)), y: Math.round(r.top + r.height / 2)}; })(document.querySelector(%q))`, css), &at)
	f.call("input.performActions", fmt.Sprintf(`{"context": %q, "actions": [{"type": "pointer", "id": "mouse", "actions": [
		{"type": "pointerMove", "x": %d, "y": %d}, {"type": "pointerDown", "button": 0}, {"type": "pointerUp", "button": 0}]}]}`, f.tab, at.X, at.Y), nil)
}

// TestReportInFirefox: every page loads without a complaint and without being
// wider than the screen; details open when they are clicked and on paper, and are
// closed again after it; long tables sort.
func TestReportInFirefox(t *testing.T) {
	t.Parallel()
	f := startFirefox(t)
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
		f.ask(`[...document.querySelectorAll('details')].map(d => d.open)`, &all)
		return all
	}
	if at := open(); len(at) != 1 || at[0] {
		t.Errorf("details are open %v before anybody asks", at)
	}
	var onPaper, after bool
	f.ask(`(() => { dispatchEvent(new Event('beforeprint')); return document.querySelector('details').open; })()`, &onPaper)
	f.ask(`(() => { dispatchEvent(new Event('afterprint')); return document.querySelector('details').open; })()`, &after)
	if !onPaper || after {
		t.Errorf("details are open on paper %v, after it %v", onPaper, after)
	}
	f.click("summary")
	if !open()[0] {
		t.Error("the details do not open by a click")
	}
	f.click("table[data-find] thead th:nth-child(2) button")
	var sorted []float64
	f.ask(`[...document.querySelector('table[data-find]').tBodies[0].rows].map(r => Number(r.cells[1].querySelector('data')?.value ?? Infinity))`, &sorted)
	for i := 1; i < len(sorted); i++ {
		if sorted[i] < sorted[i-1] {
			t.Fatalf("not in order: %v", sorted)
		}
	}
	f.printed(folder)
	for _, said := range f.trouble {
		t.Error("the page complained: ", said)
	}
}

// plain holds a page, with its details open, to what every screen keeps.
func (f *firefox) plain(name string, s screen) {
	f.t.Helper()
	var wide int
	f.ask(`[...document.querySelectorAll('details')].map(d => d.open = true).length * 0 + `+tooWide, &wide)
	if wide > 0 {
		f.t.Errorf("%s at %d: %d pixels wider than the screen", name, s.width, wide)
	}
	var crowded []string
	if f.ask(crowdedWords, &crowded); len(crowded) > 0 {
		f.t.Errorf("%s at %d: words that cannot be read: %.200q", name, s.width, crowded)
	}
}

// printed prints a page as a reader does, who has not opened its details, and holds
// it to being more than what stands above them.
func (f *firefox) printed(folder string) {
	f.t.Helper()
	size := func() int {
		var pdf struct{ Data string }
		f.call("browsingContext.print", fmt.Sprintf(`{"context": %q, "page": {"width": 21.59, "height": 27.94}}`, f.tab), &pdf)
		return len(pdf.Data)
	}
	f.open(folder+"/margin.html", screen{width: 1200, height: 844})
	whole := size()
	var removed bool
	f.ask(`document.querySelector('details').remove() === undefined`, &removed)
	if above := size(); whole < above*3/2 {
		f.t.Errorf("%d bytes are printed, and %d without the details", whole, above)
	}
}
