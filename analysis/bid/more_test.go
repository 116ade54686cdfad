package bid

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/concrete"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// Where the cost is N(μ, σ²) the price for a margin t at certainty p is (μ +
// z_p·σ)/(1 − t), by arithmetic; here on the normal's own quantiles.
func TestPriceOfANormalCost(t *testing.T) {
	law := distuv.Normal{Mu: 6000, Sigma: 900}
	costs := make([]float64, 20_000)
	for i := range costs {
		costs[i] = law.Quantile((float64(i) + 0.5) / float64(len(costs)))
	}
	for _, p := range certainties {
		at := p + (.5-p)/float64(len(costs)) // where type 7 looks among values at (i + ½)/n
		trial.Near(t, fmt.Sprintf("price at %v", p), pricesFor(costs, .3, 1, p)[0], (6000+900*distuv.UnitNormal.Quantile(at))/.7, 0.01)
	}
}

// With one to four records the bid is made, stands on common practice and says
// how many records there are.
func TestAFewRecordsAreSaidToBeFew(t *testing.T) {
	var s record.Set
	for i := range 3 {
		p := trial.Pour(fmt.Sprint(i), "2025-07-02", "patio", "chute", 5, 5.4)
		p.LaborHours, p.CrewSize, p.DelayMin = record.Some(25.0), record.Some(int64(3)), record.Some(int64(10))
		s.Placements = append(s.Placements, p)
	}
	b := bidOf(t, record.NewHistory(trial.Day("2026-01-01"), s), Spec{Draws: 500, Placements: []Placement{plainSlab()}}, setting.Options{})
	for _, n := range []Number{b.Labor.Mean, b.Days[0].Order.ChanceShort, b.Delay.OtherMin} {
		if n.Basis.From != FromPractice || n.Basis.N != 3 || n.Basis.Of == "" {
			t.Errorf("%+v", n.Basis)
		}
	}
	before := bidOf(t, stranger(), Spec{Draws: 500, Placements: []Placement{plainSlab()}}, setting.Options{})
	if b.UsedYd.P90-b.UsedYd.P10 >= before.UsedYd.P90-before.UsedYd.P10 {
		t.Error("three records have taught nothing")
	}
}

// The company's usual spacing is kept to as far as the guide goes: 24 to 36
// thicknesses (CSA A23.1-94 §20.2.1), 12 ft at 4 in.
func TestTheUsualSpacingWithinTheGuide(t *testing.T) {
	for usual, want := range map[float64]float64{9: 9, 14: 12, 1: leastSpacingFt} {
		var s record.Set
		for i := range 6 {
			p := trial.Pour(fmt.Sprint(i), "2025-07-02", "patio", "chute", 5, 5.4)
			p.JointSpacingFt = record.Some(usual)
			s.Placements = append(s.Placements, p)
		}
		b := bidOf(t, record.NewHistory(trial.Day("2026-01-01"), s), Spec{Draws: 10, Placements: []Placement{plainSlab()}}, setting.Options{})
		j := b.Placements[0].Joints
		trial.Near(t, fmt.Sprintf("spacing for a usual %v", usual), j.MaxFt.Figure.Value, want, 1e-9)
		if j.MaxFt.Basis.From != FromRecords || j.LongestFt > want+1e-9 {
			t.Errorf("%+v, longest %v", j.MaxFt, j.LongestFt)
		}
	}
	b := bidOf(t, stranger(), Spec{Draws: 10, Placements: []Placement{plainSlab()}}, setting.Options{})
	trial.Near(t, "spacing by the guide, 24 × 4 in", b.Placements[0].Joints.MaxFt.Figure.Value, 8, 1e-9)
}

// An L is its rectangle less its corner: 20 × 30 less 8 × 10 ft is 520 ft² and at
// 4 in 6.420 yd³, and so are its panels and its outline.
func TestAnLIsWhatIsLeft(t *testing.T) {
	p := plainSlab()
	p.LengthFt, p.WidthFt, p.NotchLengthFt, p.NotchWidthFt = 30, 20, 10, 8
	b := bidOf(t, stranger(), Spec{Draws: 10, Placements: []Placement{p}}, setting.Options{})
	trial.Near(t, "area", b.AreaSqft.Figure.Value, 520, 1e-9)
	trial.Near(t, "neat", b.NeatYd.Figure.Value, 520*4/324., 1e-9)
	for _, rects := range [][]PlanRect{b.Placements[0].Joints.Outline, b.Placements[0].Joints.Panels} {
		sum := 0.0
		for _, r := range rects {
			sum += r.W * r.H
		}
		trial.Near(t, "covered", sum, 520, 1e-6)
	}
	if len(b.Placements[0].Joints.Outline) != 2 {
		t.Error("an L is two rectangles")
	}
}

// Steel by the ways it is asked for: #3 at 12 in weighs what the table says,
// 2 × 0.376 lb/ft² (ASTM A615, from memory), give or take edges, laps and waste;
// its price goes by weight unless the spec names it.
func TestSteelOfABid(t *testing.T) {
	p := plainSlab()
	p.Reinforcement, p.Bar, p.BarSpacingIn = "rebar", "#3", 12
	b := bidOf(t, stranger(), Spec{Draws: 10, Placements: []Placement{p}}, setting.Options{})
	way := b.Placements[0].Steel[2]
	if !way.Chosen || math.Abs(way.WeightLb/400/(2*.376)-1) > 0.10 {
		t.Errorf("%+v", way)
	}
	trial.Near(t, "material", way.Material.Figure.Value, 400*.80*(.376/12)/(.668/18), 1e-6)
	b = bidOf(t, stranger(), Spec{Draws: 10, Prices: Prices{RebarPerSqft: 1}, Placements: []Placement{p}}, setting.Options{})
	if way = b.Placements[0].Steel[2]; way.Material.Figure.Value != 400 || way.Material.Basis.From != FromSpec {
		t.Errorf("%+v", way.Material)
	}
	for word, want := range map[string][2]float64{"6x6-W2.9/W2.9": {6, 2.9}, "4x4 W4": {4, 4}, "6×6 – W2.1": {6, 2.1}, "mesh": {6, 1.4}, "99x99-W1": {6, 1.4}} {
		if spacing, wire := meshOf(word); spacing != want[0] || wire != want[1] {
			t.Errorf("%q read as %v, %v", word, spacing, wire)
		}
	}
}

func TestBalanceOfABid(t *testing.T) {
	spec := Spec{Placements: []Placement{plainSlab()}}
	call, err := Balance(stranger(), spec, setting.Options{}, 1, concrete.Progress{PlacedYd: 3, Covered: .5, OnHandYd: 1})
	if err != nil || call.CallYd <= 0 || call.ChanceShort >= call.NoCallShort {
		t.Errorf("%+v, %v", call, err)
	}
	// Before anything is covered the call is the order of the bid, less what is there.
	order := bidOf(t, stranger(), spec, setting.Options{}).Days[0].Order
	for _, onHand := range []float64{0, 2, 50} {
		call, err := Balance(stranger(), spec, setting.Options{}, 0, concrete.Progress{OnHandYd: onHand})
		if err != nil || call.CallYd != max(0, order.Yd-onHand) || onHand == 0 && math.Abs(call.ChanceShort-order.ChanceShort.Figure.Value) > 0.02 {
			t.Errorf("with %v yd on hand: %+v, %v; the order is %+v", onHand, call, err, order)
		}
	}
	// All covered wants nothing, however much is there.
	if call, err := Balance(stranger(), spec, setting.Options{}, 0, concrete.Progress{PlacedYd: 5.5, Covered: 1, OnHandYd: 1.5}); err != nil || call.CallYd != 0 || call.LeftoverYd != 1.5 {
		t.Errorf("%+v, %v", call, err)
	}
	for _, c := range []struct {
		spec Spec
		day  int
		at   concrete.Progress
	}{{spec, 1, concrete.Progress{PlacedYd: 600, Covered: .5}}, {spec, 1, concrete.Progress{PlacedYd: .1, Covered: .9}}, {spec, 1, concrete.Progress{PlacedYd: 3, Covered: .005}}, {spec, 2, concrete.Progress{PlacedYd: 1, Covered: .2}}, {spec, 1, concrete.Progress{PlacedYd: -1}}, {spec, 1, concrete.Progress{PlacedYd: 1, Covered: 1.2}}, {Spec{}, 1, concrete.Progress{}}} {
		if _, err := Balance(stranger(), c.spec, setting.Options{}, c.day, c.at); err == nil {
			t.Errorf("%+v: want an error", c)
		}
	}
}

// What is on hand is what was ordered first less what is placed: of 10 yd with 7
// down, 3. More down than was ordered cannot be.
func TestOnHandIsOrderedLessPlaced(t *testing.T) {
	held := Day{Day: 1, Order: Order{Yd: 16.5}, Hold: Hold{Worth: true, FirstYd: 10, HoldYd: 6.5}}
	b := Bid{Days: []Day{held, {Day: 2, Order: Order{Yd: 8}}}}
	for _, c := range []struct {
		day                     int
		placed, ordered, onHand float64
	}{{0, 7, 10, 3}, {1, 10, 10, 0}, {1, 10.2, 10, 0}, {2, 7, 8, 1}, {0, 0, 10, 10}, {3, 7, 0, 0}} {
		at, err := b.Underway(c.day, concrete.Progress{PlacedYd: c.placed, Covered: .5})
		if err != nil || at.OrderedYd != c.ordered || math.Abs(at.OnHandYd-c.onHand) > 1e-9 {
			t.Errorf("day %d, %v yd placed: %+v, %v; want %v on hand", c.day, c.placed, at, err, c.onHand)
		}
	}
	if _, err := b.Underway(2, concrete.Progress{PlacedYd: 9, Covered: .9}); err == nil || !strings.Contains(err.Error(), "8 yd were ordered") {
		t.Errorf("%v: 9 yd of 8 cannot be", err)
	}
	// The whole of it: with the 3 yd on the truck, less is called in.
	spec := Spec{Placements: []Placement{plainSlab()}}
	spec.Placements[0].AreaSqft, spec.Placements[0].LengthFt, spec.Placements[0].WidthFt = 1200, 0, 0
	at, err := b.Underway(1, concrete.Progress{PlacedYd: 7, Covered: .45})
	if err != nil {
		t.Fatal(err)
	}
	with, err1 := Balance(stranger(), spec, setting.Options{}, 0, at)
	at.OnHandYd = 0
	without, err2 := Balance(stranger(), spec, setting.Options{}, 0, at)
	if err1 != nil || err2 != nil || math.Abs(without.CallYd-with.CallYd-3) > 0.5 {
		t.Errorf("called %v with 3 yd on hand, %v without (%v, %v)", with.CallYd, without.CallYd, err1, err2)
	}
}

// Twice the drawn concrete on half the area runs twice as thick, and a pour like
// others does not. 4.94 yd of 400 ft² at 4 in: half is 2.47.
func TestWhatIsPlacedTellsTheThickness(t *testing.T) {
	spec := Spec{Placements: []Placement{plainSlab()}}
	for _, c := range []struct {
		placed float64
		runs   concrete.Runs
		about  float64 // inches
	}{{4.9, concrete.Thick, 7.94}, {2.6, concrete.AsDrawn, 4.21}, {2.3, concrete.AsDrawn, 3.73}, {1.2, concrete.Thin, 1.94}} {
		call, err := Balance(stranger(), spec, setting.Options{}, 0, concrete.Progress{PlacedYd: c.placed, Covered: .5, OnHandYd: 1})
		if err != nil || call.Runs != c.runs || math.Abs(call.RunningIn-c.about) > 0.01 || call.DrawnIn != 4 {
			t.Errorf("%v yd on half: %q at %v in of %v, %v; want %q at about %v", c.placed, call.Runs, call.RunningIn, call.DrawnIn, err, c.runs, c.about)
		}
	}
	spec.Placements = append(spec.Placements, Placement{Use: "walkway", AreaSqft: 100, ThicknessIn: 6})
	if call, err := Balance(stranger(), spec, setting.Options{}, 0, concrete.Progress{PlacedYd: 7, Covered: .5}); err != nil || call.DrawnIn != 0 || call.Runs != concrete.Thick {
		t.Errorf("%+v, %v: two thicknesses have none in common", call, err)
	}
	if _, err := Balance(stranger(), Spec{Placements: []Placement{plainSlab()}}, setting.Options{}, 0, concrete.Progress{PlacedYd: 9, Covered: .5}); err == nil || !strings.Contains(err.Error(), "14.6 in thick, and 4 in are drawn") {
		t.Errorf("%v", err)
	}
}

// What an owner sets is said to be a setting, and what cannot be is refused.
func TestBidSettings(t *testing.T) {
	set := setting.DefaultBidPractice()
	set.CrewSize, set.Takeoff = 6, trade.Takeoff{}
	b := bidOf(t, stranger(), Spec{Draws: 10, Placements: []Placement{plainSlab()}}, setting.Options{Bid: set})
	if size := b.Labor.Size; size.Figure.Value != 6 || size.Basis.From != FromSetting {
		t.Errorf("%+v", size)
	}
	set.Certainty = 1.2
	if err := (setting.Options{Bid: set}).Validate(); err == nil || !strings.Contains(err.Error(), "certainty") {
		t.Errorf("%v: want an error about certainty", err)
	}
	for _, s := range b.Settings {
		if s.Name == "" || s.Basis.From == "" || s.Basis.From == FromPractice && s.Basis.By == "" && s.Basis.Of == "" {
			t.Errorf("%+v stands on nothing", s)
		}
	}
}

// What a stranger's pour of ten yards is thought to use: its middle half about the
// 4 to 10 % over plan that NRMCA CIP 8 says to add, and one in ten no more than an
// eighth of an inch thin, 3.125 % of 4 in (CIP 8). Beliefs that the owner sets stand.
func TestAStrangersOverageIsWithinTheGuide(t *testing.T) {
	use := func(opt setting.Options) (at func(p float64) float64) {
		t.Helper()
		g, err := GroundOf(stranger(), opt)
		if err != nil {
			t.Fatal(err)
		}
		w, err := g.work(Spec{Placements: []Placement{plainSlab()}})
		if err != nil {
			t.Fatal(err)
		}
		next, err := w.overage.Next(concrete.Job{Use: "patio", Method: "chute", NeatYd: 10})
		if err != nil {
			t.Fatal(err)
		}
		return func(p float64) float64 { return next.Used().Quantile(p)/10 - 1 }
	}
	at := use(setting.Options{})
	trial.Near(t, "lower quarter", at(.25), trade.OrderAllowanceLow, .025)
	trial.Near(t, "upper quarter", at(.75), trade.OrderAllowanceHigh, .015)
	if low := at(.1); low < -.03125 || low > 0.02 {
		t.Errorf("one in ten uses %.3f beside neat: more than an eighth of an inch thin, or never thin", low)
	}
	set := setting.DefaultOveragePriors()
	set.Share.Mean = 0.2
	if median := use(setting.Options{Overage: set})(.5); median < 0.2 {
		t.Errorf("the owner believes 0.2, the bid %.3f", median)
	}
}
