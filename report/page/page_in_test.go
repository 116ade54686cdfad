package page

import (
	"slices"
	"testing"

	"pourback/report/say"
)

func pageOf(t testing.TB, pages []Page, slug string) Page {
	t.Helper()
	i := slices.IndexFunc(pages, func(p Page) bool { return p.Slug == slug })
	if i < 0 {
		t.Fatalf("no page %q", slug)
	}
	return pages[i]
}

// words are all texts of a page.
func words(p Page) []string {
	all := append([]string{p.Title, p.Answer, p.Basis, p.Reading}, p.Notes...)
	all = append(all, p.Method...)
	for _, e := range p.Exhibits {
		all = append(all, e.Title)
		all = append(all, e.Says)
		if e.Chart != nil {
			all = append(all, e.Chart.Says)
		}
		if e.Table != nil {
			all = append(all, e.Table.Caption, e.Table.More)
			all = append(all, e.Table.Foot...)
			for _, row := range e.Table.Rows {
				for _, c := range row {
					all = append(all, c.Text)
				}
			}
		}
	}
	return all
}

// TestLongTablesCanBeSearched: from 13 rows on, and none that is read across.
func TestLongTablesCanBeSearched(t *testing.T) {
	rows := func(n, shade int) *Table {
		return TableOf("rows", make([]int, n), ColumnOf[int]{Head: "n", Cell: func(int) say.Cell { return say.Cell{Text: "x", Shade: shade} }})
	}
	p := finished(say.New("", "", ""), Page{Exhibits: []Exhibit{{Table: rows(12, 0)}, {Table: rows(13, 0)}, {Table: rows(13, 1)}, {}}})
	for i, want := range []bool{false, true, false} {
		if got := p.Exhibits[i].Table.Find; (got != nil) != want {
			t.Errorf("table %d: %v", i, got)
		}
	}
	if left := p.Exhibits[1].Table.Find.Left; left != "# of 13 rows" {
		t.Errorf("%q", left)
	}
}
