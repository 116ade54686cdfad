package main

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"mime/multipart"
	"net/http"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"
	"time"

	"pourback/ingest/store"
)

// process is a site in a process of its own, which can be killed.
type process struct {
	t   *testing.T
	cmd *exec.Cmd
	url string
}

func startSite(t *testing.T) *process {
	t.Helper()
	p := &process{t: t, cmd: program(t, "serve", "--listen", "127.0.0.1:0")}
	out, err := p.cmd.StdoutPipe()
	if err == nil {
		err = p.cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.kill)
	if p.url, err = bufio.NewReader(out).ReadString('\n'); err != nil {
		t.Fatal("it says nothing: ", err)
	}
	p.url = strings.TrimSpace(p.url)
	return p
}

func (p *process) kill() {
	p.cmd.Process.Kill()
	p.cmd.Wait()
}

// key is long enough to be a form's.
func key(n int) string { return fmt.Sprintf("KILLEDKILLEDKILLED%06d", n) }

// fileForm is a form with a file.
func fileForm(t *testing.T, n int, content string) (kind string, body []byte) {
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	w.WriteField("form_key", key(n))
	part, err := w.CreateFormFile("file", "jobs.csv")
	if err != nil {
		t.Fatal(err)
	}
	io.WriteString(part, content)
	w.Close()
	return w.FormDataContentType(), b.Bytes()
}

// noFollow sends forms and does not go where they lead.
var noFollow = &http.Client{Timeout: time.Minute, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}

// post sends a form; the answer is nil where the site was killed meanwhile.
func (p *process) post(path, kind string, body io.Reader) *http.Response {
	resp, err := noFollow.Post(p.url+path, kind, body)
	if err != nil {
		return nil
	}
	resp.Body.Close()
	return resp
}

var hiddenText = regexp.MustCompile(`<input type="hidden" name="(\w+)" value="([^"]*)">`)

// keepForm is the form of a file that waits.
func (p *process) keepForm(at string) string {
	p.t.Helper()
	_, page := ask(p.t, p.url+at)
	var fields []string
	met := map[string]bool{}
	for _, f := range hiddenText.FindAllStringSubmatch(page, -1) {
		if !met[f[1]] {
			met[f[1]] = true
			fields = append(fields, f[1]+"="+f[2])
		}
	}
	if !met["counts"] {
		p.t.Fatalf("nothing can be kept: %.900s", page)
	}
	return strings.Join(fields, "&")
}

// TestKilledWhileAFileComes: what comes in when the site is killed is there for
// nobody, and its room is free again.
func TestKilledWhileAFileComes(t *testing.T) {
	inFolder(t, nil)
	p := startSite(t)
	kind, body := fileForm(t, 1, manyJobs(60000))
	r, w := io.Pipe()
	go func() {
		w.Write(body[:len(body)*3/4])
		time.Sleep(300 * time.Millisecond)
		p.cmd.Process.Kill()
		w.CloseWithError(io.ErrUnexpectedEOF)
	}()
	if p.post("/upload", kind, r) != nil {
		t.Fatal("it answered before it was killed")
	}
	p.kill()
	p = startSite(t)
	if _, page := ask(t, p.url+"/upload"); strings.Contains(page, "jobs.csv") {
		t.Error("half a file waits")
	}
	if resp := p.post("/upload", kind, bytes.NewReader(body)); resp == nil || resp.StatusCode != 303 {
		t.Errorf("the same form again: %+v", resp)
	}
	st, err := store.Open(t.Context(), "pourback.db", store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	waiting, err := st.Uploads(t.Context())
	if err != nil || len(waiting) != 1 {
		t.Errorf("%+v, %v", waiting, err)
	}
	if batches, err := st.Batches(t.Context()); err != nil || len(batches) > 0 {
		t.Errorf("%+v, %v", batches, err)
	}
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), "pourback.db") {
			t.Errorf("left behind: %s", e.Name())
		}
	}
}

// TestKilledWhileAFileIsKept kills a site at random moments while it keeps a file:
// the file is kept whole and waits no more, or it waits on and nothing is kept.
// The same form sent again then keeps it once.
func TestKilledWhileAFileIsKept(t *testing.T) {
	inFolder(t, nil)
	rows := 8000
	p := startSite(t)
	kept, waits := 0, 0
	var took time.Duration
	for i := range 8 {
		kind, body := fileForm(t, i, manyJobs(rows+i))
		resp := p.post("/upload", kind, bytes.NewReader(body))
		if resp == nil || resp.StatusCode != 303 {
			t.Fatalf("%+v", resp)
		}
		at := resp.Header.Get("Location")
		form := p.keepForm(at)
		const fields = "application/x-www-form-urlencoded"
		if i == 0 {
			began := time.Now()
			if resp := p.post(at+"/keep", fields, strings.NewReader(form)); resp == nil || resp.Header.Get("Location") != "/batches/1" {
				t.Fatalf("%+v", resp)
			}
			took = time.Since(began)
			continue
		}
		dying := p.cmd.Process
		time.AfterFunc(time.Duration(rand.Int64N(int64(took*5/4))), func() { dying.Kill() })
		p.post(at+"/keep", fields, strings.NewReader(form))
		p.cmd.Wait()
		batches, waiting := onRecord(t)
		switch {
		case batches == i && waiting == 1:
			waits++
		case batches == i+1 && waiting == 0:
			kept++
		default:
			t.Fatalf("kill %d: %d batches, %d files wait", i, batches, waiting)
		}
		p = startSite(t)
		if resp := p.post(at+"/keep", fields, strings.NewReader(form)); resp == nil || resp.Header.Get("Location") != fmt.Sprintf("/batches/%d", i+1) {
			t.Fatalf("kill %d: the same form again: %+v", i, resp)
		}
		if batches, waiting := onRecord(t); batches != i+1 || waiting != 0 {
			t.Fatalf("kill %d, sent again: %d batches, %d files wait", i, batches, waiting)
		}
	}
	t.Logf("kept %d, waiting on %d", kept, waits)
	call(t, "check").want(t, exitDone, "Every record is as it was written")
}

// onRecord counts batches and files that wait.
func onRecord(t *testing.T) (batches, waiting int) {
	t.Helper()
	st, err := store.Open(t.Context(), "pourback.db", store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	all, err := st.Batches(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	files, err := st.Uploads(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return len(all), len(files)
}
