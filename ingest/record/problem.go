package record

import (
	"fmt"
	"strings"
)

// Severity says what a problem does to its row.
type Severity int8

const (
	// Warning marks a value that is kept and listed among the records to check.
	Warning Severity = iota
	// Error sets the row aside.
	Error
)

func (s Severity) String() string {
	if s == Error {
		return "error"
	}
	return "warning"
}

// Problem is something wrong with what was handed in: where it stands, the
// value as written, what is wrong and what would be right.
type Problem struct {
	Severity Severity
	Code     string // stable name of the rule, such as "too-thick"
	File     string
	Sheet    string // "" where the file has one table
	Row      int    // as the user's spreadsheet numbers it; 0 where no row is meant
	Job      string // the job it is about, where that is known
	Record   string // the record meant, where there is no file to point at: "J-104 A"
	Column   string // "" where no column is meant
	Value    string // as written
	Wrong    string // what is wrong: "thicker than 24 in"
	Right    string // what would be right: "did you mean 4.5?"; may be ""
}

// String is the message as a user reads it:
//
//	jobs.xlsx, placements, row 41, thickness_in "45": thicker than 24 in; did you mean 4.5?
func (p Problem) String() string {
	var where []string
	for _, s := range []string{p.File, p.Sheet} {
		if s != "" {
			where = append(where, Shown(s))
		}
	}
	if p.Row > 0 {
		where = append(where, fmt.Sprintf("row %d", p.Row))
	}
	if p.Record != "" {
		where = append(where, p.Record)
	}
	if p.Column != "" {
		column := p.Column
		if p.Value != "" {
			column += fmt.Sprintf(" %q", shorten(p.Value))
		}
		where = append(where, column)
	}
	if len(where) == 0 {
		return p.Text()
	}
	return strings.Join(where, ", ") + ": " + p.Text()
}

// Text is the message without its place.
func (p Problem) Text() string {
	if p.Right == "" {
		return p.Wrong
	}
	return p.Wrong + "; " + p.Right
}

func shorten(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}
