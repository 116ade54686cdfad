package page

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"pourback/ingest/record"
	"pourback/report/say"
)

// records lists what in the records deserves a look.
func (a *Author) records() Page {
	p := Page{Slug: recordsSlug, Title: "Records to check", Method: []string{
		"Each value is held against the range that is usual for its column, each row against the rules that span its columns, each summary against its events, and each placement's concrete against what is usual of its kind. What is impossible was set aside when it was handed in; what is only unusual is kept, counted and listed here.",
	}}
	if a.empty() {
		return a.begin(p, "which values in the records deserve a second look", "records")
	}
	checks, about := a.f.Checks, map[string]bool{}
	for i := range checks {
		about[checks[i].Record] = true
	}
	n := len(about)
	p.Basis = say.Plural(a.f.Placements, "placement") + " in " + say.Plural(a.f.Jobs, "job") + ", and all that belongs to them."
	if n == 0 {
		p.Answer = "Nothing in the records looks out of place."
		return p
	}
	p.Reading = "Counts are exact."
	p.Answer = say.Plural(n, "record") + " of your history deserve a look; all of them are counted in the figures as they stand."
	if n == 1 {
		p.Answer = "1 record of your history deserves a look; it is counted in the figures as it stands."
	}
	kinds := checkKinds(checks)
	p.Exhibits = []Exhibit{{Title: "By kind", Table: checksByKind(kinds)}}
	for _, k := range kinds[:min(len(kinds), mostChecked)] {
		p.Exhibits = append(p.Exhibits, Exhibit{Title: k.name(), Table: a.checksOf(k)})
	}
	if len(kinds) > mostChecked {
		p.Notes = append(p.Notes, "Of "+say.Plural(len(kinds)-mostChecked, "rarer kind")+" only the number is shown.")
	}
	p.Notes = append(p.Notes, "To mend one, correct the row in your file and hand the file in again: the old value stays in the change log.")
	if n := a.f.RecordsToCheck; n > 0 {
		p.Notes = append(p.Notes, say.Plural(n, "placement")+" "+say.Were(n)+" found by what a job log alone tells; the rest belongs to jobs, loads, delays, hours, costs, visits and volumes.")
	}
	return p
}

func verbS(n int) string {
	if n == 1 {
		return "s"
	}
	return ""
}

// checkKind is one finding with all the records that it was made in.
type checkKind struct {
	code, column string
	checks       []record.Problem
}

// The most that is listed: kinds, and records of each.
const (
	mostChecked = 12
	mostOfKind  = 10
)

// name: "Above usual range, humidity_pct".
func (k checkKind) name() string {
	s := say.Capital(strings.ReplaceAll(say.Clean(k.code, say.ShortName), "-", " "))
	if k.column != "" {
		s += ", " + say.Clean(k.column, say.ShortName)
	}
	return s
}

// checkKinds are the findings by kind, the commonest first.
func checkKinds(checks []record.Problem) []checkKind {
	by := map[[2]string][]record.Problem{}
	for i := range checks {
		key := [2]string{checks[i].Code, checks[i].Column}
		by[key] = append(by[key], checks[i])
	}
	var kinds []checkKind
	for _, key := range slices.SortedFunc(maps.Keys(by), func(x, y [2]string) int {
		return cmp.Or(cmp.Compare(len(by[y]), len(by[x])), cmp.Compare(x[0], y[0]), cmp.Compare(x[1], y[1]))
	}) {
		kinds = append(kinds, checkKind{key[0], key[1], by[key]})
	}
	return kinds
}

func checksByKind(kinds []checkKind) *Table {
	return TableOf("What was found", kinds,
		ColumnOf[checkKind]{Head: "Finding", Cell: func(k checkKind) say.Cell { return say.Word(say.Capital(strings.ReplaceAll(k.code, "-", " "))) }},
		ColumnOf[checkKind]{Head: "Column", Cell: func(k checkKind) say.Cell { return say.Word(k.column) }},
		counts("Times", func(k checkKind) int { return len(k.checks) }))
}

// checksOf lists the first records of one kind, with how many there are in all.
func (a *Author) checksOf(k checkKind) *Table {
	type check = record.Problem
	t := TableOf(k.name()+": "+say.Plural(len(k.checks), "record"), k.checks[:min(len(k.checks), mostOfKind)],
		ColumnOf[check]{Head: "Record", Cell: func(c check) say.Cell { return a.placed(c.Job, c.Record) }},
		wordsIn("What is odd", func(c check) string { return say.Clean(oddity(c), say.LongText) }))
	if n := len(k.checks) - mostOfKind; n > 0 {
		t.More = "And " + say.Count(n) + " more of " + say.Count(len(k.checks)) + ": mend these first."
	}
	return t
}

// oddity is a problem without the name of its record.
func oddity(c record.Problem) string {
	c.File, c.Sheet, c.Row, c.Record = "", "", 0, ""
	return strings.ReplaceAll(c.String(), " %", "%")
}
