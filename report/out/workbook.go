package out

import (
	"archive/zip"
	"bytes"
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"pourback/ingest/outfile"
	"pourback/ingest/record"
	"pourback/report/page"
	"pourback/report/say"
)

// OursWorkbook knows workbooks of ours: they begin with the part that says who made
// them, unpacked.
var OursWorkbook = outfile.Holding("<Application>" + workbookMaker + "</Application>")

const (
	workbookMaker = "pourback"
	makerPart     = "docProps/app.xml"
)

// WriteWorkbook writes every table of the pages, with all its rows, as a workbook
// in the XLSX format (ISO/IEC 29500): a sheet of the answers, then one for each
// page with its tables one below the other. Figures are numbers in the unit that
// the head of their column names, unrounded, the ends of their ranges in columns
// of their own; dates are dates. Text is never taken for a formula.
func WriteWorkbook(w io.Writer, pages []page.Page) error {
	b := &book{File: excelize.NewFile(), used: map[string]bool{}}
	defer b.Close()
	if err := cmp.Or(b.SetAppProps(&excelize.AppProperties{Application: workbookMaker}), b.styles()); err != nil {
		return err
	}
	if err := b.answers(pages); err != nil {
		return err
	}
	for _, p := range pages {
		if err := b.page(p); err != nil {
			return fmt.Errorf("workbook, sheet of %q: %w", p.Title, err)
		}
	}
	packed, err := b.WriteToBuffer()
	if err != nil {
		return err
	}
	return makerFirst(w, packed.Bytes())
}

// makerFirst puts the part that names the maker before all others, and those in
// the order of their names: the same tables make the same bytes.
func makerFirst(w io.Writer, packed []byte) error {
	in, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil {
		return err
	}
	place := func(f *zip.File) string {
		if f.Name == makerPart {
			return "" // before any name
		}
		return f.Name
	}
	slices.SortFunc(in.File, func(a, b *zip.File) int { return cmp.Compare(place(a), place(b)) })
	out := zip.NewWriter(w)
	for _, f := range in.File {
		add := out.Copy
		if f.Name == makerPart {
			add = func(f *zip.File) error { return unpacked(out, f) }
		}
		if err := add(f); err != nil {
			return err
		}
	}
	return out.Close()
}

func unpacked(out *zip.Writer, f *zip.File) error {
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	w, err := out.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Store})
	if err != nil {
		return err
	}
	_, err = io.Copy(w, r)
	return err
}

// book is a workbook in the making.
type book struct {
	*excelize.File
	used map[string]bool // names of sheets, in lower case

	title, head, wrapped, date, share int // styles
}

func (b *book) styles() error {
	bold := &excelize.Font{Bold: true}
	day := "yyyy-mm-dd"
	for _, s := range []struct {
		id    *int
		style excelize.Style
	}{
		{&b.title, excelize.Style{Font: bold}},
		{&b.head, excelize.Style{Font: bold, Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom"}, Border: []excelize.Border{{Type: "bottom", Style: 1, Color: "808080"}}}},
		{&b.wrapped, excelize.Style{Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}}},
		{&b.date, excelize.Style{CustomNumFmt: &day}},
		{&b.share, excelize.Style{NumFmt: 10}}, // 0.00%
	} {
		id, err := b.NewStyle(&s.style)
		if err != nil {
			return err
		}
		*s.id = id
	}
	return nil
}

// answers is the first sheet: what each page says.
func (b *book) answers(pages []page.Page) error {
	name := b.sheetName("pourback")
	if len(pages) > 0 {
		name = b.sheetName(say.FrameOf(pages[0].Voice).Words().Overview)
	}
	if err := b.SetSheetName("Sheet1", name); err != nil {
		return err
	}
	w, err := b.NewStreamWriter(name)
	if err != nil {
		return err
	}
	if err := cmp.Or(w.SetColWidth(1, 1, 28), w.SetColWidth(2, 2, 110)); err != nil {
		return err
	}
	for i, p := range pages {
		row := []any{textCell(p.Title, b.title), textCell(p.Answer, b.wrapped)}
		if err := w.SetRow(cellAt(1, i+1), row); err != nil {
			return err
		}
	}
	if len(pages) > 0 {
		if said := say.FrameOf(pages[0].Voice).Unreviewed(); said != "" {
			if err := w.SetRow(cellAt(2, len(pages)+2), []any{textCell(said, b.wrapped)}); err != nil {
				return err
			}
		}
	}
	return w.Flush()
}

// page is the sheet of a page's tables. A page without any has none.
func (b *book) page(p page.Page) error {
	var tables []*page.Table
	for _, e := range p.Exhibits {
		if t := e.Table; t != nil {
			if t.Whole != nil {
				t = t.Whole()
			}
			tables = append(tables, t)
		}
	}
	if len(tables) == 0 {
		return nil
	}
	name := b.sheetName(p.Title)
	if _, err := b.NewSheet(name); err != nil {
		return err
	}
	w, err := b.NewStreamWriter(name)
	if err != nil {
		return err
	}
	if err := cmp.Or(w.SetColWidth(1, 1, 32), w.SetColWidth(2, 40, 14)); err != nil {
		return err
	}
	s := &sheetWriter{book: b, w: w, row: 1}
	for _, t := range tables {
		if err := s.table(t); err != nil {
			return err
		}
	}
	return w.Flush()
}

// sheetName is a title as a sheet may be called: unlike any other, at most 31
// letters, none of []:*?/\ and no ' at either end.
func (b *book) sheetName(title string) string {
	clean := strings.Trim(strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\`, r) || r < ' ' {
			return ' '
		}
		return r
	}, title), " '")
	for n := 1; ; n++ {
		end := ""
		if n > 1 {
			end = fmt.Sprintf(" %d", n)
		}
		name := firstWords(cmp.Or(clean, "pourback"), 31-len(end)) + end
		if low := strings.ToLower(name); !b.used[low] && low != "history" { // a name that spreadsheets keep for themselves
			b.used[low] = true
			return name
		}
	}
}

// firstWords are the first letters of a title, and no part of a word but of the
// first.
func firstWords(s string, n int) string {
	cut := firstLetters(s, n)
	if len(cut) == len(s) || s[len(cut)] == ' ' {
		return cut
	}
	if at := strings.LastIndexByte(cut, ' '); at > 0 {
		return strings.TrimRight(cut[:at], " ")
	}
	return cut
}

func firstLetters(s string, n int) string {
	for i := range s {
		if n--; n < 0 {
			return strings.TrimRight(s[:i], " ")
		}
	}
	return s
}

// sheetWriter puts tables below one another.
type sheetWriter struct {
	*book
	w   *excelize.StreamWriter
	row int
}

func (s *sheetWriter) put(cells []any) error {
	err := s.w.SetRow(cellAt(1, s.row), cells)
	s.row++
	return err
}

// mostSheetRows is how many rows a sheet holds.
const mostSheetRows = 1 << 20

func (s *sheetWriter) table(t *page.Table) error {
	if s.row+len(t.Rows)+len(t.Foot)+3 > mostSheetRows {
		return fmt.Errorf("%d rows of %q: a sheet holds %d", len(t.Rows), t.Caption, mostSheetRows)
	}
	columns := columnsOf(t)
	if err := s.put([]any{textCell(t.Caption, s.title)}); err != nil {
		return err
	}
	heads := []any{}
	for _, c := range columns {
		for _, h := range c.heads {
			heads = append(heads, textCell(h, s.head))
		}
	}
	if err := s.put(heads); err != nil {
		return err
	}
	for _, row := range t.Rows {
		cells := []any{}
		for i, c := range columns {
			cells = s.cells(cells, c, row[i])
		}
		if err := s.put(cells); err != nil {
			return err
		}
	}
	for _, why := range t.Foot {
		if err := s.put([]any{textCell(why, 0)}); err != nil {
			return err
		}
	}
	s.row++
	return nil
}

// sheetColumn is a column of a table: one of the sheet, or three where figures
// have ranges, and one more where a second line stands below a word.
type sheetColumn struct {
	heads  []string
	ranged bool
	below  bool
}

func columnsOf(t *page.Table) []sheetColumn {
	columns := make([]sheetColumn, len(t.Columns))
	for i, c := range t.Columns {
		out, unit := &columns[i], ""
		for _, row := range t.Rows {
			if n := row[i].Number; n != nil {
				out.ranged, unit = out.ranged || n.Bounded, cmp.Or(unit, n.Unit)
			}
			out.below = out.below || row[i].Below != ""
		}
		head := c.Head
		if unit != "" && !strings.Contains(head, unit) {
			head = strings.TrimSpace(head + " (" + unit + ")")
		}
		out.heads = []string{head}
		if out.ranged {
			out.heads = append(out.heads, head+" ≥", head+" ≤")
		}
		if out.below {
			out.heads = append(out.heads, "")
		}
	}
	return columns
}

// cells puts a cell of a table behind those of its row.
func (s *sheetWriter) cells(row []any, c sheetColumn, of say.Cell) []any {
	row = append(row, s.value(of))
	if n := of.Number; c.ranged {
		if n != nil && n.Bounded {
			row = append(row, s.number(n, n.Low), s.number(n, n.High))
		} else {
			row = append(row, nil, nil)
		}
	}
	if c.below {
		row = append(row, textCell(of.Below, 0))
	}
	return row
}

func (s *sheetWriter) value(c say.Cell) any {
	switch {
	case c.Number != nil:
		return s.number(c.Number, c.Number.Value)
	case c.Day != 0:
		return excelize.Cell{Value: c.Day.Time(), StyleID: s.date}
	case c.Unknown && c.Why == "" && c.Text == say.Blank().Text:
		return nil
	}
	return textCell(c.Text, 0)
}

// number is a figure as a sheet holds it; an end that is not known is blank.
func (s *sheetWriter) number(n *say.Number, v float64) any {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return nil
	case n.Share:
		return excelize.Cell{Value: v, StyleID: s.share}
	}
	return v
}

// mostLetters is how much text a cell holds.
const mostLetters = 32767

func textCell(s string, style int) any {
	s = record.Shown(s)
	if utf8.RuneCountInString(s) > mostLetters {
		s = firstLetters(s, mostLetters)
	}
	return excelize.Cell{Value: s, StyleID: style}
}

func cellAt(column, row int) string {
	name, err := excelize.CoordinatesToCellName(column, row)
	if err != nil {
		panic(err) // rows and columns are counted by us
	}
	return name
}
