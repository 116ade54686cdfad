package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestLogsEndInTheFiguresOfTheirTruth takes each invented job log in as it is,
// with nobody to ask, and holds the figures against sums over what an attentive
// clerk read off it: the truths were written by hands that had not seen the reader.
func TestLogsEndInTheFiguresOfTheirTruth(t *testing.T) {
	source, err := filepath.Abs(filepath.Join("..", "..", "testdata", "logs"))
	if err != nil {
		t.Fatal(err)
	}
	truths, _ := filepath.Glob(filepath.Join(source, "*.truth.json"))
	if len(truths) < 12 {
		t.Fatalf("only %d logs", len(truths))
	}
	for _, path := range truths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			log, _ := filepath.Glob(strings.TrimSuffix(path, ".truth.json") + ".*[vx]")
			inFolder(t, nil)
			content, err := os.ReadFile(log[0])
			if err != nil {
				t.Fatal(err)
			}
			name := filepath.Base(log[0])
			if err := os.WriteFile(name, content, 0o644); err != nil {
				t.Fatal(err)
			}
			call(t, "ingest", "--yes", name)
			r := call(t, "factors", "--json")
			r.want(t, exitDone)
			holdTotals(t, r.stdout, truthOf(t, path))
		})
	}
}

// clerk is what a log's truth says: by job, with #2 for its second slab, the
// values of its columns, and what cannot be.
type clerk struct {
	Rows        map[string]map[string]any
	Implausible [][]string
}

func truthOf(t *testing.T, path string) clerk {
	t.Helper()
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var c clerk
	if err := json.Unmarshal(content, &c); err != nil {
		t.Fatal(err)
	}
	for _, cannot := range c.Implausible {
		for _, key := range []string{cannot[0], cannot[0] + "#2"} {
			if c.Rows[key] != nil {
				delete(c.Rows[key], cannot[1])
			}
		}
	}
	return c
}

// sums are what figures and truth are held by.
type sums struct{ placements, revenue, cost, area, hours float64 }

func (c clerk) sums() (s sums) {
	number := func(key, column string) (float64, bool) { v, ok := c.Rows[key][column].(float64); return v, ok }
	for key := range c.Rows {
		s.placements++
		price, okPrice := number(key, "contract_price")
		cost, okCost := number(key, "actual_cost")
		if okPrice && okCost {
			s.revenue, s.cost = s.revenue+price, s.cost+cost
		}
		area, okArea := number(key, "area_sqft")
		if hours, ok := number(key, "labor_hours"); ok && okArea && hours > 0 {
			s.area, s.hours = s.area+area, s.hours+hours
		}
	}
	return s
}

func holdTotals(t *testing.T, factors string, truth clerk) {
	t.Helper()
	var f struct {
		Placements float64
		Crews      []struct {
			Area  float64 `json:"area_sqft"`
			Hours float64 `json:"labor_hours"`
		}
		Margin struct {
			Total struct{ Revenue, Cost float64 }
		}
	}
	if err := json.Unmarshal([]byte(factors), &f); err != nil {
		t.Fatal(err)
	}
	want, got := truth.sums(), sums{placements: f.Placements, revenue: f.Margin.Total.Revenue, cost: f.Margin.Total.Cost}
	for _, c := range f.Crews {
		got.area, got.hours = got.area+c.Area, got.hours+c.Hours
	}
	for _, held := range []struct {
		what      string
		got, want float64
	}{{"placements", got.placements, want.placements}, {"revenue", got.revenue, want.revenue}, {"cost", got.cost, want.cost},
		{"area worked", got.area, want.area}, {"hours", got.hours, want.hours}} {
		if held.want <= 0 || math.Abs(held.got-held.want) > 0.006*held.want {
			t.Errorf("%s: %g, want %g", held.what, held.got, held.want)
		}
	}
}
