package ingest_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourback/ingest/record"
)

var update = flag.Bool("update", false, "write README.md anew from record.Tables")

// TestRecordPage holds the page on the record files to the tables it describes.
func TestRecordPage(t *testing.T) {
	want := recordPage(t)
	if *update {
		if err := os.WriteFile("README.md", []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Error("README.md does not follow record.Tables; go test ./ingest -run TestRecordPage -update writes it anew")
	}
}

func recordPage(t *testing.T) string {
	sample, err := os.ReadFile(filepath.Join("..", "testdata", "sample", "placements.csv"))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.WriteString(pageTop)
	fmt.Fprintf(&b, "```csv\n%s```\n\n", sample)
	b.WriteString(pageRules)
	for _, table := range record.Stored {
		if found := "\n## %s\n%s "; table == record.Pictures {
			fmt.Fprintf(&b, found+pagePictures, table.Name, table.Doc)
		} else {
			fmt.Fprintf(&b, found+"Found by the file's or sheet's name (also: %s), or by its columns.\n\n", table.Name, table.Doc, strings.Join(table.Synonyms, ", "))
		}
		b.WriteString("| column | what stands in it | also headed | |\n| --- | --- | --- | --- |\n")
		for _, c := range table.Columns {
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", c.Name, holds(&c), strings.Join(c.Synonyms, ", "), marks(&c))
		}
	}
	return b.String()
}

// holds says what a column is for, in which unit and in which words.
func holds(c *record.Column) string {
	s := c.Doc
	switch c.Kind {
	case record.KindNumber, record.KindCount:
		if c.Unit != nil {
			s += "; in " + c.Unit.Label
		}
		if c.Kind == record.KindCount {
			s += "; a whole number"
		}
	case record.KindMoney:
		s += "; money"
	case record.KindDate:
		s += "; a date"
	case record.KindMoment:
		s += "; date and time"
	case record.KindFlag:
		s += "; yes or no"
	case record.KindWord:
		s += ": " + strings.Join(c.Words.Words, ", ")
		if c.Words.Open {
			s += ", or a word of your own"
		}
	}
	return s
}

func marks(c *record.Column) string {
	var m []string
	if c.Required {
		m = append(m, "required")
	}
	if c.Key {
		m = append(m, "key")
	}
	return strings.Join(m, ", ")
}

const pagePictures = `Found by the name of its CSV
file alone. ` + "`pourback export`" + ` writes one, with the pictures in the folder ` + "`pictures`" + ` beside it, which
come in again to the byte; ` + "`pourback picture`" + ` keeps single ones. JPEG, PNG and WebP are taken, up to 10 MB; what is
kept is the picture alone, upright and at most 2,048 pixels long.

`

const pageTop = `# The record files
What pourback reads: CSV files, one table each, or XLSX workbooks, one table a sheet. The first row names the
columns, in any order, in any letter case, with spaces, dashes or underscores.

A history can be given in two ways, and both give the same figures:

- **a job log**: the one table ` + "`placements`" + `, a row for each stretch of concrete, with its summary columns filled in
  (delivered, labor hours, clogs, delays, first callback). The columns of ` + "`jobs`" + ` may stand in it as well. An amount
  of a job that has several rows is written once, or the same on each row; different amounts on a job's rows are
  taken for shares, and add up.
- **in full**: seven tables, a row for each event. Summaries are then computed from the events. Where both are given
  for one placement the events win, and a difference is reported.

A placement is one stretch of concrete of one use, thickness, reinforcement and joint layout: a job with a
driveway that has mesh and a side walk that has none is two placements.

## A job log to copy
Invented; [the file](../testdata/sample/placements.csv).

`

const pageRules = `## How it is read
- A number has the unit of its column's name, unless it bears its own (` + "`7' 6\"`, `4 1/2 in`, `4½`, `90 mm`, `7.6 m3`, `29 C`, `20 min`, `1 h 15 min`, `$1,250.00`" + `)
  or the heading names another (` + "`thickness mm`, `delivered m3`" + `).
- Empty, ` + "`n/a`, `-`, `?` and `tbd`" + ` are missing, and missing is never zero. A range such as ` + "`75-80`" + ` is read as its middle, with a
  warning.
- Dates are ISO (` + "`2025-06-03`" + `), a spreadsheet's own, or month/day/year; ` + "`--date-order dmy`" + ` reads the day first. A date that
  this alone decides is counted in the summary.
- A row with an error is set aside, with all its problems, in a file that can be mended and handed in again.
  Unlikely but possible values are kept with a warning and listed in the report under records to check.
- A value that cannot be beside its own row (1,100 yd³ on a slab of 1.7) is kept on record, named, and left out of every
  figure until it is corrected or said to be right: ` + "`pourback fix`" + ` does both, and ` + "`said_right`" + ` holds what was said.
- Handing in a file twice changes nothing. A row with a key that is known updates its record: a column that the file
  does not have stays as it was, an empty cell in a column that it has makes the value missing. The earlier values
  stay in the change log, and ` + "`pourback undo`" + ` takes a batch back whole.
- Columns of no use here are kept with their rows as they were written, named once, and come out again by
  ` + "`pourback export`" + `; sheets that hold no records are left out and named. Further headings and words are settings.
`
