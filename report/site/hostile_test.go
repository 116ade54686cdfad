package site

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"fmt"
	"io"
	"mime/multipart"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pourback/ingest/store/storetest"
)

// bomb is a workbook that unpacks to far more than its size.
func bomb(t *testing.T) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) { return flate.NewWriter(w, flate.BestCompression) })
	for name, text := range map[string]string{
		"[Content_Types].xml":        `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>`,
		"_rels/.rels":                `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml":            `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Jobs" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
	} {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		io.WriteString(w, text)
	}
	w, err := z.Create("xl/worksheets/sheet1.xml")
	if err != nil {
		t.Fatal(err)
	}
	io.WriteString(w, `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`)
	row := []byte(strings.Repeat(`<row><c t="inlineStr"><is><t>aaaaaaaaaaaaaaaa</t></is></c></row>`, 1<<14))
	for range 300 {
		w.Write(row)
	}
	io.WriteString(w, `</sheetData></worksheet>`)
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestHostileFiles: none of them gets in, none is left behind, and each is told
// why in words.
func TestHostileFiles(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		b := p.surfer()
		locked := append([]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), make([]byte, 600)...)
		for _, r := range "EncryptedPackage" {
			locked = append(locked, byte(r), 0)
		}
		for name, c := range map[string]struct {
			content []byte
			says    string
		}{
			"page.csv":    {[]byte("<!DOCTYPE html><html><script>alert(1)</script></html>"), "is a web page or XML"},
			"empty.csv":   {nil, "empty"},
			"picture.csv": {append([]byte("\x89PNG\r\n\x1a\n"), make([]byte, 900)...), "is a picture (PNG)"},
			"photo.jpg":   {append([]byte("\xff\xd8\xff\xe0"), make([]byte, 900)...), "is a photo (JPEG)"},
			"locked.xlsx": {locked, "is protected by a password"},
			"words.txt":   {[]byte("We poured a patio and went home.\n"), ""},
			"bomb.xlsx":   {bomb(t), "unpacks"},
		} {
			p.later(time.Minute)
			got := b.drop(newKey(), name, c.content)
			if got.status == 303 && name == "bomb.xlsx" { // it is found out once its rows are read
				got = b.get(got.header.Get("Location"))
				b.post(got.field(t, `action="(/upload/[A-Z0-9]+/drop)"`), keyField, newKey())
				got.status = 422
			}
			if got.status != 422 {
				t.Errorf("%s: %v", name, got)
			}
			got.says(t, "cannot be", c.says)
		}
		p.later(time.Hour)
		for _, name := range []string{"../../etc/passwd", `C:\Users\Ana\log.csv`, "/tmp/x.csv", "a\nb.csv", "\u202egpj.csv", strings.Repeat("long", 100) + ".csv", `"><script>alert(1)</script>.csv`} {
			at := b.waiting(name, []byte(strings.Replace(string(oddLog(t)), "Alder", "Alder "+fmt.Sprint(len(name)), 1)))
			page := b.get(at)
			if strings.Contains(page.body, "<script>alert") || strings.Contains(page.body, "../") || strings.Contains(page.body, "Users") && strings.Contains(page.body, `C:\`) {
				t.Errorf("%q: %.900s", name, page.body)
			}
			b.post(at+"/drop", keyField, newKey())
			p.later(time.Minute)
		}
		waiting, err := p.store.Uploads(t.Context())
		if err != nil || len(waiting) > 0 {
			t.Errorf("left behind: %+v, %v", waiting, err)
		}
		if left, err := filepath.Glob(filepath.Join(os.TempDir(), "multipart-*")); err != nil || len(left) > 0 {
			t.Error("files of their own: ", left, err)
		}
	})
}

// TestFormsThatAreNone: without a key, without a file, with two, with what is no
// form at all.
func TestFormsThatAreNone(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	if got := b.drop("", "log.csv", oddLog(t)); got.status != 400 {
		t.Error("without a key: ", got)
	}
	if got := b.send("text/csv", bytes.NewReader(oddLog(t))); got.status != 400 {
		t.Error("no form: ", got)
	}
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	w.WriteField(keyField, newKey())
	w.Close()
	got := b.send(w.FormDataContentType(), &body)
	if got.says(t, "No file was chosen."); got.status != 400 {
		t.Error("no file: ", got)
	}
	body.Reset()
	w = multipart.NewWriter(&body)
	w.WriteField(keyField, newKey())
	for _, name := range []string{"a.csv", "b.csv"} {
		part, _ := w.CreateFormFile("file", name)
		part.Write(oddLog(t))
	}
	w.Close()
	got = b.send(w.FormDataContentType(), &body)
	if got.says(t, "One after the other"[:0]+"one after the other"); got.status != 400 {
		t.Error("two files: ", got)
	}
	body.Reset()
	w = multipart.NewWriter(&body)
	w.WriteField(keyField, newKey())
	part, _ := w.CreateFormFile("file", "cut.csv")
	part.Write(oddLog(t))
	if got := b.send(w.FormDataContentType(), &body); got.status != 400 { // it breaks off
		t.Error("broken off: ", got)
	}
	if waiting, err := p.store.Uploads(t.Context()); err != nil || len(waiting) > 0 {
		t.Errorf("left behind: %+v, %v", waiting, err)
	}
}

// zeros is a body without an end.
type zeros struct{ left int64 }

func (z *zeros) Read(p []byte) (int, error) {
	if z.left <= 0 {
		return 0, io.EOF
	}
	n := min(int64(len(p)), z.left)
	for i := range p[:n] {
		p[i] = 'x'
	}
	z.left -= n
	return int(n), nil
}

// TestAGigabyte: a body of a gigabyte is refused before it is there, and of one
// whose length nobody has said no more is taken than may be; nothing of it stays.
func TestAGigabyte(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes some seconds")
	}
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	head := "--x\r\nContent-Disposition: form-data; name=\"form_key\"\r\n\r\n" + newKey() + "\r\n--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"big.csv\"\r\n\r\n"
	began := time.Now()
	got := b.send("multipart/form-data; boundary=x", io.MultiReader(strings.NewReader(head), &zeros{1 << 30}))
	if got.says(t, "over 256 MB"); got.status != 413 {
		t.Error(got)
	}
	t.Log("refused after ", time.Since(began))
	if waiting, err := p.store.Uploads(t.Context()); err != nil || len(waiting) > 0 {
		t.Errorf("left behind: %+v, %v", waiting, err)
	}
	if err := p.store.BeginUpload(t.Context(), storeUpload("X", mostWaiting), mostWaiting); err != nil {
		t.Error("its room is not free again: ", err)
	}
}
