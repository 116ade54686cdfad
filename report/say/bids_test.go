package say

import (
	"strings"
	"testing"

	"pourback/analysis/bid"
	"pourback/analysis/figure"
)

// Which way jobs run stands in the answer and beside the ranges, though these hold as
// they should; margins say it for costs.
func TestWhichWayJobsRun(t *testing.T) {
	w := Bids{New("", "", "")}
	held := func(what bid.Quantity, shift float64, below, above int, runs bid.Side, v bid.Calibration) bid.Held {
		share := figure.Figure{Value: 0.875, Low: 0.6, High: 0.97, N: 8, Bounded: true, OK: true}
		return bid.Held{What: what, Share: share, Verdict: v, Bias: bid.Bias{Below: below, Above: above, Shift: figure.Figure{Value: shift, N: 8, OK: true}, Runs: runs}}
	}
	r := &bid.Record{Outcomes: make([]bid.Outcome, 9), Compared: 8, Begun: true, Held: []bid.Held{held(bid.Hours, 0.12, 1, 7, bid.RunsAbove, bid.TooNarrow),
		held(bid.Yards, -0.002, 4, 4, bid.NoSide, bid.AsItShouldBe), held(bid.Costs, 0.06, 1, 7, bid.RunsAbove, bid.AsItShouldBe), held(bid.Margin, -0.051, 7, 1, bid.RunsBelow, bid.AsItShouldBe)}}
	got := w.Answer(r)
	for says, times := range map[string]int{"On 7 of 8 jobs the margin came in under the bid: you run about 5 points under.": 1, "On 7 of 8 jobs hours came in over the bid, by about 12% on average.": 1, "cost came in": 0, "None is clearly off": 0} {
		if strings.Count(got, says) != times {
			t.Errorf("%s\nsays %q other than %d times", got, says, times)
		}
	}
	for want, h := range map[string]bid.Held{
		"not clearly off so far": r.Held[1], "On 7 of 8 jobs the margin came in under the bid: you run about 5 points under.": r.Held[3],
		"On 7 of 8 jobs hours came in over the bid, by about 12% on average. Too narrow: jobs land outside too often.": r.Held[0],
		"On 6 of 8 jobs yards came in under the bid, by about 3% on average.":                                          held(bid.Yards, -0.03, 6, 2, bid.RunsBelow, bid.AsItShouldBe),
		"On 7 of 8 jobs the margin came in over the bid: you run about 4 points over.":                                 held(bid.Margin, 0.04, 1, 7, bid.RunsAbove, bid.AsItShouldBe)} {
		if got := w.VerdictOf(h); got != want {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
	if got := w.Side(r.Held[0].Bias) + w.Side(bid.Bias{}); got != "1 under, 7 over—" {
		t.Error(got)
	}
}

// What past bids teach the next one is told with what it adds.
func TestWhatPastBidsTeach(t *testing.T) {
	w := Bid{New("", "", "")}
	share := func(v float64) figure.Figure { return figure.Figure{Value: v, N: 8, OK: true} }
	for want, l := range map[string]bid.Lean{
		"": {Bids: 3, Share: figure.Unknown(bid.TooFewRebid{N: 3, Least: 5})},
		"Past bids, made anew by today's method on what was known then: 7 of your last 8 jobs cost more than that; on average they cost 6% more. What those bids left out counts in it. So 4% is added to this cost; it follows your jobs more closely as there are more.":  {Bids: 8, Over: 7, Raw: 0.06, Share: share(0.04)},
		"Past bids, made anew by today's method on what was known then: 1 of your last 8 jobs cost more than that; on average they cost 5% less. What those bids left out counts in it. So 3% is taken off this cost; it follows your jobs more closely as there are more.": {Bids: 8, Over: 1, Raw: -0.05, Share: share(-0.03)},
		"Past bids, made anew by today's method on what was known then: 4 of your last 8 jobs cost more than that; on average they cost about the same. What those bids left out counts in it. That moves this cost by less than 1%.":                                       {Bids: 8, Over: 4, Share: share(0.002)},
	} {
		if got := w.Leans(l); got != want {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
	if got := w.Reason(bid.TooFewRebid{N: 3, Least: 5}); got != "3 kept bids have their jobs' costs on record; it takes 5" {
		t.Error(got)
	}
}
