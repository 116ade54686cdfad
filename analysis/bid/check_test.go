package bid

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/setting"
)

// plainSlab is a placement that nothing is wrong with.
func plainSlab() Placement {
	return Placement{Use: "patio", LengthFt: 20, WidthFt: 20, ThicknessIn: 4}
}

// Each spec that makes no sense is an error or a caution with its field and
// what is the matter with it. The lines are those of the published values: joints at most 15 ft (UFC 3-250-04, NRMCA CIP 6), aggregate
// at most a third of the hose (ACI 304), 90 minutes (ASTM C94).
func TestSpecsThatMakeNoSense(t *testing.T) {
	with := func(change func(*Placement)) Spec {
		p := plainSlab()
		change(&p)
		return Spec{Placements: []Placement{p}}
	}
	job := func(change func(*Spec)) Spec {
		s := Spec{Placements: []Placement{plainSlab()}}
		change(&s)
		return s
	}
	for _, c := range []struct {
		name, field string
		spec        Spec
		fatal       bool
		what        What
	}{
		{"negative area", "area_sqft", with(func(p *Placement) { p.AreaSqft = -100 }), true, NoNumber},
		{"negative length", "length_ft", with(func(p *Placement) { p.LengthFt = -1 }), true, NoNumber},
		{"no area", "area_sqft", with(func(p *Placement) { p.LengthFt = 0 }), true, NoArea},
		{"area unlike the dimensions", "area_sqft", with(func(p *Placement) { p.AreaSqft = 300 }), true, TwoAreas},
		{"notch beyond the slab", "notch_length_ft", with(func(p *Placement) { p.NotchLengthFt, p.NotchWidthFt = 25, 5 }), true, NoNotch},
		{"30 ft panels", "joint_spacing_ft", with(func(p *Placement) { p.JointSpacingFt = 30 }), true, WideJoints},
		{"panels over 36 thicknesses", "joint_spacing_ft", with(func(p *Placement) { p.JointSpacingFt = 14 }), false, Over36},
		{"1 in slab", "thickness_in", with(func(p *Placement) { p.ThicknessIn = 1 }), true, Topping},
		{"3 in slab", "thickness_in", with(func(p *Placement) { p.ThicknessIn = 3 }), false, Thin},
		{"no thickness", "thickness_in", with(func(p *Placement) { p.ThicknessIn = 0 }), true, NoThickness},
		{"45 in slab", "thickness_in", with(func(p *Placement) { p.ThicknessIn = 45 }), true, WrongThickness},
		{"rebar in a 3 in slab", "reinforcement", with(func(p *Placement) { p.ThicknessIn, p.Reinforcement = 3, "rebar" }), false, LittleCover},
		{"no such bar", "bar", with(func(p *Placement) { p.Reinforcement, p.Bar = "rebar", "#11" }), true, NoBar},
		{"bars too far apart", "bar_spacing_in", with(func(p *Placement) { p.Reinforcement, p.BarSpacingIn = "rebar", 30 }), false, WideBars},
		{"joints wider than the slab", "joint_spacing_ft", with(func(p *Placement) { p.LengthFt, p.WidthFt, p.AreaSqft, p.JointSpacingFt = 9, 8, 0, 10 }), false, OverSlab},
		{"hose too small", "max_aggregate_in", with(func(p *Placement) { p.Method, p.HoseIn, p.MaxAggregateIn = "pump", 2, 0.75 }), true, WillClog},
		{"hose tight", "max_aggregate_in", with(func(p *Placement) { p.Method, p.HoseIn, p.MaxAggregateIn = "pump", 2.5, 0.75 }), false, MayClog},
		{"unknown method", "method", with(func(p *Placement) { p.Method = "catapult" }), true, UnknownWord},
		{"unknown steel", "reinforcement", with(func(p *Placement) { p.Reinforcement = "mesh+straw" }), true, UnknownWord},
		{"no use", "use", with(func(p *Placement) { p.Use = "" }), false, NoUse},
		{"haul of 90 minutes", "haul_min", job(func(s *Spec) { s.HaulMin = 90 }), false, TooFar},
		{"haul of 70 minutes", "haul_min", job(func(s *Spec) { s.HaulMin = 70 }), false, LongHaul},
		{"margin in percent", "target_margin", job(func(s *Spec) { s.TargetMargin = 25 }), true, Percentage},
		{"certain", "certainty", job(func(s *Spec) { s.Certainty = 1 }), true, NoCertainty},
		{"no month", "on", job(func(s *Spec) { s.On = "2026-13" }), true, NoDay},
		{"no price", "prices.concrete_per_yd", job(func(s *Spec) { s.Prices.ConcretePerYd = math.NaN() }), true, NoNumber},
		{"no placement", "placements", Spec{}, true, WrongCount},
		{"a name twice", "name", Spec{Placements: []Placement{plainSlab(), func() Placement { p := plainSlab(); p.Name = "A"; return p }()}}, true, NameTwice},
	} {
		found := false
		for _, p := range Check(c.spec) {
			if p.Field == c.field && p.Error == c.fatal && p.What == c.what {
				found = true
			}
		}
		if !found {
			t.Errorf("%s: found %v, want %s in %s, fatal %v", c.name, Check(c.spec), c.what, c.field, c.fatal)
		}
		if _, err := Make(stranger(), c.spec, setting.Options{}); (err != nil) != c.fatal {
			t.Errorf("%s: made a bid with error %v", c.name, err)
		}
	}
	if ps := Check(Spec{Placements: []Placement{plainSlab()}}); len(ps) != 0 {
		t.Errorf("nothing is wrong with a plain slab: %v", ps)
	}
}

// All that is wrong is said at once.
func TestProblemsComeTogether(t *testing.T) {
	_, err := Make(stranger(), Spec{TargetMargin: 30, Placements: []Placement{{AreaSqft: -4, ThicknessIn: 1, JointSpacingFt: 30}, {LengthFt: 3}}}, setting.Options{})
	if n := strings.Count(err.Error(), "\n") + 1; n < 6 {
		t.Errorf("%d problems:\n%v", n, err)
	}
}

// Words as written are understood: a sidewalk is a walkway, by tailgate.
func TestSpecsSpeakTheTradesWords(t *testing.T) {
	b := bidOf(t, stranger(), Spec{Draws: 100, Placements: []Placement{{Use: "Sidewalk", AreaSqft: 200, ThicknessIn: 4, Method: "tailgate", Reinforcement: "wire mesh"}}}, setting.Options{})
	p := b.Placements[0]
	if p.Use != "walkway" || p.Method != "chute" || !p.Steel[1].Chosen || p.Joints.Drawn {
		t.Errorf("%s by %s, %+v", p.Use, p.Method, p.Steel[1])
	}
}

// Whatever a spec holds, it is refused or it makes a bid, without a panic.
func TestAnySpecIsAnsweredOrRefused(t *testing.T) {
	h := stranger()
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(-5, 60), rapid.Float64(), rapid.Just(math.NaN()), rapid.Just(math.Inf(1)))
		word := rapid.OneOf(rapid.Just(""), rapid.SampledFrom([]string{"pump", "rebar", "mesh+fiber", "none", "#4", "saw", "native"}), rapid.String())
		// Most fields are left as they are, so that many specs get through.
		odd := func(what string) bool { return rapid.IntRange(0, 7).Draw(t, what) == 0 }
		spec := Spec{Draws: 20, Placements: []Placement{plainSlab()}}
		p := &spec.Placements[0]
		for _, to := range []*float64{&spec.CrewSize, &spec.HaulMin, &spec.TargetMargin, &spec.Certainty, &spec.WarrantyMonths, &spec.Prices.ConcretePerYd, &spec.Prices.PumpHire,
			&p.LengthFt, &p.WidthFt, &p.NotchLengthFt, &p.NotchWidthFt, &p.AreaSqft, &p.ThicknessIn, &p.HoseIn, &p.MaxAggregateIn, &p.BarSpacingIn, &p.JointSpacingFt} {
			if odd("number is odd") {
				*to = num.Draw(t, "number")
			}
		}
		for _, to := range []*string{&spec.Name, &spec.On, &spec.Crew, &p.Use, &p.Method, &p.Base, &p.Reinforcement, &p.Bar, &p.JointCut} {
			if odd("word is odd") {
				*to = word.Draw(t, "word")
			}
		}
		b, err := Make(h, spec, setting.Options{})
		if (err == nil) != (len(Check(spec).Fatal()) == 0) {
			t.Errorf("%+v: %v", spec, err)
		}
		if err == nil && (math.IsNaN(b.Price.Price) || math.IsInf(b.Price.Price, 0)) {
			t.Errorf("%+v: price %v", spec, b.Price.Price)
		}
	})
}
