package analysis

import (
	"math"
	"testing"

	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// Five slabs poured two years ago, two of them called about on day 200 and one
// on day 300, and one sound slab of 250 days. By hand: six are at risk on day
// 200, so S(250) = 1 − 2/6 = 2/3; three on day 300, so S(365) = 2/3·2/3 = 4/9;
// what remains of the young slab is (2/3 − 4/9)/(2/3) = 1/3 of a callback. Three
// costs are too few for a mean, so a callback costs the $750 of the setting, and
// a third of it is 250/6000 = 4.1667 points of the month's revenue.
func TestReserveByHand(t *testing.T) {
	var s record.Set
	add := func(job, on, called string) {
		p := pour(job, on, "patio", "chute", 8, 9)
		if called != "" {
			p.CallbackOn, p.CallbackKind, p.CallbackCost = day(called), "crack", cents(900_00)
		}
		s.Placements = append(s.Placements, p)
		s.Jobs = append(s.Jobs, record.Job{JobNo: job, ContractPrice: cents(6000_00), BidCost: cents(4000_00), ActualCost: cents(4500_00)})
	}
	old := day("2023-01-02")
	for i, called := range []string{(old + 200).String(), (old + 200).String(), (old + 300).String(), "", ""} {
		add(string(rune('1'+i)), old.String(), called)
	}
	asOf := day("2025-01-15")
	add("6", (asOf - 250).String(), "")
	m := answer(t, s, asOf.String(), Options{}).Margin
	if len(m.Months) != 2 {
		t.Fatalf("months %+v", m.Months)
	}
	near(t, "reserve of the old month", m.Months[0].Reserve.Value, 0, 0)
	near(t, "reserve of the young slab", m.Months[1].Reserve.Value, 250, 1e-9)
	near(t, "margin as booked", m.Months[1].MarginPct.Value, 25, 1e-12)
	near(t, "margin with the reserve charged", m.Months[1].AfterReserve.Value, 25-250./60, 1e-9)
	if f := m.Months[1].AfterReserve; f.Low >= f.Value || f.High <= f.Value {
		t.Errorf("margin after reserve %+v: want an interval about it", f)
	}
}

// The months' reserves add up to that of all slabs, which is what the cracks
// page says; asked for alone, margin says the same.
func TestReserveAddsUp(t *testing.T) {
	set, _, err := invented.Generate(invented.Options{Seed: 4, Until: day("2026-03-31")})
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHistory(day("2026-03-31"), set)
	f, err := Run(h, Options{})
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, m := range f.Margin.Months {
		sum += m.Reserve.Value
	}
	all := f.Margin.Reserve
	if all.Value <= 0 || math.Abs(sum-all.Value) > 1e-6*all.Value {
		t.Errorf("months %v, all %v", sum, all.Value)
	}
	if all.Value != f.Cracks.Later.Cost.Value {
		t.Errorf("margin reserves %v, the cracks page %v", all.Value, f.Cracks.Later.Cost.Value)
	}
	alone, err := Run(h, Options{Topics: []string{"margin"}})
	if err != nil {
		t.Fatal(err)
	}
	if alone.Margin.Reserve != all {
		t.Errorf("asked for alone: %+v, with all: %+v", alone.Margin.Reserve, all)
	}
}
