package sheet

import (
	"slices"
	"strings"

	"pourback/ingest/record"
)

// namesAll says whether the headings name every column that the table had
// in the first release by its own name, as an export does. Nothing is left to
// understand then: whatever else stands there is of no use, however much its
// heading may look like one of ours.
func namesAll(t *record.Table, names []string) bool {
	for _, c := range t.Columns {
		if !c.Later && !slices.ContainsFunc(names, func(name string) bool { return isNamed(name, c.Name) }) {
			return false
		}
	}
	return true
}

// isOwnName says whether a heading is the own name of a column.
func isOwnName(t *record.Table, heading string) bool {
	return slices.ContainsFunc(t.Columns, func(c record.Column) bool { return isNamed(heading, c.Name) })
}

func isNamed(heading, column string) bool {
	return strings.EqualFold(strings.TrimSpace(heading), column)
}

// apart is a heading of no use as it can stand beside the record's own columns:
// one that bears the name of one of them, or that of the reasons for which rows
// are set aside, is marked.
func apart(t *record.Table, heading string) string {
	if isOwnName(t, heading) || strings.EqualFold(strings.TrimSpace(heading), setAsideColumn) {
		return heading + " (not used)"
	}
	return heading
}
