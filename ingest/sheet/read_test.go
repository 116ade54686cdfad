package sheet

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pourback/ingest/record"
)

// got is all that reading a table gave.
type got struct {
	*Table
	numbers []int
	cells   [][]string
	values  [][]string // Record as canonical text, by column
	said    []string   // problems of rows, as codes with row and column
	bad     []int
}

// open opens content under a name.
func open(name, content string, opt Options) (*File, error) {
	if opt.Today == 0 {
		opt.Today = dayOfTests
	}
	return OpenReader(name, bytes.NewReader([]byte(content)), int64(len(content)), opt)
}

func read(t testing.TB, name, content string, opt Options) got {
	t.Helper()
	f, err := open(name, content, opt)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return readTable(t, f.Tables[0])
}

func readTable(t testing.TB, table *Table) got {
	t.Helper()
	g := got{Table: table}
	for row, err := range table.Rows() {
		if err != nil {
			t.Fatal(err)
		}
		g.numbers = append(g.numbers, row.Number)
		g.cells = append(g.cells, row.Cells())
		var values []string
		for _, f := range row.Fields {
			values = append(values, record.FieldText(f))
		}
		g.values = append(g.values, values)
		for _, p := range row.Problems {
			g.said = append(g.said, p.String())
		}
		if row.Bad() {
			g.bad = append(g.bad, row.Number)
		}
	}
	return g
}

// column lists the values of a column.
func (g got) column(name string) []string {
	var out []string
	for _, v := range g.values {
		out = append(out, v[g.Records.Index(name)])
	}
	return out
}

// codes are the codes of the problems of the table as a whole.
func (g got) codes() []string {
	var codes []string
	for _, p := range g.Problems {
		codes = append(codes, p.Code)
	}
	return codes
}

func equal[T comparable](t testing.TB, what string, got []T, want ...T) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// refused opens and reads content that must be refused, and returns the code.
func refused(t testing.TB, name, content string, opt Options) *Refusal {
	t.Helper()
	f, err := open(name, content, opt)
	if err == nil {
		for _, table := range f.Tables {
			for _, err = range table.Rows() {
			}
			if err != nil {
				break
			}
		}
	}
	r, ok := err.(*Refusal)
	if !ok {
		t.Fatalf("%s: %v is no refusal", name, err)
	}
	return r
}

const good = "job_no,placed_on,use,area_sqft,thickness_in"

// lines joins lines with a line end behind each.
func lines(ls ...string) string { return strings.Join(ls, "\n") + "\n" }

// TestShortRowsTakeNoRoom cuts a file of rows so short that a block holds few of
// the bytes that were read for it: what is left over must not pile up.
func TestShortRowsTakeNoRoom(t *testing.T) {
	path := filepath.Join(t.TempDir(), "costs.csv")
	if err := os.WriteFile(path, []byte("job_no,item\n"+strings.Repeat("J-1,pump\n", 200_000)), 0o644); err != nil {
		t.Fatal(err)
	}
	f, err := Open(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	c, err := f.Tables[0].newCutter()
	if err != nil {
		t.Fatal(err)
	}
	most, b := 0, &block{}
	for c.next(b) {
		most = max(most, cap(b.buf))
	}
	if b.err != nil || most > 4*blockBytes {
		t.Errorf("a block of %d bytes (%v)", most, b.err)
	}
}
