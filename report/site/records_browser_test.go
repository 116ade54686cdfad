package site

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"pourback/ingest/store/storetest"
)

// hand chooses a file in the field for files. With script it is sent at once.
func (w *window) hand(name string, content []byte) {
	w.t.Helper()
	path := filepath.Join(w.t.TempDir(), name)
	if err := os.WriteFile(path, content, 0o600); err != nil {
		w.t.Fatal(err)
	}
	w.do(chromedp.SetUploadFiles(chromedp.CSS(`input[type=file]`), []string{path}))
}

// goes does something that leads to another page, and waits for that.
func (w *window) goes(what string, do func()) {
	w.t.Helper()
	ask[bool](w, `window.pressed = true`)
	do()
	for end := time.Now().Add(60 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if there, err := chromedp.Run(w.ctx, chromedp.Evaluate[bool](`!window.pressed && document.readyState === 'complete'`)); err == nil && there {
			return
		}
	}
	w.t.Fatal("nothing came of ", what)
}

// push presses the first button that is found by a selector.
func (w *window) push(selector string) {
	w.t.Helper()
	w.goes(selector, func() { w.do(chromedp.Click(chromedp.CSS(selector))) })
}

// set gives a field a value.
func (w *window) set(selector, value string) {
	w.t.Helper()
	if !ask[bool](w, fmt.Sprintf(`(() => { const f = document.querySelector(%q); if (!f) return false; f.value = %q; return f.value === %q; })()`, selector, value, value)) {
		w.t.Fatalf("%s could not be set to %q", selector, value)
	}
}

func (w *window) noScript() {
	w.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		return err
	}))
}

// TestRecordsInChromium goes the whole way, on a phone and on a desk: a log is
// chosen, its headings are cleared up, a cell is mended, it is kept, a figure of
// one's own is read, a value is changed and put back, and the batch is undone.
func TestRecordsInChromium(t *testing.T) {
	for _, width := range []int64{390, 1200} {
		t.Run(fmt.Sprint(width), func(t *testing.T) {
			p := newPlace(t, storetest.SQLite(t), 0, atHome)
			w := p.window(t, width)
			see := func(name string) {
				t.Helper()
				w.sound(name)
				w.lookAt(fmt.Sprint(width, "-", name))
			}
			w.open("/upload")
			see("upload")
			w.goes("choosing a file", func() { w.hand("odd-log.csv", oddLog(t)) })
			see("questions")
			w.set(`select[name="q.0"]`, "size")
			w.push(".asks button")
			w.set(`fieldset:has(legend) select`, "actual_cost")
			w.push(".asks button")
			see("look")
			at := ask[string](w, `location.pathname`)
			w.open("/upload")
			see("waiting")
			w.open(at + "?lang=es")
			see("look-es")
			w.open(at)
			w.set(`input[value="45"]`, "4.5")
			w.push("#look section:not(.comes) button")
			see("mended")
			w.push(`button[formaction]`)
			see("kept")
			if at := ask[string](w, `location.pathname`); at != "/batches/1" {
				t.Fatal("kept, and at ", at)
			}
			w.push(`a[href="/"]`)
			if says := ask[string](w, `document.querySelector('main').innerText`); !strings.Contains(says, "14") {
				t.Errorf("the overview after keeping: %.300s", says)
			}
			see("overview")
			w.open("/jobs?q=sumac")
			see("jobs")
			w.push(`main table a`)
			see("job")
			ask[bool](w, openAll)
			w.set(`form[action="/jobs/fix"] select[name=column]`, "area_sqft")
			w.set(`form[action="/jobs/fix"] input[name=value]`, "5000 acres")
			w.push(`form.plain[action="/jobs/fix"] button`)
			w.forget()
			see("unfit")
			w.set(`form[action="/jobs/fix"] input[name=value]`, "810")
			w.push(`form[action="/jobs/fix"] button`)
			see("changed")
			ask[bool](w, openAll)
			w.push(`td form[action="/jobs/fix"] button`)
			see("put-back")
			w.open("/jobs/107")
			p.surfer().post("/jobs/fix", append(p.surfer().get("/jobs/107").hidden(t), "column", "area_sqft", "value", "815")...)
			ask[bool](w, openAll)
			w.set(`form.plain[action="/jobs/fix"] select[name=column]`, "area_sqft")
			w.set(`form.plain[action="/jobs/fix"] input[name=value]`, "820")
			w.push(`form.plain[action="/jobs/fix"] button`)
			w.forget()
			see("clash")
			w.open("/batches")
			see("batches")
			for _, id := range []string{"4", "3", "2", "1"} {
				w.open("/batches/" + id)
				if id == "1" {
					see("batch")
				}
				w.push(fmt.Sprintf(`form[action="/batches/%s/undo"] button`, id))
			}
			see("undone")
		})
	}
}

// forget forgets what the browser said: of an answer that tells of an error, for one.
func (w *window) forget() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.trouble = nil
}

// TestDroppedWithoutScript: a file field and a button do.
func TestDroppedWithoutScript(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	w := p.window(t, 390)
	w.noScript()
	w.open("/upload")
	w.hand("odd-log.csv", oddLog(t))
	w.push(".drop button")
	w.do(chromedp.SetValue(chromedp.CSS(`select[name="q.0"]`), "size"))
	w.push(".asks button")
	w.push(`button[formaction]`)
	if at := ask[string](w, `location.pathname`); at != "/batches/1" {
		t.Fatal("kept, and at ", at)
	}
}

// TestDragAndDrop: a file that is let go over the field is read.
func TestDragAndDrop(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	w := p.window(t, 1200)
	w.open("/upload")
	w.goes("dropping", func() {
		ask[bool](w, fmt.Sprintf(`(() => { const d = new DataTransfer(); d.items.add(new File([%q], 'log.csv', {type: 'text/csv'}));
			const form = document.querySelector('.drop');
			for (const name of ['dragenter', 'dragover', 'drop']) form.dispatchEvent(new DragEvent(name, {dataTransfer: d, bubbles: true, cancelable: true}));
			return true; })()`, string(oddLog(t))))
	})
	if at := ask[string](w, `location.pathname`); !strings.HasPrefix(at, "/upload/") {
		t.Error("dropped, and at ", at)
	}
	w.open("/upload")
	told := ask[string](w, `(() => { const d = new DataTransfer(); d.items.add(new File([new Uint8Array(300 << 20)], 'log.csv'));
		const form = document.querySelector('.drop'); form.dispatchEvent(new DragEvent('drop', {dataTransfer: d, bubbles: true, cancelable: true}));
		return form.querySelector('[role=status]').textContent; })()`)
	if !strings.Contains(told, "The file is over 256 MB.") {
		t.Errorf("a file that is too large: %q", told)
	}
}

// TestTooLargeIsToldToThePage: a browser that sends far too much is told so, and is
// not left with a connection that ended.
func TestTooLargeIsToldToThePage(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	w := p.window(t, 390)
	w.noScript()
	w.open("/upload")
	path := filepath.Join(t.TempDir(), "big.csv")
	f, err := os.Create(path)
	if err == nil {
		err = f.Truncate(1 << 30)
	}
	if err != nil {
		t.Fatal(err)
	}
	f.Close()
	w.do(chromedp.SetUploadFiles(chromedp.CSS(`input[type=file]`), []string{path}))
	w.push(".drop button")
	if says := ask[string](w, `document.body.innerText`); !strings.Contains(says, "This is over 256 MB") {
		t.Errorf("%.300s", says)
	}
}
