package say

import (
	"testing"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
)

func TestTimesOfTheDay(t *testing.T) {
	us, si := Bid{Voice: New("", "", "")}, Bid{Voice: New("", "si", "")}
	for _, c := range []struct {
		t      clock.Time
		us, si string
	}{
		{clock.Time{Clock: "06:25"}, "6:25", "06:25"}, {clock.Time{Clock: "13:40"}, "1:40 pm", "13:40"}, {clock.Time{Clock: "12:05"}, "12:05 pm", "12:05"}, {clock.Time{Clock: "04:59"}, "4:59 am", "04:59"},
		{clock.Time{Clock: "00:40", Day: 1}, "12:40 am the next day", "00:40 the next day"}, {clock.Time{Clock: "23:10", Day: -1}, "11:10 pm the day before", "23:10 the day before"},
		{clock.Time{Clock: "07:00", Day: 2}, "7:00, day 3", "07:00, day 3"}, {clock.Time{}, "—", "—"},
	} {
		if got := us.Time(c.t); got != c.us {
			t.Errorf("%+v: %q, want %q", c.t, got, c.us)
		}
		if got := si.Time(c.t); got != c.si {
			t.Errorf("%+v: %q, want %q", c.t, got, c.si)
		}
	}
	if got := us.CallBy(&clock.Call{By: clock.Time{Clock: "08:10"}, DownYd: 14}); got != "Call the last load by 8:10, with 14 yd down." {
		t.Errorf("%q", got)
	}
}

// Every caution has words, and so has every reason of an order at once.
func TestEveryCautionHasWords(t *testing.T) {
	w := Bid{Voice: New("", "", "")}
	for _, k := range []clock.Caution{clock.TooFar, clock.TooSlow, clock.SmallLoads, clock.Late, clock.SlowPlant, clock.BetweenTrucks, clock.ColdCall, clock.NextDay, clock.ClockChange, clock.DriesFast, clock.DriesSome, clock.HotConcrete, clock.FastSet} {
		for _, min := range []int{-60, 20} {
			for _, yd := range []float64{0, 7.5} {
				if w.ClockNote(clock.Note{Kind: k, Truck: 2, At: clock.Time{Clock: "08:10"}, Min: min, Limit: 90, Yd: yd, Rate: 0.25, F: 97}) == "" {
					t.Errorf("%s is said with nothing", k)
				}
			}
		}
	}
	if got := w.ClockNote(clock.Note{Kind: clock.TooSlow, Truck: 1, Min: 5, Limit: 90, Yd: 9}); got != "Truck 1 is 5 minutes past its 90 minutes. Loads of 9 yd would do." {
		t.Errorf("%q", got)
	}
	if w.AtOnce(&bid.Day{Hold: bid.Hold{Not: "off the clock"}}) == "" {
		t.Error("no words for an order off the clock")
	}
}
