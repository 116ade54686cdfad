package bid

import (
	"testing"

	"pourback/analysis/concrete"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// shed is a slab of so many neat yd³, 6 in thick.
func shed(neatYd float64) Spec {
	return Spec{On: "2026-03", Draws: 100, Placements: []Placement{{Use: "shed slab", AreaSqft: neatYd * 324 / 6, WidthFt: 12, ThicknessIn: 6}}}
}

// What one truck holds is ordered at once, and whatever is held back saves what the
// owner asks for ($75 unless set) and takes no more trucks.
func TestWhatOneTruckHoldsIsNeverSplit(t *testing.T) {
	for name, h := range map[string]*record.History{"company": saltgrass(t, 120, 2), "stranger": stranger()} {
		for _, neat := range []float64{2, 4, 6.9, 8.8, 11, 14, 19, 25, 33} {
			d := bidOf(t, h, shed(neat), setting.Options{}).Days[0]
			switch {
			case len(d.Order.Loads) == 1 && (d.TwoSteps() || d.Hold.Worth || d.Hold.Not != concrete.OneTruck):
				t.Errorf("%s, %v yd: one truck holds %v yd, and %+v", name, neat, d.Order.Yd, d.Hold)
			case d.Hold.Worth && (d.Hold.Saves < 75 || len(d.Hold.Loads) >= len(d.Order.Loads) || d.Hold.Short > d.Order.ChanceShort.Figure.Value):
				t.Errorf("%s, %v yd: %+v for %+v", name, neat, d.Hold, d.Order)
			case !d.Hold.Worth && d.Hold.Not == "":
				t.Errorf("%s, %v yd: nothing held back, and not why", name, neat)
			}
		}
	}
}

// Running short, by hand: a fee of 100, 20 + 25 minutes for 4 people at 48 an hour
// = 144, a pump at 150 an hour = 112.50, and a cold joint of 250 where the edge
// stays open no longer than the truck takes: never within 60 minutes in March,
// always past 30 in July. (Common practice, no published source.)
func TestWhatRunningShortCosts(t *testing.T) {
	for _, c := range []struct {
		on, method string
		haul       float64
		want       RunningShort
	}{
		{"2026-03", "chute", 0, RunningShort{Cost: 244, Fee: 100, Crew: 144, WaitMin: 45}},
		{"2026-07", "chute", 0, RunningShort{Cost: 494, Fee: 100, Crew: 144, ColdJoint: 250, WaitMin: 45}},
		{"2026-03", "pump", 0, RunningShort{Cost: 356.5, Fee: 100, Crew: 144, Pump: 112.5, WaitMin: 45}},
		{"2026-03", "chute", 55, RunningShort{Cost: 590, Fee: 100, Crew: 240, ColdJoint: 250, WaitMin: 75}},
	} {
		spec := shed(14)
		spec.On, spec.HaulMin, spec.Placements[0].Method = c.on, c.haul, c.method
		got := bidOf(t, stranger(), spec, setting.Options{}).Days[0].RunningShort
		trial.Near(t, c.on+" "+c.method, got.Cost, c.want.Cost, 1e-9)
		if got != c.want {
			t.Errorf("%+v: want %+v", got, c.want)
		}
	}
	set := setting.DefaultOrderCosts()
	set.ExtraLoad = 700
	b := bidOf(t, stranger(), shed(14), setting.Options{Order: set})
	if got := b.Days[0].RunningShort; got != (RunningShort{Cost: 700, AsSet: true}) || b.Setting(SetExtraLoad).Value != 700 {
		t.Errorf("%+v: want the owner's 700", got)
	}
}

// A dearer shortage never makes for a smaller order, and two hours of haul let
// nobody count on a last load.
func TestFarFromThePlantNothingIsHeldBack(t *testing.T) {
	last := 0.0
	for _, haul := range []float64{10, 25, 60, 85} {
		spec := shed(25)
		spec.HaulMin, spec.On = haul, "2026-07"
		spec.Prices.LaborPerHour = 100
		d := bidOf(t, stranger(), spec, setting.Options{}).Days[0]
		if d.Order.Yd < last {
			t.Errorf("%v minutes off: %v yd, less than %v nearer by", haul, d.Order.Yd, last)
		}
		last = d.Order.Yd
		if haul == 85 && d.Hold.Not != concrete.TooLate {
			t.Errorf("%+v: called 25 yd ahead", d.Hold)
		}
	}
}
