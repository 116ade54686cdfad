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
	p := Page{Slug: "records", Title: "Records to check", Method: []string{
		"Each value is held against the range that is usual for its column, each row against the rules that span its columns, and each summary against its events. What is impossible was set aside when it was handed in; what is only unusual is kept, counted and listed here.",
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
	p.Answer = capital(plural(n, "record")) + " of your history deserve" + verbS(n) + " a look; all of them are counted in the figures as they stand."
	p.Exhibits = []Exhibit{{"By kind", nil, checksByKind(checks)}, {"One by one", nil, a.checksOneByOne(checks)}}
	p.Notes = []string{"To mend one, correct the row in your file and hand the file in again: the old value stays in the change log."}
	return p
}

func verbS(n int) string {
	if n == 1 {
		return "s"
	}
	return ""
}

type checkKind struct{ code, column string }

func checksByKind(checks []record.Problem) *Table {
	counts := map[checkKind]int{}
	for i := range checks {
		counts[checkKind{checks[i].Code, checks[i].Column}]++
	}
	kinds := slices.SortedFunc(maps.Keys(counts), func(x, y checkKind) int {
		return cmp.Or(cmp.Compare(counts[y], counts[x]), cmp.Compare(x.code, y.code), cmp.Compare(x.column, y.column))
	})
	return tableOf("What was found", kinds,
		column[checkKind]{head: "Finding", cell: func(k checkKind) Cell { return word(capital(strings.ReplaceAll(k.code, "-", " "))) }},
		column[checkKind]{head: "Column", cell: func(k checkKind) Cell { return word(k.column) }},
		column[checkKind]{head: "Times", number: true, cell: func(k checkKind) Cell { return whole(counts[k]) }})
}

func (a *author) checksOneByOne(checks []record.Problem) *Table {
	type check = record.Problem
	t := tableOf("Values to check", checks,
		column[check]{head: "Record", cell: func(c check) Cell { return a.placed(c.Job, c.Record) }},
		column[check]{head: "What is odd", cell: func(c check) Cell { return Cell{Text: clean(oddity(c), longName)} }})
	if len(checks) > mostRows {
		t.More = "And " + count(len(checks)-mostRows) + " more: mend these first."
	}
	return t
}

// oddity is a problem without the name of its record.
func oddity(c record.Problem) string {
	c.File, c.Sheet, c.Row, c.Record = "", "", 0, ""
	return c.String()
}
