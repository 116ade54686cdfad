package sheet

import (
	"bytes"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourback/ingest/record"
)

// seeds feeds the museum and the catalogue of problems to a fuzzer.
func seeds(f *testing.F, pattern string) {
	for _, folder := range []string{"museum", "problems"} {
		paths, _ := filepath.Glob("testdata/" + folder + "/" + pattern)
		for _, path := range paths {
			content, err := os.ReadFile(path)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(content)
		}
	}
}

func addAll(f *testing.F, texts ...string) {
	for _, s := range texts {
		f.Add(s)
	}
}

// checkSaid demands that every remark says what is wrong and what would be
// right, and that a value is refused with an error and only then.
func checkSaid(t *testing.T, text string, ok bool, say remarks) {
	t.Helper()
	for _, x := range say {
		if x.code == "" || x.wrong == "" || x.right == "" {
			t.Errorf("%q: %+v", text, x)
		}
	}
	if ok == say.failed() {
		t.Errorf("%q: read %v, said %v", text, ok, say)
	}
}

func FuzzQuantity(f *testing.F) {
	addAll(f, "4 1/2 in", `7' 6"`, "75-80", "1 h 15 min", "1:15", "29 C", "1.250,00", "~80", "−5 °C", "4½", "1e3", "=1+1", "7.6 m3", "0x1F", "3 1/2 - 4 in")
	f.Fuzz(func(t *testing.T, text string) {
		for _, m := range []measure{ownUnit(nil), ownUnit(record.Inch), ownUnit(record.Hour), ownUnit(record.CubicYard), {record.Fahrenheit, 1.8, 32, true}} {
			for _, h := range []habit{pointFile, commaFile} {
				var say remarks
				a, ok := parseQuantity(text, m, h, &say)
				if checkSaid(t, text, ok, say); math.IsNaN(a.value) || math.IsInf(a.value, 0) {
					t.Errorf("%q: %v", text, a)
				}
				var again remarks
				if b, ok2 := parseQuantity(" "+text+" ", m, h, &again); ok2 != ok || b != a {
					t.Errorf("%q: %v, with spaces %v", text, a, b)
				}
			}
		}
	})
}

func FuzzMoney(f *testing.F) {
	addAll(f, "$1,250.00", "(1,250.00)", "-$50", "1.250,00 €", "12k", "$165/yd", "12.345", "$500-700", "50-")
	f.Fuzz(func(t *testing.T, text string) {
		for _, h := range []habit{pointFile, commaFile} {
			var say remarks
			c, ok := parseMoney(text, h, &say)
			if checkSaid(t, text, ok, say); !ok {
				continue
			}
			var again remarks
			if d, ok := parseMoney(c.String(), pointFile, &again); !ok || d != c || len(again) > 0 {
				t.Errorf("%q: %v read again is %v %v", text, c, d, again)
			}
		}
	})
}

func FuzzDate(f *testing.F) {
	addAll(f, "2025-06-03", "6/3/25", "3.6.2025", "Jun 3, 2025", "3rd of June 2025", "45811", "6/3/2025 7:15 AM", "Tue 3-Jun-25", "20250603", "13/13/2025")
	f.Fuzz(func(t *testing.T, text string) {
		for _, cal := range []calendar{{epoch: epoch1900}, {dayFirst: true, epoch: epoch1904}} {
			var say remarks
			d, ok := parseDay(text, cal, &say)
			if checkSaid(t, text, ok, say); !ok {
				continue
			}
			var again remarks
			if e, ok := parseDay(d.date.String(), cal, &again); !ok || e.date != d.date || len(again) > 0 {
				t.Errorf("%q: %v read again is %v %v", text, d.date, e.date, again)
			}
		}
	})
}

func FuzzMoment(f *testing.F) {
	addAll(f, "2025-06-03 07:15", "6/3/2025 7:15 PM", "2025-06-03T07:15:30Z", "2025-06-03T07:15-05:00", "45811.302083", "7:15", "Jun 3 2025 7 am CST", "2025-06-03T24:00")
	f.Fuzz(func(t *testing.T, text string) {
		var say remarks
		m, _, ok := parseMoment(text, calendar{epoch: epoch1900}, &say)
		if checkSaid(t, text, ok, say); !ok {
			return
		}
		var again remarks
		if n, _, ok := parseMoment(m.String(), calendar{epoch: epoch1900}, &again); !ok || n != m || len(again) > 0 {
			t.Errorf("%q: %v read again is %v %v", text, m, n, again)
		}
	})
}

func FuzzWord(f *testing.F) {
	addAll(f, "Driveway", "shed-slab", "rebar + mesh", "none, mesh", "drivway", "w/ fiber", "Loading  Dock", "+", "n/a")
	var all []*lexicon
	for _, table := range record.Tables {
		for _, c := range table.Columns {
			if c.Words != nil {
				all = append(all, newLexicon(c.Words))
			}
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, l := range all {
			var say remarks
			word, ok := l.parseWord(text, &say)
			if checkSaid(t, text, ok, say); !ok || word == "" {
				continue
			}
			var again remarks
			if w, ok := l.parseWord(word, &again); !ok || w != word {
				t.Errorf("%q: %q read again is %q %v", text, word, w, again)
			}
		}
	})
}

func FuzzText(f *testing.F) {
	addAll(f, "J-1", " J\n1 ", "be\x07ll", "\u200b", "=1+1", "'x", "caf\xe9", "a\r\nb")
	f.Fuzz(func(t *testing.T, text string) {
		text = decodeCell([]byte(text), utf8Only)
		for _, c := range []*record.Column{record.Jobs.Column("job_no"), record.Jobs.Column("note")} {
			var say remarks
			s, ok := parseText(text, c, &say)
			checkSaid(t, text, ok, say)
			var again remarks
			if u, ok2 := parseText(s, c, &again); ok && (!ok2 || u != s) {
				t.Errorf("%q: %q read again is %q %v", text, s, u, again)
			}
		}
		if got := unguard(guard(text)); got != text {
			t.Errorf("%q guarded comes back as %q", text, got)
		}
	})
}

func FuzzFlag(f *testing.F) {
	addAll(f, "yes", "N", "TRUE", "x", "0", "?")
	f.Fuzz(func(t *testing.T, text string) {
		var say remarks
		flag, ok := parseFlag(text, &say)
		checkSaid(t, text, ok, say)
		if again, _ := parseFlag(flag.String(), &say); again != flag {
			t.Errorf("%q: %v", text, flag)
		}
	})
}

func FuzzHeading(f *testing.F) {
	addAll(f, "Area (m²)", "job #", "air temp °C", "Pour date (dd/mm/yyyy)", "% humidity", "Thickness in mm", "areaSqft")
	all := newCatalogue(record.Dictionary{})
	f.Fuzz(func(t *testing.T, heading string) {
		for _, h := range all {
			m, ok := h.find(headingWords(heading))
			if !ok {
				continue
			}
			c := newColumn(h.table, m.column, record.Dictionary{})
			if m.unit != "" {
				c.in(m.unit)
			}
		}
	})
}

func FuzzNumberFormat(f *testing.F) {
	f.Add("m/d/yyyy h:mm", "45811.3")
	f.Add("[h]:mm", "1.05")
	f.Add("0.0%", "0.65")
	f.Add("General", "0.30000000000000004")
	f.Fuzz(func(t *testing.T, code, number string) {
		for _, from := range []epoch{epoch1900, epoch1904} {
			formatOf(code).show(number, from, ',')
		}
	})
}

// FuzzCSV reads whatever bytes as a file, holds both ways of reading against
// each other, and demands that what is set aside can be read again with the
// same cells.
func FuzzCSV(f *testing.F) {
	seeds(f, "*.csv")
	f.Fuzz(func(t *testing.T, content []byte) {
		comparePaths(t, "x.csv", string(content), Options{})
		file, err := open("x.csv", string(content), Options{Limits: Limits{Row: 4096}})
		if err != nil {
			if _, ok := err.(*Refusal); !ok {
				t.Error(err)
			}
			return
		}
		for _, table := range file.Tables {
			checkAgain(t, table)
		}
	})
}

// checkAgain sets every row of a table aside and reads it again.
func checkAgain(t *testing.T, table *Table) {
	var b bytes.Buffer
	w, err := table.SetAside(&b)
	must(t, err)
	var want [][]string
	for row, err := range table.Rows() {
		if err != nil {
			return
		}
		must(t, w.Write(row))
		want = append(append(want, row.Cells()), row.parts...)
		for _, p := range row.Problems {
			if p.Row != row.Number || p.File != table.File || p.Wrong == "" || p.Code == "" {
				t.Errorf("%+v", p)
			}
		}
	}
	must(t, w.Flush())
	text, _ := io.ReadAll(decoded(&b, utf8Only))
	for i, n := 0, -1; i < len(text); n++ {
		end := recordEnd(text, i, w.w.delim)
		if end < 0 {
			t.Fatalf("%q cannot be read again", text)
		}
		if n >= 0 {
			cells := splitRecord(text[i:end], w.w.delim, utf8Only)
			for j, cell := range want[n][:len(table.Header)] {
				if j != w.seq && cells[j] != cell {
					t.Fatalf("%q came back as %q", cell, cells[j])
				}
			}
		}
		i = end
	}
}

// FuzzSheetXML reads whatever bytes as the XML of a sheet.
func FuzzSheetXML(f *testing.F) {
	f.Add([]byte(`<worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>job_no</t></is></c></row><row r="2"><c r="A2" s="1"><v>45811.5</v></c><c t="s"><v>0</v></c><c t="b"><v>1</v></c><c><f>A1</f></c></row></sheetData></worksheet>`))
	f.Add([]byte(`<x:worksheet><x:sheetData><!-- c --><x:row/><x:row><x:c t="str"><x:v><![CDATA[a]]>&#65;</x:v></x:c></x:row></x:sheetData>`))
	book := makeWorkbook(f, "jobs", [][]any{{"job_no"}, {"J-1"}}, nil)
	f.Fuzz(func(t *testing.T, sheet []byte) {
		readAll(t, swapPart(t, book, firstSheet, sheet))
	})
}

// FuzzXLSX reads whatever bytes as a workbook.
func FuzzXLSX(f *testing.F) {
	seeds(f, "*.xlsx")
	f.Add(makeWorkbook(f, "jobs", [][]any{{"job_no"}, {"J-1"}}, nil))
	f.Fuzz(func(t *testing.T, content []byte) {
		if !bytes.HasPrefix(content, []byte(zipMagic)) {
			content = append([]byte(zipMagic), content...)
		}
		readAll(t, content)
	})
}

func readAll(t *testing.T, content []byte) {
	file, err := open("x.xlsx", string(content), Options{Limits: Limits{Row: 1 << 16}})
	if err == nil {
		for _, table := range file.Tables {
			for row, rowErr := range table.Rows() {
				if err = rowErr; err == nil && len(row.Cells()) < len(table.Header) {
					t.Errorf("%d cells below %d headings", len(row.Cells()), len(table.Header))
				}
			}
		}
	}
	if r, ok := err.(*Refusal); err != nil && (!ok || strings.TrimSpace(r.Wrong) == "") {
		t.Errorf("%v is no refusal", err)
	}
}

// FuzzManners reads whatever text in every column that people write in ways of
// their own: a value that is taken lies within the column's bounds.
func FuzzManners(f *testing.F) {
	for _, seed := range []string{"24x40x4", `(2) 14x10 @ 4"`, "480 sf @ 4", "4 guys x 7 + 2", "9 + 1.5", "8200 + 450 CO", `#4 @ 18" oc w/ fiber`, "6x6 10/10", "saw 8'", "crack 8/12/25", "lunes 2/10/25", "4/3", `4" w/ 8" edge`, "7:15 AM", "1068:Agate", "gar slb", "high 88", "½ yd"} {
		f.Add(seed)
	}
	for _, w := range append(writings, moreWritings...) {
		for _, text := range strings.Split(w.cells, "|") {
			f.Add(text)
		}
	}
	var layouts []*layout
	for table, columns := range manners {
		for name := range columns {
			n := len(table.Columns)
			l := &layout{table: table, own: make([]bool, n), given: make([]bool, n), habit: habit{mark: '.'}, today: dayOfTests, loose: true}
			c := &fileColumn{heading: name, profile: newProfile(nil, l.habit, calendar{})}
			(&insight{table: table, cols: []*fileColumn{c}, cal: calendar{years: []int{2025}}}).layIn(l, name)
			layouts = append(layouts, l)
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, l := range layouts {
			r := cellReader{layout: l}
			rec, fields := l.newRecord()
			r.begin(fields)
			r.read(&l.columns[0], fieldOf(fields, &l.columns[0]), text)
			r.derive(rec)
			for i, field := range fields {
				c := &l.table.Columns[i]
				if v, ok := field.(*record.Number); ok && v.OK && (c.Hard.Below(v.V) || c.Hard.Beyond(v.V)) {
					t.Errorf("%s of %q is %v", c.Name, text, v.V)
				}
			}
		}
	})
}

// FuzzOwnersHeading takes headings apart: the parts of a glued word make it again, and
// what a key explains is never empty.
func FuzzOwnersHeading(f *testing.F) {
	addAll(f, "PLCDATE", "CALBKDT", "How thick?", "What it took us", "D=DRIVEWAY, W=WALK", "YARDS / came", "KIND: A=B=C", "$/yd", "ÁREA m²")
	f.Fuzz(func(t *testing.T, text string) {
		for _, w := range headingTokens(text) {
			for _, loosely := range []bool{false, true} {
				whole := ""
				for _, part := range unglue(w, loosely) {
					whole += part.word
				}
				if whole != "" && whole != w {
					t.Errorf("%q is put together as %q", w, whole)
				}
			}
		}
		found, _ := explains([]string{text, text})
		for code, meaning := range found {
			if code == "" || meaning == "" {
				t.Errorf("%q: %q is %q", text, code, meaning)
			}
		}
		(&fileColumn{heading: text, senses: sensesOf(text, ""), profile: newProfile(nil, habit{mark: '.'}, calendar{})}).unitFor(record.Inch)
	})
}

// layIn gives a layout its one column.
func (u *insight) layIn(l *layout, name string) {
	l.take(u, 0, pick{hypothesis: &hypothesis{name: name}, sure: true}, &Options{})
}
