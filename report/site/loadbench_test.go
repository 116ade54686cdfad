package site

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	_ "net/http/pprof"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"pourback/ingest"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// servesHere names the database of which this process is the site and nothing else.
const servesHere = "POURBACK_SITE_OF"

// serveAlone is the site in a process of its own, as `pourback serve` has it, with a
// bare handler and the profiles beside it. It prints both addresses.
func serveAlone(dsn string) error {
	ctx := context.Background()
	st, err := store.Open(ctx, dsn, store.Options{Readers: 4})
	if err != nil {
		return err
	}
	began := time.Now()
	s, err := New(Config{Store: st, Database: "test.db", Access: atHome, Log: slog.New(slog.DiscardHandler), Settings: Settings{Company: "Low Mesa Test Crew", AsOf: testDay, Pictures: ingest.DefaultPictureRules()},
		Now: func() time.Time { return time.Date(2026, 3, 31, 12, 0, 0, 0, time.UTC).Add(time.Since(began)) }})
	if err != nil {
		return err
	}
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	bare, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	http.HandleFunc("/bare", func(w http.ResponseWriter, r *http.Request) {
		n, _ := strconv.Atoi(r.URL.Query().Get("bytes"))
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Write(make([]byte, n))
	})
	go http.Serve(bare, nil)
	fmt.Printf("http://%s http://%s\n", ln.Addr(), bare.Addr())
	go func() { // it ends with whoever started it
		io.Copy(io.Discard, os.Stdin)
		os.Exit(0)
	}()
	return s.Serve(ctx, ln, nil, Plan{})
}

// alone starts a site in a process of its own.
func alone(t testing.TB, dsn string) (site, bare string, is *os.Process) {
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = append(os.Environ(), servesHere+"="+dsn)
	cmd.Stderr = os.Stderr
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		in.Close()
		cmd.Wait()
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal("it says nothing: ", err)
	}
	site, bare, _ = strings.Cut(strings.TrimSpace(line), " ")
	return site, bare, cmd.Process
}

// resident are a process's megabytes in memory.
func resident(pid int) int {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0
	}
	_, after, _ := strings.Cut(string(text), "VmRSS:")
	kb, _ := strconv.Atoi(strings.Fields(after + " 0")[0])
	return kb >> 10
}

// BenchmarkUnderLoad is the site at 600 placements while fifty read and five write with
// a pause of 50 ms, beside a bare handler that writes as many bytes, in the same
// minute. POURBACK_LOAD says for how long, POURBACK_PROFILES names a folder for profiles
// of the site's process; the load of the machine is printed beside.
func BenchmarkUnderLoad(b *testing.B) {
	for b.Loop() {
		underLoad(b)
	}
	b.ReportMetric(0, "ns/op")
}

func underLoad(b *testing.B) {
	const pause = 50 * time.Millisecond
	lasts := 10 * time.Second
	if d, err := time.ParseDuration(os.Getenv("POURBACK_LOAD")); err == nil {
		lasts = d
	}
	dsn := storetest.SQLite(b)
	p := newPlace(b, dsn, company600, atHome)
	p.takeFile("shared.csv", "job_no,placement,placed_on,use,area_sqft,thickness_in\nSHARED,A,2026-03-02,driveway,999,4\n")
	site, bare, process := alone(b, dsn)
	pid := process.Pid
	c, l := crowdAt(b, site), newLedger()
	members, writers := c.readers(p.store, 50), c.writers(p.store, 5, l)
	typist := c.member(p.store, "Typist", Owner, 30)
	c.warm(members)
	typist.newChoices(c, "quiet choice", 6, 0)
	typist.types("quiet typing", 20, 0)
	size := len(members[0].turn().get("before", "/report/waste").body)
	load := machineLoad()
	b.Logf("quiet: %d MB resident; the machine's load %s", resident(pid), load)

	until := time.Now().Add(lasts)
	var most atomic.Int64
	var wait sync.WaitGroup
	for k, m := range members {
		wait.Go(func() { m.reads(k, pause, until) })
	}
	for _, w := range writers {
		wait.Go(func() { w.writes(pause, until) })
	}
	wait.Go(func() {
		for n := 0; time.Now().Before(until); n++ {
			typist.newChoices(c, "choice", 1, 6+n)
			typist.types("typing", 3, n)
			time.Sleep(pause)
		}
	})
	wait.Go(func() {
		for time.Now().Before(until) {
			most.Store(max(most.Load(), int64(resident(pid))))
			time.Sleep(100 * time.Millisecond)
		}
	})
	if to := os.Getenv("POURBACK_PROFILES"); to != "" {
		wait.Go(func() {
			saveProfile(b, fmt.Sprintf("%s/debug/pprof/profile?seconds=%d", bare, int(lasts.Seconds())), filepath.Join(to, "cpu.pprof"))
			saveProfile(b, bare+"/debug/pprof/heap", filepath.Join(to, "heap.pprof"))
		})
	}
	wait.Wait()
	b.Logf("%d forms; at most %d MB resident; the machine's load %s, then %s", len(l.keys), most.Load(), load, machineLoad())
	b.ReportMetric(float64(most.Load()), "MB")
	bareCrowd := crowdAt(b, bare)
	barely := &member{crowd: bareCrowd, tokens: []string{"none"}}
	for range 50 {
		wait.Go(func() {
			one := &member{crowd: bareCrowd, tokens: barely.tokens}
			for range 40 {
				one.turn().get("bare", fmt.Sprintf("/bare?bytes=%d", size))
				time.Sleep(pause)
			}
		})
	}
	wait.Wait()
	c.tell()
	c.took["bare"] = bareCrowd.took["bare"]
	c.together()
	for _, kind := range []string{"page", "choice", "form", "typing", "bare"} {
		all := c.took[kind+" (all)"]
		slices.Sort(all)
		b.Logf("%-10s %6d  p50 %v  p99 %v", kind, len(all), all[len(all)/2].Round(100*time.Microsecond), all[len(all)*99/100].Round(100*time.Microsecond))
		b.ReportMetric(float64(all[len(all)/2].Microseconds())/1000, kind+"-p50-ms")
		b.ReportMetric(float64(all[len(all)*99/100].Microseconds())/1000, kind+"-p99-ms")
	}
}

func machineLoad() string {
	text, _ := os.ReadFile("/proc/loadavg")
	return strings.Join(strings.Fields(string(text))[:1], " ")
}

func saveProfile(b *testing.B, url, to string) {
	resp, err := http.Get(url)
	if err != nil {
		b.Error(err)
		return
	}
	defer resp.Body.Close()
	text, err := io.ReadAll(resp.Body)
	if err == nil {
		err = os.WriteFile(to, text, 0o600)
	}
	if err != nil {
		b.Error(err)
	}
}

// newChoices asks for choices that nobody has made yet.
func (m *member) newChoices(c *crowd, kind string, n, from int) {
	for i := from; i < from+n; i++ {
		month := 2023*12 + i%36
		got := m.turn().get(kind, fmt.Sprintf("/report/waste?from=%04d-%02d&use=%s", month/12, month%12+1, []string{"driveway", "patio", "walkway"}[i/36%3]))
		if got.status != http.StatusOK {
			c.t.Errorf("a new choice: %v", got)
		}
	}
}

// types asks for a bid after each letter.
func (m *member) types(kind string, n, from int) {
	for i := range n {
		fields := slices.Clone(aDrive)
		fields[slices.Index(fields, "p0.length_ft")+1] = fmt.Sprint(30 + (from+i)%40)
		m.turn().post(kind, "/bids/work", fields...)
	}
}
