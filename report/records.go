package report

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// records lists what in the records deserves a look.
func (a *author) records() Page {
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
	p.Basis = plural(a.f.Placements, "placement") + " in " + plural(a.f.Jobs, "job") + ", and all that belongs to them."
	if n == 0 {
		p.Answer = "Nothing in the records looks out of place."
		return p
	}
	p.Reading = "Counts are exact."
	p.Answer = plural(n, "record") + " of your history deserve a look; all of them are counted in the figures as they stand."
	if n == 1 {
		p.Answer = "1 record of your history deserves a look; it is counted in the figures as it stands."
	}
	kinds := checkKinds(checks)
	p.Exhibits = []Exhibit{{Title: "By kind", Table: checksByKind(kinds)}}
	for _, k := range kinds[:min(len(kinds), mostChecked)] {
		p.Exhibits = append(p.Exhibits, Exhibit{Title: k.name(), Table: a.checksOf(k)})
	}
	if len(kinds) > mostChecked {
		p.Notes = append(p.Notes, "Of "+plural(len(kinds)-mostChecked, "rarer kind")+" only the number is shown.")
	}
	p.Notes = append(p.Notes, "To mend one, correct the row in your file and hand the file in again: the old value stays in the change log.")
	if n := a.f.RecordsToCheck; n > 0 {
		p.Notes = append(p.Notes, plural(n, "placement")+" "+were(n)+" found by what a job log alone tells; the rest belongs to jobs, loads, delays, hours, costs, visits and volumes.")
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
	s := capital(strings.ReplaceAll(clean(k.code, shortName), "-", " "))
	if k.column != "" {
		s += ", " + clean(k.column, shortName)
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
	return tableOf("What was found", kinds,
		column[checkKind]{head: "Finding", cell: func(k checkKind) Cell { return word(capital(strings.ReplaceAll(k.code, "-", " "))) }},
		column[checkKind]{head: "Column", cell: func(k checkKind) Cell { return word(k.column) }},
		counts("Times", func(k checkKind) int { return len(k.checks) }))
}

// checksOf lists the first records of one kind, with how many there are in all.
func (a *author) checksOf(k checkKind) *Table {
	type check = record.Problem
	t := tableOf(k.name()+": "+plural(len(k.checks), "record"), k.checks[:min(len(k.checks), mostOfKind)],
		column[check]{head: "Record", cell: func(c check) Cell { return a.placed(c.Job, c.Record) }},
		wordsIn("What is odd", func(c check) string { return clean(oddity(c), longText) }))
	if n := len(k.checks) - mostOfKind; n > 0 {
		t.More = "And " + count(n) + " more of " + count(len(k.checks)) + ": mend these first."
	}
	return t
}

// oddity is a problem without the name of its record.
func oddity(c record.Problem) string {
	c.File, c.Sheet, c.Row, c.Record = "", "", 0, ""
	return strings.ReplaceAll(c.String(), " %", "%")
}
