package out

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/report/internal/trial"
	"pourback/report/page"
	"pourback/report/say"
)

// workbookOf is a workbook of pages, read back by the library.
func workbookOf(t *testing.T, pages []page.Page) *excelize.File {
	t.Helper()
	var once, again bytes.Buffer
	for _, b := range []*bytes.Buffer{&once, &again} {
		if err := WriteWorkbook(b, pages); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(once.Bytes(), again.Bytes()) {
		t.Error("the same tables made two workbooks")
	}
	if !OursWorkbook(once.Bytes()) {
		t.Error("a workbook is not known as ours")
	}
	x, err := excelize.OpenReader(&once)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { x.Close() })
	return x
}

// raw are the cells of a sheet as the file holds them.
func raw(t *testing.T, x *excelize.File, sheet string) [][]string {
	t.Helper()
	rows, err := x.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// TestWorkbookHoldsEveryRow: a table of more rows than a page shows stands in the
// workbook whole, its figures as numbers in the unit that is read, with the ends
// of their ranges, its dates as dates and its words as words.
func TestWorkbookHoldsEveryRow(t *testing.T) {
	const n = 2*page.MostRows + 7
	v := say.New("en", "si", "")
	rows := make([]int, n)
	for i := range rows {
		rows[i] = i
	}
	table := page.TableOf("Volumes", rows,
		page.ColumnOf[int]{Head: "Name", Cell: func(i int) say.Cell { return say.Cell{Text: fmt.Sprintf("=1+%d", i)} }},
		page.ColumnOf[int]{Head: "Volume", Number: true, Cell: func(i int) say.Cell {
			return v.Cell(v.Units.Volume, figure.Figure{Value: float64(i), Low: float64(i) - 1, High: float64(i) + 1, Bounded: true, OK: true})
		}},
		page.ColumnOf[int]{Head: "Share", Number: true, Cell: func(i int) say.Cell {
			return v.Cell(say.Percent, figure.Figure{Value: 0.125, OK: true})
		}},
		page.ColumnOf[int]{Head: "Poured", Cell: func(i int) say.Cell { return say.Dated("June 3, 2025", trial.AsOf) }},
		page.ColumnOf[int]{Head: "Unknown", Number: true, Cell: func(i int) say.Cell { return say.Blank() }})
	x := workbookOf(t, []page.Page{{Voice: v, Title: "A/B: [yards]", Exhibits: []page.Exhibit{{Table: table}}}})
	got := raw(t, x, "A B   yards")
	if len(got) < n+2 {
		t.Fatalf("%d rows of %d", len(got)-2, n)
	}
	if want := []string{"Name", "Volume (m³)", "Volume (m³) ≥", "Volume (m³) ≤", "Share", "Poured", "Unknown"}; strings.Join(got[1], "|") != strings.Join(want, "|") {
		t.Errorf("heads %q", got[1])
	}
	for _, i := range []int{0, 1, page.MostRows, n - 1} {
		row := got[i+2]
		for k, yd := range []float64{float64(i), float64(i) - 1, float64(i) + 1} {
			// A cubic yard is 0.764554857984 m³ exactly (NIST Handbook 44, appendix C).
			if m3, err := strconv.ParseFloat(row[1+k], 64); err != nil || abs(m3-yd*0.764554857984) > 1e-9 {
				t.Errorf("row %d: %q for %v yd", i, row[1+k], yd)
			}
		}
		serial := float64(trial.AsOf.Time().Unix())/86400 + 25569 // days since 1899-12-30, as workbooks count
		if row[0] != fmt.Sprintf("=1+%d", i) || row[4] != "0.125" || row[5] != strconv.FormatFloat(serial, 'f', -1, 64) {
			t.Errorf("row %d: %q, day %v", i, row, serial)
		}
	}
	if f, err := x.GetCellFormula("A B   yards", "A3"); err != nil || f != "" {
		t.Errorf("a name became the formula %q, %v", f, err)
	}
	if shown, err := x.GetCellValue("A B   yards", "E3"); err != nil || shown != "12.50%" {
		t.Errorf("a share shows as %q, %v", shown, err)
	}
}

func abs(v float64) float64 { return max(v, -v) }

// TestWorkbookOfEveryHistory: each table of each page stands in it with all its
// rows, from no record on, whatever the records hold.
func TestWorkbookOfEveryHistory(t *testing.T) {
	all := trial.Histories(t)
	all["hostile"] = trial.FactorsOf(t, trial.HostileEverywhere(t), setting.Options{Visits: setting.VisitOptions{Asked: true}})
	for name, f := range all {
		pages := page.Pages(f, page.Options{WithSites: true})
		x := workbookOf(t, pages)
		if got := raw(t, x, x.GetSheetName(0)); len(got) != len(pages) {
			t.Errorf("%s: %d answers for %d pages", name, len(got), len(pages))
		}
		sheets := x.GetSheetList()[1:]
		for _, p := range pages {
			rows, tables := 0, 0
			for _, e := range p.Exhibits {
				if e.Table != nil {
					rows, tables = rows+len(e.Table.Rows)+e.Table.Left, tables+1
				}
			}
			if tables == 0 {
				continue
			}
			if len(sheets) == 0 {
				t.Fatalf("%s: no sheet for %q", name, p.Title)
			}
			if got := len(raw(t, x, sheets[0])); got < rows+2*tables {
				t.Errorf("%s: the sheet %q has %d rows, its page %d in %d tables", name, sheets[0], got, rows, tables)
			}
			sheets = sheets[1:]
		}
	}
}
