package sheet

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// TestMuseum reads the hostile inputs of testdata/museum. What comes of each is
// kept in outcomes.txt.
func TestMuseum(t *testing.T) {
	var b strings.Builder
	paths, _ := filepath.Glob("testdata/museum/*.*s[vx]*")
	for _, path := range paths {
		said, rows := everything(path, Options{})
		bad := map[string]bool{}
		for _, p := range said {
			if p.Severity > 0 {
				bad[fmt.Sprint(p.Sheet, p.Row)] = true
			}
		}
		fmt.Fprintf(&b, "%s: %d rows, %d bad\n", filepath.Base(path), rows, len(bad))
		for _, p := range said {
			fmt.Fprintf(&b, "\t%s: %s\n", p.Code, strings.TrimPrefix(p.String(), filepath.Base(path)))
		}
	}
	golden(t, "testdata/museum/outcomes.txt", b.String())
}

// endless is a file of one letter that counts how much of it is read.
type endless struct {
	letter byte
	begins string
	read   int64
}

func (e *endless) ReadAt(p []byte, off int64) (int, error) {
	for i := range p {
		if at := off + int64(i); at < int64(len(e.begins)) {
			p[i] = e.begins[at]
		} else {
			p[i] = e.letter
		}
	}
	e.read += int64(len(p))
	return len(p), nil
}

// TestOneEndlessLine refuses lines of 100 MB without reading them to their end.
func TestOneEndlessLine(t *testing.T) {
	for _, c := range []struct {
		letter       byte
		begins, code string
		row          int
	}{
		{'x', "", codeLongRow, 1}, {',', "", codeLongRow, 1}, {'"', "", codeLongRow, 1}, {'x', good + "\n", codeLongRow, 2}, {',', good + "\nJ-1,2025-06-03,patio,420,4\n", codeLongRow, 3}, {'x', good + "\n\"", codeLongRow, 2}, {'\n', good + "\n\"", codeLongRow, 2}, {' ', good + "\nJ-1", codeLongRow, 2}, {0, good, codeNul, 1}, {0, good + "\nJ-1\n", codeNul, 3}, {'\r', good + "\n\"", codeLongRow, 2},
	} {
		file := &endless{letter: c.letter, begins: c.begins}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		f, err := OpenReader("x.csv", file, 100e6, Options{})
		if err == nil {
			for _, err = range f.Tables[0].Rows() {
			}
		}
		runtime.ReadMemStats(&after)
		r, ok := err.(*Refusal)
		if !ok || r.Code != c.code || r.Row != c.row {
			t.Errorf("%q and then %q: %v", c.begins, c.letter, err)
		}
		if file.read > 8e6 || after.TotalAlloc-before.TotalAlloc > 40e6 {
			t.Errorf("%q and then %q: %d bytes read, %d allocated", c.begins, c.letter, file.read, after.TotalAlloc-before.TotalAlloc)
		}
	}
}

func TestLongestRow(t *testing.T) {
	row := "J-1,2025-06-03,patio,420,4," + strings.Repeat("x", 999_960)
	g := read(t, "x.csv", lines(good+",other", row), Options{})
	equal(t, "a row below the limit", g.numbers, 2)
	if r := refused(t, "x.csv", lines(good+",other", "J-0,2025-06-03,patio,420,4", row+strings.Repeat("x", 100)), Options{}); r.Code != codeLongRow || r.Row != 3 {
		t.Error(r)
	}
}

func TestFileOfAGigabyte(t *testing.T) {
	_, err := OpenReader("x.csv", &endless{letter: 'x'}, 1e9, Options{})
	if r, ok := err.(*Refusal); !ok || r.Code != codeTooLarge {
		t.Error(err)
	}
}

func TestNoFile(t *testing.T) {
	if _, err := Open("testdata/none.csv", Options{}); !os.IsNotExist(err) {
		t.Error(err)
	}
	if _, err := Open("testdata", Options{}); err == nil {
		t.Error("a folder is read")
	}
}

// faulty fails when its rest is read.
type faulty struct{ text string }

func (f faulty) ReadAt(p []byte, off int64) (int, error) {
	if off >= int64(len(f.text)) {
		return 0, io.ErrUnexpectedEOF
	}
	return copy(p, f.text[off:]), io.ErrUnexpectedEOF
}

func TestReadErrors(t *testing.T) {
	text := good + "\n" + strings.Repeat("J-1,2025-06-03,patio,420,4\n", 40000)
	f, err := OpenReader("x.csv", faulty{text}, 2e6, Options{})
	if err == nil {
		for _, err = range f.Tables[0].Rows() {
		}
	}
	if err == nil {
		t.Error("a broken disk goes unnoticed")
	}
}

// TestDamagedWorkbooks breaks a workbook in many ways; each must be refused.
func TestDamagedWorkbooks(t *testing.T) {
	book := makeWorkbook(t, "placements", [][]any{goodHeader, goodRow()}, func(x *excelize.File) { must(t, x.SetCellValue("placements", "F1", "crew")) })
	for name, content := range map[string][]byte{
		"cut short": book[:len(book)/2], "no workbook": swapPart(t, book, "xl/workbook.xml", nil), "no relations": swapPart(t, book, "xl/_rels/workbook.xml.rels", nil), "empty sheet": swapPart(t, book, firstSheet, []byte{}),
		"not XML": swapPart(t, book, firstSheet, []byte("hello")), "cut XML": swapPart(t, book, firstSheet, []byte(`<worksheet><sheetData><row r="1"><c t="str"><v>job_no`)), "document type": swapPart(t, book, firstSheet, []byte(`<!DOCTYPE x [<!ENTITY a "b">]><worksheet><sheetData></sheetData></worksheet>`)),
		"unknown entity": swapPart(t, book, firstSheet, []byte(`<worksheet><sheetData><row><c t="str"><v>&lol;</v></c></row></sheetData></worksheet>`)), "damaged styles": swapPart(t, book, "xl/styles.xml", []byte("<styleSheet><cellXfs>")), "damaged texts": swapPart(t, book, "xl/sharedStrings.xml", []byte("<sst><si><t>")),
		"no sheet part": swapPart(t, book, firstSheet, nil),
	} {
		r := refused(t, "x.xlsx", string(content), Options{})
		if r.Code != codeBroken && r.Code != codeNoTable && r.Code != codeForeign || r.Right == "" && r.Code != codeNoTable {
			t.Errorf("%s: %v", name, r)
		}
	}
	for name, code := range map[string]string{"content.xml": codeForeign, "xl/workbook.bin": codeForeign, "word/document.xml": codeForeign} {
		if r := refused(t, "x.xlsx", string(swapPart(t, book, name, []byte("x"))), Options{}); r.Code != code {
			t.Errorf("%s: %v", name, r)
		}
	}
	for name, sheet := range map[string]string{
		codeLongRow:     `<row r="1"><c r="A1" t="str"><v>` + strings.Repeat("x", 1e6) + `</v></c></row>`,
		codeManyColumns: `<row r="1"><c r="XFD1" t="str"><v>x</v></c></row>`,
	} {
		content := swapPart(t, book, firstSheet, []byte(`<worksheet><sheetData>`+sheet+`</sheetData></worksheet>`))
		if r := refused(t, "x.xlsx", string(content), Options{Limits: Limits{Ratio: 1 << 40}}); r.Code != name {
			t.Errorf("%s: %v", name, r)
		}
	}
}

// TestLyingWorkbook refuses a sheet that unpacks to more than it says.
func TestLyingWorkbook(t *testing.T) {
	book := makeWorkbook(t, "placements", [][]any{goodHeader, goodRow()}, nil)
	bomb := `<worksheet><sheetData><row r="1">` + strings.Repeat(`<c r="A1"><v>1</v></c>`, 100_000) + `</row></sheetData></worksheet>`
	content := swapPart(t, book, firstSheet, []byte(bomb))
	declared := []byte{byte(len(bomb)), byte(len(bomb) >> 8), byte(len(bomb) >> 16), byte(len(bomb) >> 24)}
	lie := strings.ReplaceAll(string(content), string(declared), "\x00\x10\x00\x00")
	if lie == string(content) {
		t.Fatal("the size was not found")
	}
	if r := refused(t, "x.xlsx", lie, Options{}); r.Code != codeUnpacks && r.Code != codeBroken {
		t.Error(r)
	}
}
