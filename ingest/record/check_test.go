package record

import (
	"slices"
	"testing"
)

func codes(ps []Problem) []string {
	var cs []string
	for _, p := range ps {
		cs = append(cs, p.Severity.String()+" "+p.Code)
	}
	return cs
}

func TestChecks(t *testing.T) {
	today := day("2025-12-31")
	base := Placement{JobNo: "J-1", Placement: "A", PlacedOn: day("2025-06-03"), AreaSqft: Some(810.0), ThicknessIn: Some(4.0)} // 10 yd³ neat
	placement := func(change func(*Placement)) Record { p := base; change(&p); return &p }
	for _, c := range []struct {
		name string
		row  Record
		want []string
	}{
		{"a sound pour", placement(func(p *Placement) { p.DeliveredYd, p.LeftoverYd = Some(10.5), Some(0.25) }), nil},
		{"tomorrow's pour", placement(func(p *Placement) { p.PlacedOn = today + 1 }), []string{"error future-pour"}},
		{"called back before the pour", placement(func(p *Placement) { p.CallbackOn, p.CallbackKind = p.PlacedOn-1, "crack" }), []string{"error callback-before-pour"}},
		{"called back on the day", placement(func(p *Placement) { p.CallbackOn, p.CallbackKind = p.PlacedOn, "crack" }), nil},
		{"called back tomorrow", placement(func(p *Placement) { p.CallbackOn, p.CallbackKind = today+1, "crack" }), []string{"error future-callback"}},
		{"called back, nobody says why", placement(func(p *Placement) { p.CallbackOn = today }), []string{"warning callback-without-kind"}},
		{"a kind of callback but no day", placement(func(p *Placement) { p.CallbackKind = "crack" }), []string{"warning callback-undated"}},
		{"0.79 of neat", placement(func(p *Placement) { p.DeliveredYd = Some(7.9) }), []string{"warning under-delivered"}},
		{"0.8 of neat", placement(func(p *Placement) { p.DeliveredYd = Some(8.0) }), nil},
		{"more left than came", placement(func(p *Placement) { p.DeliveredYd, p.LeftoverYd = Some(10.0), Some(10.5) }), []string{"error leftover-over-delivered"}},
		{"sawn through", placement(func(p *Placement) { p.JointDepthIn = Some(4.5) }), []string{"error cut-through"}},
		{"121 minutes in the drum", &Load{BatchedAt: moment("2025-06-03T07:00"), PourEnd: moment("2025-06-03T09:01")}, []string{"warning over-time-limit"}},
		{"120 minutes", &Load{BatchedAt: moment("2025-06-03T07:00"), PourEnd: moment("2025-06-03T09:00")}, nil},
		{"arrived before it was batched", &Load{BatchedAt: moment("2025-06-03T07:00"), ArrivedAt: moment("2025-06-03T06:30")}, []string{"error times-out-of-order"}},
		{"product to the cent", &Cost{ActualQty: Some(10.3), ActualRate: Some[Cents](16533), ActualAmount: Some[Cents](170290)}, nil}, // 10.3 × 165.33 = 1702.899
		{"a cent off", &Cost{ActualQty: Some(10.3), ActualRate: Some[Cents](16533), ActualAmount: Some[Cents](170289)}, []string{"warning amount-unlike-product"}},
		{"closed before it was opened", &Visit{SeenOn: today, ResolvedOn: today - 1, Why: "callback", Finding: "crack"}, []string{"error resolved-before-seen"}},
	} {
		if got := codes(c.row.Check(today)); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestRangeProblems(t *testing.T) {
	for _, c := range []struct {
		table  *Table
		column string
		value  float64
		want   string
	}{
		{Placements, "thickness_in", 45, "error: thicker than 24 in; did you mean 4.5?"},
		{Placements, "thickness_in", 4, ""},
		{Placements, "thickness_in", 0, "error: not above zero; usual is 2 to 16 in"},
		{Placements, "humidity_pct", 0, "warning: less than 1 %; usual is 1 to 100 %"},
		{Placements, "humidity_pct", 101, "error: more than 100 %; did you mean 10.1?"},
		{Loads, "yards", 12, ""},
		{Loads, "yards", 12.5, "warning: more than 12 yd³; did you mean 1.25?"},
		{Placements, "saw_hours", -2, "error: less than 0 h; did you mean 2?"},
		{Visits, "width_in", 3, "error: more than 2 in; did you mean 0.3?"},
	} {
		p, bad := c.table.Column(c.column).RangeProblem(c.value)
		got := ""
		if bad {
			got = p.Severity.String() + ": " + p.Text()
		}
		if got != c.want {
			t.Errorf("%s %v: %q, want %q", c.column, c.value, got, c.want)
		}
	}
}

func TestProblemString(t *testing.T) {
	p := Problem{File: "jobs-2025.xlsx", Sheet: "placements", Row: 41, Column: "thickness_in", Value: "45", Wrong: "thicker than 24 in", Right: "did you mean 4.5?"}
	if got, want := p.String(), `jobs-2025.xlsx, placements, row 41, thickness_in "45": thicker than 24 in; did you mean 4.5?`; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}
