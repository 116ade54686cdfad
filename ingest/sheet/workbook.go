package sheet

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
)

// workbook is what the sheets of an XLSX file share.
type workbook struct {
	file    *File
	parts   map[string]*zip.File
	shared  []string
	formats []numberFormat // by cell style
	epoch   epoch
}

// sheetPart is one sheet of a workbook.
type sheetPart struct {
	book   *workbook
	part   *zip.File
	name   string
	hidden bool
}

func (f *File) openWorkbook() error {
	z, err := zip.NewReader(f.content, f.size)
	if err != nil {
		return broken(f.Name, err)
	}
	b := &workbook{file: f, parts: map[string]*zip.File{}, epoch: epoch1900}
	for _, part := range z.File {
		b.parts[strings.TrimPrefix(strings.ReplaceAll(part.Name, `\`, "/"), "/")] = part
	}
	if refusal := b.sniff(); refusal != nil {
		return refusal
	}
	if refusal := b.checkSizes(); refusal != nil {
		return refusal
	}
	sheets, err := b.load()
	if err != nil {
		return broken(f.Name, err)
	}
	return f.recogniseSheets(sheets)
}

// broken makes a refusal of what stands in the way of reading a workbook.
func broken(name string, err error) error {
	if r, ok := err.(*Refusal); ok {
		return r
	}
	return refuse(name, codeBroken, "is a damaged workbook ("+err.Error()+")", "open it in a spreadsheet and save it anew as XLSX")
}

// sniff refuses ZIP files that hold something else.
func (b *workbook) sniff() *Refusal {
	name := b.file.Name
	has := func(part string) bool { return b.parts[part] != nil }
	switch {
	case has("content.xml"):
		return refuse(name, codeForeign, "is an OpenDocument file (ODS)", "open it and "+wantSheet)
	case has("xl/workbook.bin"):
		return refuse(name, codeForeign, "is a workbook in binary form (XLSB)", "open it and "+wantSheet)
	case has("word/document.xml"):
		return refuse(name, codeForeign, "is a text document", "put the table into a spreadsheet and "+wantSheet)
	case has("EncryptedPackage"):
		return refuse(name, codeLocked, "is protected by a password", "open it, take the password off, and hand it in again")
	case !has("[Content_Types].xml") && !has("xl/workbook.xml"):
		return refuse(name, codeForeign, "is a ZIP file that holds no workbook", "unpack it and hand in the CSV or XLSX files themselves")
	}
	return nil
}

// checkSizes refuses a workbook that says it unpacks to far more than its size.
func (b *workbook) checkSizes() *Refusal {
	var sum uint64
	for _, part := range b.parts {
		sum += part.UncompressedSize64
		if over(part, b.file.opt.Limits) || sum > uint64(b.file.opt.Limits.Unpacked) {
			return b.unpacks(part)
		}
	}
	return nil
}

func over(part *zip.File, l Limits) bool {
	return part.UncompressedSize64 > 1<<20 && part.UncompressedSize64/uint64(l.Ratio) > part.CompressedSize64
}

func (b *workbook) unpacks(part *zip.File) *Refusal {
	return refuse(b.file.Name, codeUnpacks, "unpacks to far more than its size ("+part.Name+")", "open it in a spreadsheet and save it anew as XLSX")
}

// open reads a part of the workbook, but no more of it than it says it holds.
func (b *workbook) open(part *zip.File) (io.ReadCloser, error) {
	r, err := part.Open()
	if err != nil {
		return nil, err
	}
	return &bounded{r, int64(part.UncompressedSize64), b.unpacks(part)}, nil
}

// bounded fails where there is more to read than was said.
type bounded struct {
	io.ReadCloser
	left   int64
	beyond error
}

func (b *bounded) Read(p []byte) (int, error) {
	n, err := b.ReadCloser.Read(p)
	if b.left -= int64(n); b.left < 0 {
		return 0, b.beyond
	}
	return n, err
}

// smallPart bounds the parts that are read whole.
const smallPart = 64 << 20

// decode reads a small part into a value by its XML tags.
func (b *workbook) decode(name string, v any) error {
	part := b.parts[name]
	if part == nil {
		return fmt.Errorf("%s is missing", name)
	}
	r, err := b.open(part)
	if err != nil {
		return err
	}
	defer r.Close()
	return xml.NewDecoder(io.LimitReader(r, smallPart)).Decode(v)
}

type relations struct {
	List []struct {
		ID     string `xml:"Id,attr"`
		Type   string `xml:"Type,attr"`
		Target string `xml:"Target,attr"`
	} `xml:"Relationship"`
}

// target finds the part that a relation names, by a test of the relation.
func (r *relations) target(folder string, test func(id, kind string) bool) string {
	for _, x := range r.List {
		if !test(x.ID, x.Type) {
			continue
		}
		if strings.HasPrefix(x.Target, "/") {
			return x.Target[1:]
		}
		return path.Join(folder, x.Target)
	}
	return ""
}

// load reads what the sheets share, and lists them.
func (b *workbook) load() ([]*sheetPart, error) {
	main := "xl/workbook.xml"
	var top relations
	if b.decode("_rels/.rels", &top) == nil {
		if t := top.target("", func(_, kind string) bool { return strings.HasSuffix(kind, "/officeDocument") }); t != "" {
			main = t
		}
	}
	var book struct {
		Properties struct {
			Date1904 string `xml:"date1904,attr"`
		} `xml:"workbookPr"`
		Sheets []struct {
			Name  string     `xml:"name,attr"`
			State string     `xml:"state,attr"`
			Attrs []xml.Attr `xml:",any,attr"`
		} `xml:"sheets>sheet"`
	}
	if err := b.decode(main, &book); err != nil {
		return nil, err
	}
	if on := book.Properties.Date1904; on == "1" || on == "true" {
		b.epoch = epoch1904
	}
	folder := path.Dir(main)
	var rels relations
	if err := b.decode(path.Join(folder, "_rels", path.Base(main)+".rels"), &rels); err != nil {
		return nil, err
	}
	var sheets []*sheetPart
	for _, s := range book.Sheets {
		name := rels.target(folder, func(id, kind string) bool {
			return strings.HasSuffix(kind, "/worksheet") && slices.ContainsFunc(s.Attrs, func(a xml.Attr) bool { return a.Name.Local == "id" && a.Value == id })
		})
		sheets = append(sheets, &sheetPart{book: b, part: b.parts[name], name: s.Name, hidden: s.State != "" && s.State != "visible"})
	}
	if err := b.loadStyles(rels.target(folder, func(_, kind string) bool { return strings.HasSuffix(kind, "/styles") })); err != nil {
		return nil, err
	}
	return sheets, b.loadStrings(rels.target(folder, func(_, kind string) bool { return strings.HasSuffix(kind, "/sharedStrings") }))
}

func (b *workbook) loadStyles(name string) error {
	if b.parts[name] == nil {
		return nil
	}
	var styles struct {
		Formats []struct {
			ID   int    `xml:"numFmtId,attr"`
			Code string `xml:"formatCode,attr"`
		} `xml:"numFmts>numFmt"`
		Cells []struct {
			Format int `xml:"numFmtId,attr"`
		} `xml:"cellXfs>xf"`
	}
	if err := b.decode(name, &styles); err != nil {
		return err
	}
	own := map[int]numberFormat{}
	for _, f := range styles.Formats {
		own[f.ID] = formatOf(f.Code)
	}
	for _, c := range styles.Cells {
		f, ok := own[c.Format]
		if !ok {
			f = builtinFormat(c.Format)
		}
		b.formats = append(b.formats, f)
	}
	return nil
}
