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
