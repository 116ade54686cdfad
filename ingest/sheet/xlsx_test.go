package sheet

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"pourback/ingest/record"
)

// style sets a cell with a number format.
func style(t testing.TB, x *excelize.File, sheet, cell string, value any, code string) {
	t.Helper()
	id, err := x.NewStyle(&excelize.Style{CustomNumFmt: &code})
	must(t, err)
	must(t, x.SetCellValue(sheet, cell, value))
	must(t, x.SetCellStyle(sheet, cell, cell, id))
}

// TestWorkbookCells reads each kind of cell that a workbook has.
func TestWorkbookCells(t *testing.T) {
	header := append(goodHeader, "delivered_yd", "humidity_pct", "delay_min", "retarder", "crew", "contract_price", "clogs", "saw_hours")
	book := makeWorkbook(t, "Placements 2025", [][]any{header, {"J-1", 45811, "patio", 420, 4, 0.1 + 0.2, 0.65, 0.0521, true, "x", 1250.5, 2.0, "7' 6\""}, {1002, "6/3/2025", "apron", "39 m²", "4½"}}, func(x *excelize.File) {
		style(t, x, "Placements 2025", "B2", 45811, "m/d/yyyy")
		style(t, x, "Placements 2025", "G2", 0.65, "0.0%")
		style(t, x, "Placements 2025", "H2", 75./1440, "[h]:mm")
		style(t, x, "Placements 2025", "M2", 1.25/24, "h:mm")
		must(t, x.SetCellRichText("Placements 2025", "J2", []excelize.RichTextRun{{Text: "Wr", Font: &excelize.Font{Bold: true}}, {Text: "en"}}))
		must(t, x.SetCellFormula("Placements 2025", "K2", "1000+250.5"))
	})
	g := read(t, "jobs-2025.xlsx", string(book), Options{})
	equal(t, "sheet", []string{g.Sheet}, "Placements 2025")
	for name, want := range map[string]string{"job_no": "J-1", "placed_on": "2025-06-03", "area_sqft": "420", "delivered_yd": "0.3", "humidity_pct": "65", "delay_min": "75", "retarder": "yes", "crew": "Wren", "contract_price": "1250.50", "clogs": "2", "saw_hours": "1.25"} {
		equal(t, name, g.column(name)[:1], want)
	}
	equal(t, "second row", []string{g.column("job_no")[1], g.column("placed_on")[1], g.column("area_sqft")[1], g.column("thickness_in")[1]}, "1002", "2025-06-03", "419.792506252", "4.5")
	equal(t, "as a person sees it", g.cells[0], "J-1", "2025-06-03", "patio", "420", "4", "0.3", "65%", "1:15", "TRUE", "Wren", "1250.5", "2", "1:15")
	equal(t, "rows", g.numbers, 2, 3)
	equal(t, "ambiguous", []int{g.AmbiguousDates}, 1)
}

func TestNumberFormats(t *testing.T) {
	for code, want := range map[string]numberFormat{
		"General": asNumber, "0.00": asNumber, "#,##0.00": asNumber, `"$"#,##0.00_);[Red]("$"#,##0.00)`: asNumber, "# ?/?": asNumber, "0.00E+00": asNumber, `0.0 "yd"`: asNumber, `0.0\ "days"`: asNumber, "@": asNumber,
		"m/d/yyyy": asDate, "yyyy-mm-dd": asDate, "d-mmm-yy": asDate, "mmm": asDate, "[$-409]mmmm d, yyyy;@": asDate, "dd.mm.yyyy": asDate, "m/d/yyyy h:mm": asDateTime, "yyyy-mm-dd hh:mm:ss": asDateTime, `m/d/yy h:mm AM/PM`: asDateTime,
		"h:mm": asTime, "h:mm AM/PM": asTime, "mm:ss": asTime, "[h]:mm": asElapsed, "[mm]:ss": asElapsed, "[hh]:mm:ss": asElapsed, "0%": asPercent, "0.00%": asPercent, "[Red]0%": asPercent,
	} {
		if got := formatOf(code); got != want {
			t.Errorf("%s is taken for %d, want %d", code, got, want)
		}
	}
	for _, c := range []struct {
		f             numberFormat
		written, want string
	}{
		{asNumber, "0.30000000000000004", "0.3"}, {asNumber, "5.4999999999999991", "5.5"}, {asNumber, "1E+3", "1000"}, {asNumber, "-4.5", "-4.5"}, {asNumber, "123456789012345678", "123456789012346000"}, {asNumber, "1e-5", "0.00001"},
		{asDate, "45811", "2025-06-03"}, {asDate, "45811.302083333336", "2025-06-03 07:15"}, {asDateTime, "45811.302083333336", "2025-06-03 07:15"}, {asDateTime, "45811", "2025-06-03 00:00"}, {asDateTime, "0.302083333333333", "7:15"}, {asTime, "0.302083333333333", "7:15"}, {asTime, "45811.302083333336", "2025-06-03 07:15"}, {asElapsed, "1.0520833333333333", "25:15"}, {asPercent, "0.65", "65%"}, {asPercent, "0.07", "7%"},
		{asDate, "60", "60"}, {asDate, "-1", "-1"}, {asDate, "text", "text"},
	} {
		if got := c.f.show(c.written, epoch1900, '.'); got != c.want {
			t.Errorf("%s: %s, want %s", c.written, got, c.want)
		}
	}
	if got := asNumber.show("1.125", epoch1900, ','); got != "1,125" {
		t.Errorf("with a decimal comma: %s", got)
	}
}

func Test1904(t *testing.T) {
	book := makeWorkbook(t, "placements", [][]any{goodHeader, goodRow(), {"J-2", 44349, "patio", 420, 4}}, func(x *excelize.File) {
		on := true
		must(t, x.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &on}))
		must(t, x.SetCellValue("placements", "B2", time.Date(2025, 6, 3, 0, 0, 0, 0, time.UTC)))
	})
	g := read(t, "x.xlsx", string(book), Options{})
	equal(t, "dates", g.column("placed_on"), "2025-06-03", "2025-06-03")
	equal(t, "said", g.said, `x.xlsx, placements, row 3, placed_on "44349": a spreadsheet's number for a date; read as 2025-06-03`)
}

func TestSheets(t *testing.T) {
	book := makeWorkbook(t, "Visits", [][]any{{"job_no", "seen_on", "why", "finding"}, {"J-1", "2025-09-03", "planned", "sound"}}, func(x *excelize.File) {
		for _, name := range []string{"Pours", "Read me", "Pours 2024", "Placements draft", "nothing"} {
			_, err := x.NewSheet(name)
			must(t, err)
		}
		for _, s := range []string{"Pours", "Pours 2024"} {
			must(t, x.SetSheetRow(s, "A1", &goodHeader))
			row := goodRow()
			must(t, x.SetSheetRow(s, "A2", &row))
		}
		must(t, x.SetSheetRow("Read me", "A1", &[]any{"How we keep our records"}))
		must(t, x.SetSheetRow("Placements draft", "A1", &[]any{"job_no", "placed_on"}))
	})
	f, err := open("book.xlsx", string(book), Options{})
	must(t, err)
	var names []string
	for _, table := range f.Tables {
		names = append(names, table.Sheet+"="+table.Records.Name)
	}
	equal(t, "tables", names, "Pours=placements", "Pours 2024=placements", "Visits=visits")
	equal(t, "ignored", f.Ignored,
		"Read me: no row of it names the columns of a record table; name the columns in one row, for placements: job_no, placed_on, use, area_sqft, thickness_in",
		"Placements draft: nearest to placements, but without the columns use, area_sqft, thickness_in; add what is missing; a table of placements needs job_no, placed_on, use, area_sqft, thickness_in",
		"nothing: empty")
}

func TestWorkbookHeadings(t *testing.T) {
	book := makeWorkbook(t, "log", [][]any{{"Pours of 2025"}, {}, {"Job", "", "Slab", "", "", "Callback", ""}, {"No", "Pour date", "Use", "Area sqft", "Thickness in", "on", "kind"}, {"J-1", "2025-06-03", "patio", 420, 4, "2025-07-01", "crack"}, {}, {"Total", nil, nil, 420}}, func(x *excelize.File) {
		must(t, x.MergeCell("log", "A1", "G1"))
		must(t, x.MergeCell("log", "A3", "B3"))
		must(t, x.MergeCell("log", "C3", "E3"))
		must(t, x.MergeCell("log", "F3", "G3"))
	})
	g := read(t, "x.xlsx", string(book), Options{})
	equal(t, "callback", append(g.column("callback_on"), g.column("callback_kind")...), "2025-07-01", "crack")
	equal(t, "rows", g.numbers, 5)
	equal(t, "left out", g.codes(), codeTitle, codeTotals)
}

// TestCSVIsWorkbook reads one table from a CSV file and from a workbook.
func TestCSVIsWorkbook(t *testing.T) {
	rows := [][]string{
		{"job_no", "placement", "placed_on", "use", "area_sqft", "thickness_in", "delivered_yd", "leftover_yd", "method", "reinforcement", "crew", "contract_price", "delay_min", "retarder", "callback_on", "callback_kind", "note"},
		{"J-1", "A", "2025-06-03", "patio", "420", "4.5", "6.25", "0.5", "pump", "mesh+rebar", "Wren", "4200.5", "75", "yes", "2025-08-01", "crack", "=1+1"},
		{"J-2", "", "6/3/2025", "Sidewalk", "39 m2", "4 1/2 in", "5,5", "-", "pmup", "wire mesh and rebar", "Heron", "$1,250.00", "1 h 15 min", "n", "", "", "'quoted"},
		{"", "B", "2025-13-01", "drivway", "#REF!", "45", "75-80", "~1", "", "none+mesh", "", "(5)", "12.5", "perhaps", "", "crack", ""},
	}
	var text bytes.Buffer
	w := NewWriter(&text, rows[0])
	var grid [][]any
	for i, row := range rows {
		if i > 0 {
			must(t, w.Write(row))
		}
		cells := []any{}
		for j, s := range row {
			var v any = s
			if i == 1 && (j >= 4 && j <= 7 || j == 11 || j == 12) {
				var n float64
				_, err := fmt.Sscan(s, &n)
				must(t, err)
				v = n
			}
			if i == 1 && (j == 2 || j == 14) {
				d, err := time.Parse("2006-01-02", s)
				must(t, err)
				v = d
			}
			cells = append(cells, v)
		}
		grid = append(grid, cells)
	}
	must(t, w.Flush())
	a := read(t, "x.csv", text.String(), Options{})
	b := read(t, "x.csv", string(makeWorkbook(t, "placements", grid, nil)), Options{})
	for i := range a.values {
		equal(t, fmt.Sprint("values of row ", i), b.values[i], a.values[i]...)
		equal(t, fmt.Sprint("cells of row ", i), b.cells[i], a.cells[i]...)
	}
	for i := range b.said {
		b.said[i] = strings.Replace(b.said[i], "placements, ", "", 1)
	}
	equal(t, "said", b.said, a.said...)
	equal(t, "bad", b.bad, 4)
	if len(a.said) != 13 {
		t.Errorf("%d problems: %q", len(a.said), a.said)
	}
}

// TestXMLAgainstEncodingXML holds the scanner against Go's own.
func TestXMLAgainstEncodingXML(t *testing.T) {
	piece := rapid.SampledFrom([]string{"<a>", "</a>", "<x:b c='1' y:d=\"&lt;2>3\">", "</x:b>", "<e/>", "<e f = 'g'/>", "text", " ", "&amp;&#65;&#x42;", "<!-- c -->", "<![CDATA[<raw>&amp;]]>", "<?pi x?>", "\r\n", "é", "&bad;", "<", "&"})
	rapid.Check(t, func(t *rapid.T) {
		doc := "<r>" + strings.Join(rapid.SliceOfN(piece, 0, 12).Draw(t, "pieces"), "") + "</r>"
		want, wantErr := goTokens(doc)
		if wantErr != nil {
			t.Skip("encoding/xml wants it well formed")
		}
		x := newXMLScanner(iotestOneByte{strings.NewReader(doc)})
		var got []string
		for {
			tok, err := x.next()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", doc, err)
			}
			got = appendToken(got, tok)
		}
		if g, w := strings.Join(got, "|"), strings.Join(want, "|"); g != w {
			t.Fatalf("%s: %s, want %s", doc, g, w)
		}
	})
}

// iotestOneByte reads a byte at a time.
type iotestOneByte struct{ r io.Reader }

func (o iotestOneByte) Read(p []byte) (int, error) { return o.r.Read(p[:min(1, len(p))]) }

func appendToken(tokens []string, t xmlToken) []string {
	switch t.kind {
	case startTag:
		return append(tokens, fmt.Sprintf("<%s c=%s d=%s f=%s", t.name, t.attr("c"), t.attr("d"), t.attr("f")))
	case endTag:
		return append(tokens, "/"+string(t.name))
	}
	return appendText(tokens, string(t.text))
}

// appendText joins neighbouring pieces of text.
func appendText(tokens []string, text string) []string {
	if n := len(tokens) - 1; n >= 0 && strings.HasPrefix(tokens[n], "text ") {
		tokens[n] += text
		return tokens
	}
	if text == "" {
		return tokens
	}
	return append(tokens, "text "+text)
}

func goTokens(doc string) (tokens []string, err error) {
	d := xml.NewDecoder(strings.NewReader(doc))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return tokens, nil
		}
		if err != nil {
			return nil, err
		}
		switch e := tok.(type) {
		case xml.StartElement:
			attrs := map[string]string{}
			for _, a := range e.Attr {
				attrs[a.Name.Local] = a.Value
			}
			tokens = append(tokens, fmt.Sprintf("<%s c=%s d=%s f=%s", e.Name.Local, attrs["c"], attrs["d"], attrs["f"]))
		case xml.EndElement:
			tokens = append(tokens, "/"+e.Name.Local)
		case xml.CharData:
			tokens = appendText(tokens, string(e))
		}
	}
}

func TestColumnReferences(t *testing.T) {
	for ref, want := range map[string]int{"A1": 0, "Z9": 25, "AA10": 26, "AB12": 27, "XFD1": 16383, "a1": 0, "1": -1, "": -1, "AAAAAAAA1": -1} {
		if got := columnOf([]byte(ref)); got != want {
			t.Errorf("%s: %d, want %d", ref, got, want)
		}
	}
	for i := range 800 { // against excelize
		name, err := excelize.ColumnNumberToName(i + 1)
		if err != nil || columnLetters(i) != name || columnOf([]byte(name+"1")) != i {
			t.Errorf("%d: %s, want %s", i, columnLetters(i), name)
		}
	}
}

func TestUnusualWorkbookXML(t *testing.T) {
	base := makeWorkbook(t, "placements", [][]any{goodHeader, goodRow()}, nil)
	header := `<x:row><x:c t="inlineStr"><x:is><x:t>job_no</x:t></x:is></x:c><x:c t="str"><x:v>placed_on</x:v></x:c><x:c t="str"><x:v>use</x:v></x:c><x:c t="str"><x:v>area_sqft</x:v></x:c><x:c t="str"><x:v>thickness_in</x:v></x:c><x:c t="str"><x:v>crew</x:v></x:c></x:row>`
	sheet := `<?xml version="1.0"?><x:worksheet xmlns:x="urn:x"><x:sheetData>` + header +
		`<x:row><x:c t="inlineStr"><x:is><x:r><x:t>J</x:t></x:r><x:r><x:t>-&#49;</x:t></x:r><x:rPh><x:t>jay</x:t></x:rPh></x:is></x:c><x:c t="d"><x:v>2025-06-03</x:v></x:c><x:c t="str"><x:v>patio</x:v></x:c><x:c><x:v>4.2E2</x:v></x:c><x:c><x:f>2+2</x:f><x:v>4</x:v></x:c><x:c t="str"><x:v>Wren_x000D_</x:v></x:c></x:row>` +
		`<x:row r="9"><x:c r="F9" t="s"><x:v>99999</x:v></x:c></x:row></x:sheetData></x:worksheet>`
	g := read(t, "x.xlsx", string(swapPart(t, base, firstSheet, []byte(sheet))), Options{})
	equal(t, "row", []string{g.column("job_no")[0], g.column("placed_on")[0], g.column("area_sqft")[0], g.column("thickness_in")[0], g.column("crew")[0]}, "J-1", "2025-06-03", "420", "4", "Wren")
	equal(t, "rows", g.numbers, 2)
	if record.Placements != g.Records {
		t.Error("not placements")
	}
}
