package sheet

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// sheetFacts are what is known of a sheet beside its cells.
type sheetFacts struct {
	spans     map[int][]span  // merged cells, by the row in which they begin
	below     map[int][]merge // cells of a row that are merged with one above
	rows      []int           // that are hidden
	columns   []string        // that are hidden
	protected bool
}

// facts looks a sheet through for what stands around its cells. Large sheets,
// which nobody merges cells in by hand, are spared it.
func (s *sheetPart) facts() sheetFacts {
	const small = 8 << 20
	if s.part.UncompressedSize64 > small {
		return sheetFacts{}
	}
	part, err := s.book.open(s.part)
	if err != nil {
		return sheetFacts{}
	}
	defer part.Close()
	return readFacts(part)
}

func readFacts(r io.Reader) sheetFacts {
	f := sheetFacts{spans: map[int][]span{}, below: map[int][]merge{}}
	x := newXMLScanner(r)
	for row := 0; ; {
		t, err := x.next()
		if err != nil {
			return f
		}
		if t.kind != startTag {
			continue
		}
		switch string(t.name) {
		case "row":
			row++
			if n := atoi(string(t.attr("r"))); n > 0 {
				row = n
			}
			if isOn(t.attr("hidden")) {
				f.rows = append(f.rows, row)
			}
		case "col":
			if isOn(t.attr("hidden")) {
				f.hide(atoi(string(t.attr("min"))), atoi(string(t.attr("max"))))
			}
		case "sheetProtection":
			f.protected = isOn(t.attr("sheet"))
		case "mergeCell":
			f.merge(string(t.attr("ref")))
		}
	}
}

func isOn(attr []byte) bool { return string(attr) == "1" || string(attr) == "true" }

func (f *sheetFacts) hide(from, to int) {
	for c := max(from, 1); c <= min(to, from+50); c++ {
		f.columns = append(f.columns, columnLetters(c-1))
	}
}

func (f *sheetFacts) merge(ref string) {
	const letters, tallest = "ABCDEFGHIJKLMNOPQRSTUVWXYZ", 50
	from, to, found := strings.Cut(ref, ":")
	if !found {
		return
	}
	first, last := atoi(strings.TrimLeft(from, letters)), atoi(strings.TrimLeft(to, letters))
	a, b := columnOf([]byte(from)), columnOf([]byte(to))
	f.spans[first] = append(f.spans[first], span{a, b})
	for row := first + 1; a >= 0 && row <= min(last, first+tallest); row++ {
		f.below[row] = append(f.below[row], merge{a, first})
	}
}

// sayHidden says that what is hidden was read all the same.
func (t *Table) sayHidden(f sheetFacts) {
	say := func(code, wrong string) {
		t.say(record.Problem{Severity: record.Warning, Code: code, Wrong: wrong, Right: "read all the same; take it out if it is not meant"})
	}
	if t.sheet.hidden {
		say(codeHiddenSheet, "a hidden sheet")
	}
	rows := slices.DeleteFunc(slices.Clone(f.rows), func(row int) bool { return row <= t.skip })
	if len(rows) > 0 {
		say(codeHiddenCells, fmt.Sprintf("%d hidden rows (%s)", len(rows), listed(rows)))
	}
	if len(f.columns) > 0 {
		say(codeHiddenCells, "hidden columns ("+strings.Join(f.columns, ", ")+")")
	}
	if f.protected {
		t.say(record.Problem{Severity: record.Warning, Code: codeProtected, Wrong: "a protected sheet", Right: "read all the same; to mend it, take the protection off first"})
	}
}

// listed names the first of some numbers.
func listed(rows []int) string {
	var names []string
	for _, r := range rows[:min(len(rows), 8)] {
		names = append(names, fmt.Sprint(r))
	}
	if len(rows) > 8 {
		names = append(names, "…")
	}
	return strings.Join(names, ", ")
}

// onlyPictures says whether a workbook holds pictures: a sheet without cells is
// most likely a scan then.
func (b *workbook) onlyPictures() bool {
	for name := range b.parts {
		if strings.HasPrefix(name, "xl/media/") {
			return true
		}
	}
	return false
}

// turned says whether the headings of a sheet stand in its first column, a job in
// each of the others.
func turned(rows []gridRow) bool {
	var first []string
	wide := 0
	for _, row := range rows[:min(len(rows), deepestHeader)] {
		if row.blank() {
			continue
		}
		first = append(first, at(row.cells, 0))
		if len(row.cells) > 3 {
			wide++
		}
	}
	head, _ := findHeadRows(rows, nil)
	return len(first) >= 5 && 2*wide > len(first) && headPoints(first) > 4 && headPoints(first) > 1.5*head.points && 10*meanings(first) > 7*len(first)
}

// meanings is how many different things the cells of a column mean as headings.
func meanings(cells []string) int {
	var all []string
	for _, c := range cells {
		meaning := ""
		for _, s := range sensesOf(c, "") {
			meaning += s.concept + " "
		}
		if strings.TrimSpace(meaning) != "" {
			all = append(all, meaning)
		}
	}
	slices.Sort(all)
	return len(slices.Compact(all))
}

// sideBySide says whether headings stand twice in a row: two tables beside each
// other.
func sideBySide(names []string) bool {
	seen, twice := map[string]bool{}, 0
	for _, name := range names {
		if name = foldHeading(name); name == "" {
			continue
		} else if seen[name] {
			twice++
		}
		seen[name] = true
	}
	return twice >= 3 && 3*twice >= len(seen)
}
