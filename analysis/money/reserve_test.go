package money

import (
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
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
		p := trial.Pour(job, on, "patio", "chute", 8, 9)
		if called != "" {
			p.CallbackOn, p.CallbackKind, p.CallbackCost = trial.Day(called), "crack", trial.Cents(900_00)
		}
		s.Placements = append(s.Placements, p)
		s.Jobs = append(s.Jobs, record.Job{JobNo: job, ContractPrice: trial.Cents(6000_00), BidCost: trial.Cents(4000_00), ActualCost: trial.Cents(4500_00)})
	}
	old := trial.Day("2023-01-02")
	for i, called := range []string{(old + 200).String(), (old + 200).String(), (old + 300).String(), "", ""} {
		add(string(rune('1'+i)), old.String(), called)
	}
	asOf := trial.Day("2025-01-15")
	add("6", (asOf - 250).String(), "")
	m := answer(t, s, asOf.String(), setting.Options{}).Margin
	if len(m.Months) != 2 {
		t.Fatalf("months %+v", m.Months)
	}
	trial.Near(t, "reserve of the old month", m.Months[0].Reserve.Value, 0, 0)
	trial.Near(t, "reserve of the young slab", m.Months[1].Reserve.Value, 250, 1e-9)
	trial.Near(t, "margin as booked", m.Months[1].MarginPct.Value, 25, 1e-12)
	trial.Near(t, "margin with the reserve charged", m.Months[1].AfterReserve.Value, 25-250./60, 1e-9)
	if f := m.Months[1].AfterReserve; f.Low >= f.Value || f.High <= f.Value {
		t.Errorf("margin after reserve %+v: want an interval about it", f)
	}
}
