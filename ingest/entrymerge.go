package ingest

import (
	"slices"
	"strings"
	"unicode/utf8"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// merge takes the values of a row over into its record, column by column, and says
// which of them clash, and whether any value of the record is another now.
func (en *enterer) merge(s *saying, rec *enteredRecord) (clashes []EntryClash, changed bool) {
	for i, c := range s.table.Columns {
		if !s.given[i] || c.Key {
			continue
		}
		mine, there, shown := s.said.Fields()[i], rec.now.Fields()[i], s.shown.Fields()[i]
		clash := false
		switch {
		case slices.Contains(s.Append, c.Name) && c.Kind == record.KindText:
			mine, clash = appended(there, mine, &c)
		case sameText(mine, there), rec.old != nil && sameText(mine, shown) && !s.takes[i]: // nothing new is said
			continue
		case s.takes[i]:
		case rec.set[i]: // by an earlier row of this entry
			en.refuse(rec.name, record.Problem{Code: codeOtherValue, Column: c.Name, Value: s.texts[i], Wrong: "an earlier row of the same key says " + record.FieldText(there), Right: "one value for each column"})
			continue
		default:
			clash = rec.old != nil && !sameText(there, shown)
		}
		if clash {
			clashes = append(clashes, EntryClash{c.Name, record.FieldText(there), enteredText(s, i), record.FieldText(shown)})
			continue
		}
		if !sameText(mine, there) {
			record.CopyField(there, mine)
			rec.set[i], changed = true, true
		}
	}
	return clashes, changed
}

// enteredText is a value as it was written, or as it was read where another
// column's text has said it.
func enteredText(s *saying, i int) string {
	if text, ok := s.texts[i]; ok {
		return text
	}
	return record.FieldText(s.said.Fields()[i])
}

// between is what stands between a note and what is added to it.
const between = "; "

// appended is a text with another behind it, unless it ends so already. It clashes
// where both are too long for the column.
func appended(there, more any, c *record.Column) (both any, clash bool) {
	a, b := *there.(*string), *more.(*string)
	if b == "" || a == b || strings.HasSuffix(a, between+b) {
		return there, false
	}
	b = joined(a, b)
	return &b, utf8.RuneCountInString(b) > sheet.MaxChars(c)
}
