package site

import (
	"cmp"
	"errors"
	"slices"
	"strconv"
	"strings"
	"sync"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
)

// entryTold is what an entry came to, as a page or a phone is told.
type entryTold struct {
	Did     string // batch 12
	Became  string // new, changed, unchanged or clash
	Says    string
	Clashes []string // values that somebody else wrote otherwise meanwhile: both are kept
	Odd     []told   // kept, and worth a second look
}

// How bad it is what became of an entry, the worst last.
var becameOf = []string{ingest.EntryUnchanged, ingest.EntryNew, ingest.EntryChanged, ingest.EntryClashed}

// tell is what an entry came to.
func (a *Ask) tell(done ingest.Entered, says string) entryTold {
	t := entryTold{Became: becameOf[0], Says: says}
	if done.Batch > 0 {
		t.Did = "batch " + strconv.FormatInt(done.Batch, 10)
	}
	for _, r := range done.Rows {
		if slices.Index(becameOf, r.Became) > slices.Index(becameOf, t.Became) {
			t.Became = r.Became
		}
		table := record.TableNamed(r.Table)
		for _, c := range r.Clashes {
			t.Clashes = append(t.Clashes, a.Say.EntryClash(c.Column, a.asRead(table, c.Column, c.Record), a.asRead(table, c.Column, c.Entered)))
		}
	}
	if len(t.Clashes) > 0 {
		t.Clashes = append(t.Clashes, a.Say.EntryClashes())
	}
	for _, p := range done.Problems {
		if p.Code != "other-decimal-mark" { // a phone has the mark of its own language
			t.Odd = append(t.Odd, a.wrong(p))
		}
	}
	return t
}

// plain is all of it in a line.
func (t entryTold) plain() string {
	parts := append([]string{t.Says}, t.Clashes...)
	for _, o := range t.Odd {
		parts = append(parts, o.Says)
	}
	return strings.Join(parts, " ")
}

// Entry is what the entry came to that led to a page, nil where none did.
func (f Frame) Entry() *entryTold {
	a := f.ask
	key := a.URL.Query().Get("kept")
	if key == "" {
		return nil
	}
	if t, ok := a.Site.lately.of(key); ok {
		return &t
	}
	var done *store.DoneError
	if err := a.Store().Done(a.Context(), &store.Deed{Key: key}); errors.As(err, &done) {
		t := a.toldBefore(key, done.Did)
		return &t
	}
	return nil
}

// toldBefore is what an entry came to that has arrived before: what was said then, or that
// it is on record, where the site was started anew since.
func (a *Ask) toldBefore(key, did string) entryTold {
	if t, ok := a.Site.lately.of(key); ok {
		return t
	}
	t := entryTold{Did: cmp.Or(did, "before"), Became: becameOf[0], Says: a.Say.EntryBefore()}
	id, _ := strconv.ParseInt(strings.TrimPrefix(did, "batch "), 10, 64)
	batches, err := a.Store().Batches(a.Context())
	if err != nil {
		return t
	}
	for _, b := range batches {
		if b.ID == id {
			t.Became = becameIn(b)
		}
	}
	return t
}

// becameIn is what an entry became by the counts of its batch.
func becameIn(b store.Batch) string {
	switch {
	case b.SetAside > 0:
		return ingest.EntryClashed
	case b.Changed > 0:
		return ingest.EntryChanged
	case b.New > 0:
		return ingest.EntryNew
	}
	return ingest.EntryUnchanged
}

// lately is what entries came to, the latest of them, by their keys: a page tells it that
// the browser is sent on to.
type lately struct {
	mu   sync.Mutex
	told map[string]entryTold
	keys []string // the oldest first
}

// mostLately is how many are remembered.
const mostLately = 1000

func (l *lately) keep(key string, t entryTold) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.told == nil {
		l.told = map[string]entryTold{}
	}
	if _, met := l.told[key]; !met {
		l.keys = append(l.keys, key)
	}
	l.told[key] = t
	if len(l.keys) > mostLately {
		delete(l.told, l.keys[0])
		l.keys = l.keys[1:]
	}
}

func (l *lately) of(key string) (entryTold, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	t, ok := l.told[key]
	return t, ok
}
