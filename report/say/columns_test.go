package say

import (
	"testing"

	"pourback/ingest/record"
)

// TestEveryColumnHasALabel: no column is shown by the name that files have for it.
func TestEveryColumnHasALabel(t *testing.T) {
	v := New("", "", "")
	for _, table := range record.Tables {
		if v.RecordTable(table.Name) == table.Name {
			t.Errorf("%s has no name", table.Name)
		}
		met := map[string]string{}
		for _, c := range table.Columns {
			label := v.ColumnLabel(table.Name, c.Name)
			if v.columnName(c.Name) == c.Name {
				t.Errorf("%s.%s has no label", table.Name, c.Name)
			}
			if other := met[label]; other != "" {
				t.Errorf("%s: %s and %s are both called %q", table.Name, other, c.Name, label)
			}
			met[label] = c.Name
		}
	}
}
