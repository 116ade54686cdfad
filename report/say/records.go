package say

import (
	"strings"

	"pourback/ingest/record"
)

// Records says what in the records deserves a look.
type Records struct{ *Voice }

func (w Records) Title() string { return w.text("Records to check") }

// Will is what the page will say once there are records, and Takes what it takes.
func (w Records) Will() string  { return w.text("which values in the records deserve a second look") }
func (w Records) Takes() string { return w.text("records") }

// mostLeftOut is how many values left out are named; the table has them all.
const mostLeftOut = 3

// Answer says how many records deserve a look, the values that are left out of
// the figures first.
func (w Records) Answer(n int, leftOut []record.Problem) string {
	if len(leftOut) == 0 {
		return w.look(n)
	}
	return strings.Join(w.AllLeftOut(leftOut), " ") + " " + w.plural(n, "1 record deserves a look.|{n} records deserve a look. All other values count as they stand.", nil)
}

// AllLeftOut says it of each value, of many of the first and how many more there
// are.
func (w Records) AllLeftOut(leftOut []record.Problem) []string {
	var said []string
	for _, p := range leftOut[:min(len(leftOut), mostLeftOut)] {
		said = append(said, w.LeftOut(p))
	}
	if more := len(leftOut) - len(said); more > 0 {
		said = append(said, w.plural(more, "1 more value is left out.|{n} more values are left out.", nil))
	}
	return said
}

// LeftOut says of a value that it cannot be, and how to say that it is right:
// "J-12 A, concrete delivered: 1100 cannot be: left out until you say it is right
// (pourback fix J-12/A delivered_yd=1100)."
func (w Records) LeftOut(p record.Problem) string {
	if w.OnSite {
		return w.say("{where}, {column}: {value} cannot be: left out until you correct it or say it is right, on its job's page under “Records”.",
			with{"where": Clean(p.Record, ShortName), "column": Lower(w.columnName(p.Column)), "value": Clean(p.Value, ShortName)})
	}
	return w.say("{where}, {name}: {value} cannot be: left out until you correct it or say it is right (pourback fix {at} {column}={value}).",
		with{"name": Lower(w.columnName(p.Column)), "at": Clean(fixedAt(p), ShortName), "where": Clean(p.Record, ShortName), "column": Clean(p.Column, ShortName), "value": Clean(p.Value, ShortName)})
}

// fixedAt is the record of a problem as `pourback fix` takes it: J-12, J-12/A.
func fixedAt(p record.Problem) string {
	if placement, of := strings.CutPrefix(p.Record, p.Job+" "); of {
		return p.Job + "/" + placement
	}
	return p.Job
}

func (w Records) look(n int) string {
	if n == 0 {
		return w.text("Nothing in the records looks out of place.")
	}
	return w.plural(n, "1 record deserves a look. It counts in the figures as it stands.|{n} records deserve a look. All of them count in the figures as they stand.", nil)
}

// Basis says what was looked at.
func (w Records) Basis(placements, jobs int) string {
	return w.say("{placements} in {jobs}, and all that belongs to them.", with{"placements": w.Placements(placements), "jobs": w.Jobs(jobs)})
}

// Reading says how the counts are to be read.
func (w Records) Reading() string { return w.text("Counts are exact.") }

// Method is how the records were checked.
func (w Records) Method() string {
	return w.text("Each value is checked against the usual range of its column, and each row's columns against one another. Totals are checked against the records behind them, and each placement's concrete against what is usual for its kind. What is impossible was set aside when it was handed in. What is only unusual is kept, counted and listed here.")
}

// Kind is a kind of problem by its code and column: "Above usual range,
// humidity".
func (w Records) Kind(code, column string) string {
	kind := w.Code(code)
	if column == "" {
		return kind
	}
	return w.say("{kind}, {column}", with{"kind": kind, "column": Lower(w.columnName(column))})
}

// KindCaption is a kind with how many records it was found in.
func (w Records) KindCaption(kind string, n int) string {
	return w.plural(n, "{kind}: 1 record|{kind}: {n} records", with{"kind": kind})
}

// The words of the tables.
func (w Records) ByKind() string        { return w.text("By kind") }
func (w Records) ByKindCaption() string { return w.text("What was found") }
func (w Records) HeadFinding() string   { return w.text("Finding") }
func (w Records) HeadColumn() string    { return w.text("Column") }
func (w Records) HeadTimes() string     { return w.text("Times") }
func (w Records) HeadRecord() string    { return w.text("Record") }
func (w Records) HeadOdd() string       { return w.text("What is odd") }

// MoreOf says how many of a kind a table leaves out.
func (w Records) MoreOf(n, all int) string {
	return w.say("And {n} more of {all}: fix these first.", with{"n": Count(n), "all": Count(all)})
}

// Rarer says how many kinds are only counted.
func (w Records) Rarer(n int) string {
	return w.plural(n, "1 rarer kind is only counted.|{n} rarer kinds are only counted.", nil)
}

// ToFix says how a record is mended.
func (w Records) ToFix() string {
	return w.text("To fix one, correct the row in your file and hand the file in again. The old value stays in the change log.")
}

// FromLog says how many placements a job log alone shows.
func (w Records) FromLog(n int) string {
	return w.plural(n, "1 placement was found from the job log alone. The other records are about jobs, loads, delays, hours, costs, visits and volumes.|{n} placements were found from the job log alone. The other records are about jobs, loads, delays, hours, costs, visits and volumes.", nil)
}
