package page

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
	"pourback/report/say"
)

// someFigure is one that is known; only the analysis can make one.
var someFigure = sync.OnceValue(func() figure.Figure {
	f, err := analysis.Run(record.NewHistory(trial.AsOf, trial.Pours(20)), setting.Options{Topics: []string{"margin"}})
	if err != nil || !f.Margin.Total.MarginPct.Known() {
		panic(fmt.Sprint("no figure to begin from: ", err))
	}
	return f.Margin.Total.MarginPct
})

func exactly(v float64) figure.Figure {
	f := someFigure()
	f.Value, f.Bounded, f.Why = v, false, nil
	return f
}

func between(v, low, high float64) figure.Figure {
	f := exactly(v)
	f.Low, f.High, f.Bounded = low, high, true
	return f
}

func unknownFigure(why string) figure.Figure { return figure.Unknown(figure.Written(why)) }

func TestSmallSentences(t *testing.T) {
	a := NewAuthor(&analysis.Factors{}, Options{})
	for got, want := range map[string]string{
		say.Listed(nil): "", say.Listed([]string{"a"}): "a", say.Listed([]string{"a", "b"}): "a and b", say.Listed([]string{"a", "b", "c"}): "a, b and c",
		a.yards(9.25): "9.25 yd³", a.yards(11.5): "11.5 yd³", a.yards(10): "10 yd³", a.yards(8.23): "8.2 yd³", a.yards(0): "0 yd³",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Exact conversions: NIST SP 811, appendix B.
func TestSaidInMetricUnits(t *testing.T) {
	si := NewAuthor(&analysis.Factors{}, Options{Units: "si", Currency: "CHF"})
	for us, want := range map[string]string{
		"Jobs under 375 ft² earned 10.6 cents, about $6,500 a year": "Jobs under 34.8 m² earned 10.6 cents, about CHF 6,500 a year",
		"for 400 ft² at 4 in, not pumped":                           "for 37.2 m² at 102 mm, not pumped",
		"air temperature, each 10 °F hotter":                        "air temperature, each 5.6 °C hotter",
		"hot and cool days apart, at 80 °F":                         "hot and cool days apart, at 27 °C",
		"no order by more than 0.25 yd.":                            "no order by more than 0.191 m³.",
		"plugs about 4.1 times in 100 yards":                        "plugs about 4.1 times in 76.5 m³",
		"stand at 165.00 a yd³ and 48.00 an hour":                   "stand at 216 a m³ and 48.00 an hour",
		"5 in 100 slabs and 12 % of 1,210 placements":               "5 in 100 slabs and 12% of 1,210 placements",
		"evaporation over 0.2 lb/ft²/h":                             "evaporation over 0.976 kg/m²/h",
		"panels of 10 ft":                                           "panels of 3.05 m",
		"9 to 14 ft for a slab of 4.5 in, lapped":                   "2.74 to 4.27 m for a slab of 114 mm, lapped",
		"sheets of 5 × 10 ft, #4 at 18 in both ways":                "sheets of 1.52 × 3.05 m, #4 at 457 mm both ways",
		"1.5 lb a yard, 8 in 10 jobs":                               "0.89 kg a m³, 8 in 10 jobs",
		"slump 4.2 to 4.8 in, 2 gal of water added":                 "slump 107 to 122 mm, 7.57 L of water added",
		"1.2 gal of water added to the yard":                        "5.94 L of water added to the m³",
		"about an inch of slump and 150 to 200 psi":                 "about 25 mm of slump and 1.03 to 1.38 MPa",
		"$0.40/ft² of steel":                                        "CHF 4.31/m² of steel",
		"air of 40 to 60 °F":                                        "air of 4 to 16 °C",
		"heat (10 °F of air above 80 °F)":                           "heat (5.6 °C of air above 27 °C)",
	} {
		if got := si.Said(us); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	dollar := NewAuthor(&analysis.Factors{}, Options{})
	if got, want := dollar.Said("12 % of 400 ft² for $5"), "12% of 400 ft² for $5"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Whatever a text holds, it comes through in one clean line, and what has no
// unit of ours is left as it was.
func TestSaidHoldsWhateverComes(t *testing.T) {
	si := NewAuthor(&analysis.Factors{}, Options{Units: "si"})
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.OneOf(rapid.String(), rapid.StringMatching(`[0-9,.−]{0,8} ?(ft²|yd³|yd|yards|ft|in|°F|lb/ft²/h)?[a-z ,.]{0,9}`)).Draw(t, "text")
		got := si.Said(s)
		if strings.ContainsAny(got, "\n\t\x00") || strings.Contains(got, "NaN") && !strings.Contains(s, "NaN") {
			t.Fatalf("%q became %q", s, got)
		}
		if bare := say.Clean(s, say.LongText); !strings.ContainsAny(bare, "0123456789%") && !strings.Contains(bare, "table") && !strings.Contains(bare, "hazard") && got != bare {
			t.Fatalf("%q became %q", s, got)
		}
	})
}

func TestSentences(t *testing.T) {
	got := say.Sentences("Mesh costs 0.76 per ft². Nothing else. “So” it is.")
	if strings.Join(got, "|") != "Mesh costs 0.76 per ft².|Nothing else.|“So” it is." {
		t.Errorf("%q", got)
	}
	if len(say.Sentences("")) != 0 {
		t.Error("no text has no sentence")
	}
}
