package trade

import (
	"errors"
	"math"
	"testing"

	"pourback/analysis/internal/reftest"
)

// check is one published value: what the program says, what was printed, how
// far apart they may be, and where it was printed. A source ends with
// "computed" where the value follows from the published formula, and with
// "from memory" where the print was not at hand.
type check struct {
	name      string
	got       float64
	err       error
	want, tol float64
	source    string
}

func run(t *testing.T, checks []check) {
	t.Helper()
	for _, c := range checks {
		if c.err != nil {
			t.Errorf("%s: %v", c.name, c.err)
		} else if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s: got %.6g, want %.6g ± %g (%s)", c.name, c.got, c.want, c.tol, c.source)
		}
	}
}

// at joins a result of one value with what was printed.
func at(name string, want, tol float64, source string) func(float64, error) check {
	return func(got float64, err error) check { return check{name, got, err, want, tol, source} }
}

func TestVolume(t *testing.T) {
	const (
		sum  = "arithmetic"
		cip8 = "NRMCA CIP 8"
	)
	run(t, []check{
		at("1/8 in thick on 4 in", .03125, 1e-9, cip8)(ThickerBy(4, 1./8)),
		{"order allowance, low", OrderAllowanceLow, nil, .04, 0, cip8 + ", reprint"},
		{"order allowance, high", OrderAllowanceHigh, nil, .10, 0, cip8 + ", reprint"},
		{"hardened against fresh", HardenedShrinkage, nil, .02, 0, cip8},
		{"waste on ground", WasteOnGround, nil, .03, 0, "textbook quoted in the trade press"},
		{"waste, foundations", WasteFoundations, nil, .05, 0, "textbook quoted in the trade press"},
		{"waste, superstructure", WasteSuperstructure, nil, .02, 0, "textbook quoted in the trade press"},
	})
}

func TestEvaporation(t *testing.T) {
	const (
		uno   = "Uno 1998, computed"
		acier = "result in a Concrete International Q&A; inputs of the ACI 305R nomograph, from memory"
		lerch = "Lerch's table, Portland Cement Association, from memory"
	)
	lbFt2, _ := Evaporation(87, 80, 50, 12)
	checks := []check{
		at("nomograph example", .2435, .001, acier)(Evaporation(87, 80, 50, 12)),
		at("the same as printed", .24, .005, acier)(Evaporation(87, 80, 50, 12)),
		at("SI example", 1.1517, .005, acier)(roundedSI(31, 27, 50, 19)),
		at("SI example, as printed", 1.15, .005, acier)(roundedSI(31, 27, 50, 19)),
		at("first example, exact SI", 1.1887, 1e-4, uno)(exactSI(Celsius(87), Celsius(80), 50, 12*KmPerMile)),
		at("first example × 4.88243", lbFt2*4.88243, 1e-6, uno)(exactSI(Celsius(87), Celsius(80), 50, 12*KmPerMile)),
		at("70 70 50 10", .1025, 5e-4, uno)(Evaporation(70, 70, 50, 10)),
		at("90 90 50 10", .1921, 5e-4, uno)(Evaporation(90, 90, 50, 10)),
		at("90 90 20 10", .3074, 5e-4, uno)(Evaporation(90, 90, 20, 10)),
		at("95 100 10 10", .3898, 1e-3, uno)(Evaporation(95, 100, 10, 10)),
		at("90 90 10 25", .7607, 1e-3, uno)(Evaporation(90, 90, 10, 25)),
		at("SI 35 38 10 16", 1.8103, 1e-3, uno)(roundedSI(35, 38, 10, 16)),
		at("SI 28 25 50 20", .9947, 1e-3, uno)(roundedSI(28, 25, 50, 20)),
		at("60 100 50 5 takes up water", 0, 0, "clamp")(Evaporation(60, 100, 50, 5)),
		{"precautions, lb/ft²/h", PrecautionLbFt2, nil, .2, 0, "ACI 305R; FHWA-HRT-05-038 ch. 5"},
		{"precautions, kg/m²/h", PrecautionKgM2, nil, 1.0, 0, "ACI 305R; FHWA-HRT-05-038 ch. 5"},
		{"caution, kg/m²/h", CautionKgM2, nil, .5, 0, "ACI 305R; FHWA-HRT-05-038 ch. 5"},
		{"limits agree", PrecautionLbFt2 * KgPerM2PerLbPerF2, nil, PrecautionKgM2, .03, "ACI 305R prints both"},
		{"accuracy", EvaporationAccuracy, nil, .40, 0, "Hover 2020, ACI SP-338"},
		{"wind at 0.5 m from 10 m", WindTenToHalfMeter, nil, math.Log(.5/.03) / math.Log(10/.03), 5e-4, "log profile, roughness 0.03 m assumed"},
	}
	for _, c := range []struct{ rh, wind, want float64 }{
		{70, 0, .015}, {70, 10, .062}, {70, 25, .135}, {90, 10, .020}, {50, 10, .100}, {10, 10, .175},
	} {
		checks = append(checks,
			at("Lerch by Uno", c.want, .01, lerch)(Evaporation(70, 70, c.rh, c.wind)),
			at("Lerch by Menzel", c.want, .01, lerch)(menzel(70, 70, c.rh, c.wind)))
	}
	run(t, checks)
}

func TestEvaporationReference(t *testing.T) {
	r := reftest.Load(t, "evaporation")
	e, err := Evaporation(r.Float(t, "inputs.tc"), r.Float(t, "inputs.ta"), 100*r.Float(t, "inputs.rh"), r.Float(t, "inputs.wind"))
	if err != nil {
		t.Fatal(err)
	}
	r.Check(t, "rate", e)
}

func TestJoints(t *testing.T) {
	const pca = "Portland Cement Association as quoted elsewhere; computed"
	for _, c := range []struct {
		thickness              float64
		small, large, lowSlump float64
	}{
		{3.5, 7, 8.75, 10.5}, {4, 8, 10, 12}, {5, 10, 12.5, 15}, {6, 12, 15, 18},
	} {
		for mix, want := range map[Mix]float64{SmallAggregate: c.small, LargeAggregate: c.large, LowSlump: c.lowSlump} {
			s, err := JointSpacing(c.thickness, mix)
			run(t, []check{
				{"guide", s.Guide, err, want, 1e-12, pca},
				{"never above 15 ft", s.Ft, err, min(want, 15), 1e-12, "NRMCA CIP 6, from memory"},
			})
		}
	}
	low, high, err := SpacingBand(4)
	quarter, third, err2 := CutDepth(6, ConventionalSaw)
	thin, _, err3 := CutDepth(3.5, ConventionalSaw)
	early, deepest, err4 := CutDepth(6, EarlyEntrySaw)
	const (
		csa      = "CSA A23.1-94 §20.2.1"
		ufc      = "UFC 3-250-04 §9-4.4"
		press    = "trade journal; ACI 302.1R from memory"
		practice = "common practice, no published source"
	)
	run(t, []check{
		{"24t at 4 in", low, err, 8, 1e-12, csa},
		{"36t at 4 in", high, err, 12, 1e-12, csa},
		{"1/4 of 6 in", quarter, err2, 1.5, 1e-12, csa},
		{"1/3 of 6 in", third, err2, 2, 1e-12, csa},
		{"at least 1 in", thin, err3, 1, 1e-12, press},
		{"early entry", early, err4, 1, 1e-12, press},
		{"early entry, no deeper than conventional", deepest, err4, 1.5, 1e-12, press},
		{"saw from", SawGeneral.From, nil, 6, 0, csa},
		{"saw to", SawGeneral.To, nil, 18, 0, csa},
		{"warm from", SawWarm.From, nil, 4, 0, ufc},
		{"warm to", SawWarm.To, nil, 12, 0, ufc},
		{"cold to", SawCold.To, nil, 24, 0, ufc},
		{"early entry from", SawEarlyEntry.From, nil, 1, 0, press},
		{"early entry to", SawEarlyEntry.To, nil, 4, 0, press},
		{"panel from", PanelFromFt, nil, 10, 0, "UFC 3-250-04 Table 9-1"},
		{"panel to", PanelToFt, nil, 15, 0, "UFC 3-250-04 Table 9-1"},
		{"aspect, plain", AspectLimit, nil, 1.25, 0, "UFC 3-250-04 §9-3.1.2"},
		{"aspect, loose", AspectLimitLoose, nil, 1.5, 0, "ACI 360-06 as quoted elsewhere"},
	})
	// 7 × 7 ft panels at 4 in, and joints each 8 ft in a 4 ft walk, are laid in
	// practice: neither is wider than the band allows. (practice)
	for _, ft := range []float64{7, 8} {
		if ft > high {
			t.Errorf("%v ft lies above the band's %v ft (%s)", ft, high, practice)
		}
	}
	if low > 8 {
		t.Errorf("8 ft lies below the band's %v ft (%s)", low, practice)
	}
}

func TestSteel(t *testing.T) {
	const (
		crsi = "CRSI slab-on-grade note"
		aci  = "ACI 360R-92 Eq. 6-3 sheet"
		a615 = "ASTM A615, from memory"
		a185 = "ASTM A1064, from memory"
	)
	no3, err := BarSize(3)
	if err != nil {
		t.Fatal(err)
	}
	run(t, []check{
		at("L 24, fs 40,000", .045, 1e-12, crsi)(DragSteel(1.5, 24, 100, 40_000)),
		at("L 24, fs 43,333", .0415, 5e-5, crsi)(DragSteel(1.5, 24, 100, 43_333)),
		at("L 40", .075, 1e-12, aci)(DragSteel(1.5, 40, 75, 30_000)),
		at("#3 for 0.075", 17.67, .005, aci)(SteelSpacing(no3.ExactAreaIn2(), .075)),
		at("#3 at 29 in", .0455, 5e-5, crsi)(SteelArea(no3.AreaIn2, 29)),
		at("#3 at 18 in", .0733, 5e-5, crsi)(SteelArea(no3.AreaIn2, 18)),
	})
	for _, c := range []struct{ w, area, weight float64 }{
		{1.4, .028, 21}, {2.0, .040, 29}, {2.1, .042, 30}, {2.9, .058, 42}, {4.0, .080, 58},
	} {
		run(t, []check{
			at("6×6 area", c.area, 1e-12, a185)(MeshAreaIn2(6, c.w)),
			at("6×6 weight", c.weight, 1, a185)(MeshLbPer100Ft2(6, c.w)),
		})
	}
	for _, c := range []struct {
		number       int
		area, weight float64
	}{{3, .11, .376}, {4, .20, .668}, {5, .31, 1.043}, {6, .44, 1.502}} {
		b, err := BarSize(c.number)
		run(t, []check{
			{"bar area", b.AreaIn2, err, c.area, 0, a615},
			{"bar weight", b.LbPerFt, err, c.weight, 0, a615},
			{"area of the circle", b.ExactAreaIn2(), err, c.area, .005, "π/4·d² rounds to the standard's"},
			{"weight of the circle", b.ExactAreaIn2() * steelLbPerFtIn2, err, c.weight, .002, "steel at 490 lb/ft³"},
		})
	}
}

func TestDelivery(t *testing.T) {
	limit, safer, err := LargestAggregate(3)
	one, err2 := Retempering(1, 1)
	const (
		c94 = "ASTM C94, older edition"
		aci = "ACI 304"
		mem = "NRMCA, from memory"
		own = "common practice, no published source"
	)
	run(t, []check{
		{"1½ h", DischargeMinutes, nil, 90, 0, c94},
		{"revolutions", DischargeRevolutions, nil, 300, 0, c94},
		{"hot weather", DischargeMaxF, nil, 95, 0, "ACI 305.1-14"},
		at("100 min", 10, 0, c94)(LateMinutes(100)),
		at("90 min", 0, 0, c94)(LateMinutes(90)),
		{"slump", one.SlumpIn, err2, 1, 0, mem},
		{"strength, low", one.StrengthLowPsi, err2, 150, 0, mem},
		{"strength, high", one.StrengthHiPsi, err2, 200, 0, mem},
		{"plug, low", PlugMinutesLow, nil, 15, 0, own},
		{"plug, high", PlugMinutesHigh, nil, 20, 0, own},
		at("2 in line", .0808, 5e-5, "computed")(LineVolume(2, 100)),
		at("2.5 in line", .1263, 5e-5, "computed")(LineVolume(2.5, 100)),
		at("3 in line", .1818, 5e-5, "computed")(LineVolume(3, 100)),
		at("4 in line", .3232, 5e-5, "computed")(LineVolume(4, 100)),
		at("5 in line", .5050, 5e-5, "computed")(LineVolume(5, 100)),
		{"aggregate in 3 in", limit, err, 1, 1e-12, aci},
		{"aggregate in 3 in, safer", safer, err, .75, 1e-12, aci},
		at("grout in 1,000 ft", .5, 1e-12, "pumping literature as quoted elsewhere")(LubricatingGrout(1000)),
	})
}

func TestMaturity(t *testing.T) {
	const c1074 = "ASTM C1074, computed"
	run(t, []check{
		at("30 °C, Ts 20", 42.13, .02, c1074)(EquivalentAge([]Warmth{{24, 30}}, 5000, 20)),
		at("10 °C, Ts 20", 13.14, .02, c1074)(EquivalentAge([]Warmth{{24, 10}}, 5000, 20)),
		at("30 °C, Ts 23", 35.44, .02, c1074)(EquivalentAge([]Warmth{{24, 30}}, 5000, 23)),
	})
}

func TestHumidity(t *testing.T) {
	const magnus = "Magnus 17.625/243.04, computed"
	run(t, []check{
		at("31.6/22.6 °C", 58.95, .005, magnus)(RelativeHumidity(31.6, 22.6)),
		at("20/10 °C", 52.54, .005, magnus)(RelativeHumidity(20, 10)),
	})
}

func TestCrackWidth(t *testing.T) {
	const aci = "ACI 224R-01 Table 4.1"
	run(t, []check{
		at("dry air", .016, 0, aci)(ReasonableCrackIn(DryAir)),
		at("soil, moist air", .012, 0, aci)(ReasonableCrackIn(SoilOrMoistAir)),
		at("de-icing", .007, 0, aci)(ReasonableCrackIn(Deicing)),
		at("seawater", .006, 0, aci)(ReasonableCrackIn(Seawater)),
		at("water-retaining", .004, 0, aci)(ReasonableCrackIn(WaterRetaining)),
	})
}

func TestLabor(t *testing.T) {
	const figure = "Estimating in Building Construction, 7th ed., Fig. 10.30"
	hours, err := TrowelHours(800)
	run(t, []check{
		{"800 ft²", hours, err, 8.0, 1e-12, figure},
	})
}

func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, err := range map[string]error{
		"humidity 120":         second(Evaporation(70, 70, 120, 5)),
		"humidity -1":          second(Evaporation(70, 70, -1, 5)),
		"wind below 0":         second(Evaporation(70, 70, 50, -5)),
		"NaN concrete":         second(Evaporation(nan, 70, 50, 5)),
		"infinite wind":        second(Evaporation(70, 70, 50, inf)),
		"air under 0 °F":       second(Evaporation(70, -1, 50, 5)),
		"more than all gone":   second(ThickerBy(4, -5)),
		"unknown mix":          second(JointSpacing(4, 9)),
		"no stress":            second(DragSteel(1.5, 24, 100, 0)),
		"bar #2":               second(BarSize(2)),
		"bars touching":        second(SteelArea(.11, 0)),
		"no steel":             second(SteelSpacing(.11, 0)),
		"negative wire":        second(MeshAreaIn2(6, -1)),
		"mesh NaN":             second(MeshLbPer100Ft2(nan, 2)),
		"late NaN":             second(LateMinutes(nan)),
		"water on nothing":     second(Retempering(1, 0)),
		"line of 0":            second(LineVolume(0, 100)),
		"grout below 0":        second(LubricatingGrout(-1)),
		"dew above air":        second(RelativeHumidity(10, 11)),
		"absolute cold":        second(EquivalentAge([]Warmth{{1, -kelvin}}, 5000, 20)),
		"unknown exposure":     second(ReasonableCrackIn(99)),
		"trowel NaN":           second(TrowelHours(nan)),
		"saw unknown":          third(CutDepth(4, 7)),
		"cut deeper than slab": third(CutDepth(.5, ConventionalSaw)),
		"band of nothing":      third(SpacingBand(0)),
		"aggregate, no line":   third(LargestAggregate(-2)),
	} {
		if !errors.Is(err, ErrRange) {
			t.Errorf("%s: got %v, want an error of range", name, err)
		}
	}
}

func second[T any](_ T, err error) error        { return err }
func third[T, U any](_ T, _ U, err error) error { return err }
