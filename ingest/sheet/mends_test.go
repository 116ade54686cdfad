package sheet

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourback/ingest/record"
)

// told is all that a file's rows come to: records, problems, what is said of the
// tables.
func told(t *testing.T, path string, opt Options) string {
	t.Helper()
	f, err := Open(path, opt)
	if err != nil {
		return err.Error()
	}
	defer f.Close()
	var b strings.Builder
	for _, table := range f.Tables {
		fmt.Fprintln(&b, table.Sheet, table.Records.Name)
		for row, err := range table.Rows() {
			if err != nil {
				fmt.Fprintln(&b, err)
				break
			}
			fmt.Fprintln(&b, row.Number, record.Key(row.Record), row.Mended())
			for i, f := range row.Fields {
				if text := record.FieldText(f); text != "" {
					fmt.Fprintf(&b, " %s=%s", table.Records.Columns[i].Name, text)
				}
			}
			for _, p := range row.Problems {
				if p.Code != codeNewWord { // spoken of once a file or once a block
					fmt.Fprintln(&b, " ", p)
				}
			}
		}
		fmt.Fprintln(&b, table.AmbiguousDates)
		for _, p := range table.Problems {
			fmt.Fprintln(&b, p)
		}
	}
	return b.String()
}

// TestMendingNothingReadsTheSame: a file in the record form, which is read another
// way once cells of it are mended, says the same that way.
func TestMendingNothingReadsTheSame(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "sample", "*.csv"))
	if err != nil || len(paths) == 0 {
		t.Fatal(paths, err)
	}
	more, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "logs", "*.csv"))
	odd, _ := filepath.Glob(filepath.Join("testdata", "*", "*.csv"))
	if len(more) < 4 || len(odd) < 60 {
		t.Fatalf("%d logs, %d odd files", len(more), len(odd))
	}
	for _, path := range append(append(paths, more...), odd...) {
		opt := Options{Today: record.DateOf(2026, 3, 31)}
		want := told(t, path, opt)
		opt.Mends = Mends{{Row: 1 << 30}: "x"}
		if got := told(t, path, opt); got != want {
			t.Errorf("%s\n got %s\nwant %s", path, firstUnlike(got, want), firstUnlike(want, got))
		}
	}
}

func firstUnlike(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i, line := range x {
		if i >= len(y) || y[i] != line {
			return line
		}
	}
	return "(no more)"
}

// TestMends: a cell that is mended is read as if the file had the text, in both
// forms and in workbooks, and its row tells what was written.
func TestMends(t *testing.T) {
	form := "job_no,placed_on,use,area_sqft,thickness_in\nJ-1,2025-06-03,patio,400,45\nJ-2,2025-06-04,patio,300,4\n"
	log := "Job,Poured,What,Sq Ft,Thick\n1,6/3/25,Patio,400,45\n2,6/4/25,Walk,300,4\n3,6/5/25,Walk,200,4\n4,6/6/25,Walk,210,4\n"
	for name, text := range map[string]string{"placements.csv": form, "log.csv": log} {
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		opt := Options{Today: record.DateOf(2026, 3, 31)}
		before := told(t, path, opt)
		opt.Mends = Mends{{Row: 2, Column: 4}: "4.5", {Row: 3, Column: 3}: "300", {Row: 3, Column: 9}: "no such"}
		after := told(t, path, opt)
		if !strings.Contains(before, "thicker than 24 in") || strings.Contains(after, "thicker") {
			t.Errorf("%s: before %s\nafter %s", name, before, after)
		}
		if !strings.Contains(after, "[{4 45 4.5}]") || !strings.Contains(after, "thickness_in=4.5") {
			t.Errorf("%s: %s", name, after)
		}
	}
}
