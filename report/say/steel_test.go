package say

import (
	"strings"
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/steel"
)

func TestMeshOrRebarInASentence(t *testing.T) {
	money := func(verdict steel.Verdict, mesh float64, looks ...float64) steel.MeshVsRebar {
		m := steel.MeshVsRebar{Verdict: verdict}
		m.MeshCheaper, m.CostMesh, m.CostRebar = exactly(mesh), ranged(0.757, 0.69, 0.88), ranged(1.387, 1.34, 1.46)
		for _, p := range looks {
			m.Sensitivity = append(m.Sensitivity, steel.Check{MeshCheaper: exactly(p), Heeded: true})
		}
		return m
	}
	few := cracks.TooFewCracks{N: 4, Within: cracks.ToCompareKind}
	seen := steel.MeshVsRebar{AdjustedMesh: ranged(0.05, 0.03, 0.09), AdjustedRebar: ranged(0.06, 0.04, 0.1), Verdict: steel.NotSettled}
	seen.MeshCheaper = figure.Unknown(steel.SeenIsNoMoney{})
	dear := steel.MeshVsRebar{Verdict: steel.NotSettled}
	dear.ExtraRebar = exactly(-40)
	for _, c := range []struct {
		r    steel.Reinforcement
		want string
	}{
		{steel.Reinforcement{MeshVsRebar: money(steel.ForMesh, 0.9999999)}, "Use mesh where codes and the engineer leave the choice to you. Callbacks counted, it costs $0.76 a sq ft against $1.39 for rebar. That is sure: over 99 in 100."},
		{steel.Reinforcement{MeshVsRebar: money(steel.ForRebar, 0.07)}, "Use rebar where codes and the engineer leave the choice to you. Callbacks counted, it costs $1.39 a sq ft against $0.76 for mesh. That is likely: 93 in 100."},
		{steel.Reinforcement{MeshVsRebar: money(steel.NotSettled, 0.6, 0.4, 0.8)}, "Not settled: mesh or rebar, either is fine. Mesh comes out cheaper 40 to 80 times in 100, depending on how it is figured. Until then use what costs less to place: mesh."},
		{steel.Reinforcement{MeshVsRebar: money(steel.NotSettled, 0.6)}, "Not settled: mesh or rebar, either is fine. Mesh comes out cheaper 60 times in 100. Until then use what costs less to place: mesh."},
		{steel.Reinforcement{MeshVsRebar: steel.MeshVsRebar{Verdict: steel.NotSettled}, Why: few}, "Not settled. 4 cracks among these slabs: too few to compare them. Until then use what costs less to place: mesh."},
		{steel.Reinforcement{MeshVsRebar: dear, Why: few}, "Not settled. 4 cracks among these slabs: too few to compare them. Until then use what costs less to place: rebar."},
		{steel.Reinforcement{MeshVsRebar: steel.MeshVsRebar{Verdict: steel.CannotTell}, Why: cracks.Incomparable{Of: "mesh", Against: "rebar", N: [2]int{0, 7}}},
			"The records cannot say whether mesh or rebar is better. 0 slabs with mesh and 7 with rebar, and a comparison needs both. Until then use what costs less to place: mesh."},
		{steel.Reinforcement{MeshVsRebar: seen, Event: setting.EventSeen}, "Like for like, 5 in 100 slabs (between 3 and 9) with mesh and 6 in 100 slabs (between 4 and 10) with rebar are seen with a crack within a year. What that comes to in money is not known: costs are figured from callbacks, and these are cracks seen at visits."},
	} {
		if got := (Steel{New("", "", "")}).Answer(&c.r); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}

// A ft² is 0.09290304 m² (exact, NIST SP 811): $0.757 a ft² are $8.15 a m².
func TestCostsOfAnAreaInMetric(t *testing.T) {
	m := steel.MeshVsRebar{Verdict: steel.ForMesh}
	m.MeshCheaper, m.CostMesh, m.CostRebar = exactly(0.97), exactly(0.757), exactly(1.387)
	got := Steel{New("", "si", "€")}.Answer(&steel.Reinforcement{MeshVsRebar: m})
	if !strings.Contains(got, "it costs €8.15 a m² against €14.93 for rebar") {
		t.Errorf("%q", got)
	}
}

// What it takes to tell whether rebar pays: slabs enough are not cracks enough.
func TestWhatItTakesToTell(t *testing.T) {
	w := Steel{New("", "", "")}
	m := steel.MeshVsRebar{Mesh: 80, Rebar: 71, Events: 6}
	m.BreakEven = exactly(5.3)
	for _, c := range []struct {
		detectable, needed float64
		want               string
	}{
		{7.8, 141, "No more slabs are needed to tell whether rebar pays: these should bring enough callbacks as they get older."},
		{5.3, 141, "Enough callbacks to tell whether rebar pays."},
		{7.8, 302, "It takes about 302 placements, each watched for a year, to tell whether rebar pays: 151 more than you have. At the present pace that is 1 year."},
	} {
		m.Detectable, m.PlacementsNeeded, m.YearsNeeded = exactly(c.detectable), exactly(c.needed), exactly(c.needed/151)
		if got := w.Settling(&m); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
		want := "6 crack callbacks among 151 slabs with mesh or rebar. With that many, only a difference of "
		if got := w.Evidence(&steel.Reinforcement{MeshVsRebar: m, Event: setting.EventCallback}); !strings.HasPrefix(got, want) || !strings.HasSuffix(got, c.want) {
			t.Errorf("%q\nwant %q … %q", got, want, c.want)
		}
	}
}

// The one that costs more to place would pay only if callbacks cost enough, or
// never.
func TestWhereTheChoiceTurns(t *testing.T) {
	w := Steel{New("", "", "")}
	money := func(extra float64, turning figure.Figure) *steel.Money {
		return &steel.Money{ExtraRebar: exactly(extra), TurningCost: turning}
	}
	for _, c := range []struct {
		m    *steel.Money
		want string
	}{
		{money(290, exactly(17_200)), "Rebar would pay only if a callback cost over $17,000."},
		{money(-90, exactly(17_200)), "Mesh would pay only if a callback cost over $17,000."},
		{money(290, figure.Unknown(steel.NothingTurns{})), "Nothing in your records makes rebar pay."},
		{money(-90, figure.Unknown(steel.NothingTurns{})), "Nothing in your records makes mesh pay."},
		{money(290, figure.Unknown(steel.NoFairComparison{})), ""},
		{&steel.Money{}, ""},
	} {
		if got := w.Turns(c.m); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestRawAgainstFair(t *testing.T) {
	w := Steel{New("", "", "")}
	for v, want := range map[float64]string{0.024: "2 more", -0.016: "2 fewer", 0.001: "no more"} {
		if got := w.pointsMore(v); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
	m := steel.MeshVsRebar{RawDifference: exactly(-0.03), AdjustedDifference: ranged(-0.04, -0.07, 0.001)}
	if got, want := w.FairSays(&m), "Raw, mesh brings 3 fewer callbacks in 100 slabs than rebar; like for like, 4 fewer. There may be no difference at all."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// What is assumed is said in the units that are read: half a person-hour for 100
// ft² is 0.54 for 10 m².
func TestAssumptionsInBothUnits(t *testing.T) {
	us, si := New("", "", ""), New("", "si", "€")
	for _, c := range []struct {
		a      figure.Assumption
		us, si string
	}{
		{figure.Assumption{What: cracks.CallbackCost, Value: 806.4, Unit: figure.Dollar, From: figure.Source{Kind: figure.MeanOf, N: 29}}, "Cost of a crack callback: $806 (mean of 29 in your records).", "Cost of a crack callback: €806 (mean of 29 in your records)."},
		{figure.Assumption{What: steel.MeshMaterial, Value: 0.4, Unit: figure.DollarsPerSqft, From: figure.Setting()}, "Price of mesh: $0.40 a sq ft (setting).", "Price of mesh: €4.31 a m² (setting)."},
		{figure.Assumption{What: steel.MeshPlacing, Value: 0.5, Unit: figure.HoursPer100, From: figure.Source{Kind: figure.MedianOfPlacements, N: 1}}, "Hours to place mesh: 0.50 person-hours for 100 sq ft (median of 1 placement in your records).", "Hours to place mesh: 0.54 person-hours for 10 m² (median of 1 placement in your records)."},
		{figure.Assumption{What: steel.BurdenedWage, Value: 48, Unit: figure.DollarsAnHour, From: figure.Source{Kind: figure.MedianOfLabor, N: 4050}}, "Wage with its burden: $48 an hour (median of 4,050 labor entries in your records).", "Wage with its burden: €48 an hour (median of 4,050 labor entries in your records)."},
		{figure.Assumption{What: cracks.Warranty, Value: 12, Unit: figure.Months, From: figure.WarrantyFrom(false)}, "Warranty: 12 months (assumed: no job states its warranty).", "Warranty: 12 months (assumed: no job states its warranty)."},
		{figure.Assumption{What: steel.ChoiceYears, Value: 3, Unit: figure.Years, From: figure.Setting()}, "Years the choice is for: 3 years (setting).", "Years the choice is for: 3 years (setting)."},
	} {
		if us.Assumed(c.a) != c.us || si.Assumed(c.a) != c.si {
			t.Errorf("%q and %q\nwant %q and %q", us.Assumed(c.a), si.Assumed(c.a), c.us, c.si)
		}
	}
}
