package say

import (
	"strings"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/money"
	"pourback/ingest/record"
)

func exactly(v float64) figure.Figure { return figure.Total(v, 1, "made up") }

// The wording is our own: no published source.
func TestWhatAMonthKept(t *testing.T) {
	dollar, franc := Bridge{New("", "", "")}, Bridge{New("", "", "CHF")}
	earned := func(revenue record.Cents, pct, bid float64, steps money.Bridge) *money.Earned {
		return &money.Earned{Jobs: 3, Revenue: revenue, MarginPct: exactly(pct), BidMarginPct: exactly(bid), Bridge: steps}
	}
	noBid := earned(10000_00, 20, 0, money.Bridge{})
	noBid.BidMarginPct = figure.Unknown(money.BidsLacking{Lacking: 1, Jobs: 2})
	noRevenue := earned(0, 0, 0, money.Bridge{})
	noRevenue.MarginPct = figure.Unknown(money.NoRevenue{})
	for _, c := range []struct {
		b    Bridge
		e    *money.Earned
		want string
	}{
		{dollar, earned(71360_00, 23.4, 27.2, money.Bridge{LaborEfficiency: exactly(-1034), Delay: exactly(-658), Other: exactly(-380), ChangeOrders: exactly(10), Volume: exactly(-333)}),
			"May kept 23 cents of the dollar, 4 cents less than bid. The biggest parts of the gap are crews slower than usual ($1,034) and delays ($658). Another $370 is for reasons your log doesn't show."},
		{dollar, earned(5000_00, 31, 30, money.Bridge{LaborEfficiency: exactly(82), Callback: exactly(-10)}),
			"May kept 31 cents of the dollar, 1 cent more than bid. The biggest part of the gain is crews faster than usual ($82)."},
		{dollar, earned(5000_00, 30.2, 29.8, money.Bridge{Delay: exactly(-500)}), "May kept 30 cents of the dollar, as bid."},
		{dollar, earned(5000_00, 1, 27, money.Bridge{}), "May kept 1 cent of the dollar, 26 cents less than bid."},
		{dollar, earned(9000_00, -12, 25, money.Bridge{Callback: exactly(-3000)}), "May lost 12 cents on the dollar, 37 cents less than bid. The biggest part of the gap is callbacks ($3,000)."},
		{dollar, earned(9000_00, 20, 25, money.Bridge{Other: exactly(-450)}), "May kept 20 cents of the dollar, 5 cents less than bid. Yards, hours, delays and callbacks don't explain it: $450 is left."},
		{franc, earned(9000_00, 23, 27, money.Bridge{Delay: exactly(-500)}), "May kept 23% of revenue, 4 points less than bid. The biggest part of the gap is delays (CHF 500)."},
		{dollar, noBid, "May kept 20 cents of the dollar. How that compares with the bids is not known: 1 of 2 jobs have no bid cost."},
		{dollar, noRevenue, "May brought in no revenue, so there is no margin."},
	} {
		if got := c.b.Kept("May", c.e); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}

// Every step has words of its own, and every reason for having none.
func TestEveryStepHasItsWords(t *testing.T) {
	b := Bridge{New("", "", "")}
	heads, causes := map[string]bool{}, map[string]bool{}
	for _, s := range money.Steps() {
		heads[b.Head(s)], causes[b.Cause(s, false)] = true, true
		if why := b.Reason(money.NoneTell{Step: s}); s != money.StepOther && (why == "" || why == "not known") {
			t.Errorf("step %d: %q", s, why)
		}
	}
	if n := len(money.Steps()); len(heads) != n || len(causes) != n {
		t.Errorf("%d heads and %d causes of %d steps", len(heads), len(causes), n)
	}
}

func TestReasonsOfMoney(t *testing.T) {
	v := New("", "", "")
	for _, c := range []struct {
		why  figure.Reason
		want string
	}{
		{money.BidsLacking{Lacking: 1, Jobs: 2, Compared: true}, "1 of 2 jobs have no bid cost; the others are compared"},
		{money.NothingPriced{}, "no job has a price and a cost"},
		{money.NoneTell{Step: money.StepPrice}, "your log has no prices or wages paid; included in Other"},
		{money.NoneTell{Step: money.StepCallback}, "no callback costs so far on these jobs"},
		{money.FewMonths{Months: 7, Least: 8}, "7 full months on record, and it takes 8 to know what is normal"},
		{money.LinesLacking{Lacking: 2, Jobs: 9}, "2 of 9 jobs have no cost lines; included in Other"},
		{money.OneMonth{}, "it takes two full months"},
		{money.MonthsUnlike{}, "one of the two months has no revenue"},
		{money.FewJobs{Jobs: 3}, "3 jobs; it takes 5"},
		{money.FewSettledJobs{Jobs: 1}, "1 job is a year old; it takes 5"},
		{money.NoPrices{}, "no job has a contract price"},
	} {
		if got := v.Reason(c.why); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// A month that stands out says which way, whether that is good, and what to do;
// the same on the page of the month and in the table.
func TestHowAMonthStandsOut(t *testing.T) {
	w := Margin{New("", "", "")}
	m := &money.Margin{}
	c := &m.Control
	*c = money.Control{Of: money.OfMargin, Months: 20, Base: 1, Center: exactly(19.6), Limits: &money.Limits{Low: 9.4, High: 30.2}, Points: []money.ControlPoint{{Month: "2026-01"}, {Month: "2026-02"}}}
	for _, s := range []struct {
		signal         money.ControlSignal
		month, inTable string
	}{
		{money.ControlSignal{Rule: money.BeyondChance, High: true}, "a real change for the better", "far above normal: good"},
		{money.ControlSignal{Rule: money.BeyondChance}, "find the cause while it is fresh", "far below normal: find the cause"},
		{money.ControlSignal{Rule: money.BeyondUsual, High: true}, "see what went right", "above normal: good"},
		{money.ControlSignal{Rule: money.BeyondUsual}, "see what went wrong", "below normal: see why"},
		{money.ControlSignal{Rule: money.EightInARow, High: true}, "eighth month in a row above usual", "8 or more months in a row above usual: good"},
		{money.ControlSignal{Rule: money.EightInARow}, "eighth month in a row below usual", "8 or more months in a row below usual: see why"},
	} {
		s.signal.Month = "2026-02"
		c.Signals = []money.ControlSignal{s.signal}
		if got := w.OneMonth(m, "2026-02"); !strings.HasPrefix(got, "A normal month keeps 9 to 30 cents of the dollar. ") || !strings.Contains(got, s.month) {
			t.Errorf("%q, want %q", got, s.month)
		}
		if got := w.Standing(money.OfMargin, &s.signal); got != s.inTable {
			t.Errorf("%q, want %q", got, s.inTable)
		}
		if got := w.Standing(money.OfAgainst, &s.signal); !strings.Contains(got, "against bids than") || strings.Contains(got, "better") != s.signal.High {
			t.Errorf("against the bids: %q", got)
		}
	}
	if got := w.OneMonth(m, "2026-01"); got != "A normal month keeps 9 to 30 cents of the dollar. Usual is 20, the average of the 1 full month to January 2026. This one is normal." {
		t.Errorf("%q", got)
	}
	if got := w.OneMonth(m, "2026-03"); !strings.HasSuffix(got, "This month is not over, so it is not judged yet.") {
		t.Errorf("%q", got)
	}
	// Where only the margin against the bids stands out, that is what is said.
	c.Signals, m.ControlAgainst = nil, money.Control{Of: money.OfAgainst, Signals: []money.ControlSignal{{Month: "2026-02", Rule: money.BeyondUsual, High: true}}}
	if got := w.OneMonth(m, "2026-02"); !strings.HasSuffix(got, "This one is normal in what it kept. Better against bids than usual: good.") {
		t.Errorf("%q", got)
	}
	c.Signals = []money.ControlSignal{{Month: "2026-02", Rule: money.BeyondUsual}}
	// The center says of what it is the average, unless that is what is shown.
	if got := w.Center(c, c.Points); got != "average of 1 month to Jan 2026" {
		t.Errorf("%q", got)
	}
	if got := w.Center(c, c.Points[:1]); got != "average" {
		t.Errorf("%q", got)
	}
	if got := w.Swing(c); got != "A normal month keeps 9 to 30 cents of the dollar. Usual is 20, the average of the 1 full month to January 2026. 1 of 20 full months stands out." {
		t.Errorf("%q", got)
	}
	c.Limits, c.Why = nil, money.FewMonths{Months: 1, Least: 8}
	if got := w.Swing(c); got != "Too early to say whether a month is unusual: 1 full month on record, and it takes 8 to know what is normal." {
		t.Errorf("%q", got)
	}
}

// What the month kept stands beside its bids and beside what is usual, in one
// sentence; change orders at no profit are said where they alone explain it.
func TestAgainstBidAndUsual(t *testing.T) {
	w := Month{New("", "", "")}
	m := &money.Margin{Months: []money.Month{{Month: "2026-02"}}}
	m.Control = money.Control{Base: 1, Center: exactly(20.4), Limits: &money.Limits{Low: 9, High: 30}}
	e := &m.Months[0].Earned
	*e = money.Earned{Jobs: 3, Revenue: 10000_00, MarginPct: exactly(23.2), BidMarginPct: exactly(27.3), AgainstBid: exactly(-410), Bridge: money.Bridge{Delay: exactly(-410)}}
	for _, c := range []struct {
		center float64
		want   string
	}{
		{20.4, "February 2026 kept 23 cents of the dollar: 4 cents less than bid, 3 cents more than usual. The biggest part of the gap is delays ($410)."},
		{23.4, "February 2026 kept 23 cents of the dollar: 4 cents less than bid, as usual. The biggest part of the gap is delays ($410)."},
		{23.6, "February 2026 kept 23 cents of the dollar: 4 cents less than bid, 1 cent less than usual. The biggest part of the gap is delays ($410)."},
	} {
		m.Control.Center = exactly(c.center)
		if got := w.Answer(m, "2026-02"); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
	*e = money.Earned{Jobs: 3, Revenue: 11000_00, BidCost: record.Some(record.Cents(7500_00)), MarginPct: exactly(22.7), BidMarginPct: exactly(25), AgainstBid: exactly(0),
		Bridge: money.Bridge{ChangeOrders: exactly(1000), Other: exactly(-1000)}}
	const want = "February 2026 kept 23 cents of the dollar: 2 cents less than bid, 1 cent less than usual. In money it earned what was bid: extra work at little profit leaves less of each dollar."
	if got := w.Answer(m, "2026-02"); got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
	const note = "Change orders of $1,000 are in revenue. Even at no profit they take 2.3 points off the margin in percent and no money: it is a share of more revenue."
	if got := Bridge(w).Diluted(e); got != note {
		t.Errorf("%q\nwant %q", got, note)
	}
}

func TestSmallSayings(t *testing.T) {
	v, day := New("", "", ""), record.DateOf(2024, 10, 4)
	for got, want := range map[string]string{
		v.Odds(0): "under 1", v.Odds(0.004): "under 1", v.Odds(0.5): "50", v.Odds(0.994): "99", v.Odds(0.9951): "over 99", v.Odds(1): "over 99",
		v.ShortMonth("2026-09"): "Sep 2026", v.ShortMonth("2026-05"): "May 2026", v.ShortMonth("?"): "?",
		v.Reading(0.9): "Ranges are 90% ranges.", v.Reading(0.955): "Ranges are 95.5% ranges.",
		v.Basis(590, 599, v.Placements, day, day): "590 placements out of 599, poured on October 4, 2024.",
		v.Basis(1, 1, v.Placements, day, day+1):   "1 placement, poured October 4, 2024 to October 5, 2024.",
		v.Basis(0, 7, v.Placements, day, day+1):   "None of 7 placements, poured October 4, 2024 to October 5, 2024.",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Why a month earned more or less than the one before it goes with the larger of
// the two parts.
func TestWhatChanged(t *testing.T) {
	w := Month{New("", "", "")}
	for _, c := range []struct {
		profit, work, rate float64
		want               string
	}{
		{9029, 7377, 1652, "March 2026 earned $9,029 more than February 2026, mostly from more work."},
		{400, 100, 300, "March 2026 earned $400 more than February 2026, mostly from a better margin."},
		{-400, -300, -100, "March 2026 earned $400 less than February 2026, mostly from less work."},
		{-400, 100, -500, "March 2026 earned $400 less than February 2026, mostly from a thinner margin."},
	} {
		change := &money.Change{From: "2026-02", To: "2026-03", Profit: exactly(c.profit), Work: exactly(c.work), Rate: exactly(c.rate)}
		if got := w.ChangeSays(change); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// A range that begins at next to nothing is said by its end alone.
func TestWhatCallbacksToComeMayCost(t *testing.T) {
	to := func(value, low, high float64) figure.Figure {
		return figure.Figure{Value: value, Low: low, High: high, Level: 0.9, N: 161, Bounded: true, OK: true}
	}
	w := Margin{New("", "", "")}
	for want, f := range map[string]figure.Figure{
		"Crack callbacks still to come from 161 sound slabs under warranty should cost about $2,600, anywhere from nothing to $5,200.": to(2611, 3, 5190),
		"Crack callbacks still to come from 161 sound slabs under warranty should cost about $2,600, between $1,200 and $5,200.":       to(2611, 1204, 5190),
	} {
		if got := w.Reserve(&money.Margin{Reserve: f}); got != want {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
	if got, want := (Month(w)).Reserve(to(580, -3, 1700), exactly(24.2)), "Callbacks still to come from the month's pours should cost about $580, anywhere from nothing to $1,700. That would leave a margin of 24%."; got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
}

// TestWhatAMonthKeptBeginsWithACapital: months are written small in Spanish, but
// not where they begin a sentence.
func TestWhatAMonthKeptBeginsWithACapital(t *testing.T) {
	b := Bridge{New("es", "", "")}
	e := &money.Earned{Jobs: 3, Revenue: 5000_00, MarginPct: exactly(22), BidMarginPct: exactly(27), Bridge: money.Bridge{Delay: exactly(-250)}}
	want := "Octubre dejó 22 centavos de cada dólar, 5 centavos menos de lo cotizado. Lo que más quitó: demoras ($250)."
	if got := b.Kept("octubre", e); got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
}
