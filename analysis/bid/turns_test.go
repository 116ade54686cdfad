package bid

import (
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
)

// With the rest as expected, what is left over the target is nothing where the
// margin turns, and more before it; hours and yards are what a bid rests on most.
func TestWhatTurnsThePrice(t *testing.T) {
	b := bidOf(t, saltgrass(t, 120, 3), driveAndWalk(), setting.Options{})
	levers := b.Price.TurnedBy
	if len(levers) != 2 {
		t.Fatalf("%+v", levers)
	}
	for _, l := range levers {
		if !(l.Low < l.Value && l.Value < l.High) || !l.Turns.OK || l.Turns.V <= l.Value {
			t.Errorf("%+v", l)
		}
	}
	var hours figure.Lever
	for _, l := range levers {
		if l.Input == figure.Assumed(UnsureHours) {
			hours = l
		}
	}
	if hours.Input == "" {
		t.Fatalf("hours are not among them: %+v", levers)
	}
	// Each hour costs the same, so that what is left falls in a straight line.
	slope := (hours.AtHigh - hours.AtLow) / (hours.High - hours.Low)
	trial.Near(t, "where it turns", hours.AtLow+slope*(hours.Turns.V-hours.Low), 0, 1e-6)
	left := (1-b.Price.Target)*b.Price.Price - b.Cost.Total.Mean
	trial.Near(t, "left as expected", hours.AtLow+slope*(hours.Value-hours.Low), left, 1e-6)
}
