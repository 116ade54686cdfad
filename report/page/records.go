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
	w := say.Records{Voice: a.Voice}
	p := Page{Slug: recordsSlug, Title: w.Title(), Method: []string{w.Method()}}
	if a.empty() {
		return a.begin(p, w.Will(), w.Takes())
	}
	odd := a.oddRecords()
	p.Basis, p.Answer = w.Basis(a.f.Placements, a.f.Jobs), w.Answer(odd, a.f.LeftOut)
	if odd == 0 {
		p.Do = []string{say.Todo{Voice: a.Voice}.NoRecord()}
		return p
	}
	p.Reading = w.Reading()
	kinds := checkKinds(a.f.Checks)
	p.Exhibits, p.Do = []Exhibit{{Title: w.ByKind(), Table: a.checksByKind(kinds), InHand: true}}, []string{w.ToFix()}
	for _, k := range kinds[:min(len(kinds), mostChecked)] {
		p.Exhibits = append(p.Exhibits, Exhibit{Title: w.Kind(k.code, k.column), Table: a.checksOf(k)})
	}
	if n := len(kinds) - mostChecked; n > 0 {
		p.Notes = append(p.Notes, w.Rarer(n))
	}
	if n := a.f.RecordsToCheck; n > 0 {
		p.Notes = append(p.Notes, w.FromLog(n))
	}
	return p
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

func (a *Author) checksByKind(kinds []checkKind) *Table {
	w := say.Records{Voice: a.Voice}
	return TableOf(w.ByKindCaption(), kinds,
		wordsIn(w.HeadFinding(), func(k checkKind) string { return w.Code(k.code) }),
		ColumnOf[checkKind]{Head: w.HeadColumn(), Cell: func(k checkKind) say.Cell { return say.Word(w.ColumnLabel("", k.column)) }},
		counts(w.HeadTimes(), func(k checkKind) int { return len(k.checks) }))
}

// checksOf lists the first records of one kind, with how many there are in all.
func (a *Author) checksOf(k checkKind) *Table {
	type check = record.Problem
	w := say.Records{Voice: a.Voice}
	t := firstOf(w.KindCaption(w.Kind(k.code, k.column), len(k.checks)), k.checks, mostOfKind,
		ColumnOf[check]{Head: w.HeadRecord(), Cell: func(c check) say.Cell { return a.placed(c.Job, w.Where(c)) }},
		wordsIn(w.HeadOdd(), func(c check) string {
			c.Column = w.ColumnLabel("", c.Column)
			return say.Clean(oddity(w.Oddity(c)), say.LongText)
		}))
	if t.Left > 0 {
		t.More = w.MoreOf(t.Left, len(k.checks))
	}
	return t
}

// oddity is a problem without the name of its record.
func oddity(c record.Problem) string {
	c.File, c.Sheet, c.Row, c.Record = "", "", 0, ""
	return strings.ReplaceAll(c.String(), " %", "%")
}
