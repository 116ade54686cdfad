package sheet

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"golang.org/x/text/encoding/charmap"
	"pgregory.net/rapid"

	"pourback/ingest/record"
)

const noted = "job_no,placed_on,use,area_sqft,thickness_in,delivered_yd,crew\n" +
	"J-1,2025-06-03,patio,420,4,5.5,\"Wren, late\"\nJ-2,2025-06-04,apron,300,4.5,4.25,Café\n"

func utf16Text(s string, big bool) string {
	var b bytes.Buffer
	for _, u := range append([]uint16{0xfeff}, utf16.Encode([]rune(s))...) {
		if big {
			b.Write([]byte{byte(u >> 8), byte(u)})
		} else {
			b.Write([]byte{byte(u), byte(u >> 8)})
		}
	}
	return b.String()
}

// TestForms reads one table in every form a CSV file comes in.
func TestForms(t *testing.T) {
	latin, err := charmap.Windows1252.NewEncoder().String(noted)
	if err != nil {
		t.Fatal(err)
	}
	for name, content := range map[string]string{
		"utf-8": noted, "byte-order mark": bom + noted, "utf-16le": utf16Text(noted, false), "utf-16be": utf16Text(noted, true), "windows-1252": latin,
		"crlf": strings.ReplaceAll(noted, "\n", "\r\n"), "cr": strings.ReplaceAll(noted, "\n", "\r"), "no last line end": strings.TrimSuffix(noted, "\n"),
		"tabs": strings.NewReplacer("\"Wren, late\"", "Wren, late", ",", "\t").Replace(strings.ReplaceAll(noted, "Wren, late", "Wren\x00 late")), "bars": strings.ReplaceAll(strings.ReplaceAll(noted, ",", "|"), "Wren|", "Wren,"),
		"semicolons": strings.ReplaceAll(strings.ReplaceAll(noted, ",", ";"), "Wren;", "Wren,"), "semicolons and decimal commas": strings.NewReplacer(".", ",", ",", ";", "Wren,", "Wren,").Replace(noted),
	} {
		content = strings.ReplaceAll(content, "Wren\x00", "Wren,")
		g := read(t, "x.csv", content, Options{})
		equal(t, name+" crew", g.column("crew"), "Wren, late", "Café")
		equal(t, name+" delivered", g.column("delivered_yd"), "5.5", "4.25")
		equal(t, name+" rows", g.numbers, 2, 3)
		equal(t, name+" said", g.said)
		if d, err := g.file.Digest(); err != nil || d != sha256.Sum256([]byte(content)) {
			t.Errorf("%s: digest %x %v", name, d, err)
		}
		h, _ := open("x.csv", content, Options{})
		if d, err := h.Digest(); err != nil || d != sha256.Sum256([]byte(content)) {
			t.Errorf("%s: digest before reading %x %v", name, d, err)
		}
	}
	g := read(t, "x.csv", utf16Text(noted, false)[2:], Options{Encoding: "utf-16"})
	equal(t, "utf-16 without a mark", g.column("crew"), "Wren, late", "Café")
	g = read(t, "x.csv", strings.Replace(noted, "Café", "Caf\xe9 4½", 1), Options{})
	equal(t, "a cell of Windows-1252 in a file that is not UTF-8", g.column("crew")[1:], "Café 4Â½")
}

// A stray cell in another encoding far down does not spoil the rest.
func TestMixedEncodings(t *testing.T) {
	content := noted + strings.Repeat("J-3,2025-06-04,apron,300,4.5,4.25,Zoë\n", 20000) + "J-4,2025-06-04,apron,300,4.5,4.25,Caf\xe9\n"
	g := read(t, "x.csv", content, Options{})
	crews := g.column("crew")
	equal(t, "crews", append(crews[:3:3], crews[len(crews)-1]), "Wren, late", "Café", "Zoë", "Café")
}

func TestQuotes(t *testing.T) {
	for row, want := range map[string][]string{
		`a,b`: {"a", "b"}, `"a,b",c`: {"a,b", "c"}, `"a ""b"" c",d`: {`a "b" c`, "d"}, `"x "y" z",w`: {`x "y" z`, "w"}, `6",7' 6"`: {`6"`, `7' 6"`}, `"7' 6""",x`: {`7' 6"`, "x"}, `"a" ,b`: {"a", "b"}, `,`: {"", ""}, `"",""`: {"", ""}, "\"a\nb\",c": {"a\nb", "c"}, "\"a\r\nb\",c": {"a\r\nb", "c"}, `"`: {`"`}, `'=1,''x`: {"=1", "'x"},
	} {
		if got := splitRecord([]byte(row), ',', utf8Else1252); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", row, got, want)
		}
	}
}

// TestAgainstEncodingCSV holds the cutting of records against Go's own reader.
func TestAgainstEncodingCSV(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		content := rapid.StringOfN(rapid.SampledFrom([]rune("ab1;,\"\"\n ")), 0, 40, -1).Draw(t, "content")
		content = strings.ReplaceAll(content, "\" ", "\"_") // where the two differ: spaces behind a closing mark
		r := csv.NewReader(strings.NewReader(content))
		r.LazyQuotes, r.FieldsPerRecord = true, -1
		want, err := r.ReadAll()
		if err != nil {
			t.Skip("not lazy enough")
		}
		var got [][]string
		text := []byte(content + "\n")
		for i := 0; i < len(text); {
			end := recordEnd(text, i, ',')
			if end < 0 {
				return // an open quotation mark, which encoding/csv closes at the end
			}
			if cells := rawCells(text[i:end]); len(cells) > 1 || cells[0] != "" || text[i] == '"' {
				got = append(got, cells) // encoding/csv skips blank lines
			}
			i = end
		}
		if fmt.Sprintf("%q", got) != fmt.Sprintf("%q", want) {
			t.Fatalf("%q: %q, want %q", content, got, want)
		}
	})
}

func rawCells(s []byte) (cells []string) {
	for i := 0; ; {
		c := cutCell(s, i, ',')
		text := string(s[c.from:c.to])
		if c.doubled {
			text = strings.ReplaceAll(text, `""`, `"`)
		}
		cells = append(cells, text)
		if c.end >= len(s) || s[c.end] != ',' {
			return cells
		}
		i = c.end + 1
	}
}

// Rows are numbered as a spreadsheet numbers them: blank lines count, and lines
// within a quoted cell do not.
func TestRowNumbers(t *testing.T) {
	g := read(t, "visits.csv", "job_no,seen_on,why,finding,note\n\nJ-1,2025-06-03,planned,sound,\"two\nlines\"\n\n\nJ-2,2025-06-03,planned,sound,\n,,,,\nJ-3,2025-06-03,planned,sound,\n", Options{})
	equal(t, "rows", g.numbers, 3, 6, 8)
	equal(t, "note", g.column("note"), "two\nlines", "", "")

	var b strings.Builder
	b.WriteString("job_no,seen_on,why,finding,note\n")
	want := []int{}
	for i := range 5000 { // over many blocks
		if i%7 == 0 {
			b.WriteString("\n")
		}
		fmt.Fprintf(&b, "J-%d,2025-06-03,planned,sound,\"a note\nof %d lines\"\n", i, 2)
		want = append(want, 2+i+i/7+1)
	}
	g = read(t, "visits.csv", b.String(), Options{})
	equal(t, "rows over blocks", g.numbers, want...)
}

func TestShortAndLongRows(t *testing.T) {
	g := read(t, "x.csv", lines(good+",crew,wind_mph", "J-1,2025-06-03,patio,420,4", "J-2,2025-06-03,patio,420,4,Wren,5,,", "J-3,2025-06-03,patio,420,4,Wren,5,more,", "J-4,2025-06-03"), Options{})
	equal(t, "bad", g.bad, 4, 5)
	equal(t, "cells", []int{len(g.cells[0]), len(g.cells[1]), len(g.cells[2])}, 7, 7, 8)
	equal(t, "padded", g.cells[0], "J-1", "2025-06-03", "patio", "420", "4", "", "")
	if len(g.said) != 3 {
		t.Errorf("said %v", g.said)
	}
}

// TestStaleFields demands that a record that is used again keeps nothing of the
// row before.
func TestStaleFields(t *testing.T) {
	full := "J-1,2025-06-03,patio,420,4,Wren,5,12,2025-07-01,crack,90,yes,3,B"
	g := read(t, "x.csv", lines(good+",crew,wind_mph,labor_hours,callback_on,callback_kind,callback_cost,retarder,clogs,placement", full, "J-2,2025-06-03,patio,420,4", full, "J-2,2025-06-03,patio,420,4,,,,,,,,,", full, "J-2,2025-06-03,patio,420,4,-,-,-,-,-,-,-,-,-", full, "J-2,2025-06-03,patio,420,4,#N/A,#N/A,#N/A,#N/A,#N/A,#N/A,#N/A,#N/A,#N/A"), Options{})
	for i := 1; i < len(g.values); i += 2 {
		for j, v := range g.values[i] {
			if c := g.Records.Columns[j]; v != "" && !c.Required && v != c.Default {
				t.Errorf("row %d: %s is %q", g.numbers[i], c.Name, v)
			}
		}
	}
}

// TestEarlyStop leaves rows unread, and reads them again.
func TestEarlyStop(t *testing.T) {
	content := good + "\n" + strings.Repeat("J-1,2025-06-03,patio,420,4\n", 20000)
	f, err := open("x.csv", content, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		n := 0
		for _, err := range f.Tables[0].Rows() {
			if err != nil {
				t.Fatal(err)
			}
			if n++; n == 700 {
				break
			}
		}
	}
	n := 0
	for range f.Tables[0].Rows() {
		n++
	}
	equal(t, "rows", []int{n}, 20000)
}

// TestBlocks keeps the rows of a block until the next one is asked for.
func TestBlocks(t *testing.T) {
	var rows [][]any
	content := good + "\n"
	rows = append(rows, goodHeader)
	for i := range 2000 {
		content += fmt.Sprintf("J-%d,2025-06-03,patio,%d,4\n", i, 100+i)
		rows = append(rows, []any{fmt.Sprintf("J-%d", i), "2025-06-03", "patio", 100 + i, 4})
	}
	for _, book := range []string{content, string(makeWorkbook(t, "placements", rows, nil))} {
		f, err := open("x.csv", book, Options{})
		must(t, err)
		n, blocks := 0, 0
		for block, err := range f.Tables[0].Blocks() {
			must(t, err)
			blocks++
			for _, row := range block {
				p := row.Record.(*record.Placement)
				if want := fmt.Sprintf("J-%d", n); p.JobNo != want || row.Cells()[0] != want || p.AreaSqft.V != float64(100+n) || row.Number != n+2 {
					t.Fatalf("row %d: %v %v", row.Number, p.JobNo, row.Cells())
				}
				n++
			}
		}
		equal(t, "rows", []int{n, min(blocks, 2)}, 2000, 2)
	}
}

func TestProgress(t *testing.T) {
	content := good + "\n" + strings.Repeat("J-1,2025-06-03,patio,420,4\n", 20000)
	var last int64
	calls := 0
	read(t, "x.csv", content, Options{Progress: func(done, total int64) {
		if calls++; done < last || done > total || total != int64(len(content)) {
			t.Errorf("%d of %d after %d", done, total, last)
		}
		last = done
	}})
	if calls < 3 || last != int64(len(content)) {
		t.Errorf("%d calls, the last at %d of %d", calls, last, len(content))
	}
}

func TestNewWordOnce(t *testing.T) {
	content := good + "\n" + strings.Repeat("J-1,2025-06-03,loading dock,420,4\n", 5000) + "J-2,2025-06-03,rv pad,420,4\nJ-2,2025-06-03,RV Pad,420,4\n"
	g := read(t, "x.csv", content, Options{})
	equal(t, "said", g.said, `x.csv, row 2, use "loading dock": a new word; kept as loading dock`, `x.csv, row 5002, use "rv pad": a new word; kept as rv pad`)
}

func TestAmbiguousDatesAreCounted(t *testing.T) {
	content := good + "\n" + strings.Repeat("J-1,6/3/2025,patio,420,4\nJ-2,6/13/2025,patio,420,4\nJ-3,6/6/2025,patio,420,4\n", 3000)
	g := read(t, "x.csv", content, Options{})
	equal(t, "counted", []int{g.AmbiguousDates}, 3000)
	equal(t, "dates", g.column("placed_on")[:3], "2025-06-03", "2025-06-13", "2025-06-06")
	g = read(t, "x.csv", strings.ReplaceAll(lines(good, "J-1,6/3/2025,patio,420,4"), "placed_on", "date (m/d/y)"), Options{DayFirst: true})
	equal(t, "settled by the heading", g.column("placed_on"), "2025-06-03")
	equal(t, "not counted", []int{g.AmbiguousDates}, 0)
}

func TestDelaysAreCounted(t *testing.T) {
	const rows = "J-1,A,clog,10,\nJ-1,A,weather,20,\nJ-1,B,clog,5,\nJ-1,A,plant,5,7\nJ-1,A,plant,5,\nJ-2,,clog,9,\n"
	g := read(t, "delays.csv", "job_no,placement,cause,minutes,seq\n"+rows, Options{})
	equal(t, "seq", g.column("seq"), "1", "2", "1", "7", "8", "1")
	g = read(t, "delays.csv", "job_no,placement,cause,minutes\n"+strings.Repeat("J-1,A,clog,10\nJ-1,B,clog,10\n", 2000), Options{})
	if seq := g.column("seq"); seq[0] != "1" || seq[3999] != "2000" || seq[3998] != "2000" {
		t.Errorf("seq %v %v %v", seq[0], seq[3998], seq[3999])
	}
}

// TestPlainIsAny reads random tables by the short ways for plain cells and
// again by the long way, which must say the same.
func TestPlainIsAny(t *testing.T) {
	cell := rapid.OneOf(
		rapid.SampledFrom([]string{"", "", "0", "1", "12", "4.5", "007", "1.", ".5", "-1", "1e3", "999999999999999", "12345678901234567", "0.1234567890123456", "1250.005", "12.50", "100.1", "2025-06-03", "2025-13-03", "1850-01-01", "6/3/2025", "patio", "Patio", "drivway", "loading dock", "pump", "none", "mesh+rebar", "rebar + mesh", "yes", "x", "n/a", "NA", "-", "?", "#N/A", "Err:502", "E", "=1+1", "'=1", "'x", " 4", "4 ", "\"4\"", "\"a,b\"", "\"x\"\"y\"", "é", "\xe9", "a\tb", "a\x7fb", "a\rb", "1,5", "7' 6\"", "J-1", "Total", "2,5", strings.Repeat("x", 41), strings.Repeat("y", 70)}),
		rapid.StringOfN(rapid.SampledFrom([]rune("0123456789.-/: aeJ\"'")), 0, 12, -1))
	rapid.Check(t, func(t *rapid.T) {
		rt := record.Tables[rapid.IntRange(0, len(record.Tables)-1).Draw(t, "table")]
		var b strings.Builder
		for i, c := range rt.Columns {
			if i > 0 {
				b.WriteByte(',')
			}
			b.WriteString(c.Name)
		}
		b.WriteString(",phone,\n")
		comma := rapid.SampledFrom([]string{"no", "yes"}).Draw(t, "decimal comma")
		for range rapid.IntRange(1, 12).Draw(t, "rows") {
			n := rapid.IntRange(0, len(rt.Columns)+3).Draw(t, "cells")
			b.WriteString(strings.Join(rapid.SliceOfN(cell, n, n).Draw(t, "row"), ",") + "\n")
		}
		content := b.String()
		if comma == "yes" {
			content = strings.NewReplacer(",", ";", ".", ",").Replace(content)
		}
		comparePaths(t, rt.Name+".csv", content, Options{DecimalComma: comma})
	})
}

// comparePaths reads content by the short way and by the long way.
func comparePaths(t interface{ Errorf(string, ...any) }, name, content string, opt Options) {
	f, err := open(name, content, opt)
	if err != nil {
		return
	}
	table := f.Tables[0]
	if table.insight != nil {
		return // a log is read in one way only
	}
	long := cellReader{layout: table.layout}
	for row, err := range table.Rows() {
		if err != nil {
			return
		}
		cells := row.Cells()
		rec, fields := table.layout.newRecord()
		long.begin(fields)
		for i := range long.columns {
			if c := &long.columns[i]; c.spec != nil {
				long.read(c, fieldOf(fields, c), cells[i])
			}
		}
		one := &Row{Record: rec, Fields: fields, table: table, texts: cells}
		long.finish(one)
		(&fractions{table: table, counted: map[string]int{}}).look(one)
		for i, field := range fields {
			if c := &table.Records.Columns[i]; !table.Given[i] || row.counted && c.Name == "seq" || record.FieldText(field) == record.FieldText(row.Fields[i]) {
				continue
			} else {
				t.Errorf("%q: %s is %q by the short way and %q by the long way", cells, c.Name, record.FieldText(row.Fields[i]), record.FieldText(field))
			}
		}
		for i, p := range one.Problems {
			if p.Code == codeNewWord {
				continue
			}
			if !slices.ContainsFunc(row.Problems, func(q record.Problem) bool {
				return q.Code == p.Code && q.Column == p.Column && q.Wrong == p.Wrong && q.Right == p.Right
			}) {
				t.Errorf("%q: problem %d is not found by the short way: %v, only %v", cells, i, p, row.Problems)
			}
		}
	}
}
