package trade

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func must(t *rapid.T, x float64, err error) float64 {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func close(a, b, relative float64) bool {
	return math.Abs(a-b) <= relative*max(1e-9, math.Abs(a), math.Abs(b))
}

func TestEvaporationUnitsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		concrete := rapid.Float64Range(40, 110).Draw(t, "concrete")
		air := rapid.Float64Range(20, 120).Draw(t, "air")
		rh := rapid.Float64Range(0, 100).Draw(t, "rh")
		wind := rapid.Float64Range(0, 50).Draw(t, "wind")
		us, err := Evaporation(concrete, air, rh, wind)
		if err != nil {
			t.Fatal(err)
		}
		si, err := exactSI(Celsius(concrete), Celsius(air), rh, wind*KmPerMile)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(us*KgPerM2PerLbPerF2-si) > 1e-9 {
			t.Fatalf("US %v is %v kg/m²/h, SI says %v", us, us*KgPerM2PerLbPerF2, si)
		}
		// The same formula in metric constants as printed, to their figures.
		printed := max(0, 5.275*(math.Pow(Celsius(concrete)+17.778, 2.5)-rh/100*math.Pow(Celsius(air)+17.778, 2.5))*(wind*KmPerMile+4.02336)*1e-6)
		if math.Abs(printed-si) > 2e-4*(1+wind) {
			t.Fatalf("printed constants give %v, exact %v", printed, si)
		}
	})
}

func TestEvaporationOrder(t *testing.T) {
	type rate func(concrete, air, rh, wind float64) (float64, error)
	for name, f := range map[string]rate{"Uno": Evaporation, "Menzel": menzel} {
		rapid.Check(t, func(t *rapid.T) {
			concrete := rapid.Float64Range(40, 110).Draw(t, "concrete")
			air := rapid.Float64Range(20, 120).Draw(t, "air")
			rh := rapid.Float64Range(0, 99).Draw(t, "rh")
			wind := rapid.Float64Range(0, 50).Draw(t, "wind")
			base, err := f(concrete, air, rh, wind)
			must(t, base, err)
			warmer, err := f(concrete+1, air, rh, wind)
			must(t, warmer, err)
			damper, err := f(concrete, air, rh+1, wind)
			must(t, damper, err)
			windier, err := f(concrete, air, rh, wind+1)
			must(t, windier, err)
			if base < 0 || warmer < base || windier < base || damper > base {
				t.Fatalf("%s: base %v, warmer concrete %v, damper air %v, more wind %v", name, base, warmer, damper, windier)
			}
		})
	}
}

// Of one area the volumes go as the thicknesses do.
func TestThickerIsItsShare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thickness := rapid.Float64Range(1, 24).Draw(t, "thickness")
		extra := rapid.Float64Range(-1, 2).Draw(t, "extra")
		by, err := ThickerBy(thickness, extra)
		if o := (thickness+extra)/thickness - 1; math.Abs(o-must(t, by, err)) > 1e-12 {
			t.Fatalf("laid thicker: overage %v, share of thickness %v", o, by)
		}
	})
}

func TestSpacingOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thickness := rapid.Float64Range(1, 24).Draw(t, "thickness")
		var before float64
		for _, mix := range []Mix{SmallAggregate, LargeAggregate, LowSlump} {
			s, err := JointSpacing(thickness, mix)
			must(t, s.Ft, err)
			if s.Ft < before || s.Ft > SpacingCapFt || s.Ft > s.Guide {
				t.Fatalf("%v in, mix %d: %+v after %v ft", thickness, mix, s, before)
			}
			before = s.Ft
		}
		low, high, err := CutDepth(thickness, ConventionalSaw)
		must(t, low, err)
		if low > high || low < 1 || high > max(1, thickness/3) {
			t.Fatalf("cut %v to %v in a slab of %v in", low, high, thickness)
		}
	})
}

func TestSteelRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bar, err := BarSize(rapid.IntRange(3, 6).Draw(t, "bar"))
		must(t, 0, err)
		spacing := rapid.Float64Range(6, 36).Draw(t, "spacing")
		area, err := SteelArea(bar.AreaIn2, spacing)
		must(t, area, err)
		back, err := SteelSpacing(bar.AreaIn2, area)
		if !close(must(t, back, err), spacing, 1e-12) {
			t.Fatalf("spacing %v came back as %v", spacing, back)
		}
		longer, err := DragSteel(1.5, spacing+1, 50, 40_000)
		must(t, longer, err)
		shorter, err := DragSteel(1.5, spacing, 50, 40_000)
		if must(t, shorter, err) > longer {
			t.Fatal("a longer slab asks for less steel")
		}
	})
}

func TestMaturityLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hours := rapid.Float64Range(0, 100).Draw(t, "hours")
		temp := rapid.Float64Range(-20, 60).Draw(t, "temp")
		cut := []Warmth{{hours / 3, temp}, {hours * 2 / 3, temp}}
		age, err := EquivalentAge(cut, 5000, temp)
		if !close(must(t, age, err), hours, 1e-12) {
			t.Fatalf("%v h at the reference temperature count as %v h", hours, age)
		}
		warm, err := EquivalentAge([]Warmth{{hours, temp + 5}}, 5000, temp)
		if must(t, warm, err) < age {
			t.Fatal("warmth slows the slab down")
		}
	})
}

func TestHumidityLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		air := rapid.Float64Range(-20, 50).Draw(t, "air")
		gap := rapid.Float64Range(0, 40).Draw(t, "gap")
		rh, err := RelativeHumidity(air, air-gap)
		must(t, rh, err)
		drier, err := RelativeHumidity(air, air-gap-1)
		if must(t, drier, err) >= rh || rh > 100 || rh <= 0 {
			t.Fatalf("dew point %v below %v °C: %v %%, a degree lower %v %%", gap, air, rh, drier)
		}
		if gap == 0 && rh != 100 {
			t.Fatalf("saturated air has %v %%", rh)
		}
	})
}

func TestLineVolumeGrowsWithTheSquare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(1, 6).Draw(t, "d")
		one, err := LineVolume(d, 100)
		must(t, one, err)
		two, err := LineVolume(2*d, 100)
		if !close(must(t, two, err), 4*one, 1e-12) {
			t.Fatalf("twice as wide holds %v, not four times %v", two, one)
		}
	})
}

func TestWindow(t *testing.T) {
	for _, c := range []struct {
		hours float64
		want  bool
	}{{3.9, false}, {4, true}, {12, true}, {12.1, false}} {
		if got := SawWarm.Contains(c.hours); got != c.want {
			t.Errorf("warm weather, %v h: %v", c.hours, got)
		}
	}
}
