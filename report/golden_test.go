package report

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
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
func fixedPages() []Page {
	type row struct {
		kind string
		n    int
		mean figure.Figure
		half Cell
	}
	lone := measure{}.cell(figure.Figure{Why: "one record alone shows no spread"})
	table := tableOf("Waste by kind of placement", []row{
		{"driveway, chute", 113, bounded(0.0641, 0.0574, 0.0709), percent.known(bounded(0.06, 0.05, 0.07))},
		{"walkway with a border of exposed aggregate, pump", 30, bounded(0.22, 0.2, 0.24), percent.known(bounded(0.23, 0.19, 0.26))},
		{"steps, barrow", 4, bounded(0.11, 0.08, inf), percent.known(bounded(0.11, -inf, inf))},
		{"<b>patio</b>, עגורן", 2, bounded(0.05, -inf, inf), lone},
	},
		column[row]{head: "Kind", cell: func(r row) Cell { return word(r.kind) }},
		column[row]{head: "Average", number: true, cell: func(r row) Cell { return percent.known(r.mean) }},
		column[row]{head: "Half stayed under", number: true, cell: func(r row) Cell { return r.half }},
		column[row]{head: "Next", number: true, ahead: true, cell: func(r row) Cell { return percent.cell(figure.Figure{}) }},
		column[row]{head: "Placements", number: true, cell: func(r row) Cell { return whole(r.n) }})
	table.More = "And 7 more; `pourback factors --json` has them all."
	waste := Page{Slug: "waste", Title: "Waste", Answer: "Your jobs used 8% more concrete than the drawings called for (between 7 and 9).",
		Basis: "149 placements, poured May 2, 2023 to October 24, 2026.", Reading: "A range is drawn so that 9 times in 10 it holds the true figure.",
		Exhibits: []Exhibit{{"By kind of placement", "Each kind in its row.", &Chart{ID: "chart-waste", Says: "A point for each kind of placement.", Height: 240, draw: func() *board {
			b := sideways([]string{"driveway, chute", "<b>"}, "waste, %")
			b.marks("average", "circle", percent, []shownFigure{{figure.Figure{}, "not known, so not drawn"}})
			return b
		}}, table}},
		Notes:    []string{"Hand in a job log with `pourback ingest FILE`.", "Tags such as <script> are text."},
		Cautions: []Caution{pluggedHose, silicaDust}, Method: []string{"Used over neat, less one."}}
	index := Page{Slug: IndexSlug, Title: "Saltgrass Flatwork", Answer: "149 placements say the following.", Links: []Link{{waste.Slug, waste.Title, waste.Answer}}}
	return []Page{index, waste}
}

func TestTopicMarkup(t *testing.T) {
	var b bytes.Buffer
	pages := fixedPages()
	charts := drawAll(pages)
	for _, p := range pages {
		v := view(p, charts, func(slug string) string { return slug + ".html" })
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

// onePlacement is a company's first record.
func onePlacement() record.Set {
	return record.Set{
		Jobs: []record.Job{{JobNo: "SF-1", ContractPrice: record.Some(record.Cents(2930_00)), BidCost: record.Some(record.Cents(2135_00)), ActualCost: record.Some(record.Cents(2480_00))}},
		Placements: []record.Placement{{JobNo: "SF-1", Placement: "A", PlacedOn: asOf - 40, Use: "driveway", Method: "pump", PumpOutfit: "P1", Crew: "Heron",
			CrewSize: record.Some(int64(4)), AreaSqft: record.Some(400.0), ThicknessIn: record.Some(4.0), NeatYd: record.Some(4.94), PlannedYd: record.Some(5.5), DeliveredYd: record.Some(5.75), LeftoverYd: record.Some(0.25),
			LaborHours: record.Some(28.0), DelayMin: record.Some(int64(20)), Clogs: record.Some(int64(1)), ClogMin: record.Some(int64(20)), Reinforcement: "mesh", JointSpacingFt: record.Some(10.0),
			AirTempF: record.Some(88.0), ConcreteTempF: record.Some(84.0), HumidityPct: record.Some(30.0), WindMPH: record.Some(9.0)}}}
}

// What the pages say where there is nothing, or next to nothing, to go by.
func TestPagesOfLittle(t *testing.T) {
	for name, s := range map[string]record.Set{"terminal-empty.txt": {}, "terminal-one.txt": onePlacement()} {
		var b bytes.Buffer
		if err := Terminal(&b, Pages(factorsOf(t, s, setting.Options{}), Options{}), 0, false); err != nil {
			t.Fatal(err)
		}
		golden(t, name, b.Bytes())
	}
}
