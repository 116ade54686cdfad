package site

import (
	"fmt"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"runtime"
	"slices"
	"sync"
	"testing"
	"time"

	"pourback/ingest/store/storetest"
	"pourback/report/desk"
)

// company600 are as many jobs as make about 600 placements.
const company600 = 430

// readersAt has so many readers ask at once, each with a pause between, and returns
// how long each answer took, in order.
func readersAt(b *testing.B, url string, readers, each int, pause time.Duration, jar http.CookieJar) []time.Duration {
	b.Helper()
	client := &http.Client{Jar: jar, Transport: &http.Transport{MaxIdleConnsPerHost: readers}}
	var mu sync.Mutex
	var all []time.Duration
	var wait sync.WaitGroup
	for k := range readers {
		wait.Go(func() {
			time.Sleep(pause * time.Duration(k) / time.Duration(readers))
			for range each {
				began := time.Now()
				resp, err := client.Get(url)
				if err == nil {
					_, err = io.Copy(io.Discard, resp.Body)
					resp.Body.Close()
				}
				took := time.Since(began)
				if err != nil || resp.StatusCode != http.StatusOK {
					b.Error(resp, err)
					return
				}
				mu.Lock()
				all = append(all, took)
				mu.Unlock()
				time.Sleep(pause)
			}
		})
	}
	wait.Wait()
	slices.Sort(all)
	return all
}

func report(b *testing.B, took []time.Duration) {
	ms := func(share float64) float64 {
		return float64(took[int(share*float64(len(took)-1))].Microseconds()) / 1000
	}
	b.ReportMetric(ms(0.5), "p50-ms")
	b.ReportMetric(ms(0.99), "p99-ms")
	b.ReportMetric(0, "ns/op")
}

// BenchmarkFiftyReaders is a page that was seen before, at 600 placements, for 50
// signed-in readers, beside a bare handler that writes as many bytes.
func BenchmarkFiftyReaders(b *testing.B) {
	p := newPlace(b, storetest.SQLite(b), company600, atHome)
	p.user("Ana", Owner)
	server := httptest.NewServer(p.site)
	defer server.Close()
	jar, err := cookiejar.New(nil)
	if err != nil {
		b.Fatal(err)
	}
	me := p.signedIn("Ana")
	at, err := http.NewRequest("GET", server.URL, nil)
	if err != nil {
		b.Fatal(err)
	}
	jar.SetCookies(at.URL, []*http.Cookie{{Name: atHome.cookie(), Value: me.cookies[atHome.cookie()]}})
	me.headers["Accept-Encoding"] = "gzip"
	packed := []byte(me.get("/report/waste").body)
	bare := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Header().Set("Content-Encoding", "gzip")
		w.Write(packed)
	}))
	defer bare.Close()
	for _, pause := range []time.Duration{0, 100 * time.Millisecond} {
		for _, at := range []struct{ name, url string }{{"site", server.URL + "/report/waste"}, {"bare", bare.URL}} {
			b.Run(fmt.Sprintf("%s/pause=%v", at.name, pause), func(b *testing.B) {
				for b.Loop() {
					report(b, readersAt(b, at.url, 50, 40, pause, jar))
				}
			})
		}
	}
}

// BenchmarkNewChoice is the first page of a choice that nobody has made yet.
func BenchmarkNewChoice(b *testing.B) {
	p := newPlace(b, storetest.SQLite(b), company600, atHome)
	me := p.surfer()
	me.get("/report/waste")
	var took []time.Duration
	for n := 0; b.Loop(); n++ {
		month := 2023*12 + n%36
		began := time.Now()
		got := me.get(fmt.Sprintf("/report/waste?from=%04d-%02d&use=%s", month/12, month%12+1, []string{"driveway", "patio", "walkway"}[n/36%3]))
		took = append(took, time.Since(began))
		if got.status != http.StatusOK {
			b.Fatal(got)
		}
	}
	slices.Sort(took)
	report(b, took)
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.HeapAlloc)/(1<<20), "live-MB")
}

// BenchmarkABidAsOneTypes is a change of the form at 600 placements, whole page parts
// and all, beside all that a call of the command reads and works out.
func BenchmarkABidAsOneTypes(b *testing.B) {
	p := newPlace(b, storetest.SQLite(b), 430, atHome)
	at := p.surfer()
	at.keepsBid(aDrive...)
	at.headers["Pourback-Follow"] = "now"
	b.Run("as one types", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			p.later(time.Second)
			fields := slices.Clone(aDrive)
			fields[slices.Index(fields, "p0.length_ft")+1] = fmt.Sprint(30 + i%20)
			if got := at.post("/bids/work", fields...); got.status != 200 {
				b.Fatal(got)
			}
		}
	})
	b.Run("the whole command", func(b *testing.B) {
		_, known, err := p.site.own.bidding(b.Context(), testDay)
		if err != nil {
			b.Fatal(err)
		}
		spec := known.Kept[0].Bid.Spec
		for b.Loop() {
			h, err := p.store.History(b.Context(), testDay)
			if err != nil {
				b.Fatal(err)
			}
			all, err := p.store.Bids(b.Context())
			if err != nil {
				b.Fatal(err)
			}
			kept, err := desk.KeptBy(testDay, all, false)
			if err != nil {
				b.Fatal(err)
			}
			known, err := desk.Know(b.Context(), h, p.site.Settings.Analysis, kept, p.store.History)
			if err != nil {
				b.Fatal(err)
			}
			if _, err := known.Bid(spec); err != nil {
				b.Fatal(err)
			}
		}
	})
}
