package visits

import (
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// By hand: at $46 a drive two sites of four pay ($62 and $50), and one more is
// gone to anyhow. At $51 one does, so the cost of the drive turns it there; at
// half of it ($23) a third does too ($30).
func TestWhatTurnsTheVisitsByHand(t *testing.T) {
	worth := func(v float64) figure.Figure {
		return figure.Figure{Value: v, Low: v / 2, High: v * 2, Level: 0.9, Bounded: true, OK: true}
	}
	sites := []siteWorth{{worth(62), false}, {worth(50), false}, {worth(30), false}, {worth(8), false}, {worth(400), true}}
	a := &after{drive: 46, cost: figure.Assumption{What: "cost of a crack callback", Value: 800, Off: 40}, visits: setting.DefaultVisitPlan()}
	levers := a.turnedBy(sites, 4)
	if len(levers) != 2 {
		t.Fatalf("%+v", levers)
	}
	by := map[figure.Assumed]figure.Lever{}
	for _, l := range levers {
		by[l.Input] = l
	}
	drive, chance := by[DriveCost], by[MeanChance]
	if drive.Low != 23 || drive.High != 92 || drive.AtLow != 4 || drive.AtHigh != 1 || !drive.Within || drive.Turns.V < 50 || drive.Turns.V > 52 {
		t.Errorf("%+v", drive)
	}
	if chance.AtLow != 1 || chance.AtHigh != 4 || !chance.Within {
		t.Errorf("%+v", chance)
	}
	a.visits.DriveMinutes++ // now it is the owner's own
	for _, l := range a.turnedBy(sites, 4) {
		if l.Input == DriveCost && (l.High > 51 || l.AtHigh != 2 && l.AtHigh != 3) {
			t.Errorf("%+v", l)
		}
	}
	a.drive = 0
	if levers := a.turnedBy(sites, 4); levers == nil || len(levers) != 0 {
		t.Errorf("no drive is weighed: %+v", levers)
	}
}
