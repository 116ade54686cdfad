package ingest

import (
	"fmt"
	"slices"
	"strings"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// Unused is a column that no record holds. What stands in it is kept with its
// rows as it was written, and comes out again by [Export].
type Unused struct {
	Sheet   string `json:"sheet,omitempty"`
	Table   string `json:"table"`
	Heading string `json:"heading"`
	Loud    bool   `json:"might_be_needed"` // its heading speaks of yards, hours, money …
}

// unused notes the table's columns of no use, each once for a file. One that
// speaks of figures, and of which nothing else was said and nobody has said that
// it is of no use, is a warning: what it holds may be missed.
func (r *Result) unused(t *sheet.Table, answers []sheet.Answer) {
	for _, heading := range t.Unknown {
		u := Unused{Sheet: t.Sheet, Table: t.Records.Name, Heading: heading}
		if slices.ContainsFunc(r.Unused, func(o Unused) bool { return o.Table == u.Table && o.Heading == u.Heading }) {
			continue
		}
		u.Loud = sheet.SpeaksOfFigures(heading) && !t.InDoubt(heading) && !sheet.Answered(answers, t.Sheet, heading)
		if u.Loud {
			r.say(record.Problem{Severity: record.Warning, Code: "column-not-used", File: t.File, Sheet: t.Sheet, Column: "column", Value: heading,
				Wrong: "not used, and its heading speaks of figures", Right: fmt.Sprintf("say what it is: --map %q, or nothing behind the = if it is of no use", heading+"=COLUMN")})
		}
		r.Unused = append(r.Unused, u)
	}
}

// unusedOf is what stands in a row's columns of no use, fit for the store. Two
// columns of one heading share a place, the second's text behind the first's.
func unusedOf(row *sheet.Row) map[string]string {
	cells := row.Unused()
	if len(cells) == 0 {
		return nil
	}
	values := make(map[string]string, len(cells))
	for _, c := range cells {
		heading, text := storable(c.Heading), storable(c.Text)
		if earlier := values[heading]; earlier != "" {
			text = earlier + " | " + text
		}
		values[heading] = text
	}
	return values
}

// storable puts a mark where bytes are no characters.
func storable(s string) string {
	return strings.ReplaceAll(strings.ToValidUTF8(s, "\uFFFD"), "\x00", "\uFFFD")
}
