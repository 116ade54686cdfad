package say

import (
	"testing"

	"pourback/ingest/record"
)

// TestSpanishWordsOfTheSheetAreRead: what the Spanish sheet offers to be written down
// is understood when it is handed in.
func TestSpanishWordsOfTheSheetAreRead(t *testing.T) {
	es := New("es", "", "")
	for _, at := range []struct {
		table  *record.Table
		column string
	}{{record.Placements, "use"}, {record.Placements, "method"}, {record.Placements, "base"}, {record.Placements, "reinforcement"}, {record.Placements, "joint_cut"},
		{record.Placements, "curing"}, {record.Delays, "cause"}, {record.Delays, "spot"}, {record.Labors, "task"}} {
		c := at.table.Column(at.column)
		for _, word := range c.Words.Words {
			if got, known := c.Words.Find(es.Word(word)); !known || got != word {
				t.Errorf("%s: %q is read as %q, want %q", at.column, es.Word(word), got, word)
			}
		}
	}
}
