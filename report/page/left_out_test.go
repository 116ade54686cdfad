package page

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"pourback/analysis"
	"pourback/analysis/backtest"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
)

// hidden are columns that move a page so little that its rounded words may stand:
// neat yards are next to area × thickness, which takes their place.
var hidden = map[string]bool{"neat_yd month": true}

// TestPagesStandOnTheirColumns takes values of each column that may be left out
// away from a company and sees which pages say anything else: those, and next to
// no others, are the pages that name a value that was left out.
func TestPagesStandOnTheirColumns(t *testing.T) {
	if testing.Short() {
		t.Skip("answers a company fifteen times")
	}
	s, _, err := invented.Generate(invented.Options{Jobs: 160, Seed: 3, Until: trial.AsOf})
	if err != nil {
		t.Fatal(err)
	}
	whole := facesWithout(t, s, "")
	for column, pages := range standsOn {
		said := facesWithout(t, s, column)
		for slug := range said {
			named := slices.Contains(pages, slug) || slug == IndexSlug && moves(summedUp, column)
			if moved := said[slug] != whole[slug]; moved && !named {
				t.Errorf("%s moves the page %s, which would not name it", column, slug)
			}
		}
		for _, slug := range pages {
			if said, shown := said[slug]; shown && said == whole[slug] && !hidden[column+" "+slug] {
				t.Errorf("%s moves nothing on the page %s, which would name it", column, slug)
			}
		}
	}
}

// facesWithout are the words of each page without every third value of a column.
func facesWithout(t *testing.T, s record.Set, column string) map[string]string {
	h := record.NewHistory(trial.AsOf, s)
	for table, columns := range map[*record.Table]record.Columns{record.Placements: h.Placements.Columns(), record.Jobs: h.Jobs.Columns()} {
		at, row := table.Index(column), table.New()
		for i, read := 0, columns.Reader(row); at >= 0 && i < columns.Len(); i += 3 {
			read(i)
			record.ClearField(row.Fields()[at])
			columns.Write(i, row)
		}
	}
	f, err := analysis.Run(h, setting.Options{Visits: setting.VisitOptions{Asked: true}})
	if err != nil {
		t.Fatal(err)
	}
	b, err := backtest.New(h, setting.Options{})
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]string{}
	for _, p := range append(Pages(f, Options{}), BacktestPage(b, Options{})) {
		if p.Slug != recordsSlug {
			said[p.Slug] = strings.Join(face(p), "\n")
		}
	}
	return said
}

// TestValuesLeftOutAreNamed names each at the head of the pages that would count
// it, with what settles it.
func TestValuesLeftOutAreNamed(t *testing.T) {
	s := trial.Pours(60)
	first, other := &s.Placements[0], &s.Placements[3]
	first.DeliveredYd = record.Some(940.0)
	other.ClogMin, other.Clogs, other.Method = record.Some(int64(2000)), record.Some(int64(1)), "pump"
	h := record.NewHistory(trial.AsOf, s)
	f, err := analysis.Run(h, setting.Options{})
	if err != nil {
		t.Fatal(err)
	}
	delivered := "J-00000 A, concrete delivered: 940 cannot be: left out until you correct it or say it is right (pourback fix J-00000/A delivered_yd=940)."
	clogged := "J-00001 B, lost to clogs: 2000 cannot be: left out until you correct it or say it is right (pourback fix J-00001/B clog_min=2000)."
	want := map[string][]string{IndexSlug: {delivered, clogged}, monthSlug: {delivered}, wasteSlug: {delivered}, marginSlug: {delivered}, pumpSlug: {delivered, clogged},
		crewsSlug: nil, weatherSlug: nil, cracksSlug: nil, steelSlug: nil, recordsSlug: nil}
	got := map[string][]string{}
	for _, p := range Pages(f, Options{}) {
		got[p.Slug] = p.LeftOut
	}
	if !maps.EqualFunc(got, want, slices.Equal) {
		t.Errorf("named %q, want %q", got, want)
	}
	b, err := backtest.New(h, setting.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if named := BacktestPage(b, Options{LeftOut: h.LeftOut()}).LeftOut; !slices.Equal(named, []string{delivered}) {
		t.Errorf("the backtest names %q", named)
	}
}
