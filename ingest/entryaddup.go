package ingest

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// A visit is known by its slab and its day, so two cracks found on one visit are
// one row: as long as both, as wide as the wider. Where the second lies, and what
// else of it the row has no place for, its note says.

// addUp makes of a second finding what the visit comes to with it, so that it
// merges with nothing left to clash but what can be said of a visit only once. It
// is false where the findings are not of one kind, and nothing joins.
func (en *enterer) addUp(s *saying, rec *enteredRecord) bool {
	first, second := rec.now.(*record.Visit), s.said.(*record.Visit)
	s.Append = append(slices.Clone(s.Append), "note")
	switch {
	case second.Finding == "" || second.Finding == first.Finding:
	case first.Finding == "sound": // until this was seen
		s.take("finding")
		return true
	default:
		return false
	}
	also := en.also(s, first, second)
	s.join("note", joined(also, second.Note))
	if second.LengthFt.OK {
		second.LengthFt = record.Some(sum(first.LengthFt.Or(0), second.LengthFt.V))
		s.take("length_ft")
		if p, wrong := s.table.Column("length_ft").RangeProblem(second.LengthFt.V); wrong && p.Severity == record.Error {
			p.Wrong += ", with what was found before"
			en.refuse(rec.name, p)
		}
	}
	if second.WidthIn.OK {
		second.WidthIn = record.Some(max(first.WidthIn.Or(0), second.WidthIn.V))
		s.take("width_in")
	}
	return true
}

// also says what the second finding adds: "also 3 ft at 0.72, 0.10". What the row
// can hold of it, as the first does not say, goes there; of the rest the first's
// stays, and this tells the second's.
func (en *enterer) also(s *saying, first, second *record.Visit) string {
	var told []string
	if v := second.LengthFt; v.OK {
		told = append(told, record.FieldText(&v)+" ft")
	}
	if v := second.WidthIn; v.OK {
		told = append(told, record.FieldText(&v)+" in wide")
	}
	if v := second.CrackKind; v != "" && first.CrackKind != "" && v != first.CrackKind {
		told = append(told, v)
		s.leave("crack_kind")
	}
	if v := second.AtJoint; v != 0 && first.AtJoint != 0 && v != first.AtJoint {
		told = append(told, map[record.Flag]string{record.Yes: "at a joint", record.No: "at no joint"}[v])
		s.leave("at_joint")
	}
	text := strings.Join(told, ", ")
	if first.SpotX.OK && first.SpotY.OK && second.SpotX.OK && second.SpotY.OK {
		text += fmt.Sprintf(" at %.2f, %.2f", second.SpotX.V, second.SpotY.V)
		s.leave("spot_x")
		s.leave("spot_y")
	}
	if text == "" {
		return ""
	}
	return "also " + strings.TrimSpace(text)
}

// joined are texts one behind the other, without those that say nothing.
func joined(texts ...string) string {
	return strings.Join(slices.DeleteFunc(texts, func(s string) bool { return s == "" }), between)
}

// sum adds lengths, without the dust of binary fractions.
func sum(a, b float64) float64 { return math.Round((a+b)*1e9) / 1e9 }

// take has the row's value of a column take the place of any other.
func (s *saying) take(column string) { s.takes[s.table.Index(column)] = true }

// leave takes a column's value out of the row.
func (s *saying) leave(column string) { s.given[s.table.Index(column)] = false }

// join has the row say a text in a column.
func (s *saying) join(column, text string) {
	i := s.table.Index(column)
	*s.said.Fields()[i].(*string), s.texts[i], s.given[i] = text, text, text != ""
}

// clashWhole is the clash of a row that does not join what is on record in any
// column.
func (s *saying) clashWhole(rec *enteredRecord) (clashes []EntryClash) {
	for i, c := range s.table.Columns {
		if there := rec.now.Fields()[i]; s.given[i] && !c.Key && !sameText(s.said.Fields()[i], there) {
			clashes = append(clashes, EntryClash{c.Name, record.FieldText(there), enteredText(s, i), record.FieldText(s.shown.Fields()[i])})
		}
	}
	return clashes
}
