package site

import (
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// glance is what a file that waits would come to, worked out by taking it in and
// giving it up again.
type glance struct {
	version string // of what was said about it and of the records
	reading sheet.Reading
	ignored []string
	tables  []lookTable
	result  ingest.Result
	rows    []oddRow // the first ones
	fix     int      // rows to fix in all, and below with odd values alone
	odd     int
	notes   []record.Problem // about the file as a whole
	more    []noteCount      // further ones, by kind
	refused *record.Problem  // why the file is not taken
	before  *store.Batch     // as which the very same file came in
}

type lookTable struct {
	sheet, name string
	header      []string
}

// oddRow is a row with something to say about it.
type oddRow struct {
	table, number int
	bad           bool // it is set aside, or has a cell left empty
	cells         []string
	problems      []oddProblem
}

// oddProblem is one of its problems, with the column of the file that it is
// about; -1 for none.
type oddProblem struct {
	column int
	kind   oddKind
	record.Problem
}

type oddKind int8

const (
	setsAside oddKind = iota
	leavesEmpty
	isOdd
)

type noteCount struct {
	code string
	n    int
}

// How much is remembered of one look.
const (
	mostOddRows = 400
	mostOddText = 2 << 20
	mostNotes   = 40
)

// looker gathers what there is to say about a file while it is taken in.
type looker struct {
	*glance
	held int // bytes of rows
}

// lookAt works out what a file comes to by what was said about it.
func (a *Ask) lookAt(u store.Upload, is settled) (*glance, error) {
	records, err := a.Store().Version(a.Context())
	if err != nil {
		return nil, err
	}
	version := fmt.Sprintf("%d %s %s", u.Version, records, record.DayOf(a.Now))
	if l := a.Site.looked.get(u.ID, version); l != nil {
		return l, nil
	}
	l, err := a.work(u, is)
	if err != nil {
		return nil, err
	}
	l.version = version
	if l.before, err = a.cameBefore(u.SHA256); err != nil {
		return nil, err
	}
	a.Site.looked.put(u.ID, l)
	return l, nil
}

// source is the content of a file that waits.
func (a *Ask) source(ctx context.Context, u store.Upload) ingest.Source {
	return ingest.Source{Name: u.File, Content: a.Store().UploadContent(ctx, u), Size: u.Bytes}
}

// sheetOptions are how files are read today.
func (a *Ask) sheetOptions() sheet.Options {
	opt := a.Site.Settings.Sheet
	opt.Today = record.DayOf(a.Now)
	return opt
}

func (a *Ask) work(u store.Upload, is settled) (*glance, error) {
	ctx := a.Context()
	l := &looker{glance: &glance{}}
	known, err := ingest.Remembered(ctx, a.Store())
	if err != nil {
		return nil, err
	}
	from := a.source(ctx, u)
	opt := is.reading(a.sheetOptions())
	reading := opt
	reading.Answers = append(slices.Clone(opt.Answers), known...)
	f, err := from.Open(reading)
	if l.isRefusal(err) {
		return l.glance, nil
	}
	if err != nil {
		return nil, err
	}
	l.reading, l.ignored = f.Reading(), f.Ignored
	for _, t := range f.Tables {
		l.tables = append(l.tables, lookTable{t.Sheet, t.Records.Name, t.Header})
	}
	f.Close()
	l.result, err = ingest.Take(ctx, a.Store(), from, ingest.Options{Sheet: opt, DryRun: true, TakenAt: a.Stamp(), Problem: l.note, Settled: is.cells(), Odd: l.row})
	if l.result.Refused != "" && l.refused == nil {
		l.refused = &record.Problem{Wrong: l.result.Refused}
	}
	return l.glance, err
}

// isRefusal notes why a file is refused, if that is the error.
func (l *looker) isRefusal(err error) bool {
	var refusal *sheet.Refusal
	if !errors.As(err, &refusal) {
		return false
	}
	p := refusal.Problem
	p.File = ""
	l.refused = &p
	return true
}

// note notes what is wrong with the file as a whole; what is wrong with rows is
// noted with them.
func (l *looker) note(p record.Problem) {
	if p.Row > 0 && !sheet.OfNoRecord(p) {
		return
	}
	if len(l.notes) < mostNotes {
		p.File = ""
		l.notes = append(l.notes, p)
		return
	}
	i := slices.IndexFunc(l.more, func(n noteCount) bool { return n.code == p.Code })
	if i < 0 {
		i = len(l.more)
		l.more = append(l.more, noteCount{code: p.Code})
	}
	l.more[i].n++
}

// row notes a row with problems.
func (l *looker) row(t *sheet.Table, r *sheet.Row) {
	bad := r.Bad() || r.LeftEmpty()
	if bad {
		l.fix++
	} else {
		l.odd++
	}
	if len(l.rows) >= mostOddRows || l.held > mostOddText {
		return
	}
	at := slices.IndexFunc(l.tables, func(x lookTable) bool { return x.sheet == t.Sheet && x.name == t.Records.Name })
	if at < 0 {
		return
	}
	one := oddRow{table: at, number: r.Number, bad: bad, cells: r.Cells()[:len(t.Header)]}
	for _, c := range one.cells {
		l.held += len(c)
	}
	for _, p := range r.Problems {
		kind := isOdd
		switch {
		case p.Severity == record.Error:
			kind = setsAside
		case sheet.LeavesEmpty(p):
			kind = leavesEmpty
		}
		one.problems = append(one.problems, oddProblem{ingest.CellOf(t, r, p).Column, kind, p})
	}
	l.rows = append(l.rows, one)
}

// counts are what a keeping must come to, to be what was looked at.
func counts(r *ingest.Result) string {
	return fmt.Sprintf("%d.%d.%d.%d.%d.%d", r.Read, r.New, r.Changed, r.Unchanged, r.SetAside, r.LeftEmpty)
}

// heading is a heading by its place, "table.heading", as a question.
func (l *glance) heading(at string) (ingest.Question, bool) {
	first, second, _ := strings.Cut(at, ".")
	t, err := strconv.Atoi(first)
	h, err2 := strconv.Atoi(second)
	all := ingest.AlikeTables(l.reading)
	if err != nil || err2 != nil || t < 0 || t >= len(all) || h < 0 || h >= len(all[t].Headings) {
		return ingest.Question{}, false
	}
	return ingest.Question{Table: all[t].Table, HeadingReading: all[t].Headings[h]}, true
}

// headingOf is the heading above a cell.
func (l *glance) headingOf(c sheet.Cell) string {
	for _, t := range l.tables {
		if t.sheet == c.Sheet && c.Column >= 0 && c.Column < len(t.header) {
			return strings.TrimSpace(t.header[c.Column])
		}
	}
	return ""
}

// cameBefore is the batch that stands and came from the very same file.
func (a *Ask) cameBefore(sha256 string) (*store.Batch, error) {
	batches, err := a.Store().Batches(a.Context())
	for _, b := range slices.Backward(batches) {
		if b.SHA256 == sha256 && b.UndoneAt == "" && len(sha256) == hex.EncodedLen(32) {
			return &b, err
		}
	}
	return nil, err
}

// lookCache keeps the latest looks at files.
type lookCache struct {
	mu   sync.Mutex
	byID map[string]*glance
	age  []string
}

// mostLooks is how many are kept.
const mostLooks = 6

func (c *lookCache) get(id, version string) *glance {
	c.mu.Lock()
	defer c.mu.Unlock()
	if l := c.byID[id]; l != nil && l.version == version {
		return l
	}
	return nil
}

func (c *lookCache) put(id string, l *glance) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.byID == nil {
		c.byID = map[string]*glance{}
	}
	c.age = append(slices.DeleteFunc(c.age, func(x string) bool { return x == id }), id)
	c.byID[id] = l
	for len(c.age) > mostLooks {
		delete(c.byID, c.age[0])
		c.age = c.age[1:]
	}
}

func (c *lookCache) drop(id string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	delete(c.byID, id)
}
