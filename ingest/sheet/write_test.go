package sheet

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourback/ingest/record"
)

// anyText draws texts with all that is awkward in CSV and in spreadsheets.
var anyText = rapid.StringOfN(rapid.OneOf(rapid.SampledFrom([]rune("=+-@\t\r\n'\",;| 1aé½\ufeff")), rapid.Rune()), 0, 8, -1).
	Filter(func(s string) bool { return !strings.ContainsRune(s, 0) && !strings.ContainsRune(s, '\ufffd') })

// anyHeading draws headings of columns of no use, many of them much like ours.
var anyHeading = rapid.OneOf(rapid.SampledFrom([]string{"Weather", "Cost", "crew", "Problem", "Act Yds", "hours", "labor hours", "Notes", "date", "thickness mm"}),
	rapid.Map(anyText, strings.TrimSpace)).Filter(func(s string) bool { return s != "" })

// TestWriterRoundTrip demands that cells come back exactly, whatever is in them.
func TestWriterRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		delim := rapid.SampledFrom([]byte(",;")).Draw(t, "delimiter")
		rows := rapid.SliceOfN(rapid.SliceOfN(anyText, 1, 4), 1, 4).Draw(t, "rows")
		var b bytes.Buffer
		w := newWriter(&b, rows[0], delim)
		for _, row := range rows[1:] {
			if err := w.Write(row); err != nil {
				t.Fatal(err)
			}
		}
		if err := w.Flush(); err != nil {
			t.Fatal(err)
		}
		text, _ := io.ReadAll(decoded(bytes.NewReader(b.Bytes()), utf8Only))
		for i, n := 0, 0; i < len(text); n++ {
			end := recordEnd(text, i, delim)
			if got := splitRecord(text[i:end], delim, utf8Only); n >= len(rows) || !slices.Equal(got, rows[n]) {
				t.Fatalf("%q came back as %q", rows, got)
			}
			i = end
		}
		r := csv.NewReader(bytes.NewReader(b.Bytes()))
		r.Comma, r.FieldsPerRecord = rune(delim), -1
		if _, err := r.ReadAll(); err != nil {
			t.Fatalf("%q is not RFC 4180: %v", b.String(), err)
		}
	})
}

// TestNothingRuns demands that no cell written begins a formula.
func TestNothingRuns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := guard(anyText.Draw(t, "cell"))
		if s != "" && strings.ContainsRune("=@\t\r\n", rune(s[0])) {
			t.Fatalf("%q", s)
		}
		if s != "" && strings.ContainsRune("+-", rune(s[0])) && s != "-" && strings.Trim(s[1:], "0123456789.,eE+-$€£% ") != "" {
			t.Fatalf("%q", s)
		}
	})
	for s, want := range map[string]string{"=1+1": "'=1+1", "-": "-", "-5": "-5", "+5.25": "+5.25", "-$1,250.00": "-$1,250.00", "-1e5": "-1e5", "-1+1": "'-1+1", "-e5": "'-e5", "+": "'+", "--5": "'--5", "-A1": "'-A1", "+1-555-0100": "'+1-555-0100", "@x": "'@x", "'": "'", "'x": "'x", "'=x": "''=x", "''": "'''", "": "", "a=1": "a=1", "−5": "−5", "＝1": "'＝1", "＠x": "'＠x", "＋1": "'＋1", "－5": "'－5", "'＝x": "''＝x", "a＝1": "a＝1"} {
		if got := guard(s); got != want || unguard(got) != s {
			t.Errorf("%q becomes %q and %q again", s, got, unguard(got))
		}
	}
}

// drawField draws a value that a column may hold.
func drawField(t *rapid.T, c *record.Column, field any) {
	if !c.Required && rapid.IntRange(0, 3).Draw(t, "missing") == 0 {
		return
	}
	switch f := field.(type) {
	case *string:
		if c.Words != nil {
			*f = rapid.SampledFrom(c.Words.Words).Draw(t, c.Name)
			return
		}
		texts := rapid.StringOfN(rapid.SampledFrom([]rune("=+-@'\",; 1aé½#(")), 1, 12, -1)
		*f = rapid.Map(texts, strings.TrimSpace).Filter(func(s string) bool { return !isMissingWord(s) && !isCellError(s) }).Draw(t, c.Name)
	case *record.Number:
		*f = record.Some(drawInRange(t, c))
	case *record.Count:
		*f = record.Some(int64(math.Ceil(min(drawInRange(t, c), 1e9))))
	case *record.Money:
		*f = record.Some(record.Cents(rapid.Int64Range(0, 1e12).Draw(t, c.Name)))
	case *record.Date:
		*f = record.DateOf(1950, 1, 1) + record.Date(rapid.IntRange(0, 27000).Draw(t, c.Name))
	case *record.Moment:
		*f = record.MomentOf(record.DateOf(2020, 1, 1)+record.Date(rapid.IntRange(0, 2000).Draw(t, c.Name)), rapid.IntRange(0, 86399).Draw(t, "second"))
	case *record.Flag:
		*f = rapid.SampledFrom([]record.Flag{record.Yes, record.No}).Draw(t, c.Name)
	}
}

func drawInRange(t *rapid.T, c *record.Column) float64 {
	lo, hi := plainRange(c)
	v := rapid.Float64Range(max(lo, -1e6), min(hi, 1e6)).Draw(t, c.Name)
	if rapid.Bool().Draw(t, "short") {
		v = min(max(math.Round(v*4)/4, math.Ceil(max(lo, -1e6))), hi)
	}
	return v
}

// TestExportRoundTrip writes random records of every table and reads them back
// to the same values.
func TestExportRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := record.Tables[rapid.IntRange(0, len(record.Tables)-1).Draw(t, "table")]
		var rows []record.Record
		var want [][]string
		for range rapid.IntRange(1, 5).Draw(t, "rows") {
			r := table.New()
			var values []string
			for i, f := range r.Fields() {
				drawField(t, &table.Columns[i], f)
				if s, ok := f.(*string); ok && *s == "" {
					*s = table.Columns[i].Default
				}
				values = append(values, record.FieldText(f))
			}
			if d, ok := r.(*record.Delay); ok {
				d.Seq = record.Some(int64(len(rows) + 1))
				values[seqColumn] = fmt.Sprint(len(rows) + 1)
			}
			if l, ok := r.(*record.Delay); ok && isTotalWord(l.JobNo) {
				t.Skip("a job called total")
			}
			rows, want = append(rows, r), append(want, values)
		}
		headings := slices.Compact(slices.Sorted(slices.Values(rapid.SliceOfN(anyHeading, 0, 3).Draw(t, "headings"))))
		var unused []map[string]string
		for range rows {
			kept := map[string]string{}
			for _, h := range headings {
				if text := anyText.Draw(t, h); strings.TrimSpace(text) != "" {
					kept[h] = text
				}
			}
			unused = append(unused, kept)
		}
		var b bytes.Buffer
		err := WriteTable(&b, table, headings, func(yield func(record.Record, map[string]string) bool) {
			for i, r := range rows {
				if !yield(r, unused[i]) {
					return
				}
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		f, err := OpenReader(table.Name+".csv", bytes.NewReader(b.Bytes()), int64(b.Len()), Options{})
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for row, err := range f.Tables[0].Rows() {
			if err != nil {
				t.Fatal(err)
			}
			kept := map[string]string{}
			for _, u := range row.Unused() {
				kept[strings.TrimSuffix(u.Heading, " (not used)")] = u.Text
			}
			if !maps.Equal(kept, unused[n]) {
				t.Fatalf("%s: of no use %q came back as %q", table.Name, unused[n], kept)
			}
			for i, field := range row.Fields {
				if slices.ContainsFunc(row.Problems, func(p record.Problem) bool {
					return p.Column == table.Columns[i].Name && strings.HasSuffix(p.Wrong, leftEmpty)
				}) {
					continue // a callback before its pour
				}
				if got := record.FieldText(field); got != want[n][i] {
					t.Fatalf("%s.%s: %q came back as %q: %v", table.Name, table.Columns[i].Name, want[n][i], got, row.Problems)
				}
			}
			n++
		}
		if n != len(rows) {
			t.Fatalf("%d rows of %d came back: %s %v", n, len(rows), b.String(), f.Tables[0].Problems)
		}
	})
}

// TestConversions demands that a value brought to another unit and read in that
// unit is the value again.
func TestConversions(t *testing.T) {
	forms := map[*record.Unit][]string{record.Inch: {"mm", "cm", "m", "ft", `"`, "'"}, record.Foot: {"m", "in", "yd", "cm"}, record.SquareFoot: {"m2", "sq yd", "m²"}, record.CubicYard: {"m3", "cu ft", "l"},
		record.Fahrenheit: {"C", "°C"}, record.MilesPerHour: {"km/h", "m/s", "kn"}, record.PSI: {"MPa", "ksi", "kPa"}, record.Gallon: {"l", "qt"}, record.Hour: {"min", "d", "s"}, record.Minute: {"h", "s"}}
	rapid.Check(t, func(t *rapid.T) {
		unit := allUnits[rapid.IntRange(0, len(allUnits)-1).Draw(t, "unit")]
		if len(forms[unit]) == 0 {
			t.Skip("has no other form")
		}
		form := rapid.SampledFrom(forms[unit]).Draw(t, "form")
		want := rapid.Float64Range(-100, 1e5).Draw(t, "value")
		factor, offset, ok := unit.Scale(form)
		if !ok {
			t.Fatalf("%s is no form of %s", form, unit.Name)
		}
		text := fmt.Sprintf("%.17g %s", (want-offset)/factor, form)
		if strings.Contains(text, "e") {
			t.Skip("written with an exponent")
		}
		var say remarks
		got, ok := parseQuantity(text, ownUnit(unit), pointFile, &say)
		if !ok || len(say) > 0 || math.Abs(got.value-want) > 1e-9*math.Max(1, math.Abs(want)) {
			t.Fatalf("%q: %v %v, want %v", text, got.value, say, want)
		}
	})
}

// TestSetAside writes bad rows out, mends them and hands them in again.
func TestSetAside(t *testing.T) {
	content := lines(good+",colour", "J-1,2025-06-03,patio,420,45,grey", "=J-2,2025-06-04,patio,420,4,grey", "J-3,2025-06-05,patio,lots,4,grey,more")
	f, err := open("pours.csv", content, Options{})
	must(t, err)
	out := setAside(t, f.Tables[0])
	want := "job_no,placed_on,use,area_sqft,thickness_in,colour,problem\r\n" +
		"J-1,2025-06-03,patio,420,45,grey,\"thickness_in \"\"45\"\": thicker than 24 in; did you mean 4.5?\"\r\n" +
		"J-3,2025-06-05,patio,lots,4,grey,\"area_sqft \"\"lots\"\": not a number; write a number, such as 4.5 ft²; column G \"\"more\"\": a cell more than there are headings; quote a text that holds the delimiter, or name the column\",more\r\n"
	if out != want {
		t.Errorf("set aside:\n%s\nwant:\n%s", out, want)
	}
	g := read(t, "set aside.csv", strings.NewReplacer("45", "4.5", "lots", "400").Replace(out), Options{})
	equal(t, "mended", g.column("thickness_in"), "4.5", "4")
	equal(t, "still wrong", g.bad, 3)
	equal(t, "header", g.Header, "job_no", "placed_on", "use", "area_sqft", "thickness_in", "colour")
	equal(t, "kept out", g.Unknown, "colour")
	again := setAside(t, g.Table)
	equal(t, "set aside again", []string{strings.SplitN(again, "\r\n", 2)[0]}, "job_no,placed_on,use,area_sqft,thickness_in,colour,problem")
	f, err = open("pours.csv", bom+content, Options{})
	must(t, err)
	equal(t, "with a byte-order mark", []string{setAside(t, f.Tables[0])}, bom+out)
}

func setAside(t testing.TB, table *Table) string {
	t.Helper()
	var b bytes.Buffer
	w, err := table.SetAside(&b)
	must(t, err)
	for row, err := range table.Rows() {
		must(t, err)
		if row.Bad() || row.LeftEmpty() {
			must(t, w.Write(row))
		}
	}
	must(t, w.Flush())
	return b.String()
}

// What a row meant must not change by its being set aside: neither its decimal
// marks, nor its units, nor the number a delay was given.
func TestSetAsideKeepsMeaning(t *testing.T) {
	f, err := open("x.csv", "job_no;placed_on;use;area;thickness;method\n;;;m²;mm;\nJ-1;2025-06-03;patio;39,125;100;pmup\nJ-2;2025-06-03;patio;39,5;100;pump\n", Options{})
	must(t, err)
	g := read(t, "again.csv", strings.ReplaceAll(setAside(t, f.Tables[0]), "pmup", "pump"), Options{})
	equal(t, "area", g.column("area_sqft"), "421.137995054")
	equal(t, "thickness", g.column("thickness_in"), "3.93700787402")

	f, err = open("delays.csv", "job_no,placement,cause,minutes\nJ-1,A,clog,5\nJ-1,A,clog,long\nJ-1,A,clog,7\n", Options{})
	must(t, err)
	g = read(t, "again.csv", strings.ReplaceAll(setAside(t, f.Tables[0]), ",long,", ",6,"), Options{})
	equal(t, "seq", g.column("seq"), "2")
	f, err = open("delays.csv", "job_no,seq,cause,minutes\nJ-1,,clog,5\nJ-1,,clog,long\n", Options{})
	must(t, err)
	g = read(t, "again.csv", strings.ReplaceAll(setAside(t, f.Tables[0]), ",long,", ",6,"), Options{})
	equal(t, "seq in its column", g.column("seq"), "2")

	book := makeWorkbook(t, "placements", [][]any{goodHeader, {"J-1", "2025-06-03", "patio", 420.125, "4,75"}, {"J-2", "2025-06-03", "patio", 1.125, "lots"}}, nil)
	f, err = open("x.xlsx", string(book), Options{})
	must(t, err)
	g = read(t, "again.csv", strings.ReplaceAll(setAside(t, f.Tables[0]), "lots", "4"), Options{})
	equal(t, "a workbook's number beside decimal commas", g.column("area_sqft"), "1.125")
}

// failing fails every write.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestWriteErrors(t *testing.T) {
	w := NewWriter(failing{}, []string{"a"})
	for range 2000 {
		w.Write([]string{"0123456789"})
	}
	if w.Flush() == nil {
		t.Error("a failed write goes unnoticed")
	}
	f, err := open("x.csv", good, Options{})
	must(t, err)
	rows, err := f.Tables[0].SetAside(failing{})
	must(t, err)
	if rows.Flush() == nil {
		t.Error("a failed write goes unnoticed")
	}
}
