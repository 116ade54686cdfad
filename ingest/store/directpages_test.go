package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// TestPages demands that rows read off the pages are those that SQLite reads:
// numbers of every width, rows that go over from their page to others, columns in
// which nothing is written, so many rows that the tree has levels.
func TestPages(t *testing.T) {
	s, err := Open(t.Context(), storetest.SQLite(t), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	rows := benchRows(0, 30_000)
	at := func(i int) *record.Placement { return rows[i].Record.(*record.Placement) }
	for i, n := range []int64{0, 1, -1, 127, -128, 128, 1 << 15, -1 << 15, 1<<23 - 1, 1 << 31, -1 << 31, 1 << 40, 1<<47 - 1, 1 << 47, math.MinInt64 + 1, math.MaxInt64} {
		at(i).CrewSize, at(i).CallbackCost = record.Some(n), record.Some(record.Cents(n))
		at(i).AreaSqft, at(i).LaborHours = record.Some(float64(n)), record.Some(float64(n)+0.5)
	}
	for i, v := range []float64{5e-324, 1e300, -1e300, math.Copysign(0, -1), 1 << 53, math.Nextafter(1, 2)} {
		at(100 + i).NeatYd = record.Some(v)
	}
	for i := range 300 { // about where a row no longer fits on its page, and far beyond
		at(200 + 7*i).Note = strings.Repeat("x", 3500+3*i)
	}
	at(9000).Note, at(9001).Note = strings.Repeat("long ", 1<<18), "é¾ 混凝土"
	at(29_999).Retarder = record.No
	tx, err := s.Begin(t.Context(), "f", "00", "2025-06-03T07:15:00Z")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := tx.Add(t.Context(), record.Placements, nil, rows); err != nil {
		t.Fatal(err)
	}
	if _, err := tx.Commit(t.Context(), Batch{}); err != nil {
		t.Fatal(err)
	}
	var pages, plain record.Records
	nothing := func(*sqlx.Tx) error { return nil }
	if err := loadDirect(t.Context(), s, &pages, nothing); err != nil {
		t.Fatal(err)
	}
	if err := loadPlain(t.Context(), s, &plain, nothing); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{}
	text := func(p record.Placement) string {
		var all strings.Builder
		for _, f := range p.Fields() {
			fmt.Fprintf(&all, "%s|", record.FieldText(f))
		}
		return all.String()
	}
	for i := range plain.Placements.Len() {
		p := plain.Placements.Row(i)
		want[p.JobNo+"/"+p.Placement] = text(p)
	}
	if got := pages.Placements.Len(); got != len(rows) || len(want) != len(rows) {
		t.Fatalf("%d rows off the pages and %d the plain way, want %d", got, len(want), len(rows))
	}
	for i := range pages.Placements.Len() {
		p := pages.Placements.Row(i)
		if got, want := text(p), want[p.JobNo+"/"+p.Placement]; got != want {
			t.Fatalf("off the pages:\n%.500s\nthe plain way:\n%.500s", got, want)
		}
	}
}

// TestPagesOutOfShape demands an error of pages that are not what they should be,
// and no panic.
func TestPagesOutOfShape(t *testing.T) {
	leaf := func(cells ...string) []byte {
		page := make([]byte, 512)
		page[0] = leafPage
		binary.BigEndian.PutUint16(page[3:], uint16(len(cells)))
		at := len(page)
		for i, c := range cells {
			at -= len(c)
			copy(page[at:], c)
			binary.BigEndian.PutUint16(page[8+2*i:], uint16(at))
		}
		return page
	}
	beyond := leaf("\x02\x01\x02\x09")
	binary.BigEndian.PutUint16(beyond[8:], 600)
	many := leaf()
	binary.BigEndian.PutUint16(many[3:], 1000)
	p := &pages{usable: 512}
	r := &columnsReader{stored: make([]*columnReader, 2)}
	for name, page := range map[string][]byte{
		"empty": {}, "an interior page": {interiorPage, 0, 0, 0, 0, 0, 0, 0}, "a cell beyond the page": beyond, "more cells than fit": many,
		"a row longer than its page":        leaf("\x40\x01\x02\x09"),
		"a header longer than its row":      leaf("\x02\x01\x09\x09"),
		"a value longer than its row":       leaf("\x03\x01\x02\x06\x00"),
		"a type that there is not":          leaf("\x02\x01\x02\x0a"),
		"a number cut short":                leaf("\x02\x01\x02\x81"),
		"more values than there are places": leaf("\x04\x01\x04\x09\x09\x09"),
	} {
		if err := p.rows(page, nil, r.add); !errors.Is(err, errLayout) {
			t.Errorf("%s: %v, want %v", name, err, errLayout)
		}
	}
	if err := p.rows(leaf("\x03\x01\x03\x08\x09"), nil, r.add); err != nil {
		t.Error(err)
	}
}

func FuzzPage(f *testing.F) {
	f.Add([]byte{leafPage, 0, 0, 0, 1, 0, 0, 0, 0, 10, 3, 1, 3, 8, 9})
	f.Fuzz(func(t *testing.T, page []byte) {
		r := &columnsReader{stored: make([]*columnReader, 2)}
		if len(page) < 480 { // too few for a row that goes over to other pages
			_ = (&pages{usable: 1 << 16}).rows(page, nil, r.add)
		}
		_, _ = children(nil, page)
	})
}
