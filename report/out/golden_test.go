package out

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/report/chart"
	"pourback/report/internal/trial"
	"pourback/report/page"
	"pourback/report/say"
)

var update = flag.Bool("update", false, "write the golden files anew, to be looked at")

// golden holds got against a file that a person has looked at.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; look at it with go test -update and git diff. It is now:\n%s", path, got)
	}
}

// fixedPages have one of everything that a page can hold, whatever the
// analysis may come to say.
func fixedPages() []page.Page {
	type row struct {
		kind string
		n    int
		mean figure.Figure
		half say.Cell
	}
	a := say.New("", "", "")
	lone := a.Cell(say.Measure{}, figure.Figure{Why: figure.TooFew{}})
	table := page.TableOf("Waste by kind of placement", []row{
		{"driveway, chute", 113, trial.Bounded(0.0641, 0.0574, 0.0709), a.Known(say.Percent, trial.Bounded(0.06, 0.05, 0.07))},
		{"walkway with a border of exposed aggregate, pump", 30, trial.Bounded(0.22, 0.2, 0.24), a.Known(say.Percent, trial.Bounded(0.23, 0.19, 0.26))},
		{"steps, barrow", 4, trial.Bounded(0.11, 0.08, trial.Inf), a.Known(say.Percent, trial.Bounded(0.11, -trial.Inf, trial.Inf))},
		{"<b>patio</b>, עגורן", 2, trial.Bounded(0.05, -trial.Inf, trial.Inf), lone},
	},
		page.ColumnOf[row]{Head: "Kind", Cell: func(r row) say.Cell { return say.Word(r.kind) }},
		page.ColumnOf[row]{Head: "Average", Number: true, Cell: func(r row) say.Cell { return a.Known(say.Percent, r.mean) }},
		page.ColumnOf[row]{Head: "Half stayed under", Number: true, Cell: func(r row) say.Cell { return r.half }},
		page.ColumnOf[row]{Head: "Next", Number: true, Ahead: true, Cell: func(r row) say.Cell { return a.Cell(say.Percent, figure.Figure{}) }},
		page.ColumnOf[row]{Head: "Placements", Number: true, Cell: func(r row) say.Cell { return say.Whole(r.n) }})
	table.More = "And 7 more; `pourback factors --json` has them all."
	waste := page.Page{Slug: "waste", Title: "Waste", Answer: "Your jobs used 8% more concrete than the drawings called for (between 7 and 9).",
		Basis: "149 placements, poured May 2, 2023 to October 24, 2026.", Reading: "A range is drawn so that 9 times in 10 it holds the true figure.",
		Exhibits: []page.Exhibit{{Title: "By kind of placement", Says: "Each kind in its row.", Chart: chart.RowPlot{ID: "chart-waste", Says: "A point for each kind of placement.", Scale: "waste, %", Series: []chart.RowSeries{{Name: "average", Hue: chart.Own}},
			Rows: []chart.Row{{Label: "driveway, chute", Amounts: []chart.Amount{ranged(6.41, 5.74, 7.09)}}, {Label: "<b>", Amounts: []chart.Amount{ranged(11, 8, trial.Inf)}},
				{Label: "steps, barrow", Amounts: []chart.Amount{chart.Of(figure.Figure{}, 100, "not known, so not drawn")}}}}.Chart(), Table: table}},
		Notes:    []string{"Hand in a job log with `pourback ingest FILE`.", "Tags such as <script> are text."},
		Cautions: []page.Caution{page.PluggedHose, page.SilicaDust}, Decides: a.CautionsEnd(), Method: []string{"Used over neat, less one."}}
	index := page.Page{Slug: page.IndexSlug, Title: "Saltgrass Flatwork", Answer: "149 placements say the following.", Tiles: []page.Tile{{Slug: waste.Slug, Title: waste.Title, Big: "Add 8%", Says: "More than the drawings called for."}, {Slug: waste.Slug, Title: "<b>", Big: "<i>", Says: "<script>", Lines: []page.TileLine{{What: "<b>", Much: "<i>"}}}}}
	return []page.Page{index, waste}
}

func TestTopicMarkup(t *testing.T) {
	var b bytes.Buffer
	for _, p := range fixedPages() {
		v := view(p, func(slug string) string { return slug + ".html" })
		if err := templates.ExecuteTemplate(&b, "topic", v); err != nil {
			t.Fatal(err)
		}
	}
	golden(t, "topic.html", append(b.Bytes(), '\n'))
}

func TestTerminalPages(t *testing.T) {
	for name, c := range map[string]struct {
		width  int
		colour bool
	}{"terminal-80.txt": {0, false}, "terminal-48.txt": {48, false}, "terminal-colour.txt": {100, true}} {
		var b bytes.Buffer
		if err := Terminal(&b, fixedPages(), c.width, c.colour); err != nil {
			t.Fatal(err)
		}
		golden(t, name, b.Bytes())
	}
}

// What the pages say where there is nothing, or next to nothing, to go by.
func TestPagesOfLittle(t *testing.T) {
	for name, s := range map[string]record.Set{"terminal-empty.txt": {}, "terminal-one.txt": trial.OnePlacement(), "terminal-empty-es.txt": {}, "terminal-one-es.txt": trial.OnePlacement()} {
		var b bytes.Buffer
		lang := "en"
		if strings.Contains(name, "-es") {
			lang = "es"
		}
		if err := Terminal(&b, page.Pages(trial.FactorsOf(t, s, setting.Options{}), page.Options{Lang: lang}), 0, false); err != nil {
			t.Fatal(err)
		}
		golden(t, name, b.Bytes())
	}
}
