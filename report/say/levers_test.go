package say

import (
	"testing"

	"pourback/analysis/bid"
	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/steel"
	"pourback/analysis/visits"
	"pourback/analysis/work"
)

// What turns an answer, in the units of each input.
func TestWhatTurnsTheAnswer(t *testing.T) {
	us, si := Levers{New("", "us", "")}, Levers{New("", "si", "")}
	levers := []figure.Lever{
		{Input: steel.BelievedRatio, Value: 1.94, Low: 1.1, High: 3.4, AtLow: -21, AtHigh: 160, Turns: figure.Known(1.3), Within: true},
		{Input: steel.RebarMaterial, Unit: figure.DollarsPerSqft, Value: 0.8, Low: 0.72, High: 0.88, AtLow: 87, AtHigh: 23, Turns: figure.Known(0.94)},
		{Input: steel.CallbackRisk, Unit: figure.Chance, Value: 0.05, Low: 0.03, High: 0.09, AtLow: 10, AtHigh: 90},
		{Input: concrete.UsedSpread, Unit: figure.Yards, Value: 0.41, Low: 0.35, High: 0.5, AtLow: 9.25, AtHigh: 9.5, Turns: figure.Known(0.44), Within: true},
		{Input: figure.Assumed(bid.UnsureHours), Unit: figure.PersonHours, Value: 41.2, Low: 33, High: 50, Turns: figure.Known(55)},
		{Input: work.ClogsOfMost, Unit: figure.Per100Yd, Value: 3.9, Low: 1.9, High: 6.9, Turns: figure.Known(2.2), Within: true},
		{Input: work.HoursOfFirst, Value: 0.912, Low: 0.90, High: 0.93, Turns: figure.Known(1.05)},
		{Input: visits.DriveCost, Unit: figure.Dollar, Value: 46, Low: 23, High: 92, Turns: figure.Known(63), Within: true},
	}
	if got, want := us.Say(levers[:2]), "Mesh callbacks against rebar's: it turns at 1.3 times, and is 1.9 times now. Price of rebar: it turns at $0.94 a sq ft, and is $0.80 a sq ft now."; got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
	if got, want := us.Say(levers[4:5]), "Labor hours: it turns at 55 person-hours, and is 41.2 person-hours now. Nothing within these ranges turns it."; got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
	for i, want := range []string{"1.3 times, in that range", "$0.94 a sq ft", "nowhere in that range", "0.44 yd, in that range", "55 person-hours", "2 clogs in 100 yd, in that range", "1.05 times", "$63, in that range"} {
		if got := us.Turns(levers[i]); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	for i, want := range []string{"1.1 to 3.4", "$0.72 to $0.88", "3.0 to 9.0", "0.35 to 0.50", "33.0 to 50.0", "1.9 to 6.9", "0.90 to 0.93", "$23 to $92"} {
		if got := us.Range(levers[i]); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got, want := si.Range(levers[3])+", "+si.Turns(levers[3]), "0.27 to 0.38, 0.34 m³, in that range"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := us.Ends(levers[3], Waste(us).YardsBare), "9¼ to 9½"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Beside the table stands what the better one saves, and whether anything in the
// ranges turns it.
func TestWhatWouldChangeEachPage(t *testing.T) {
	v := New("", "us", "")
	within := []figure.Lever{{Input: work.ClogsOfMost, Unit: figure.Per100Yd, Value: 3.9, Low: 1.9, High: 6.9, AtLow: -18, AtHigh: 272, Turns: figure.Known(2.2), Within: true}}
	nothing := []figure.Lever{{Input: concrete.RunningShort, Unit: figure.Dollar, Value: 330, Low: 165, High: 660, AtLow: 9.25, AtHigh: 9.25}}
	for want, got := range map[string]string{
		"P2 instead of P4 saves about $99 of waiting on 100 yd pumped (could be anywhere from nothing to $270). Pay no more than that for it. Clogs of the outfit with most: it turns at 2 clogs in 100 yd, and is 4 clogs in 100 yd now.": Pump{v}.TurnsSay(&work.Pump{TurnedBy: within, Rivals: work.Rivals{Better: "P2", Worse: "P4", Saves: 99}}),
		"": Pump{v}.TurnsSay(&work.Pump{}) + Crews{v}.TurnsSay(&work.Labor{}),
		"Heron instead of Wren saves about $180 of labor on the job above. Nothing within these ranges turns it.": Crews{v}.TurnsSay(&work.Labor{TurnedBy: nothing, Rivals: work.Rivals{Better: "Heron", Worse: "Wren", Saves: 180}}),
		"What turns P2 against P4": Pump{v}.TurnsCaption(work.Rivals{Better: "P2", Worse: "P4"}),
		"The order is figured anew with each number at both ends of what it could be. Nothing within these ranges turns it.":           Waste{v}.TurnsSay(&concrete.Overage{First: []int{0}, Groups: []concrete.Group{{TurnedBy: nothing}}}),
		"The order is figured anew with each number at both ends of what it could be.":                                                 Waste{v}.TurnsSay(&concrete.Overage{First: []int{0}, Groups: []concrete.Group{{TurnedBy: within}}}),
		"How many sites pay for their drive, with each number at both ends of what it could be.":                                       Visits{v}.TurnsSay(&visits.Visits{TurnedBy: within}),
		"How many sites pay for their drive, with each number at both ends of what it could be. Nothing within these ranges turns it.": Visits{v}.TurnsSay(&visits.Visits{TurnedBy: nothing}),
	} {
		if got != want {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
}

// What the owner's limit to running short costs stands beside the orders.
func TestALimitIsPriced(t *testing.T) {
	w := Waste{New("", "us", "")}
	o := &concrete.Overage{First: []int{0}, Groups: []concrete.Group{{Use: "driveway", Method: "chute", CapCosts: figure.Total(26.75, 9, "")}}}
	if got, want := w.NextSay(o), "Each order is the one that costs least over many jobs. It still runs short at times, and most times leaves some over."; got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
	o.Assumptions.Order.MostShort = 0.02
	if got, want := w.NextSay(o), "Each order is the cheapest one that runs short 2 times in 100 at most, as you set. For driveway, chute that limit costs $26.75 a job on average."; got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
	o.Groups[0].CapCosts.Value = 0
	if got, want := w.NextSay(o), "Each order is the cheapest one that runs short 2 times in 100 at most, as you set. For driveway, chute that costs nothing: the cheapest order keeps to it anyway."; got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
	if got, want := w.Reason(concrete.NoCap{}), "you set no limit to running short"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
