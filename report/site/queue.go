package site

import (
	"encoding/json"
	"maps"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"pourback/ingest/picture"
)

// The queue keeps on the phone what is said at the crew's forms until it is on record.
// A page has it by {{template "queue" $}} where what waits is to be shown; its forms are
// those with data-entry. Its script and style come with the template.
var (
	queueScript = fileOf("queue", "js", jsKind, embedded("assets/queue-store.js", "assets/queue-pictures.js", "assets/queue-send.js", "assets/queue-form.js", "assets/queue.js"))
	queueStyle  = fileOf("queue", "css", cssKind, embedded("assets/queue.css"))
)

const (
	queuePictures = 12               // go with one entry at most
	queueBytes    = 30 << 20         // of its pictures together
	afterHeader   = "Pourback-After" // names the entries that were made before one
	userHeader    = "Pourback-User"  // says whose a page is, and by whom an entry was made
	queueTry      = 30 * time.Second // for one try, and more where there are pictures
)

// queueView is what the queue of a page goes by.
type queueView struct {
	User, Name    string
	Limit         int64 // ms for one try
	Picture, All  int64 // bytes of one picture, and of all
	Most          int   // pictures
	Script, Style string
}

// Queue is what the queue of a page goes by. A page that has one may be kept by the
// browser to be shown without signal, so it says whose it is.
func (f Frame) Queue() queueView {
	f.ask.sayWhose()
	user, name := f.ask.reader()
	return queueView{User: user, Name: name, Limit: f.ask.Site.try.Milliseconds(), Picture: picture.MostBytes, All: queueBytes, Most: queuePictures,
		Script: queueScript().path, Style: queueStyle().path}
}

// sayWhose says whose the page is.
func (a *Ask) sayWhose() { a.W.Header().Set(userHeader, strconv.FormatInt(a.Who.ID, 10)) }

// asWhom refuses what was entered by somebody else than who is signed in by now: the
// phone keeps it for them.
func (a *Ask) asWhom() error {
	if by := a.Header.Get(userHeader); by != "" && by != strconv.FormatInt(a.Who.ID, 10) {
		return elseSignedIn()
	}
	return nil
}

// mostAfter is how many entries a phone names that it has made before one.
const mostAfter = 20

// madeBefore are the batches of entries that the same user has made at the same phone
// before this one, as the phone names them: its forms did not show them yet.
func (a *Ask) madeBefore() (batches []int64, err error) {
	for i, key := range strings.Split(a.Header.Get(afterHeader), ",") {
		if key == "" || i == mostAfter {
			break
		}
		batch, err := a.Store().BatchOf(a.Context(), a.Who.Name, key)
		if err != nil {
			return nil, err
		}
		if batch > 0 {
			batches = append(batches, batch)
		}
	}
	return batches, nil
}

// worker is the script by which pages open without signal. It is at the root, for it
// speaks for addresses below its own, and changes whenever a style or a script does.
func worker(a *Ask) error {
	list, err := json.Marshal(slices.Sorted(maps.Keys(assets())))
	if err != nil {
		return err
	}
	a.W.Header().Set("Content-Type", jsKind)
	a.W.Header().Set("Cache-Control", "no-cache")
	a.W.WriteHeader(http.StatusOK)
	_, err = a.W.Write(append([]byte("const assets = "+string(list)+";\n"), embedded("assets/worker.js")()...))
	return err
}
