package record

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// sound is a driveway of 10 yd³ neat, with nothing odd about it.
func sound() Placement {
	return Placement{JobNo: "J-1", Placement: "A", PlacedOn: day("2025-06-03"), Use: "driveway", AreaSqft: Some(810.0), ThicknessIn: Some(4.0),
		PlannedYd: Some(10.5), DeliveredYd: Some(10.5), LeftoverYd: Some(0.25), LaborHours: Some(40.0)}
}

// The bounds are common practice, no published source.
func TestImpossibleValues(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Placement)
		want   []string
	}{
		{"a sound pour", func(*Placement) {}, nil},
		{"a decimal slip", func(p *Placement) { p.DeliveredYd = Some(1050.0) }, []string{"delivered_yd"}},
		{"ten times, without a leftover", func(p *Placement) { p.DeliveredYd, p.LeftoverYd = Some(105.0), Number{} }, []string{"delivered_yd"}},
		{"a tenth", func(p *Placement) { p.DeliveredYd, p.LeftoverYd = Some(1.05), Some(0.0) }, []string{"delivered_yd"}},
		{"twice: odd, not impossible", func(p *Placement) { p.DeliveredYd = Some(20.0) }, nil},
		{"half: odd, not impossible", func(p *Placement) { p.DeliveredYd = Some(5.0) }, nil},
		{"a minimum load for a step", func(p *Placement) {
			p.AreaSqft, p.DeliveredYd, p.LeftoverYd, p.PlannedYd = Some(20.0), Some(4.0), Some(3.7), Some(1.0)
		}, nil},
		{"the leftover slipped", func(p *Placement) { p.LeftoverYd = Some(9.5) }, []string{"leftover_yd"}},
		{"the order slipped", func(p *Placement) { p.PlannedYd = Some(105.0) }, []string{"planned_yd"}},
		{"the drawing slipped", func(p *Placement) { p.NeatYd = Some(1000.0) }, []string{"neat_yd"}},
		{"the area slipped: hours and concrete say so", func(p *Placement) { p.AreaSqft = Some(81000.0) }, []string{"area_sqft"}},
		{"the area slipped the other way", func(p *Placement) { p.AreaSqft, p.LaborHours = Some(8.1), Some(48.0) }, []string{"area_sqft"}},
		{"the thickness slipped", func(p *Placement) { p.ThicknessIn = Some(0.2) }, []string{"thickness_in"}},
		{"no hours to tell by", func(p *Placement) { p.ThicknessIn, p.LaborHours = Some(0.2), Number{} }, []string{"area_sqft"}},
		{"hours slipped", func(p *Placement) { p.LaborHours = Some(4000.0) }, []string{"labor_hours"}},
		{"slow by hand", func(p *Placement) { p.LaborHours = Some(200.0) }, nil},
		{"a clog a minute", func(p *Placement) { p.Clogs = Some[int64](300) }, []string{"clogs"}},
		{"a day and a half of delay", func(p *Placement) { p.DelayMin = Some[int64](2000) }, []string{"delay_min"}},
		{"said to be right", func(p *Placement) {
			p.DeliveredYd = Some(1050.0)
			p.SaidRight = SayRight("labor_hours=40", "delivered_yd", "1050")
		}, nil},
		{"said of another value", func(p *Placement) { p.DeliveredYd, p.SaidRight = Some(1050.0), "delivered_yd=105" }, []string{"delivered_yd"}},
	} {
		p := sound()
		c.change(&p)
		if got := columns(p.Impossible()); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func columns(ps []Problem) []string {
	var cs []string
	for _, p := range ps {
		cs = append(cs, p.Column)
	}
	return cs
}

func TestImpossibleMoney(t *testing.T) {
	money := func(c Cents) Money { return Some(c) }
	for _, c := range []struct {
		name             string
		price, bid, cost Money
		want             []string
	}{
		{"sound", money(7450_00), money(5480_00), money(5710_25), nil},
		{"the price lost its point", money(745000_00), money(5480_00), money(5710_25), []string{"contract_price"}},
		{"the cost lost its point", money(7450_00), money(5480_00), money(571025_00), []string{"actual_cost"}},
		{"a point too many in the bid", money(7450_00), money(54_80), money(5710_25), []string{"bid_cost"}},
		{"two that disagree", money(745000_00), Money{}, money(5710_25), []string{"contract_price"}},
		{"a loss, but possible", money(2000_00), Money{}, money(9000_00), nil},
		{"for nothing", money(0), money(300_00), money(320_00), nil},
	} {
		j := Job{JobNo: "J-1", ContractPrice: c.price, BidCost: c.bid, ActualCost: c.cost}
		if got := columns(j.Impossible()); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestHistoryLeavesOutTheImpossible keeps it out of the figures and names it,
// however it came: on the row, or as the sum of loads.
func TestHistoryLeavesOutTheImpossible(t *testing.T) {
	p := sound()
	p.DeliveredYd = Some(1050.0)
	p.Log.ContractPrice, p.Log.ActualCost, p.Log.BidCost = Some[Cents](745000_00), Some[Cents](5710_25), Some[Cents](5480_00)
	h := NewHistory(day("2025-12-31"), Set{Placements: []Placement{p}})
	if got := h.Placements.Row(0); got.DeliveredYd.OK || !got.LeftoverYd.OK || h.JobOf(0).ContractPrice().OK || !h.JobOf(0).ActualCost().OK {
		t.Errorf("delivered %v, leftover %v, price %v, cost %v", got.DeliveredYd, got.LeftoverYd, h.JobOf(0).ContractPrice(), h.JobOf(0).ActualCost())
	}
	out := h.LeftOut()
	if len(out) != 2 {
		t.Fatalf("left out %v", out)
	}
	const want = `J-1 A, delivered_yd "1050": the slab's neat volume is 10 yd³: kept, and left out of every figure; did you mean 10.5?; if it is right, say so: pourback fix J-1/A delivered_yd=1050`
	if got := out[0].String(); got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	if again := new(h.Placements.Row(0)).Check(day("2025-12-31")); len(again) != 0 {
		t.Errorf("said again of what is left: %v", again)
	}

	p.SaidRight = "delivered_yd=1050; contract_price=745000.00"
	h = NewHistory(day("2025-12-31"), Set{Placements: []Placement{p}})
	if h.Placements.Row(0).DeliveredYd.V != 1050 || h.JobOf(0).ContractPrice().V != 745000_00 || len(h.LeftOut()) != 0 {
		t.Errorf("said to be right: %v, %v, left out %v", h.Placements.Row(0).DeliveredYd, h.JobOf(0).ContractPrice(), h.LeftOut())
	}

	s := oneJob()
	s.Loads[0].Yards = Some(910.0)
	h = NewHistory(day("2025-12-31"), s)
	if h.Placements.Row(0).DeliveredYd.OK || len(h.LeftOut()) != 1 {
		t.Errorf("a load of 910 yd: delivered %v, left out %v", h.Placements.Row(0).DeliveredYd, h.LeftOut())
	}
}

// TestSoundSlabsAreWhole draws slabs of all sizes with ordinary losses and
// speeds: nothing of them is impossible.
func TestSoundSlabsAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := sound()
		p.AreaSqft, p.ThicknessIn = Some(rapid.Float64Range(10, 5000).Draw(t, "area")), Some(rapid.Float64Range(3, 8).Draw(t, "thickness"))
		neat := p.Neat().V
		used := neat * rapid.Float64Range(0.6, 2).Draw(t, "used")
		left := rapid.Float64Range(0, 5).Draw(t, "leftover")
		p.DeliveredYd, p.LeftoverYd, p.PlannedYd = Some(used+left), Some(left), Some(used)
		if rapid.Bool().Draw(t, "leftover unknown") {
			p.LeftoverYd = Number{}
		}
		p.LaborHours = Some(p.AreaSqft.V / rapid.Float64Range(1, 150).Draw(t, "ft² an hour"))
		if found := p.Impossible(); len(found) > 0 {
			t.Fatalf("neat %v: %v", neat, found)
		}
	})
}

// TestConfirm lets every value that is left out come back, and nothing else.
func TestConfirm(t *testing.T) {
	p := sound()
	p.Clogs, p.LaborHours, p.DelayMin = Some[int64](300), Some(4000.0), Some[int64](2000)
	out := p.Impossible()
	if len(out) != 3 {
		t.Fatalf("impossible: %v", out)
	}
	for i, one := range out {
		if !Confirm(&p, one.Column) {
			t.Errorf("%s is not confirmed", one.Column)
		}
		if left := p.Impossible(); len(left) != len(out)-1-i {
			t.Errorf("after %s: %v", one.Column, left)
		}
	}
	if Confirm(&p, "neat_yd") || Confirm(&p, "no such column") || Confirm(&Load{Yards: Some(9.0)}, "yards") {
		t.Error("what is missing, or has no note, was confirmed")
	}
}

// TestSayRight keeps one word for each column, and finds exactly what was said.
func TestSayRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		said, want := "", map[string]string{}
		for range rapid.IntRange(0, 6).Draw(t, "words") {
			column := rapid.SampledFrom([]string{"clogs", "clog_min", "delivered_yd"}).Draw(t, "column")
			value := rapid.SampledFrom([]string{"1", "11", "1.5", "-2.00"}).Draw(t, "value")
			said, want[column] = SayRight(said, column, value), value
		}
		if n := len(strings.FieldsFunc(said, func(r rune) bool { return r == ';' })); n != len(want) {
			t.Fatalf("%q says %d things, want %d", said, n, len(want))
		}
		for column, value := range want {
			if !SaysRight(said, column, value) || SaysRight(said, column, value+"0") || SaysRight(said, column, "") {
				t.Fatalf("%q: %s is %s", said, column, value)
			}
		}
	})
}
