package site

import "pourback/ingest/record"

func (a *Ask) problem(field, wrong, right string) record.Problem {
	return record.Problem{Severity: record.Error, Code: "said-here", Column: field, Wrong: wrong, Right: right}
}
