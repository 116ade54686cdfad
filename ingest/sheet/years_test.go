package sheet

import (
	"testing"

	"github.com/xuri/excelize/v2"

	"pourback/ingest/record"
)

// TestTabAYear: a day without its year is of its tab's year where each tab is of
// one. Where a tab names no year, or two name the same, nobody knows.
func TestTabAYear(t *testing.T) {
	rows := func(days ...string) (rows [][]any) {
		rows = append(rows, []any{"Ticket", "Who for", "Poured on", "What", "L", "W", "Deep", "Mud used"})
		for i, day := range days {
			rows = append(rows, []any{"T" + days[0] + string(rune('a'+i)), "Elm", day, "patio", 20 + i, 10, `4"`, 2.75})
		}
		return rows
	}
	first := rows("2/6/24", "Feb 11", "March 4, 2024", "Mar 13", "4/2/24", "May 6, 2024")
	second := rows("2/5/25", "Feb 10", "March 6, 2025", "Mar 13", "4/9/25", "May 7, 2025")
	for _, c := range []struct {
		one, two string
		want     []string // what Feb 11, Mar 13, Feb 10, Mar 13 are read as
	}{
		{"Done 2024", "Done 2025", []string{"2024-02-11", "2024-03-13", "2025-02-10", "2025-03-13"}},
		{"Done", "Done 2025", []string{"", "", "", ""}},
		{"Since 2024", "2024 too", []string{"", "", "", ""}},
	} {
		book := makeWorkbook(t, c.one, first, func(x *excelize.File) {
			_, err := x.NewSheet(c.two)
			must(t, err)
			for i, row := range second {
				cell, _ := excelize.CoordinatesToCellName(1, i+1)
				must(t, x.SetSheetRow(c.two, cell, &row))
			}
		})
		f, err := open("jobs.xlsx", string(book), Options{})
		must(t, err)
		var got []string
		for _, table := range f.Tables {
			for row, err := range table.Rows() {
				must(t, err)
				if n := row.Number; n == 3 || n == 5 {
					day := ""
					if p, ok := row.Record.(*record.Placement); ok && p.PlacedOn != 0 {
						day = p.PlacedOn.String()
					}
					got = append(got, day)
				}
			}
		}
		for i := range c.want {
			if len(got) != len(c.want) || got[i] != c.want[i] {
				t.Errorf("%s and %s: read as %q, not %q", c.one, c.two, got, c.want)
				break
			}
		}
	}
}
