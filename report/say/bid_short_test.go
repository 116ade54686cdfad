package say

import (
	"strings"
	"testing"

	"pourback/analysis/bid"
	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// What running short costs is told with its parts, a cap with its price, and why
// nothing is held back.
func TestWhyTheOrderIsThatLarge(t *testing.T) {
	w := Bid{New("", "", "")}
	b := bid.Bid{Settings: []bid.Setting{{Name: bid.SetConcrete, Value: 165}, {Name: bid.SetDisposal, Value: 50}}}
	d := bid.Day{RunningShort: bid.RunningShort{Cost: 606, Fee: 100, Crew: 144, Pump: 112, ColdJoint: 250, WaitMin: 45}, Hold: bid.Hold{Not: concrete.OneTruck}}
	want := []string{"Why not more: each yard too many costs $215 every time. Running short costs $606 plus the concrete, but only when it happens. Over many pours this order costs least.",
		"Running short: $100 for a load nobody planned, $144 for the crew that waits 45 minutes, $112 for the pump that waits and $250 for the risk of a cold joint.",
		"Order it all at once: one truck holds it."}
	if got := w.WhyThisOrder(&b, &d); strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s\nwant %s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	b.Settings = append(b.Settings, bid.Setting{Name: bid.SetMostShort, Value: 0.05})
	d.Order.CapCosts, d.RunningShort = 38.2, bid.RunningShort{Cost: 700, AsSet: true}
	for not, says := range map[concrete.NotStaged]string{"": "", concrete.TooLate: "too late and leave a cold joint", concrete.SavesLittle: "would save only $8 on average"} {
		d.Hold = bid.Hold{Not: not, WouldSave: 8}
		got := strings.Join(w.WhyThisOrder(&b, &d), "\n")
		if !strings.Contains(got, "You set that it may run short 5 times in 100 at most. That costs $38 more on average than the cheapest order.") || !strings.Contains(got, says) || strings.Contains(got, "nobody planned") {
			t.Error(got)
		}
	}
	d.Order.CapCosts, d.Hold.WouldSave, d.Hold.Not = 0, 0, concrete.SavesLittle
	if got := strings.Join(w.WhyThisOrder(&b, &d), "\n"); !strings.Contains(got, "keeps to your limit anyway: it runs short 5 times in 100 at most") || !strings.Contains(got, "saves nothing") {
		t.Error(got)
	}
	c := setting.DefaultOrderCosts()
	c.MostShort = 0.02
	if got := Waste(w).settings(c)[1]; !strings.Contains(got, "Orders run short 2 times in 100 at most, as you set") {
		t.Error(got)
	}
}

// A bid says a chance one way, with its range and without.
func TestAChanceIsSaidOneWay(t *testing.T) {
	w := Bid{New("", "", "")}
	for want, f := range map[string]figure.Figure{"9 times in 100": {Value: 0.09, OK: true}, "9 times in 100 (5 to 15)": {Value: 0.09, Low: 0.05, High: 0.15, Bounded: true, OK: true},
		"less than once in 100 (0 to 2)": {Value: 0.001, High: 0.02, Bounded: true, OK: true}, "not known": figure.Unknown(bid.NothingPumped{})} {
		if got := w.Chance(f).Text; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := w.SettingValue(bid.Setting{Name: bid.SetCertainty, Value: 0.8, Unit: "chance"}); got != "80 times in 100" {
		t.Error(got)
	}
}
