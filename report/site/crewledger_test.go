package site

import (
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
)

// crewLedger is what phones were told of what they entered, and what is to be on record
// for that.
type crewLedger struct {
	mu                 sync.Mutex
	entries            []crewEntry
	copies, torn, late int // entries sent once more, sent in vain, put off
	before             int // batches

	rows     map[string]map[string]string // by table and key: values by column
	disputed map[string][]dispute         // by row and column
	joined   map[string][]joint           // by visit
}

// dispute is what one of two has said of one value.
type dispute struct {
	column, value string
	of            *crewEntry
}

// joint is a crack that was found, and joins others of its day.
type joint struct {
	feet int
	of   *crewEntry
}

func newCrewLedger(t *testing.T, p *place) *crewLedger {
	before, err := p.store.Batches(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return &crewLedger{before: len(before), rows: map[string]map[string]string{}, disputed: map[string][]dispute{}, joined: map[string][]joint{}}
}

func (l *crewLedger) note(write func()) {
	l.mu.Lock()
	defer l.mu.Unlock()
	write()
}

// anyShown is an entry that a page shows, one of the last, nil before there is any.
func (l *crewLedger) anyShown() *crewEntry {
	l.mu.Lock()
	defer l.mu.Unlock()
	for range 20 {
		if last := l.entries[max(0, len(l.entries)-100):]; len(last) > 0 {
			if e := &last[rand.IntN(len(last))]; e.shows != "" {
				is := *e
				return &is
			}
		}
	}
	return nil
}

// knownBy are the columns by which each row is told from others here. A delay is known by
// its note, as its number hangs on who came first, and a picture by what stands under it.
var knownBy = map[*record.Table][]string{
	record.Placements: {"job_no", "placement"},
	record.Loads:      {"job_no", "placement", "ticket_no"},
	record.Delays:     {"job_no", "placement", "note"},
	record.Labors:     {"job_no", "placement", "worked_on", "task"},
	record.Visits:     {"job_no", "placement", "seen_on"},
	record.Pictures:   {"job_no", "placement", "seen_on", "caption"},
}

func rowID(t *record.Table, key []string) string { return t.Name + " " + strings.Join(key, " ") }

// put says that a row has a value from now on. Notes come together.
func (l *crewLedger) put(t *record.Table, key []string, column, value string) {
	l.note(func() {
		id := rowID(t, key)
		if l.rows[id] == nil {
			l.rows[id] = map[string]string{}
		}
		if was := l.rows[id][column]; column == "note" && was != "" {
			value = was + "; " + value
		}
		l.rows[id][column] = value
	})
}

// disputes notes one of two values, which the row has or which was set aside.
func (l *crewLedger) disputes(t *record.Table, key []string, column, value string, e *crewEntry) {
	l.note(func() {
		id := rowID(t, key)
		l.disputed[id] = append(l.disputed[id], dispute{column, value, e})
	})
}

// join notes a crack of a visit.
func (l *crewLedger) join(visit []string, feet int, e *crewEntry) {
	l.note(func() {
		id := rowID(record.Visits, visit)
		l.joined[id] = append(l.joined[id], joint{feet, e})
	})
}

// settle gives the rows what hangs on who came first: of a value that is disputed, what
// was taken last; of a visit its cracks added up, and those behind the first in its note.
func (l *crewLedger) settle(t *testing.T) (clashes []dispute) {
	for id, all := range l.disputed {
		last := dispute{}
		for _, d := range all {
			if d.of.became == ingest.EntryClashed {
				clashes = append(clashes, d)
			} else if last.of == nil || d.of.did > last.of.did {
				last = d
			}
		}
		if last.of == nil {
			t.Errorf("of %s nothing was taken: %+v", id, all)
			continue
		}
		l.rows[id][last.column] = last.value
	}
	for id, all := range l.joined {
		slices.SortFunc(all, func(a, b joint) int { return cmp.Compare(a.of.did, b.of.did) })
		sum := 0
		for i, j := range all {
			if sum += j.feet; i > 0 {
				l.rows[id]["note"] += fmt.Sprintf("; also %d ft", j.feet)
			}
		}
		l.rows[id]["length_ft"] = fmt.Sprint(sum)
	}
	return clashes
}

// isKept holds what is on record against what the phones were told.
func (l *crewLedger) isKept(t *testing.T, p *place, owner *member) {
	t.Helper()
	clashes := l.settle(t)
	var want []string
	of := map[string]int{}
	for id, values := range l.rows {
		want = append(want, lineOf(id, values))
		table, _, _ := strings.Cut(id, " ")
		of[table]++
	}
	t.Logf("%d clashes; rows: %v", len(clashes), of)
	if len(clashes) == 0 || len(of) != len(knownBy) {
		t.Errorf("too little was written: %d clashes, rows of %v", len(clashes), of)
	}
	sameLines(t, "the store", l.inStore(t, p), want)
	sameLines(t, "an export", l.inExport(t, p), want)
	l.entriesAreKept(t, p)
	for _, d := range clashes {
		l.isAside(t, p, d)
	}
	for _, d := range clashes[:min(len(clashes), 100)] {
		if got := owner.turn().get("after", batchPath(d.of.did)); got.status != http.StatusOK || !strings.Contains(got.body, d.value+" was entered.") {
			t.Errorf("batch %d does not list %s %s: %v\n%s", d.of.did, d.column, d.value, got, mainOf(got.body))
		}
	}
	if checked, err := p.store.Check(t.Context(), func(f store.Fault) { t.Errorf("%+v", f) }); err != nil || checked.Faults != 0 || checked.Pictures != of[record.Pictures.Name] {
		t.Errorf("%+v, %v", checked, err)
	}
	for line := range strings.Lines(p.logged()) { // who has gone is no fault of the site
		if strings.Contains(line, "msg=failed") && !strings.Contains(line, "context canceled") {
			t.Error(line)
		}
	}
}

// lineOf is a row in a line, with its notes in an order of their own.
func lineOf(id string, of map[string]string) string {
	var values []string
	for column, value := range of {
		if column == "note" {
			parts := strings.Split(value, "; ")
			slices.Sort(parts)
			value = strings.Join(parts, "; ")
		}
		if value != "" {
			values = append(values, column+" "+value)
		}
	}
	slices.Sort(values)
	return id + ": " + strings.Join(values, ", ")
}

// lines are the rows of the phones' jobs in a table of which each hands over its values
// by their columns' names; the slabs themselves were there before.
func lines(t *record.Table, rows []map[string]string) (all []string) {
	for _, row := range rows {
		pour, slab := strings.HasPrefix(row["job_no"], pourJobs), strings.HasPrefix(row["job_no"], slabJobs)
		if !pour && !slab || slab && t == record.Placements {
			continue
		}
		var key []string
		for _, column := range knownBy[t] {
			key = append(key, row[column])
		}
		values := maps.Clone(row)
		maps.DeleteFunc(values, func(column, _ string) bool {
			return slices.Contains(knownBy[t], column) || column == "seq" || t == record.Pictures && column != "kept_by"
		})
		all = append(all, lineOf(rowID(t, key), values))
	}
	return all
}

// inStore are the lines of what is in the database. The numbers of a pour's delays are
// those from 1 on.
func (l *crewLedger) inStore(t *testing.T, p *place) (all []string) {
	t.Helper()
	for table := range knownBy {
		var rows []map[string]string
		err := p.store.Records(t.Context(), table, func(r record.Record) error {
			row := map[string]string{}
			for i, c := range table.Columns {
				row[c.Name] = record.FieldText(r.Fields()[i])
			}
			rows = append(rows, row)
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, lines(table, rows)...)
		seqs := map[string]int{}
		for _, row := range rows {
			if at := row["job_no"]; table == record.Delays && strings.HasPrefix(at, pourJobs) {
				if seqs[at]++; row["seq"] != fmt.Sprint(seqs[at]) {
					t.Errorf("delay %d of %s has the number %s", seqs[at], at, row["seq"])
				}
			}
		}
	}
	return all
}

// inExport are the lines of what an export holds, whose pictures are files beside it.
func (l *crewLedger) inExport(t *testing.T, p *place) (all []string) {
	t.Helper()
	dir := t.TempDir()
	if _, _, err := ingest.Export(t.Context(), p.store, dir, ingest.ExportOptions{}); err != nil {
		t.Fatal(err)
	}
	for table := range knownBy {
		cells, err := csv.NewReader(strings.NewReader(string(testFile(t, filepath.Join(dir, table.Name+".csv"))))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		var rows []map[string]string
		for _, line := range cells[1:] {
			row := map[string]string{}
			for i, column := range cells[0] {
				row[column] = line[i]
			}
			if table == record.Pictures {
				if _, err := os.Stat(filepath.Join(dir, row["file"])); err != nil {
					t.Error(err)
				}
			}
			rows = append(rows, row)
		}
		all = append(all, lines(table, rows)...)
	}
	return all
}

// sameLines says of which lines there are more or fewer than there should be.
func sameLines(t *testing.T, where string, got, want []string) {
	t.Helper()
	more := map[string]int{}
	for _, line := range got {
		more[line]++
	}
	for _, line := range want {
		more[line]--
	}
	told := 0
	for _, line := range slices.Sorted(maps.Keys(more)) {
		if n := more[line]; n != 0 && told < 20 {
			told++
			t.Errorf("%s has %d times too many: %s", where, n, line)
		}
	}
}

// entriesAreKept: each entry is one batch of who made it, known by its key, with one line
// in the log, and there is nothing else.
func (l *crewLedger) entriesAreKept(t *testing.T, p *place) {
	t.Helper()
	ctx := t.Context()
	batches, err := p.store.Batches(ctx)
	if err != nil || len(batches) != l.before+len(l.entries) {
		t.Errorf("%d batches, want %d and one for each of %d entries; %v", len(batches), l.before, len(l.entries), err)
	}
	of := map[int64]store.Batch{}
	for _, b := range batches {
		of[b.ID] = b
	}
	for i := range l.entries {
		e := &l.entries[i]
		b := of[e.did]
		if b.File != "form "+e.batch || b.Who != e.who || becameIn(b) != e.became {
			t.Errorf("%s by %s was told batch %d, %s: that is %+v", e.batch, e.who, e.did, e.became, b)
		}
		delete(of, e.did)
		var done *store.DoneError
		if err := p.store.Done(ctx, &store.Deed{Key: e.key}); !errors.As(err, &done) || done.Did != fmt.Sprintf("batch %d", e.did) {
			t.Errorf("%s was told batch %d, and stands as %v", e.batch, e.did, err)
		}
	}
	if len(of) != l.before {
		t.Errorf("%d batches nobody was told of", len(of)-l.before)
	}
	if log, err := p.store.Log(ctx, 1<<30); err != nil || len(log) != len(l.entries) {
		t.Errorf("%d lines in the log for %d entries, %v", len(log), len(l.entries), err)
	}
}

// isAside: a value that clashed is set aside with its batch, beside what is on record.
func (l *crewLedger) isAside(t *testing.T, p *place, d dispute) {
	t.Helper()
	parts, err := p.store.SetAside(t.Context(), d.of.did)
	if err != nil || len(parts) != 1 || parts[0].Total != 1 {
		t.Errorf("batch %d has set aside %+v, %v", d.of.did, parts, err)
		return
	}
	rows, err := ingest.Clashes(t.Context(), p.store, parts[0], p.site.Settings.Sheet)
	if err != nil || len(rows) != 1 || !slices.Equal(rows[0].Columns, []string{d.column}) {
		t.Errorf("batch %d has set aside %+v, %v", d.of.did, rows, err)
		return
	}
	table := rows[0].Entered.Table()
	if is := record.FieldText(rows[0].Entered.Fields()[table.Index(d.column)]); is != d.value {
		t.Errorf("batch %d has set %s %s aside, want %s", d.of.did, d.column, is, d.value)
	}
}
