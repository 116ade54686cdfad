package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"net/http/httptrace"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"pourback/ingest/store"
)

// sureBuffer may be written to and read at once.
type sureBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *sureBuffer) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(b)
}

func (s *sureBuffer) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// serving is a call of serve that goes on.
type serving struct {
	url    string
	errs   *sureBuffer
	opened chan string
	stop   func() int // ends it and gives its exit status
}

// serve starts a call that serves, and waits until it says where.
func serve(t *testing.T, args ...string) serving {
	t.Helper()
	s := serving{errs: &sureBuffer{}, opened: make(chan string, 4)}
	out := &sureBuffer{}
	ctx, cancel := context.WithCancel(t.Context())
	env := environment{stdout: out, stderr: s.errs, opens: func(url string) error { s.opened <- url; return nil },
		now: func() time.Time { return time.Date(2026, 3, 31, 12, 0, 0, 0, time.UTC) }}
	status := make(chan int, 1)
	go func() { status <- run(ctx, args, env) }()
	s.stop = sync.OnceValue(func() int { cancel(); return <-status })
	t.Cleanup(func() { s.stop() })
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		if s.url = strings.TrimSpace(out.String()); s.url != "" {
			return s
		}
		select {
		case is := <-status:
			status <- is // for stop
			t.Fatalf("ended with %d: %s", is, s.errs)
		default:
		}
	}
	t.Fatal("says nothing: ", s.errs)
	return s
}

// ask gets a page.
func ask(t *testing.T, url string) (status int, body string) {
	t.Helper()
	resp, err := http.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	text, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return resp.StatusCode, string(text)
}

// address is where a site listens.
func (s serving) address(t *testing.T) string {
	t.Helper()
	u, err := url.Parse(s.url)
	if err != nil {
		t.Fatal(err)
	}
	return u.Host
}

// TestServe: it makes the database, shows the first page, opens no browser that was
// not asked for, and ends well when it is stopped.
func TestServe(t *testing.T) {
	inFolder(t, nil)
	s := serve(t, "serve", "--listen", "127.0.0.1:0")
	if status, body := ask(t, s.url+"/"); status != 200 || !strings.Contains(body, "Where do you want to start?") {
		t.Errorf("%d %.400s", status, body)
	}
	if len(s.opened) != 0 {
		t.Error("a browser was opened")
	}
	if status := s.stop(); status != exitDone {
		t.Errorf("exit status %d: %s", status, s.errs)
	}
	if _, err := os.Stat("pourback.db"); err != nil {
		t.Error(err)
	}
}

// TestASecondStartFindsTheFirst: it opens the browser there, unless the first is
// another database's or no site of ours.
func TestASecondStartFindsTheFirst(t *testing.T) {
	inFolder(t, nil)
	first := serve(t, "serve", "--listen", "127.0.0.1:0", "--open")
	if at := <-first.opened; at != first.url {
		t.Errorf("opened %q, want %q", at, first.url)
	}
	second := serve(t, "serve", "--listen", first.address(t), "--open")
	if at := <-second.opened; at != first.url || second.stop() != exitDone || !strings.Contains(second.errs.String(), "running already") {
		t.Errorf("opened %q: %s", at, second.errs)
	}
	call(t, "serve", "--listen", first.address(t), "--db", "other.db").want(t, exitFailed, "another database")
	if _, err := os.Stat("other.db"); err == nil {
		t.Error("a database was made for a site that did not start")
	}
	stranger, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer stranger.Close()
	go http.Serve(stranger, http.NotFoundHandler())
	call(t, "serve", "--listen", stranger.Addr().String()).want(t, exitFailed, "choose another port")
}

// TestAloneItOpensTheBrowser, where there is one; the setting says whether.
func TestAloneItOpensTheBrowser(t *testing.T) {
	inFolder(t, map[string]string{"pourback.yaml": "listen: 127.0.0.1:0\n"})
	s := serve(t)
	if at := <-s.opened; at != s.url {
		t.Errorf("opened %q, want %q", at, s.url)
	}
	s.stop()
	inFolder(t, map[string]string{"pourback.yaml": "listen: 127.0.0.1:0\nopen_browser: false\n"})
	if s = serve(t); len(s.opened) != 0 {
		t.Error("opened though the setting says not to")
	}
}

// TestServeRefuses what would let others in, or let them listen, and says what to do.
func TestServeRefuses(t *testing.T) {
	inFolder(t, nil)
	for _, c := range []struct {
		says string
		args []string
	}{
		{"--tls-cert and --tls-key, put it behind a proxy", []string{"--listen", "0.0.0.0:0"}},
		{"--tls-cert and --tls-key, put it behind a proxy", []string{"--listen", ":0"}},
		{"serve --add-owner NAME", []string{"--listen", "127.0.0.1:0", "--behind-proxy", "--host", "jobs.example.com"}},
		{"serve --add-owner NAME", []string{"--listen", "127.0.0.1:0", "--host", "jobs.example.com"}},
		{"--host jobs.example.com", []string{"--behind-proxy"}},
		{"belong together", []string{"--tls-cert", "x.pem"}},
		{"give one of them", []string{"--tls-cert", "x.pem", "--tls-key", "y.pem", "--behind-proxy"}},
		{"such as 127.0.0.1:8377", []string{"--listen", "8377"}},
		{"a port from 1 to 65535", []string{"--listen", "127.0.0.1:99999"}},
		{"a name alone", []string{"--host", "https://x/"}},
		{"no arguments", []string{"now"}},
	} {
		call(t, append([]string{"serve"}, c.args...)...).want(t, exitUsage, c.says)
	}
}

// TestAddOwner prints a link that works once where no terminal is there to ask.
func TestAddOwner(t *testing.T) {
	inFolder(t, nil)
	r := call(t, "serve", "--add-owner", "Ana", "--listen", "127.0.0.1:8377")
	r.want(t, exitDone, "works once")
	if !regexp.MustCompile(`^http://127\.0\.0\.1:8377/join\?t=[A-Z0-9]{26}\n$`).MatchString(r.stdout) {
		t.Errorf("%q", r.stdout)
	}
	for _, name := range []string{strings.Repeat("x", 50), "", "  "} {
		call(t, "serve", "--add-owner", name).want(t, exitFailed, "at most 40 characters")
	}
}

// running is a process of the program that serves.
func running(t *testing.T, args ...string) (*exec.Cmd, string) {
	t.Helper()
	cmd := program(t, append([]string{"serve", "--quiet"}, args...)...)
	says, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd.Stderr = os.Stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait() })
	line, err := bufio.NewReader(says).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	return cmd, strings.TrimSpace(line)
}

// send sends a form from a page of the site's own.
func send(t *testing.T, site, path string, form url.Values) (status int, body string) {
	t.Helper()
	r, err := http.NewRequest("POST", site+path, strings.NewReader(form.Encode()))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", site)
	resp, err := (&http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}).Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	text, _ := io.ReadAll(resp.Body)
	return resp.StatusCode, string(text)
}

// TestKilledSite: what was answered is kept though the process is killed at once,
// and a browser that sends the form again to the next process does nothing twice.
func TestKilledSite(t *testing.T) {
	inFolder(t, nil)
	cmd, at := running(t, "--listen", "127.0.0.1:0")
	form := url.Values{"form_key": {"0123456789ABCDEF"}, "name": {"Ana"}, "role": {"owner"}}
	if status, body := send(t, at, "/users/invite", form); status != http.StatusSeeOther {
		t.Fatalf("%d %.300s", status, body)
	}
	cmd.Process.Kill()
	cmd.Wait()
	_, at = running(t, "--listen", "127.0.0.1:0")
	if status, body := send(t, at, "/users/invite", form); status != 200 || !strings.Contains(body, "Nothing was done twice") {
		t.Errorf("%d %.300s", status, body)
	}
	st, err := store.Open(t.Context(), "pourback.db", store.Options{Existing: true})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	if invited, err := st.Invitations(t.Context(), "2026-01-01T00:00:00Z"); err != nil || len(invited) != 1 {
		t.Errorf("%d invitations, %v", len(invited), err)
	}
}

// sendHalfway sends a form whose body waits until the site has begun to read it, and
// do is done.
func sendHalfway(t *testing.T, to string, form url.Values, do func()) (status int, err error) {
	t.Helper()
	body, rest := io.Pipe()
	reading := func() {
		do()
		go func() {
			_, err := io.WriteString(rest, form.Encode())
			rest.CloseWithError(err)
		}()
	}
	r, err := http.NewRequestWithContext(httptrace.WithClientTrace(t.Context(), &httptrace.ClientTrace{Got100Continue: reading}), "POST", to, body)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Expect", "100-continue")
	resp, err := (&http.Client{Transport: &http.Transport{ExpectContinueTimeout: time.Hour}, Timeout: time.Minute}).Do(r)
	if err != nil {
		return 0, err
	}
	defer resp.Body.Close()
	_, err = io.Copy(io.Discard, resp.Body)
	return resp.StatusCode, err
}

// TestStoppedSite finishes what it is answering, ends well, and leaves nothing of
// the invented company behind; a backup while it runs is whole.
func TestStoppedSite(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a process there is not asked to stop, but ended")
	}
	inFolder(t, map[string]string{"log.csv": jobLog})
	program(t) // is built where it outlives this test
	temp := t.TempDir()
	t.Setenv("TMPDIR", temp)
	call(t, "ingest", "log.csv").want(t, exitSetAside)
	cmd, at := running(t, "--listen", "127.0.0.1:0")
	if status, _ := send(t, at, "/invented", nil); status != http.StatusSeeOther {
		t.Error(status)
	}
	if status, body := ask(t, at+"/invented/"); status != 200 || !strings.Contains(body, "this company does not exist") {
		t.Errorf("%d %.300s", status, body)
	}
	if left, _ := filepath.Glob(filepath.Join(temp, "pourback-invented-*")); len(left) != 1 {
		t.Errorf("the invented company is in %v", left)
	}
	call(t, "backup", "copy.db").want(t, exitDone, "was checked")
	began := time.Now()
	status, err := sendHalfway(t, at+"/bids/work", url.Values{"p0.use": {"patio"}, "p0.length_ft": {"20"}, "p0.width_ft": {"12"}, "p0.thickness_in": {"4"}}, func() {
		began = time.Now()
		cmd.Process.Signal(syscall.SIGTERM)
	})
	if err != nil || status != 200 {
		t.Errorf("what it was answering came to %d, %v", status, err)
	}
	const patience = time.Minute // it takes some milliseconds; a hang is what this is about
	if err := cmd.Wait(); err != nil || time.Since(began) > patience {
		t.Errorf("ended with %v after %v", err, time.Since(began))
	}
	if left, _ := filepath.Glob(filepath.Join(temp, "pourback-*")); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

// TestHealth: it names the program and the database by no more than others may know.
func TestHealth(t *testing.T) {
	inFolder(t, nil)
	s := serve(t, "serve", "--listen", "127.0.0.1:0")
	status, body := ask(t, s.url+"/healthz")
	var h map[string]any
	if err := json.Unmarshal([]byte(body), &h); err != nil || status != 200 || h["program"] != "pourback" || h["ok"] != true || !strings.HasSuffix(h["database"].(string), "pourback.db") {
		t.Errorf("%d %s %v", status, body, err)
	}
}
