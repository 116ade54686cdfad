package sheet

import (
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

var logRowsOfTests = [][]any{
	{"Job #", "Client", "Poured", "What", "Sq Ft", "Thk", "Yds Ordered", "Act Yds", "Left Over"},
	{"25-01", "Alder", "6/3/2025", "patio", 320, "4", 4.25, "4 + .5", 0.25},
	{"25-02", "Birch", "6/4/2025", "DW", "40 x 16", "4 in", 8.25, 8.5, 0.5},
	{"25-03", "Cedar", "6/5/2025", "walk", 100, `4"`, 1.5, "1.5y", 0},
	{"25-04", "Elm", "6/6/2025", "shed pad", 144, "4", 2, 2, 0},
	{"25-05", "Fir", "6/9/2025", "gar slb", 480, `5"`, 7.75, "7 3/4", 0.25},
}

// TestShapesThatAreNoTable gives a clear word for each shape of a sheet that
// cannot be read as it stands.
func TestShapesThatAreNoTable(t *testing.T) {
	turned := make([][]any, len(logRowsOfTests[0]))
	for _, row := range logRowsOfTests {
		for j, v := range row {
			turned[j] = append(turned[j], v)
		}
	}
	var twice [][]any
	for _, row := range logRowsOfTests {
		twice = append(twice, append(append(append([]any{}, row...), nil), row...))
	}
	picture := swapPart(t, makeWorkbook(t, "scan", nil, nil), "xl/media/image1.png", []byte("\x89PNG"))
	for name, c := range map[string]struct {
		book []byte
		want string
	}{
		"turned":       {makeWorkbook(t, "log", turned, nil), "its headings stand in the first column"},
		"side by side": {makeWorkbook(t, "log", twice, nil), "two tables side by side"},
		"a picture":    {picture, "no cells, only a picture"},
	} {
		f, err := open("x.xlsx", string(c.book), Options{})
		if err == nil {
			for _, table := range f.Tables {
				for _, rowErr := range table.Rows() {
					err = rowErr
				}
			}
		}
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestTabsThatAreNoRecords leaves lists out with a word, and reads a tab a month
// as one table.
func TestTabsThatAreNoRecords(t *testing.T) {
	book := makeWorkbook(t, "Jun 25", logRowsOfTests[:4], func(x *excelize.File) {
		for name, rows := range map[string][][]any{
			"Jul 25":    append([][]any{logRowsOfTests[0]}, logRowsOfTests[4:]...),
			"Suppliers": {{"Name", "Phone"}, {"North plant", "555-0100"}, {"River plant", "555-0101"}},
			"prices":    {{"what we charge"}, {"4\" broom", "per ft", 7.25}, {"saw cut", "per ft", 1.5}},
		} {
			_, err := x.NewSheet(name)
			must(t, err)
			for i, row := range rows {
				cell, _ := excelize.CoordinatesToCellName(1, i+1)
				must(t, x.SetSheetRow(name, cell, &row))
			}
		}
	})
	f, err := open("x.xlsx", string(book), Options{})
	must(t, err)
	rows := 0
	for _, table := range f.Tables {
		for _, err := range table.Rows() {
			must(t, err)
			rows++
		}
	}
	if rows != 5 || len(f.Tables) != 2 || len(f.Ignored) != 2 {
		t.Errorf("%d rows of %d tables, left out %q", rows, len(f.Tables), f.Ignored)
	}
	for _, heading := range f.Reading().Doubtful() {
		t.Errorf("doubtful: %+v", heading)
	}
}
