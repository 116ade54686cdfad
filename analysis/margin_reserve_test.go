package analysis

import (
	"testing"

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
	m := answerMoney(t, s, asOf.String(), Options{}).Margin
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
