package sheet

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourback/ingest/record"
)

// logTruth is what an attentive clerk reads off one of the invented job logs.
type logTruth struct {
	Map  map[string]map[string]string // by sheet, or "": heading → column
	Rows map[string]map[string]any    // by job, "#2" for its second slab: column → value
	Odd  [][]string                   `json:"implausible"`
}

// TestInventedLogs reads the job logs whose truth is known: every heading as it
// is meant, and every number of every row.
func TestInventedLogs(t *testing.T) {
	paths, _ := filepath.Glob("../../testdata/logs/*.truth.json")
	if len(paths) < 3 {
		t.Fatalf("only %d logs", len(paths))
	}
	for _, path := range paths {
		var truth logTruth
		content, err := os.ReadFile(path)
		must(t, err)
		must(t, json.Unmarshal(content, &truth))
		logs, _ := filepath.Glob(strings.TrimSuffix(path, ".truth.json") + ".*[vx]")
		f, err := Open(logs[0], Options{Today: record.DateOf(2026, 12, 31)})
		must(t, err)
		holdHeadings(t, f, truth)
		holdRows(t, f, truth)
		must(t, f.Close())
	}
}

func holdHeadings(t *testing.T, f *File, truth logTruth) {
	t.Helper()
	held := 0
	for _, table := range f.Reading().Tables {
		for _, h := range table.Headings {
			want, known := truth.Map[table.Sheet][h.Heading]
			if !known {
				want, known = truth.Map[""][h.Heading]
			}
			if !known {
				continue
			}
			if want == "size" && h.Column == "area_sqft" {
				want = h.Column // which is read from a size as well
			}
			if held++; h.Column != want && h.Column != "" || !h.Sure && want != "" {
				t.Errorf("%s, %s: %q is read as %q (sure: %v), want %q", f.Name, table.Sheet, h.Heading, h.Column, h.Sure, want)
			}
		}
	}
	if held < 15 {
		t.Errorf("%s: only %d headings met", f.Name, held)
	}
}

func holdRows(t *testing.T, f *File, truth logTruth) {
	t.Helper()
	odd := map[string]bool{}
	for _, o := range truth.Odd {
		odd[o[0]+o[1]] = true
	}
	loads := false // the yards stand on the tickets alone
	for _, headings := range truth.Map {
		for _, column := range headings {
			loads = loads || column == "loads.yards"
		}
	}
	found, values := 0, 0
	for _, table := range f.Tables {
		if table.Records != record.Placements {
			continue
		}
		for row, err := range table.Rows() {
			must(t, err)
			p := row.Record.(*record.Placement)
			key := p.JobNo
			if p.Placement == "B" {
				key += "#2"
			}
			want, known := truth.Rows[key]
			if !known || row.Bad() {
				continue
			}
			found++
			for i, c := range table.Records.Columns {
				number, is := want[c.Name].(float64)
				if !is || odd[p.JobNo+c.Name] || c.Kind == record.KindMoney || loads && c.Name == "delivered_yd" {
					continue
				}
				var got float64
				switch v := row.Fields[i].(type) {
				case *record.Number:
					got = v.V
				case *record.Count:
					got = float64(v.V)
				}
				if values++; math.Abs(got-number) > 0.006*math.Abs(number)+0.0051 && !(c.Name == "labor_hours" && got == 0) {
					t.Errorf("%s: %s %s is %v, want %v", f.Name, key, c.Name, got, number)
				}
			}
		}
	}
	if found != len(truth.Rows) || values < 5*found {
		t.Errorf("%s: %d of %d rows, %d values", f.Name, found, len(truth.Rows), values)
	}
}
