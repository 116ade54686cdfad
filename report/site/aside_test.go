package site

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"pourback/ingest/store/storetest"
)

// twoTabs is a workbook of record rows on two tabs, each with a slip of the hand.
func twoTabs(t testing.TB) []byte {
	t.Helper()
	x := excelize.NewFile()
	defer x.Close()
	for i, tab := range []string{"May", "June"} {
		if _, err := x.NewSheet(tab); err != nil {
			t.Fatal(err)
		}
		for row, cells := range [][]any{{"job_no", "placed_on", "use", "area_sqft", "thickness_in"}, {fmt.Sprint("J-", i), fmt.Sprintf("2025-0%d-03", 5+i), "patio", 400, 4},
			{fmt.Sprint("K-", i), fmt.Sprintf("2025-0%d-04", 5+i), "patio", 400, 45}} {
			if err := x.SetSheetRow(tab, fmt.Sprintf("A%d", row+1), &cells); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := x.DeleteSheet("Sheet1"); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := x.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestRowsToFixOfABatch: the page of a batch names the tab of its rows to fix, and
// offers to fix them as long as the batch stands.
func TestRowsToFixOfABatch(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		b := p.surfer()
		batch := b.keep(b.waiting("book.xlsx", twoTabs(t)))
		at := batchPath(batch)
		page := b.get(at)
		page.says(t, "May, Placements: 1 row was set aside", "June, Placements: 1 row was set aside", ">Fix them<")
		b.post(at+"/undo", keyField, page.key(t))
		page = b.get(at)
		page.says(t, "May, Placements: 1 row was set aside", "hand in the file again")
		if strings.Contains(page.body, "Fix them") {
			t.Error("rows of an undone batch are offered to be fixed")
		}
		if got := b.post(at+"/fix", keyField, newKey(), "part", "0"); got.status != 409 {
			t.Errorf("rows of an undone batch wait to be fixed: %v", got)
		}
	})
}

// TestHoursOfEachAreSaidAsRead: where the hours of each of a crew are read times the
// people, the page says so.
func TestHoursOfEachAreSaidAsRead(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	page := b.get(b.waiting("book.xlsx", ownersBook(t)))
	page.says(t, `<bdi>Hrs each</bdi></th><td data-head="Read as">Hours of each person, times the people of the row</td>`)
	if strings.Contains(page.body, `<bdi>Hrs each</bdi></th><td data-head="Read as">Crew hours`) {
		t.Error("hours of each are said to be those of all")
	}
}
