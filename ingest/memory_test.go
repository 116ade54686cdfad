package ingest_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// TestAnswersAreRemembered keeps one answer for each heading and table, the
// latest first, in the words in which they were given.
func TestAnswersAreRemembered(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		remember := func(at string, answers ...sheet.Answer) {
			t.Helper()
			if err := ingest.Remember(t.Context(), st, answers, at); err != nil {
				t.Fatal(err)
			}
		}
		check := func(st *store.Store, want ...sheet.Answer) {
			t.Helper()
			got, err := ingest.Remembered(t.Context(), st)
			if err != nil || !slices.Equal(got, want) {
				t.Errorf("remembered %+v (%v), want %+v", got, err, want)
			}
		}
		check(st)
		yds, spare, other := sheet.Answer{Heading: "Act Yds", Column: "delivered_yd"}, sheet.Answer{Heading: "Fäll = ½", Column: ""}, sheet.Answer{Heading: "ACT  yds", Column: "loads.yards"}
		remember("2026-01-31T07:00:00Z", yds)
		remember("2026-02-28T07:00:00Z", other, spare)
		check(st, spare, other, yds)
		planned := sheet.Answer{Heading: "act yds", Column: "planned_yd"}
		remember("2026-03-31T07:00:00Z", planned, yds) // of two in one call the first counts
		check(st, planned, spare, other)
		of2025 := sheet.Answer{Sheet: "2025", Heading: "act yds", Column: "leftover_yd"}
		remember("2026-04-30T07:00:00Z", of2025)
		check(st, of2025, planned, spare, other)
		if n, err := ingest.Forget(t.Context(), st, []string{"Act Yds", "Nobody said"}); n != 3 || err != nil {
			t.Errorf("forgot %d (%v), want 3", n, err)
		}
		check(open(t, dsn), spare)
	})
}

// TestNextMonthAsksNothing reads a file of three rows under last month's headings as
// that month was read, though so few rows tell nothing by
// themselves.
func TestNextMonthAsksNothing(t *testing.T) {
	const heads = "No;Dt;Nm;Addr;Jb;Sf;Thk;Yd est;Yd;Back;$;Est $;Cst\n"
	row := func(i int) string {
		area := 100 + 40*(7*i%30)
		neat := float64(area) * 4 / 324
		cost := 4*area + 250 + 7*i%60
		return fmt.Sprintf("%d;%d/%d/24;%s;%d Elm Ct;%s;%d;4;%.2f;%.2f;%.2f;%d;%d;%d\n", 301+i, 3+i/10, 1+2*(i%10), []string{"Heron", "Wren", "Egret", "Finch", "Plover", "Rail", "Tern", "Grebe", "Stork", "Swift", "Crane", "Dipper"}[i%12], 100+13*i,
			[]string{"pto", "dw", "walk", "shed"}[i%4], area, neat*1.03, neat*1.07, float64(i%3)/4, cost*3/2, cost-20, cost+25)
	}
	month := heads
	for i := range 30 {
		month += row(i)
	}
	storetest.Each(t, func(t *testing.T, dsn string) {
		st := open(t, dsn)
		columns := func(content string) []string {
			t.Helper()
			answers, err := ingest.Remembered(t.Context(), st)
			if err != nil {
				t.Fatal(err)
			}
			path := filepath.Join(t.TempDir(), "log.csv")
			if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
				t.Fatal(err)
			}
			f, err := sheet.Open(path, sheet.Options{Today: record.DateOf(2026, 12, 31), Answers: answers})
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			var found []string
			for _, h := range f.Reading().Tables[0].Headings {
				if found = append(found, h.Column); !h.Sure {
					found[len(found)-1] += "?"
				}
			}
			return found
		}
		few := heads + row(31) + row(33) + row(36)
		want := columns(month)
		if alone := columns(few); slices.Equal(alone, want) {
			t.Error("three rows tell it by themselves")
		}
		path := filepath.Join(t.TempDir(), "month.csv")
		if err := os.WriteFile(path, []byte(month), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := ingest.Files(t.Context(), st, []string{path}, ingest.Options{TakenAt: "2026-02-28T07:00:00Z", Sheet: sheet.Options{Today: record.DateOf(2026, 12, 31)}}); err != nil {
			t.Fatal(err)
		}
		if got := columns(few); !slices.Equal(got, want) {
			t.Errorf("three rows are read as %q, the month as %q", got, want)
		}
	})
}
