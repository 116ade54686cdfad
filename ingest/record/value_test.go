package record

import (
	"math"
	"strconv"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestDatesAgreeWithTheCalendar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Date(rapid.IntRange(1, 3652059).Draw(t, "day")) // 0001-01-01 to 9999-12-31
		want := time.Date(1, 1, int(d), 0, 0, 0, 0, time.UTC)
		if got := d.String(); got != want.Format("2006-01-02") {
			t.Fatalf("day %d is %s, want %s", d, got, want.Format("2006-01-02"))
		}
		back, err := ParseDate(d.String())
		if err != nil || back != d {
			t.Fatalf("%s reads back as %v (%v)", d, back, err)
		}
		if DayOf(want) != d {
			t.Fatalf("the day of %s is %v, want %v", want, DayOf(want), d)
		}
	})
}

func TestDatesThatAreNone(t *testing.T) {
	for _, s := range []string{"", "2025-02-29", "2025-13-01", "2025-00-10", "2025-1-1", "2025-06-31", "0000-01-01", "2025-06-03x", "20250603", "+025-06-03"} {
		if d, err := ParseDate(s); err == nil {
			t.Errorf("%q was read as %v", s, d)
		}
	}
}

func TestMomentsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := MomentOf(Date(rapid.IntRange(1, 3652059).Draw(t, "day")), rapid.IntRange(0, 86399).Draw(t, "second"))
		back, err := ParseMoment(m.String())
		if err != nil || back != m {
			t.Fatalf("%s reads back as %v (%v)", m, back, err)
		}
		if m.Date().String() != m.String()[:10] {
			t.Fatalf("the day of %s is %s", m, m.Date())
		}
	})
	for _, s := range []string{"2025-06-03", "2025-06-03T24:00", "2025-06-03T7:15", "2025-06-03T07:60", "2025-06-03T07:15Z", "2025-06-03T07-15"} {
		if m, err := ParseMoment(s); err == nil {
			t.Errorf("%q was read as %v", s, m)
		}
	}
}

func TestCentsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Cents(rapid.Int64Range(-9e15+1, 9e15-1).Draw(t, "cents"))
		back, err := ParseCents(c.String())
		if err != nil || back != c {
			t.Fatalf("%s reads back as %v (%v)", c, back, err)
		}
	})
	for in, want := range map[string]Cents{"0": 0, "1250": 125000, "1250.5": 125050, "-0.07": -7, "12.00": 1200} {
		if got, err := ParseCents(in); err != nil || got != want {
			t.Errorf("%q is %d (%v), want %d", in, got, err, want)
		}
	}
	for _, s := range []string{"", ".5", "1.234", "1,250", "$5", "--1", "1.-2", "1e3", "99999999999999999999"} {
		if c, err := ParseCents(s); err == nil {
			t.Errorf("%q was read as %v", s, c)
		}
	}
}

// TestHalfACentGoesAwayFromZero holds both ways of rounding against whole
// numbers: every thousandth as it is written, whatever float comes nearest.
func TestHalfACentGoesAwayFromZero(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thousandths := rapid.Int64Range(-1e13, 1e13).Draw(t, "thousandths")
		want := Cents((thousandths + 5) / 10)
		if thousandths < 0 {
			want = Cents((thousandths - 5) / 10)
		}
		text := strconv.FormatFloat(float64(thousandths)/1000, 'f', 3, 64)
		exact, _, err := CentsOfDecimal(text, 100)
		if err != nil || exact != want {
			t.Errorf("%s read as %v (%v), want %v", text, exact, err, want)
		}
		if c, err := CentsOf(float64(thousandths) / 1000); err != nil || c != want {
			t.Errorf("%s rounded to %v (%v), want %v", text, c, err, want)
		}
	})
	if c, err := TimesRate(1.5, 167); err != nil || c != 251 {
		t.Errorf("1.5 × 1.67 = %v (%v), want 2.51", c, err)
	}
	if c, err := TimesRate(1.1, 1415); err != nil || c != 1557 { // 15.565
		t.Errorf("1.1 × 14.15 = %v (%v), want 15.57", c, err)
	}
}

func TestCentsOfRounds(t *testing.T) {
	for in, want := range map[float64]Cents{0.005: 1, -0.005: -1, 1.005: 101, -1.005: -101, 2.675: 268, 1.115: 112, 0.285: 29, 1234567.005: 123456701, 1.004: 100, 19.99: 1999, 1e12: 1e14} {
		if got, err := CentsOf(in); err != nil || got != want {
			t.Errorf("%v is %d cents (%v), want %d", in, got, err, want)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), 1e17} {
		if c, err := CentsOf(x); err == nil {
			t.Errorf("%v was taken for %v", x, c)
		}
	}
}

// Factors of NIST Special Publication 811 (2008), appendix B.8, to the digits
// printed there.
func TestUnitsAgreeWithNIST(t *testing.T) {
	for _, c := range []struct {
		unit  *Unit
		value float64
		form  string
		want  float64
		tol   float64
	}{
		{Inch, 25.4, "mm", 1, 1e-12},
		{Inch, 7.5, "ft", 90, 1e-12},
		{Foot, 0.3048, "m", 1, 1e-12},
		{SquareFoot, 0.09290304, "m²", 1, 1e-12},
		{CubicYard, 0.7645549, "m3", 1, 1e-7},
		{CubicYard, 27, "ft³", 1, 1e-12},
		{CubicYard, 764.5549, "L", 1, 1e-7},
		{Fahrenheit, 37.7778, "°C", 100, 1e-3},
		{Fahrenheit, -40, "C", -40, 1e-12},
		{MilesPerHour, 1.609344, "km/h", 1, 1e-12},
		{MilesPerHour, 0.44704, "m/s", 1, 1e-12},
		{PSI, 6.894757e-3, "MPa", 1, 1e-6},
		{Gallon, 3.785412, "L", 1, 1e-6},
		{Minute, 1.25, "h", 75, 1e-12},
		{Month, 2, "years", 24, 1e-12},
	} {
		got, ok := c.unit.Convert(c.value, c.form)
		if !ok || math.Abs(got-c.want) > c.tol*math.Abs(c.want) {
			t.Errorf("%v %s is %v %s (%v), want %v", c.value, c.form, got, c.unit.Name, ok, c.want)
		}
	}
	if _, ok := Inch.Convert(1, "psi"); ok {
		t.Error("inches were made of psi")
	}
}

func TestVocabulariesKnowThemselves(t *testing.T) {
	for _, table := range Tables {
		for _, c := range table.Columns {
			if c.Words == nil {
				continue
			}
			for _, w := range c.Words.Words {
				if got, ok := c.Words.Find(w); !ok || got != w {
					t.Errorf("%s.%s: %q is found as %q", table.Name, c.Name, w, got)
				}
			}
			for word, term := range c.Words.Synonyms {
				if Fold(word) != word {
					t.Errorf("%s.%s: synonym %q is not folded", table.Name, c.Name, word)
				}
				if _, ok := c.Words.Find(term); !ok {
					t.Errorf("%s.%s: synonym %q leads to %q, which is no word", table.Name, c.Name, word, term)
				}
			}
		}
	}
}

func TestVocabularyWidens(t *testing.T) {
	wide := uses.With(map[string]string{"Carport": "garage slab", "RV pad": "rv pad"})
	for word, want := range map[string]string{"carport": "garage slab", "rv-pad": "rv pad", "RV PAD": "rv pad", "Sidewalk": "walkway"} {
		if got, ok := wide.Find(word); !ok || got != want {
			t.Errorf("%q is %q (%v), want %q", word, got, ok, want)
		}
	}
	if _, ok := uses.Find("carport"); ok {
		t.Error("widening changed the vocabulary itself")
	}
}

func TestNearest(t *testing.T) {
	got, changes := Nearest("thicknes_in", []string{"area_sqft", "thickness_in", "neat_yd"})
	if got != "thickness_in" || changes != 1 {
		t.Errorf("nearest is %q at %d", got, changes)
	}
	if _, changes := Nearest("rebra", []string{"rebar"}); changes != 1 {
		t.Errorf("two letters swapped cost %d, want 1", changes)
	}
}
