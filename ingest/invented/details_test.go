package invented

import (
	"math"
	"slices"
	"testing"

	"pourback/ingest/record"
)

// TestDetailsChangeNothingElse takes the columns that came after the first
// release away again: what is left is the history as it was without them, to the
// byte.
func TestDetailsChangeNothingElse(t *testing.T) {
	set, _ := generate(t, Options{Jobs: 40, Seed: 7, Until: until})
	filled := map[string]int{}
	for _, r := range rows(&set) {
		for i, f := range r.Fields() {
			c := &r.Table().Columns[i]
			if !c.Later {
				continue
			}
			if !record.IsMissing(f) {
				filled[r.Table().Name+"."+c.Name]++
			}
			if err := record.SetField(f, ""); err != nil {
				t.Fatal(err)
			}
		}
	}
	set.Costs = slices.DeleteFunc(set.Costs, func(c record.Cost) bool { return c.Item == "extra work" }) // nor what change orders cost
	const without = 0xa05965f418abc66c
	if got := digest(&set); got != without {
		t.Errorf("digest %#x, without them it was %#x", got, uint64(without))
	}
	for _, c := range []string{"jobs.customer", "jobs.change_orders", "placements.bar_spacing_in", "placements.edge_in", "placements.note",
		"delays.started_at", "visits.spot_x", "visits.spot_y"} {
		if filled[c] == 0 {
			t.Errorf("%s is empty throughout", c)
		}
	}
}

// TestChangeOrdersFollowTheirLaw counts them over many jobs: within four
// standard errors of the share, the mean size and the share that lowers.
func TestChangeOrdersFollowTheirLaw(t *testing.T) {
	set, truth := generate(t, Options{Jobs: 4000, Seed: 11, Until: until})
	n, changed, lowered, size := 0.0, 0.0, 0.0, 0.0
	pay, spent := 0.0, 0.0
	for i := range set.Costs {
		if c := &set.Costs[i]; c.Item == "extra work" {
			spent += c.Actual().V.Dollars()
		}
	}
	for i := range set.Jobs {
		j := &set.Jobs[i]
		n++
		if by := j.ChangeOrders; by.OK {
			changed++
			pay += by.V.Dollars()
			size += math.Abs(by.V.Dollars()) / j.ContractPrice.V.Dollars()
			if by.V < 0 {
				lowered++
			}
		}
	}
	m := truth.Money
	if off := math.Abs(changed/n - m.Changed); off > 4*math.Sqrt(m.Changed*(1-m.Changed)/n) {
		t.Errorf("%.3f of the jobs were changed, the law says %.3f", changed/n, m.Changed)
	}
	// Work that was added costs what its pay leaves at the markup of a bid.
	if share, want := spent/pay, math.Exp(m.ChangedCost*m.ChangedCost/2)/(1+m.Markup); math.Abs(share-want) > 4*m.ChangedCost*want/math.Sqrt(changed/2) {
		t.Errorf("added work cost %.3f of its pay, the law says %.3f", share, want)
	}
	if off := math.Abs(lowered/changed - 1.0/6); off > 4*math.Sqrt(5.0/36/changed) {
		t.Errorf("%.3f of the changes lower the price, the law says 1 in 6", lowered/changed)
	}
	if mean := size / changed; math.Abs(mean-m.ChangedBy) > 4*m.ChangedBy*0.66/math.Sqrt(changed) { // sd of a lognormal of 0.6 is 0.66 of its mean
		t.Errorf("a change is %.4f of the price in the mean, the law says %.4f", mean, m.ChangedBy)
	}
}

// TestNothingInventedIsImpossible demands that no value of an ordinary company,
// however odd its days, is taken for one that cannot be.
func TestNothingInventedIsImpossible(t *testing.T) {
	for seed := range uint64(12) {
		set, _ := generate(t, Options{Jobs: 1500, Seed: seed, Until: until})
		if out := record.NewHistory(until, set).LeftOut(); len(out) > 0 {
			t.Errorf("seed %d: %d left out, such as %s", seed, len(out), out[0])
		}
	}
}
