package bid

import (
	"testing"

	"pourback/analysis/concrete"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// reckonerOf reckons on a ground of its own.
func reckonerOf(h *record.History, spec Spec, opt setting.Options) ([]Reckoner, error) {
	g, err := GroundOf(h, opt)
	if err != nil {
		return nil, err
	}
	return g.Reckoner(spec)
}

// TestReckonerSaysWhatBalanceSays: each cell is the balance call at that point
// with nothing on hand; more placed on the same area wants more for the rest,
// and more covered wants less. (Laws; no outside source.)
func TestReckonerSaysWhatBalanceSays(t *testing.T) {
	opt := setting.Options{Order: setting.DefaultOrderCosts()}
	opt.Order.HoldBackFrom = 0 // whatever it saves
	h, spec := saltgrass(t, 120, 3), Spec{Placements: []Placement{{Use: "driveway", LengthFt: 66, WidthFt: 24, ThicknessIn: 4, Method: "pump"}}}
	days, err := reckonerOf(h, spec, opt)
	if err != nil || len(days) != 1 || len(days[0].Rows) < 5 {
		t.Fatalf("%v, %v", days, err)
	}
	if call := bidOf(t, h, spec, opt).Days[0].Hold.CallAt; days[0].Rows[0].Covered > call {
		t.Errorf("the table begins at %v covered, the call is due at %v", days[0].Rows[0].Covered, call)
	}
	var lastMiddle float64
	for i, row := range days[0].Rows {
		for k, c := range row.Cells {
			call, err := Balance(h, spec, opt, 0, concrete.Progress{PlacedYd: c.PlacedYd, Covered: row.Covered})
			if err != nil || call.CallYd != c.HaveYd {
				t.Errorf("%.0f %% by %v yd: %v, where the balance is %v (%v)", 100*row.Covered, c.PlacedYd, c.HaveYd, call.CallYd, err)
			}
			if k > 0 && (c.PlacedYd <= row.Cells[k-1].PlacedYd || c.HaveYd < row.Cells[k-1].HaveYd) {
				t.Errorf("%.0f %%: %v after %v", 100*row.Covered, c, row.Cells[k-1])
			}
		}
		middle := row.Cells[len(row.Cells)/2].HaveYd
		if i > 0 && middle >= lastMiddle {
			t.Errorf("%v yd at %.0f %% covered, and %v before", middle, 100*row.Covered, lastMiddle)
		}
		lastMiddle = middle
	}
}
