package ingest

import (
	"slices"
	"strings"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// Question is a heading that is not sure: somebody is to say what it means.
type Question struct {
	Table string // the record table that its sheet is read as
	sheet.HeadingReading
}

// Questions are the headings of a file that are not sure, each once for a table
// however many sheets bear it, in the order of the file.
func Questions(r sheet.Reading) []Question {
	var asked []Question
	for _, t := range r.Tables {
		for _, h := range t.Headings {
			q := Question{t.Table, h}
			if !h.Sure && !slices.ContainsFunc(asked, func(o Question) bool { return o.Key() == q.Key() }) {
				asked = append(asked, q)
			}
		}
	}
	return asked
}

// Key tells a question from others.
func (q Question) Key() string { return q.Table + " " + sheet.Answer{Heading: q.Heading}.Key() }

// Offers are the columns to choose of, the likeliest first; "" is of no use.
func (q Question) Offers() []string {
	offers := slices.Clone(q.Choices)
	if !slices.Contains(offers, "") {
		offers = append(offers, "")
	}
	return offers
}

// Answer is that the heading means a column. It is false for one of another table
// than the sheet is read as.
func (q Question) Answer(column string) (sheet.Answer, bool) {
	answer := sheet.Answer{Heading: q.Heading, Column: column}
	return answer, column == "" || TableOf(answer) == q.Table
}

// SelfEvident says whether every heading is a column's own name, or of no use
// beside them.
func SelfEvident(r sheet.Reading) bool {
	for _, t := range r.Tables {
		for _, h := range t.Headings {
			_, own, dotted := strings.Cut(h.Column, ".")
			if !dotted {
				own = h.Column
			}
			if !h.Sure || own != "" && record.Fold(h.Heading) != record.Fold(own) {
				return false
			}
		}
	}
	return true
}

// Alike are sheets that have the same headings, understood the same way.
type Alike struct {
	Sheets []string // their names; none for a CSV file
	sheet.TableReading
}

// AlikeTables gathers the tables of a file that follow each other and are alike.
func AlikeTables(r sheet.Reading) []Alike {
	var all []Alike
	for _, t := range r.Tables {
		if n := len(all); n == 0 || !sameReading(all[n-1].TableReading, t) {
			all = append(all, Alike{TableReading: t})
		}
		if last := &all[len(all)-1]; t.Sheet != "" {
			last.Sheets = append(last.Sheets, t.Sheet)
		}
	}
	return all
}

func sameReading(a, b sheet.TableReading) bool {
	return a.Table == b.Table && slices.EqualFunc(a.Headings, b.Headings, func(x, y sheet.HeadingReading) bool {
		return x.Heading == y.Heading && x.Column == y.Column && x.Sure == y.Sure
	})
}
