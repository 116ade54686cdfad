package money

import (
	"math"
	"testing"

	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

func inventedMargin(t *testing.T, log bool) *Margin {
	t.Helper()
	asOf := record.DateOf(2026, 3, 31)
	s, _, err := invented.Generate(invented.Options{Jobs: 200, Seed: 4, Until: asOf})
	if err != nil {
		t.Fatal(err)
	}
	if log {
		s = record.Set{Placements: invented.JobLog(s, asOf)}
	}
	return marginOf(t, record.NewHistory(asOf, s), setting.Options{}).Margin
}

// TestLinesOfCostTellOfPay demands that the steps that lines of cost tell are
// theirs to the cent, and that the bridge adds up as before. Source: the variance
// of price and of rate, Horngren, Datar & Rajan, Cost Accounting, ch. 7.
func TestLinesOfCostTellOfPay(t *testing.T) {
	m := inventedMargin(t, false)
	full := m.InFull(m.Total.Earned, Whole)
	var price, wage, extra record.Cents
	for _, c := range m.StandardCosts() {
		price, wage, extra = price+c.Concrete.Price+c.Items.Price, wage+c.Labor.Price, extra+c.Extra
	}
	if wage == 0 || extra == 0 {
		t.Fatalf("wages %v and added work %v: nothing to tell", wage, extra)
	}
	if full.Price.Value != price.Dollars() || full.LaborRate.Value != wage.Dollars() || full.Price.Why != nil {
		t.Errorf("prices %v, wages %v; want %v, %v", full.Price, full.LaborRate, price, wage)
	}
	if got, want := full.ChangeOrders.Value, m.Total.ChangeOrders.Value+extra.Dollars(); math.Abs(got-want) > 1e-6 {
		t.Errorf("change orders %v, want %v", got, want)
	}
	for name, e := range map[string]Earned{"all": full, "month": m.InFull(m.Months[5].Earned, InMonth(m.Months[5].Month)), "year": m.InFull(m.Years[1].Earned, InYear(m.Years[1].Year))} {
		sum := 0.0
		for _, s := range Steps() {
			sum += e.Step(s).Value
		}
		if math.Abs(sum-e.AgainstBid.Value) > 0.005 {
			t.Errorf("%s: steps of %v add up to %v", name, e.AgainstBid.Value, sum)
		}
	}
	for i := range m.Jobs {
		j := m.Explained(&m.Jobs[i])
		if j.Effects.Sum() != m.Jobs[i].Effects.Sum() {
			t.Fatalf("%s: %v, want %v", j.JobNo, j.Effects.Sum(), m.Jobs[i].Effects.Sum())
		}
	}
	log := inventedMargin(t, true)
	if got := log.InFull(log.Total.Earned, Whole); got.PaidKnown() || got.Price.Why == nil {
		t.Errorf("a job log tells of prices: %v", got.Price)
	}
}

// TestYearToAMonthIsItsTwelve demands that the year to a month adds up to its
// twelve months, cent by cent, and that a year of fewer is none.
func TestYearToAMonthIsItsTwelve(t *testing.T) {
	m := inventedMargin(t, false)
	at := len(m.Months) - 2
	year, known := m.YearTo(m.Months[at].Month)
	var want Earned
	var steps [steps]float64
	for i := at - 11; i <= at; i++ {
		month := m.InFull(m.Months[i].Earned, InMonth(m.Months[i].Month))
		want.Jobs, want.Revenue, want.Cost = want.Jobs+month.Jobs, want.Revenue+month.Revenue, want.Cost+month.Cost
		for s := range steps {
			steps[s] += month.Step(Step(s)).Value
		}
	}
	if !known || year.Jobs != want.Jobs || year.Revenue != want.Revenue || year.Cost != want.Cost || want.Jobs == 0 {
		t.Errorf("%v: %d jobs for %v at %v, want %d, %v, %v", known, year.Jobs, year.Revenue, year.Cost, want.Jobs, want.Revenue, want.Cost)
	}
	for s, v := range steps {
		if math.Abs(year.Step(Step(s)).Value-v) > 0.005 {
			t.Errorf("step %d: %v, want %v", s, year.Step(Step(s)).Value, v)
		}
	}
	if _, known := m.YearTo(m.Months[5].Month); known {
		t.Error("six months are no year")
	}
}

// TestJobsWithoutLinesAreCounted says of how many jobs prices and wages are not
// told.
func TestJobsWithoutLinesAreCounted(t *testing.T) {
	m := inventedMargin(t, false)
	first := m.Jobs[0].JobNo
	kept := m.h.Costs[:0:0]
	for _, c := range m.h.Costs {
		if c.JobNo != first {
			kept = append(kept, c)
		}
	}
	asOf := m.h.AsOf
	s, _, err := invented.Generate(invented.Options{Jobs: 200, Seed: 4, Until: asOf})
	if err != nil {
		t.Fatal(err)
	}
	s.Costs = kept
	for i := range s.Jobs {
		if s.Jobs[i].JobNo == first {
			s.Jobs[i].ActualCost = record.Some(record.Cents(4000_00))
		}
	}
	m = marginOf(t, record.NewHistory(asOf, s), setting.Options{}).Margin
	want := LinesLacking{Lacking: 1, Jobs: m.Total.AgainstBid.N}
	if got := m.InFull(m.Total.Earned, Whole).LaborRate.Why; got != want {
		t.Errorf("%#v, want %#v", got, want)
	}
}

// TestPercentHasTwoParts demands that what lies between the margin earned and the
// one in the bids is its money over the revenue and what change orders dilute, and
// nothing else: (R−K)/R − (P−B)/P with R = P + C.
func TestPercentHasTwoParts(t *testing.T) {
	m := inventedMargin(t, true)
	seen := false
	for i := range m.Months {
		e := &m.Months[i].Earned
		points := e.MarginPct.Value - e.BidMarginPct.Value
		if want := 100*e.AgainstBid.Value/e.Revenue.Dollars() + e.Diluted(); math.Abs(points-want) > 1e-9 {
			t.Errorf("%s: %v points, want %v", m.Months[i].Month, points, want)
		}
		seen = seen || e.Diluted() < 0
	}
	if !seen {
		t.Error("no month with a change order")
	}
	var none Earned
	if none.Diluted() != 0 {
		t.Error("nothing is diluted")
	}
}
