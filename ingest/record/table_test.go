package record

import (
	"strings"
	"testing"
)

// TestFieldsFollowColumns holds the two halves of a table together: every
// column has a field, in the same place, of the type of its kind.
func TestFieldsFollowColumns(t *testing.T) {
	for _, table := range Stored {
		row := table.New()
		if row.Table() != table {
			t.Errorf("%s: a new row belongs to %s", table.Name, row.Table().Name)
		}
		fields := row.Fields()
		if len(fields) != len(table.Columns) {
			t.Fatalf("%s: %d fields for %d columns", table.Name, len(fields), len(table.Columns))
		}
		for i, c := range table.Columns {
			var ok bool
			switch c.Kind {
			case KindText, KindWord:
				_, ok = fields[i].(*string)
			case KindNumber:
				_, ok = fields[i].(*Number)
			case KindCount:
				_, ok = fields[i].(*Count)
			case KindMoney:
				_, ok = fields[i].(*Money)
			case KindDate:
				_, ok = fields[i].(*Date)
			case KindMoment:
				_, ok = fields[i].(*Moment)
			case KindFlag:
				_, ok = fields[i].(*Flag)
			}
			if !ok {
				t.Errorf("%s.%s: a field of type %T", table.Name, c.Name, fields[i])
			}
			if (c.Kind == KindWord) != (c.Words != nil) {
				t.Errorf("%s.%s: words and kind disagree", table.Name, c.Name)
			}
			if c.Doc == "" {
				t.Errorf("%s.%s is not explained", table.Name, c.Name)
			}
			if c.Unit != nil && c.Kind == KindNumber && c.Unit != Percent && !strings.HasSuffix(c.Name, "_"+c.Unit.Name) && c.Name != "hours" && c.Name != "yards" {
				t.Errorf("%s.%s does not bear its unit %s", table.Name, c.Name, c.Unit.Name)
			}
		}
	}
}

// TestHeadingsAreUnambiguous demands that no heading means two columns of a table.
func TestHeadingsAreUnambiguous(t *testing.T) {
	for _, table := range Stored {
		means := map[string]string{}
		for _, c := range table.Columns {
			for _, h := range append([]string{c.Name}, c.Synonyms...) {
				if other, taken := means[Fold(h)]; taken && other != c.Name {
					t.Errorf("%s: %q means both %s and %s", table.Name, h, other, c.Name)
				}
				means[Fold(h)] = c.Name
			}
		}
	}
}
