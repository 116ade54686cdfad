package site

import (
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"mime"
	"mime/multipart"
	"net/http/httptest"
	"net/url"
	"path"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"pourback/ingest/store/storetest"
)

// bench is a site with a page of forms for the queue alone: it keeps what arrives once by
// its key, as the site does, and answers as a test wants it to.
type bench struct {
	*place
	http *httptest.Server
	line *line

	mu      sync.Mutex
	arrived []arrival // every time
	kept    []arrival // the first time
	answers func(arrival) *reply
}

// arrival is an entry as it came in.
type arrival struct {
	key, what, who string
	fields         url.Values
	pictures       [][]byte
	clock          string
	times          int // that it has come by now
}

// reply is an answer other than that it was kept.
type reply struct {
	status         int
	kind, to, text string
	keep           bool // it is kept all the same
}

const benchPage = `{{define "main"}}<article><h1>{{.Title}}</h1>
{{template "queue" $}}
<section data-part="record"><h2>On record</h2><ul class="record">{{range .Data}}<li>{{.}}</li>{{end}}</ul></section>
<details class="choose"><summary>A truck came</summary>
<form method="post" action="/pour/bench/truck" data-entry="Truck">{{template "key" $}}<input type="hidden" name="placement" value="A">
<label>Ticket <input name="ticket" required></label>
<label>Yards <input name="yards" inputmode="decimal" value="9"></label>
<fieldset><legend>Mix</legend><label><input type="radio" name="mix" value="plain" checked> Plain</label><label><input type="radio" name="mix" value="fiber"> Fiber</label></fieldset>
<label>Placed by <select name="method"><option value="chute">Chute</option><option value="pump">Pump</option></select></label>
<label><input type="checkbox" name="extra" value="yes"> Extra load</label>
<button name="did" value="poured">Keep it</button></form></details>
<form method="post" action="/pour/bench/truck" data-entry="Truck">{{template "key" $}}<input type="hidden" name="placement" value="B">
<input type="hidden" name="row" value="B1"><label>Ticket at B <input name="ticket" required></label><button>Keep it</button></form>
<form method="post" action="/pour/bench/clog" enctype="multipart/form-data" data-entry="Clog">{{template "key" $}}
<label>Note <textarea name="note" required></textarea></label>
<label>Pictures <input type="file" name="pictures" accept="image/jpeg,image/png,image/webp" multiple data-shrink></label><button>Keep it</button></form>
<form method="post" action="/pour/else/hours" data-entry="Hours">{{template "key" $}}<label>Hours <input name="hours" required></label><button>Keep it</button></form>
</article>{{end}}`

var benchRoutes = sync.OnceFunc(func() { readBench(benchPage) })

func readBench(page string) {
	base := template.Must(parse()["plain"].Clone())
	shown()["bench"] = template.Must(base.Parse(page))
}

// reread has the page another heading, as another version of the program would.
func (b *bench) reread(heading string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	readBench(strings.Replace(benchPage, "On record", heading, 1))
}

func newBench(t *testing.T, access Access) *bench {
	t.Helper()
	benchRoutes()
	b := &bench{place: newPlace(t, storetest.SQLite(t), 0, access)}
	began := time.Now()
	b.site.Now = func() time.Time { return b.now().Add(time.Since(began)) } // limits go by it
	for _, pour := range []string{"bench", "else"} {
		b.site.front.mux.Handle("GET /pour/"+pour+"/day", b.site.front.guarded(Route{"GET", "/pour/" + pour + "/day", SignedIn, b.page, Shows, false}))
		for _, what := range []string{"truck", "clog", "hours"} {
			b.site.front.mux.Handle("POST /pour/"+pour+"/"+what, b.site.front.guarded(Route{"POST", "/pour/" + pour + "/" + what, SignedIn, b.take, Upload, false}))
		}
	}
	b.http = httptest.NewServer(b.site)
	t.Cleanup(b.http.Close)
	b.line = newLine(t, b.http.Listener.Addr().String())
	return b
}

func (b *bench) page(a *Ask) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	var rows []string
	for _, k := range b.kept {
		rows = append(rows, k.String())
	}
	return a.Show("bench", "A pour", rows)
}

func (k arrival) String() string {
	return k.what + " " + k.fields.Get("ticket") + k.fields.Get("note") + k.fields.Get("hours")
}

// take takes an entry.
func (b *bench) take(a *Ask) error {
	k, err := b.read(a)
	if err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, before := range b.arrived {
		if before.key == k.key {
			k.times++
		}
	}
	k.times++
	b.arrived = append(b.arrived, k)
	var other *reply
	if b.answers != nil {
		other = b.answers(k)
	}
	if (other == nil || other.keep) && !slices.ContainsFunc(b.kept, func(x arrival) bool { return x.key == k.key }) {
		b.kept = append(b.kept, k)
	}
	if other != nil {
		if other.to != "" {
			a.W.Header().Set("Location", other.to)
		}
		a.W.Header().Set("Content-Type", other.kind)
		a.W.WriteHeader(other.status)
		io.WriteString(a.W, strings.ReplaceAll(other.text, "KEY", k.key))
		return nil
	}
	if a.Header.Get("Pourback-Entry") != "1" {
		return a.Go("/pour/bench/day")
	}
	return answerJSON(a, map[string]string{"key": k.key, "kept": fmt.Sprint("batch ", len(b.kept)), "became": "new", "says": k.String() + ": on record."})
}

func answerJSON(a *Ask, what any) error {
	text, err := json.Marshal(what)
	a.W.Header().Set("Content-Type", "application/json")
	a.W.Write(text)
	return err
}

func (b *bench) read(a *Ask) (arrival, error) {
	k := arrival{what: path.Base(a.URL.Path), who: a.Who.Name, clock: a.Header.Get("Pourback-Clock")}
	kind, _, err := mime.ParseMediaType(a.Header.Get("Content-Type"))
	if err != nil {
		return k, err
	}
	if kind == "multipart/form-data" {
		k.fields, err = a.Parts(func(fields url.Values, part *multipart.Part) error {
			if fields.Get(keyField) == "" {
				return badForm(fmt.Errorf("a picture before the key"))
			}
			content, err := io.ReadAll(part)
			k.pictures = append(k.pictures, content)
			return err
		})
	} else if err = a.ParseForm(); err == nil {
		k.fields = a.PostForm
	}
	k.key = k.fields.Get(keyField)
	return k, err
}

// say has the bench answer otherwise, or as ever where it is nil.
func (b *bench) say(how func(arrival) *reply) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.answers = how
}

// onRecord are the entries that were kept, in the order in which they came in first.
func (b *bench) onRecord() (all []string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, k := range b.kept {
		all = append(all, k.String())
	}
	return all
}

// came is how often entries arrived.
func (b *bench) came() int {
	b.mu.Lock()
	defer b.mu.Unlock()
	return len(b.arrived)
}

// becomes waits until what is on record is these, in this order.
func (b *bench) becomes(t *testing.T, want ...string) {
	t.Helper()
	for end := time.Now().Add(90 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if slices.Equal(b.onRecord(), want) {
			return
		}
	}
	t.Fatalf("on record is %q, want %q", b.onRecord(), want)
}
