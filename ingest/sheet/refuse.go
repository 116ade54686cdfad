package sheet

import (
	"bytes"
	"fmt"

	"pourback/ingest/record"
)

// Refusal is the error of a file that is not taken at all: none of its rows
// count, not even those read before.
type Refusal struct{ record.Problem }

func (r *Refusal) Error() string { return r.Problem.String() }

func refuse(file, code, wrong, right string) *Refusal {
	return &Refusal{record.Problem{Severity: record.Error, Code: code, File: file, Wrong: wrong, Right: right}}
}

// at says in which sheet and row of the file the reason stands.
func (r *Refusal) at(sheet string, row int) *Refusal {
	r.Sheet, r.Row = sheet, row
	return r
}

const (
	wantSheet = "save it as XLSX or CSV"
	zipMagic  = "PK\x03\x04"
	oleMagic  = "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
)

// foreign are beginnings of files that hold no records, whatever their name.
var foreign = []struct {
	magic string
	at    int
	what  string
}{
	{"\xff\xd8\xff", 0, "a photo (JPEG)"}, {"\x89PNG", 0, "a picture (PNG)"}, {"GIF8", 0, "a picture (GIF)"},
	{"II*\x00", 0, "a picture (TIFF)"}, {"MM\x00*", 0, "a picture (TIFF)"}, {"ftyp", 4, "a photo or a film"}, {"RIFF", 0, "a picture or a sound"},
	{"%PDF", 0, "a PDF"}, {"{\\rtf", 0, "a text document (RTF)"}, {"\x1f\x8b", 0, "a packed file (gzip)"}, {"7z\xbc\xaf", 0, "a packed file (7z)"}, {"Rar!", 0, "a packed file (RAR)"},
	{"PK\x05\x06", 0, "an empty ZIP file"}, {"SQLite format 3", 0, "a database"}, {"\x7fELF", 0, "a program"}, {"PAR1", 0, "a Parquet file"},
}

// sniff refuses what its first bytes show to be something else.
func sniff(name string, head []byte) *Refusal {
	if bytes.HasPrefix(head, []byte(oleMagic)) {
		return sniffOLE(name, head)
	}
	for _, f := range foreign {
		if len(head) > f.at && bytes.HasPrefix(head[f.at:], []byte(f.magic)) {
			return refuse(name, codeForeign, "is "+f.what+", not a job sheet", "hand in the CSV or XLSX file itself")
		}
	}
	text := bytes.ToLower(bytes.TrimLeft(head[:min(len(head), 512)], "\ufeff \t\r\n"))
	for _, mark := range []string{"<!doctype", "<html", "<?xml", "<table"} {
		if bytes.HasPrefix(text, []byte(mark)) {
			return refuse(name, codeForeign, "is a web page or XML, not a job sheet", "open it in a spreadsheet and "+wantSheet)
		}
	}
	return nil
}

// sniffOLE tells a workbook under a password from one in the old binary form:
// both come in the same container.
func sniffOLE(name string, head []byte) *Refusal {
	var utf16 []byte
	for _, c := range []byte("EncryptedPackage") {
		utf16 = append(utf16, c, 0)
	}
	if bytes.Contains(head, utf16) {
		return refuse(name, codeLocked, "is protected by a password", "open it, take the password off, and hand it in again")
	}
	return refuse(name, codeOldWorkbook, "is a workbook in the old binary form (XLS), or under a password", "open it, take any password off, and save it as XLSX")
}

// Limits bound what a file may be. The zero value of each stands for its
// default.
type Limits struct {
	File     int64 // bytes of the file: from 1 GB on it is refused
	Row      int   // bytes of a row: from 1 MB on the file is refused
	Columns  int   // of a table: 2000
	Unpacked int64 // bytes that a workbook may unpack to: 2 GB
	Ratio    int64 // how many times its packed size a part of it over 1 MB may unpack to: 200
}

func (l Limits) orDefault() Limits {
	set := func(v *int64, otherwise int64) {
		if *v == 0 {
			*v = otherwise
		}
	}
	set(&l.File, 1e9)
	set(&l.Unpacked, 2e9)
	set(&l.Ratio, 200)
	if l.Row == 0 {
		l.Row = 1e6
	}
	if l.Columns == 0 {
		l.Columns = 2000
	}
	return l
}

// megabytes writes a size for a message.
func megabytes(n int64) string {
	switch {
	case n >= 1e9 && n%1e9 == 0:
		return fmt.Sprintf("%d GB", n/1e9)
	case n >= 1e6:
		return fmt.Sprintf("%d MB", n/1e6)
	}
	return fmt.Sprintf("%d bytes", n)
}

func longRow(name string, limit int, quoted bool) *Refusal {
	right := "a row holds one job; check where its lines end"
	if quoted {
		right = "a quotation mark that is opened and not closed is the likely cause"
	}
	return refuse(name, codeLongRow, "a row of more than "+megabytes(int64(limit)), right)
}
