package say

import (
	"strings"
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/findings"
	"pourback/analysis/money"
)

// Every kind of fact has a sentence that says what it is worth and what to do.
func TestFindingsInSentences(t *testing.T) {
	table := &cracks.Table{Factor: "air temperature", Unit: figure.Fahrenheit, Rows: []cracks.Row{{Level: cracks.Level{Low: figure.Known(90)}}}}
	for _, c := range []struct {
		told findings.Fact
		want string
	}{
		{findings.Leftover{Yd: 46.4, On: 40, Of: 90}, "You paid for 46 yd of concrete that was left over in the last twelve months: about $4,300 a year. Some left over is the price of not running short: order by the waste table, and hold back a last load only where a job takes several trucks."},
		{findings.Orders{Planned: 0.121, Cheapest: 0.162}, "Order by the waste table: on your own past that would have saved about $4,300 a year. In the last twelve months you ordered 12% over the drawing, all jobs together; the cheapest orders come to 16%."},
		{findings.SlowCrew{Crew: "Kestrel", More: 0.062, Placements: 40}, "Kestrel takes 6% more hours than an average crew on the same job: about $4,300 a year of labor. See what the others do differently before you bid its hours."},
		{findings.CloggingOutfit{Outfit: "P3", Rate: 4.06, Others: 1.5, Placements: 60}, "P3 clogs 4.1 times in 100 yd, the other outfits 1.5: about $4,300 a year of waiting. Ask for another outfit where you have the choice."},
		{findings.Waiting{Hours: 120.4, On: 50, Of: 90}, "Crews waited 120 person-hours in the last twelve months: about $4,300 a year. Write down each cause, and take the most common one up with whoever causes it."},
		{findings.Callbacks{Cracks: true, Times: 12}, "Customers called 12 times about cracks in the last twelve months: about $4,300 a year. See the cracks page for what goes with them, and carry a reserve in each bid."},
		{findings.Callbacks{Times: 3}, "Customers called 3 times about something other than cracks in the last twelve months: about $4,300 a year. Read what they called about, and see whether one cause comes up again."},
		{findings.CrackLevel{Table: table, Times: 2.34, Callbacks: 9, Slabs: 40}, "Slabs with air temperature over 90 °F bring 2.3 times the crack callbacks of the others: about $4,300 a year. Something else may be the cause: change it on some jobs of each kind before you trust it."},
		{findings.CrackLevel{Table: table}, "Slabs with air temperature over 90 °F bring far more crack callbacks than the others: about $4,300 a year. Something else may be the cause: change it on some jobs of each kind before you trust it."},
		{findings.Steel{Mesh: true, Placements: 63}, "Mesh costs less than rebar with callbacks counted: about $4,300 a year on the 63 placements that had rebar. Where a code or an engineer asks for one, that decides."},
		{findings.Steel{Mesh: true, Placements: 63, ByPrices: true}, "Mesh costs less than rebar with callbacks counted: about $4,300 a year on the 63 placements that had rebar. The prices in the settings decide that, not your callbacks. Where a code or an engineer asks for one, that decides."},
		{findings.Steel{Placements: 63}, "Rebar costs less than mesh with callbacks counted: about $4,300 a year on the 63 placements that had mesh. Where a code or an engineer asks for one, that decides."},
		{findings.StepLost{Step: money.StepVolume}, "Slabs came out thicker than drawn in the last twelve months: about $4,300 a year of concrete. Check the grade with a string line before the truck comes."},
		{findings.StepLost{Step: money.StepUsage}, "More concrete came than planned in the last twelve months, thickness aside: about $4,300 a year. Order by the waste table."},
		{findings.StepLost{Step: money.StepOther}, "Jobs of the last twelve months cost more than bid for reasons your log doesn't show: about $4,300 a year. It may be prices, wages, or hours that the bids left out. Compare bids with actual cost."},
		{findings.KindOfBid{To: 375.2, Gap: -0.1066, Others: -0.04, Jobs: 143}, "Jobs under 375 sq ft earn 11 cents of the dollar less than bid, other jobs 4 less: about $4,300 a year. Put more hours and allowances into such bids."},
		{findings.KindOfBid{Use: "patio", Gap: -0.01, Others: 0.02}, "Patio jobs earn 1 cent of the dollar less than bid, other jobs 2 more: about $4,300 a year. Put more hours and allowances into such bids."},
		{findings.KindOfBid{From: 300, To: 500, Gap: 0.01, Others: 0.03}, "Jobs of 300 sq ft to 500 sq ft earn only 1 cent of the dollar more than bid, other jobs 3 more: about $4,300 a year. Put more hours and allowances into such bids."},
		{findings.KindOfBid{Use: "patio", Gap: -0.0449, Others: -0.0361}, "Patio jobs come out a little worse against their bids than other jobs: about $4,300 a year. Put more hours and allowances into such bids."},
		{findings.LowMonth{Month: "2025-09", Pct: -15, Usual: 20.6, Dollars: 4320}, "September 2025 lost 15 cents on the dollar, where a normal month keeps about 21 cents of the dollar: $4,300 of margin was lost. Find the cause while it is fresh."},
		{findings.FollowOn{Jobs: 22}, "22 jobs of the last twelve months were won from earlier ones. At your usual margin they left about $4,300 a year. After each finished job, ask who else has one in mind."},
		{findings.Unpriced{Unpriced: 3, Jobs: 9, Each: 512}, "3 of 9 jobs of the last twelve months have no price or no cost. If these strayed from their bids like the others, $510 each, then about $4,300 a year is not tracked. Add the missing prices and costs."},
	} {
		f := findings.Finding{Told: c.told, Dollars: figure.Total(4321, 9, "made up")}
		if got := (Findings{New("", "", "")}).Sentence(f); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
		if got := (Findings{New("qps", "si", "€")}).Sentence(f); strings.Contains(got, "$") || strings.Contains(got, "sq ft") || strings.Contains(got, "cent") {
			t.Errorf("in another language, units and currency: %q", got)
		}
	}
}

func TestWhyNothingStandsOut(t *testing.T) {
	w := Findings{New("", "", "")}
	for _, c := range []struct {
		o    findings.Outcome
		want string
	}{
		{findings.Outcome{Verdict: findings.NoRecords}, "Nothing stands out: no placements are on record yet."},
		{findings.Outcome{Verdict: findings.TooShort, Days: 59}, "Too early to say what is worth the most: the records cover 59 days, and it takes 90."},
		{findings.Outcome{Verdict: findings.TooFew, Placements: 4}, "Too early to say what is worth the most: 4 placements in the last twelve months, and it takes 5."},
		{findings.Outcome{Verdict: findings.NothingStandsOut, Placements: 40}, "Nothing stands out. Nothing in the 40 placements of the last twelve months is both worth $250 a year and sure enough to act on."},
	} {
		if got := w.Answer(nil, &c.o); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	if got := w.Answer(nil, nil); got != "" {
		t.Errorf("findings that nobody asked for: %q", got)
	}
	told := []findings.Finding{{Told: findings.FollowOn{Jobs: 2}, Dollars: figure.Total(900, 9, "made up")}}
	if got := w.Answer(told, &findings.Outcome{Verdict: findings.SomethingStandsOut, ToCheck: 2}); !strings.HasPrefix(got, "Worth the most now: 2 jobs of the last") || !strings.HasSuffix(got, " 2 placements in the records deserve a second look.") {
		t.Errorf("%q", got)
	}
}
