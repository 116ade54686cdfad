package browse

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

// Firefox is one, driven by WebDriver BiDi (W3C working draft), the protocol
// it speaks by itself.
type Firefox struct {
	t    testing.TB
	conn *websocket.Conn
	Tab  string
	last int

	Trouble []string // errors of scripts, and what the console was told
}

// StartFirefox starts one. Where there is none the test is skipped, or fails if
// POURBACK_REQUIRE_FIREFOX is set.
func StartFirefox(t testing.TB) *Firefox {
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
	f := &Firefox{t: t}
	config, err := websocket.NewConfig(listensAt(t, bufio.NewScanner(says))+"/session", origin)
	if err != nil {
		t.Fatal(err)
	}
	if f.conn, err = websocket.DialConfig(config); err != nil {
		t.Fatal("Firefox did not answer: ", err)
	}
	t.Cleanup(func() { f.conn.Close() })
	f.conn.SetDeadline(time.Now().Add(3 * time.Minute))
	f.Call("session.new", `{"capabilities": {}}`, nil)
	f.Call("session.subscribe", `{"events": ["log.entryAdded"]}`, nil)
	var tree struct{ Contexts []struct{ Context string } }
	f.Call("browsingContext.getTree", `{}`, &tree)
	f.Tab = tree.Contexts[0].Context
	return f
}

// listensAt waits for the address that Firefox prints, and reads on, so that it
// may go on printing.
func listensAt(t testing.TB, says *bufio.Scanner) string {
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

// Call sends a command and reads its result into an answer, with what happened
// meanwhile.
func (f *Firefox) Call(method, params string, into any) {
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
			f.Trouble = append(f.Trouble, m.Params.Level+": "+m.Params.Text)
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

// Open loads a page on a screen of so many pixels.
func (f *Firefox) Open(url string, width, height int64) {
	f.t.Helper()
	f.Call("browsingContext.setViewport", fmt.Sprintf(`{"context": %q, "viewport": {"width": %d, "height": %d}}`, f.Tab, width, height), nil)
	f.Call("browsingContext.navigate", fmt.Sprintf(`{"context": %q, "url": %q, "wait": "complete"}`, f.Tab, url), nil)
}

// Ask evaluates an expression of the page, which gives anything that JSON has.
func (f *Firefox) Ask(expression string, into any) {
	f.t.Helper()
	params, err := json.Marshal(map[string]any{"expression": "JSON.stringify(" + expression + ")", "target": map[string]any{"context": f.Tab}, "awaitPromise": true})
	if err != nil {
		f.t.Fatal(err)
	}
	var got struct {
		Result           struct{ Value string }
		ExceptionDetails struct{ Text string }
	}
	f.Call("script.evaluate", string(params), &got)
	if got.ExceptionDetails.Text != "" {
		f.t.Fatalf("%s: %s", expression, got.ExceptionDetails.Text)
	}
	if err := json.Unmarshal([]byte(got.Result.Value), into); err != nil {
		f.t.Fatalf("%s: %q: %v", expression, got.Result.Value, err)
	}
}

// Click clicks a mouse on an element.
func (f *Firefox) Click(css string) {
	f.t.Helper()
	var at struct{ X, Y int }
	f.Ask(fmt.Sprintf(`(e => { e.scrollIntoView({block: 'center'}); const r = e.getBoundingClientRect(); return {x: Math.round(r.left + Math.min(r.width / 2, 60)), y: Math.round(r.top + r.height / 2)}; })(document.querySelector(%q))`, css), &at)
	f.Call("input.performActions", fmt.Sprintf(`{"context": %q, "actions": [{"type": "pointer", "id": "mouse", "actions": [
		{"type": "pointerMove", "x": %d, "y": %d}, {"type": "pointerDown", "button": 0}, {"type": "pointerUp", "button": 0}]}]}`, f.Tab, at.X, at.Y), nil)
}
