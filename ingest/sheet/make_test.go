package sheet

import (
	"archive/zip"
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/xuri/excelize/v2"
)

// makeWorkbook makes a workbook of one sheet in memory.
func makeWorkbook(t testing.TB, sheet string, rows [][]any, more func(*excelize.File)) []byte {
	t.Helper()
	x := excelize.NewFile()
	defer x.Close()
	if err := x.SetSheetName("Sheet1", sheet); err != nil {
		t.Fatal(err)
	}
	for i, row := range rows {
		cell, _ := excelize.CoordinatesToCellName(1, i+1)
		if err := x.SetSheetRow(sheet, cell, &row); err != nil {
			t.Fatal(err)
		}
	}
	if more != nil {
		more(x)
	}
	var b bytes.Buffer
	if err := x.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// must fails the test that sets up a workbook wrongly.
func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

var goodHeader = []any{"job_no", "placed_on", "use", "area_sqft", "thickness_in"}

func goodRow(more ...any) []any { return append([]any{"J-1", "2025-06-03", "patio", 420, 4}, more...) }

// swapPart writes a workbook anew with one part replaced, or left out where the
// content is nil.
func swapPart(t testing.TB, book []byte, name string, content []byte) []byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	must(t, err)
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, part := range z.File {
		if part.Name == name {
			continue
		}
		must(t, w.Copy(part))
	}
	if content != nil {
		p, err := w.Create(name)
		must(t, err)
		_, err = p.Write(content)
		must(t, err)
	}
	must(t, w.Close())
	return out.Bytes()
}

const firstSheet = "xl/worksheets/sheet1.xml"

// TestMakeWorkbooks writes the workbooks among the inputs of the catalogue. It
// runs with -update only.
func TestMakeWorkbooks(t *testing.T) {
	if !*update {
		t.Skip("only with -update")
	}
	good := makeWorkbook(t, "placements", [][]any{goodHeader, goodRow()}, nil)
	bomb := append([]byte(`<worksheet><sheetData><row r="1">`), bytes.Repeat([]byte(`<c r="A1"><v>1</v></c>`), 200_000)...)
	for name, content := range map[string][]byte{
		"formula-without-value": makeWorkbook(t, "placements", [][]any{append(goodHeader, "wind_mph"), goodRow()}, func(x *excelize.File) {
			must(t, x.SetCellFormula("placements", "F2", "2*5"))
		}),
		"hidden-sheet": makeWorkbook(t, "placements", [][]any{goodHeader, goodRow()}, func(x *excelize.File) {
			_, err := x.NewSheet("front")
			must(t, err)
			x.SetActiveSheet(1)
			must(t, x.SetSheetVisible("placements", false))
		}),
		"hidden-cells": makeWorkbook(t, "placements", [][]any{goodHeader, goodRow(), goodRow()}, func(x *excelize.File) {
			must(t, x.SetRowVisible("placements", 3, false))
			must(t, x.SetColVisible("placements", "C", false))
		}),
		"protected-sheet": makeWorkbook(t, "placements", [][]any{goodHeader, goodRow()}, func(x *excelize.File) {
			must(t, x.ProtectSheet("placements", &excelize.SheetProtectionOptions{SelectLockedCells: true}))
		}),
		"unpacks-too-far": swapPart(t, good, firstSheet, append(bomb, `</row></sheetData></worksheet>`...)),
	} {
		must(t, os.WriteFile(filepath.Join("testdata/problems", name+".xlsx"), content, 0o644))
	}
}
