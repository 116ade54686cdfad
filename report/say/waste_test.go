package say

import (
	"strings"
	"testing"

	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/report/internal/trial"
)

func wasteFigure(v float64) figure.Figure { return figure.Total(v, 20, "made up") }

// The wording is our own: no published source.
func TestWhatToOrder(t *testing.T) {
	kind := func(use, method string, n int, typical, order, short float64) concrete.Group {
		return concrete.Group{Use: use, Method: method, N: n, TypicalYd: typical, OrderYd: wasteFigure(order), OrderAllowance: wasteFigure(order/typical - 1), ChanceShort: wasteFigure(short)}
	}
	driveways := []concrete.Group{kind("apron", "chute", 56, 3.7, 4.25, .03), kind("driveway", "chute", 113, 8.23, 9.25, .058), kind("driveway", "pump", 34, 10, 11.5, .04)}
	patio := []concrete.Group{kind("patio", "buggy", 6, 4, 5, .1)}
	for _, c := range []struct {
		units string
		o     concrete.Overage
		want  string
	}{
		{"us", concrete.Overage{Groups: driveways, First: []int{1, 2}}, "Order 9¼ yd for the next 8.2 yd driveway off the chute. By pump, 11½ yd for 10 yd. That covers 94 jobs in 100."},
		{"us", concrete.Overage{Groups: driveways, First: []int{2, 1}}, "Order 11½ yd for the next 10 yd driveway by pump. Off the chute, 9¼ yd for 8.2 yd. That covers 94 jobs in 100."},
		{"us", concrete.Overage{Groups: []concrete.Group{kind("driveway", "chute", 20, 9.7, 10.5, .03), kind("driveway", "barrow", 12, 9.6, 10, .37)}, First: []int{0, 1}}, "Order 10½ yd for the next 9.7 yd driveway off the chute. By barrow, 10 yd for 9.6 yd. They cover 97% and 63%."},
		{"us", concrete.Overage{Groups: patio, First: []int{0}}, "Order 5 yd for the next 4 yd patio by buggy. That covers 9 jobs in 10."},
		{"si", concrete.Overage{Groups: patio, First: []int{0}}, "Order 3.8 m³ for the next 3.1 m³ patio by buggy. That covers 9 jobs in 10."},
		{"us", concrete.Overage{Groups: []concrete.Group{kind("unknown", "unknown", 9, 4, 5, .002)}, First: []int{0}}, "Order 5 yd for the next 4 yd job. That covers more than 99 jobs in 100."},
		{"us", concrete.Overage{Why: concrete.FewVolumes{N: 3}}, "Too early to say how much to order. 3 pours have all their volumes on record; it takes 5."},
		{"us", concrete.Overage{Why: concrete.FewVolumes{N: 1}}, "Too early to say how much to order. 1 pour has all its volumes on record; it takes 5."},
		{"us", concrete.Overage{Why: concrete.TooUnlike{}}, "Your records give no order yet: such placements used amounts too unlike one another to order by; check their records."},
	} {
		c.o.All.N = 100
		if got := (Waste{New("", c.units, "")}).Answer(&c.o); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
		if n := len(strings.Fields(c.want)); n > 25 {
			t.Errorf("%d words: %q", n, c.want)
		}
	}
	if got, want := (Waste{New("", "", "")}).Answer(&concrete.Overage{}), "The records cannot say how much to order: no pour has its volumes drawn, delivered and left over."; got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
}

// Each thing that the figures leave out, doubt or rest on is said, and nothing
// of what there is not.
func TestNotesOnWaste(t *testing.T) {
	o := concrete.Overage{All: concrete.Group{N: 100, RatioOfTotals: trial.Bounded(.08, .07, .09)},
		LeftOut:     concrete.LeftOut{Placements: 5, NoNeat: 1, NoDelivered: 2, NoLeftover: 1, Impossible: 1},
		Checks:      concrete.Checks{Odd: concrete.OddPlacements{Placements: 2, Orders: 1}, Cut: concrete.CutPlacements{Placements: 1}, Under: 3},
		Alike:       []string{"chute", "pump"},
		Apart:       concrete.CrewsApart{Compared: 3, TypicalYd: 6, Crews: []concrete.CrewApart{{Crew: "Kestrel", Yd: .24}, {Crew: "Wren", Yd: -.15}}},
		Assumptions: concrete.OverageAssumptions{Order: setting.DefaultOrderCosts()}}
	w := Waste{New("", "", "")}
	got := strings.Join(w.Notes(&o), "\n")
	for _, want := range []string{
		"So far all jobs together used 8% (between 7 and 9) more concrete than drawn.",
		"Not counted: 1 placement without a volume on the drawing, 2 placements without what was delivered, 1 placement without what was left over and 1 placement with more left over than delivered.",
		"Jobs by chute and pump are too alike in size",
		"2 placements are far from usual for their kind: check them. They still count. Counting them less moves the order of 1 kind of job by more than ¼ yd.",
		"1 placement had nothing left over and nothing more called in, so it may have run short. Without such pours no order moves by more than ¼ yd.",
		"3 placements used less than nine tenths of their drawing: check them.",
		"On a 6 yd job, against an average crew: Kestrel 0.24 yd more and Wren 0.15 yd less. The orders are for an average crew.",
		"Do not order by the past average.",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%s\ndoes not say %q", got, want)
		}
	}
	o.Groups, o.First = []concrete.Group{{Use: "driveway", Method: "pump", TypicalYd: 10}}, []int{0}
	o.BySize = []concrete.OverageSize{{Use: "driveway", Method: "pump", NeatYd: 4, OrderYd: wasteFigure(5)}}
	if got := strings.Join(w.Notes(&o), "\n"); !strings.Contains(got, "a small job needs a larger share added: 25% on 4 yd (driveway, pump).") {
		t.Errorf("%s", got)
	}
	o.All.RatioOfTotals = trial.Bounded(-.02, -.05, .01)
	if got := w.Notes(&o)[0]; got != "So far all jobs together used 2% (between −1 and 5) less concrete than drawn." {
		t.Errorf("%q", got)
	}
	little := concrete.Overage{Why: concrete.FewVolumes{N: 2}, Assumptions: concrete.OverageAssumptions{Priors: setting.DefaultOveragePriors()}}
	if got := w.Notes(&little); len(got) != 2 || got[0] != "Write down what was drawn, delivered and left over at each pour." || got[1] != "Until then add 5% to the drawing, and 0.1 yd on every job or 0.35 yd by pump. That is assumed, not from your records." {
		t.Errorf("%q", got)
	}
	same := concrete.Overage{All: concrete.Group{N: 9}, Apart: concrete.CrewsApart{Compared: 2}}
	if got := strings.Join(w.Notes(&same), "\n"); strings.Contains(got, "Not counted") || strings.Contains(got, "far from usual") || !strings.Contains(got, "no crew clearly uses more") {
		t.Errorf("%q", got)
	}
}

// What the settings hold is said as it was set, in the money and the volume that
// are read. 172.50 a yard is 225.62 a m³ (NIST SP 811, appendix B).
func TestWhatAnOrderAssumes(t *testing.T) {
	c := setting.DefaultOrderCosts()
	c.PricePerYd = 172.5
	a := concrete.OverageAssumptions{Order: c, Priors: setting.DefaultOveragePriors()}
	us := strings.Join((Waste{New("", "us", "")}).Assumed(a), "\n")
	for _, want := range []string{"concrete $172.50 a yard, and hauling off what is left $50.00 a yard", "An unplanned extra load costs $330.00 plus its concrete. A last load called in with 3 yd on hand costs nothing more.", "sends 1 yd or more in steps of 0.25 yd, and a truck holds 10 yd",
		"5% ± 5% of the volume. Lost on every job whatever its size: 0.1 yd ± 0.25 yd, or 0.35 yd ± 0.35 yd by pump"} {
		if !strings.Contains(us, want) {
			t.Errorf("%s\ndoes not say %q", us, want)
		}
	}
	if si := strings.Join((Waste{New("", "si", "CHF")}).Assumed(a), "\n"); !strings.Contains(si, "concrete CHF 225.62 a m³") || strings.Contains(si, "yd") || strings.Contains(si, "yard") {
		t.Errorf("%s", si)
	}
}

// The company's own prices are told with the lines that they rest on.
func TestOwnPrices(t *testing.T) {
	w := Waste{New("", "", "")}
	told := []concrete.ToldPrice{{Item: "concrete", Price: 170, Lines: 12}, {Item: "disposal", Price: 44.5, Lines: 6}}
	for want, own := range map[string]concrete.OwnCosts{
		"": {},
		"Your own cost lines say concrete $170.00 a yard (12 lines) and hauling off $44.50 a yard (6 lines). At those prices the orders of 3 kinds of job would change.": {Told: told, Orders: 3},
		"Your own cost lines say concrete $170.00 a yard (12 lines). At those prices no order would change.":                                                             {Told: told[:1]},
	} {
		if got := w.OwnPrices(own); got != want {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
}

// Every reason of the rooms on concrete and weather has words of its own.
func TestReasonsOnConcrete(t *testing.T) {
	v := New("", "si", "")
	for want, r := range map[string]figure.Reason{
		"4 placements have all their volumes on record; it takes 5":                            concrete.FewVolumes{N: 4},
		"1 placement by pump; it takes 5. Until then 0.27 m³ is assumed":                       concrete.FewByMethod{Method: "pump", N: 1, AssumedYd: .35},
		"jobs by chute are too alike in size, so the assumed 0.08 m³ decides":                  concrete.AlikeInSize{Method: "chute", AssumedYd: .1},
		"2 placements of this crew; it takes 5":                                                concrete.FewOfCrew{N: 2},
		"no one average holds for all kinds of placement":                                      concrete.ManyKinds{},
		"no placement has its volumes drawn, delivered and left over":                          concrete.NoVolumes{},
		"such placements used amounts too unlike one another to order by; check their records": concrete.TooUnlike{},
	} {
		if got := v.Reason(r); got != want {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
	if got := v.Reason(concrete.FewProbed{N: 1}); !strings.HasPrefix(got, "1 placement has its area") {
		t.Errorf("%q", got)
	}
}

// The wording is our own: no published source.
func TestWhatTheLastLoadIs(t *testing.T) {
	for _, c := range []struct {
		units string
		call  concrete.BalanceCall
		want  string
	}{
		{"us", concrete.BalanceCall{CallYd: 6.5, ChanceShort: .04, NoCallShort: .999}, "Call in 6½ yd. That runs short 4 times in 100; with nothing called in, more than 99 times in 100."},
		{"si", concrete.BalanceCall{CallYd: 6.5, ChanceShort: .012, NoCallShort: .5}, "Call in 5 m³. That runs short once in 100; with nothing called in, 50 times in 100."},
		{"us", concrete.BalanceCall{ChanceShort: .001}, "Call nothing in. What is on hand runs short less than once in 100."},
		{"us", concrete.BalanceCall{Done: true}, "All of the area is covered. Call nothing in."},
	} {
		if got := (Balance{New("", c.units, "")}).Answer(c.call); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}
