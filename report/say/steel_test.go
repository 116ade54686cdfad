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
		m.Advice = "mesh"
		for _, p := range looks {
			m.Sensitivity = append(m.Sensitivity, steel.Check{MeshCheaper: exactly(p), Heeded: true})
		}
		return m
	}
	few := cracks.TooFewCracks{N: 4, Within: cracks.ToCompareKind}
	seen := func(p float64) steel.MeshVsRebar {
		m := steel.MeshVsRebar{HazardRatio: ranged(0.7, 0.4, 1.3), Luck: exactly(p), Verdict: steel.NotSettled}
		m.MeshCheaper = figure.Unknown(steel.SeenIsNoMoney{})
		return m
	}
	noArea := steel.MeshVsRebar{AdjustedMesh: ranged(0.05, 0.03, 0.09), AdjustedRebar: ranged(0.06, 0.04, 0.1), Verdict: steel.NotSettled}
	noArea.MeshCheaper = figure.Unknown(steel.NoArea{})
	dear, cheap := steel.MeshVsRebar{Verdict: steel.NotSettled}, steel.MeshVsRebar{Verdict: steel.NotSettled}
	dear.Advice, cheap.Advice = "rebar", "mesh"
	none := steel.MeshVsRebar{Verdict: steel.CannotTell}
	none.Advice = "mesh"
	bet := func(advice string, gain float64, byPrice bool) steel.MeshVsRebar {
		m := money(steel.NotSettled, 0.15, 0.2, 0.05)
		m.Advice, m.RebarGain, m.WrongMesh, m.WrongRebar, m.ByPrice = advice, ranged(gain, -20, 160), exactly(144), exactly(61), byPrice
		return m
	}
	byPrice := money(steel.ForMesh, 0.97)
	byPrice.ByPrice = true
	prices := func(mesh, rebar figure.Source) []figure.Assumption {
		return []figure.Assumption{{What: steel.MeshMaterial, Value: 0.4, Unit: figure.DollarsPerSqft, From: mesh}, {What: steel.RebarMaterial, Value: 0.8, Unit: figure.DollarsPerSqft, From: rebar}}
	}
	own, set := figure.Source{Kind: figure.MeanOfJobs, N: 7}, figure.Setting()
	for _, c := range []struct {
		r    steel.Reinforcement
		want string
	}{
		{steel.Reinforcement{MeshVsRebar: money(steel.ForMesh, 0.9999999)}, "Use mesh where codes and the engineer leave the choice to you. Callbacks counted, it costs $0.76 a sq ft against $1.39 for rebar. That is sure: more than 99 times in 100."},
		{steel.Reinforcement{MeshVsRebar: money(steel.ForRebar, 0.07)}, "Use rebar where codes and the engineer leave the choice to you. Callbacks counted, it costs $1.39 a sq ft against $0.76 for mesh. That is likely: 93 times in 100."},
		{steel.Reinforcement{MeshVsRebar: money(steel.NotSettled, 0.6, 0.4, 0.8)}, "Not settled: mesh or rebar, either is fine. Mesh comes out cheaper 40 to 80 times in 100, depending on how it is figured."},
		{steel.Reinforcement{MeshVsRebar: money(steel.NotSettled, 0.6)}, "Not settled: mesh or rebar, either is fine. Mesh comes out cheaper 60 times in 100."},
		{steel.Reinforcement{MeshVsRebar: bet("rebar", 55, false)}, "Not settled, but rebar is the better bet: callbacks counted, it should save about $55 a placement. Mesh comes out cheaper 5 to 20 times in 100, depending on how it is figured. Wrong with rebar, you lose about $61 a placement; wrong with mesh, about $144."},
		{steel.Reinforcement{MeshVsRebar: bet("mesh", -55, false)}, "Not settled, but mesh is the better bet: callbacks counted, it should save about $55 a placement. Mesh comes out cheaper 5 to 20 times in 100, depending on how it is figured. Wrong with mesh, you lose about $144 a placement; wrong with rebar, about $61."},
		{steel.Reinforcement{MeshVsRebar: bet("mesh", -55, true), Assumptions: prices(own, set)}, "Not settled, but mesh is the better bet: it should save about $55 a placement, which the prices in the settings decide ($0.80 a sq ft for rebar). Mesh comes out cheaper 5 to 20 times in 100, depending on how it is figured. Wrong with mesh, you lose about $144 a placement; wrong with rebar, about $61."},
		{steel.Reinforcement{MeshVsRebar: byPrice, Assumptions: prices(set, set)}, "Use mesh where codes and the engineer leave the choice to you. Callbacks counted, it costs $0.76 a sq ft against $1.39 for rebar, which the prices in the settings decide ($0.40 a sq ft for mesh and $0.80 a sq ft for rebar). That is sure: 97 times in 100."},
		{steel.Reinforcement{MeshVsRebar: byPrice, Assumptions: prices(own, own)}, "Use mesh where codes and the engineer leave the choice to you. Callbacks counted, it costs $0.76 a sq ft against $1.39 for rebar. That is sure: 97 times in 100."},
		{steel.Reinforcement{MeshVsRebar: cheap, Why: few}, "Not settled. 4 cracks among these slabs: too few to compare them. Until then use what costs less to place: mesh."},
		{steel.Reinforcement{MeshVsRebar: dear, Why: few}, "Not settled. 4 cracks among these slabs: too few to compare them. Until then use what costs less to place: rebar."},
		{steel.Reinforcement{MeshVsRebar: none, Why: cracks.Incomparable{Of: "mesh", Against: "rebar", N: [2]int{0, 7}}},
			"The records cannot say whether mesh or rebar is better. 0 slabs with mesh and 7 with rebar, and a comparison needs both. Until then use what costs less to place: mesh."},
		{steel.Reinforcement{MeshVsRebar: noArea}, "Like for like, 5 in 100 slabs (between 3 and 9) with mesh and 6 in 100 slabs (between 4 and 10) with rebar bring a crack callback within a year. What that comes to in money is not known: no placement with mesh or rebar records its area."},
		{steel.Reinforcement{MeshVsRebar: seen(0.22), Event: setting.EventSeen}, "Like for like, mesh slabs are seen cracked 0.7 times (between 0.4 and 1.3) as often as rebar slabs. That could easily be luck, which makes such a difference 22 times in 100. What that comes to in money is not known: costs are figured from callbacks, and these are cracks seen at visits."},
		{steel.Reinforcement{MeshVsRebar: seen(0.02), Event: setting.EventSeen}, "Like for like, mesh slabs are seen cracked 0.7 times (between 0.4 and 1.3) as often as rebar slabs. Luck alone makes such a difference 2 times in 100. What that comes to in money is not known: costs are figured from callbacks, and these are cracks seen at visits."},
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
		{5.3, 141, "There are callbacks enough for such a difference to show, and none shows clearly: the true one may lie near where rebar just pays."},
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
	m.Detectable = exactly(94089)
	if got := w.Evidence(&steel.Reinforcement{MeshVsRebar: m, Event: setting.EventCallback}); !strings.Contains(got, "not even a tenfold difference") || strings.Contains(got, "94,089") {
		t.Errorf("a difference that nobody looks for: %q", got)
	}
}

// What is open is said, and no sample size once it is answered: where the range
// of the ratio leaves break-even out, where no number of slabs would tell, and
// where it is settled.
func TestNoSampleSizeForWhatIsAnswered(t *testing.T) {
	w := Steel{New("", "", "")}
	m := steel.MeshVsRebar{Mesh: 300, Rebar: 300, Events: 60, Verdict: steel.NotSettled}
	m.BreakEven, m.Detectable = exactly(1.3), exactly(2.4)
	m.PlacementsInTurns, m.YearsInTurns = exactly(1210), exactly(5.4)
	turns := " With mesh and rebar taking turns, about 1,210 placements, each watched for a year, would tell. At the present pace that is 6 years."
	for _, c := range []struct {
		why     figure.Reason
		verdict steel.Verdict
		want    string
	}{
		{steel.RangeAnswers{}, steel.NotSettled, "Luck is all but ruled out. What is open is whether something not on record explains the difference." + turns},
		{steel.OnlyTurnsTell{}, steel.NotSettled, "More slabs chosen as before would not tell whether rebar pays: something not on record may matter as much." + turns},
		{steel.IsSettled{}, steel.ForRebar, ""},
	} {
		m.PlacementsNeeded, m.Verdict = figure.Unknown(c.why), c.verdict
		if got := w.Settling(&m); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}

// What something unrecorded may do stands in a line of its own: e^(1.645·0.4) is
// 1.9 times.
func TestWhatWasNotRecordedIsSaid(t *testing.T) {
	w := Steel{New("", "", "")}
	m := steel.MeshVsRebar{}
	m.BiasSD = exactly(0.4)
	if got := w.unrecorded(&m); !strings.HasSuffix(got, "it may move mesh callbacks against rebar's by up to 1.9 times either way.") {
		t.Errorf("%q", got)
	}
	for bias, want := range map[float64]string{0.4: "up to 1.9 times", 0: "not at all: they took turns"} {
		m.BiasSD = exactly(bias)
		rows := w.Questions(&m, "")
		if len(rows) != 1 || rows[0].Cell.Text != want {
			t.Errorf("%+v, want %q", rows, want)
		}
	}
	m.Alternated = true
	if got := w.unrecorded(&m); got != "By the settings mesh and rebar took turns, so nothing but the steel should go with either." {
		t.Errorf("%q", got)
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
		{money(290, ranged(17_200, 9_100, 41_000)), "Rebar would pay only if a callback cost over $17,000 ($9,100 to $41,000)."},
		{money(-90, ranged(17_200, 9_100, 41_000)), "Mesh would pay only if a callback cost over $17,000 ($9,100 to $41,000)."},
		{money(290, figure.Unknown(steel.TurnsAnywhere{})), ""},
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
		{figure.Assumption{What: steel.MeshPlacing, Value: 0.5, Unit: figure.HoursPer100, From: figure.Source{Kind: figure.MeanOfPlacements, N: 1}}, "Hours to place mesh: 0.50 person-hours for 100 sq ft (mean of 1 placement in your records).", "Hours to place mesh: 0.54 person-hours for 10 m² (mean of 1 placement in your records)."},
		{figure.Assumption{What: steel.BurdenedWage, Value: 48, Unit: figure.DollarsAnHour, From: figure.Source{Kind: figure.MeanOfLabor, N: 4050}}, "Wage with its burden: $48 an hour (mean of 4,050 labor entries in your records).", "Wage with its burden: €48 an hour (mean of 4,050 labor entries in your records)."},
		{figure.Assumption{What: cracks.Warranty, Value: 12, Unit: figure.Months, From: figure.WarrantyFrom(false)}, "Warranty: 12 months (assumed: no job states its warranty).", "Warranty: 12 months (assumed: no job states its warranty)."},
		{figure.Assumption{What: steel.ChoiceYears, Value: 3, Unit: figure.Years, From: figure.Setting()}, "Years the choice is for: 3 years (setting).", "Years the choice is for: 3 years (setting)."},
		{figure.Entered(steel.MeshMaterial, figure.DollarsPerSqft, 0.4, 0.1), "Price of mesh: $0.40 a sq ft, give or take 10% (setting).", "Price of mesh: €4.31 a m², give or take 10% (setting)."},
	} {
		if us.Assumed(c.a) != c.us || si.Assumed(c.a) != c.si {
			t.Errorf("%q and %q\nwant %q and %q", us.Assumed(c.a), si.Assumed(c.a), c.us, c.si)
		}
	}
}
