package say

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"pourback/analysis/figure"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
)

// The expected texts are our own style: no published source.
func TestFiguresInWords(t *testing.T) {
	hour := Measure{Factor: 1, Phrase: "{value} ft² per person-hour"}
	dollar, franc := New("", "", ""), New("", "si", "CHF")
	for _, c := range []struct {
		m           Measure
		f           figure.Figure
		short, long string
	}{
		{Percent, trial.Bounded(0.0731, 0.058, 0.083), "7% (6 to 8)", "7% (between 6 and 8)"},
		{Percent, trial.Bounded(0.0731, 0.070, 0.0756), "7% (7 to 8)", "7% (between 7 and 8)"},
		{Percent, trial.Bounded(-0.021, -0.05, 0.01), "−2% (−5 to 1)", "−2% (between −5 and 1)"},
		{Percent, trial.Bounded(0.1, 0.08, trial.Inf), "10% (8 or more)", "10% (8 or more)"},
		{Percent, trial.Bounded(0.1, -trial.Inf, 0.12), "10% (12 or less)", "10% (12 or less)"},
		{Percent, trial.Bounded(0.1, -trial.Inf, trial.Inf), "10%", "10%"},
		{Percent, figure.Figure{Value: 0.034}, "3%", "3%"},
		{Percent, trial.Bounded(0.1239, 0.1239, 0.1239), "about 12%", "about 12%"},
		{Percent, trial.Bounded(0.1239, 0.1211, 0.1249), "about 12%", "about 12%"},
		{Percent, trial.Bounded(0.0017, -0.001, 0.0056), "0.2% (−0.1 to 0.6)", "0.2% (between −0.1 and 0.6)"},
		{Percent, trial.Bounded(0.00004, 0, 0.0001), "about 0%", "about 0%"},
		{Times, trial.Bounded(1.067, 0.58, 1.9636), "1.1 times (0.6 to 2.0)", "1.1 times (between 0.6 and 2.0)"},
		{dollar.About(), trial.Bounded(16914, 13427, 20401), "$17,000 ($13,000 to $20,000)", "$17,000 (between $13,000 and $20,000)"},
		{dollar.About(), trial.Bounded(-284, -300, 12), "−$280 (−$300 to $12)", "−$280 (between −$300 and $12)"},
		{dollar.Cash(), figure.Figure{Value: 1e12}, "$1,000,000,000,000", "$1,000,000,000,000"},
		{dollar.PerArea(), trial.Bounded(0.757, 0.689, 0.88), "$0.76 ($0.69 to $0.88)", "$0.76 (between $0.69 and $0.88)"},
		{franc.PerArea(), trial.Bounded(0.757, 0.689, 0.88), "CHF 8.15 (CHF 7.42 to CHF 9.47)", "CHF 8.15 (between CHF 7.42 and CHF 9.47)"},
		{InHundred, trial.Bounded(0.066, 0.043, 0.11), "7 in 100 (4 to 11)", "7 in 100 (between 4 and 11)"},
		{InHundred.As("{value} in 100 slabs"), trial.Bounded(0, 0, 0.02), "0 in 100 slabs (0 to 2)", "0 in 100 slabs (between 0 and 2)"},
		{hour, trial.Bounded(23.24, 22.8, 23.7), "23.2 ft² per person-hour (22.8 to 23.7)", "23.2 ft² per person-hour (between 22.8 and 23.7)"},
		{hour, trial.Bounded(1234.5, 1200, 1300), "1,234 ft² per person-hour (1,200 to 1,300)", "1,234 ft² per person-hour (between 1,200 and 1,300)"},
		{Plain, trial.Bounded(1.04, 0.65, 1.5), "1.0 (0.7 to 1.5)", "1.0 (between 0.7 and 1.5)"},
		{Plain, figure.Figure{Value: 0}, "0", "0"},
	} {
		if got := dollar.Short(c.m, c.f); got != c.short {
			t.Errorf("short: %q, want %q", got, c.short)
		}
		if got := dollar.Long(c.m, c.f); got != c.long {
			t.Errorf("long: %q, want %q", got, c.long)
		}
	}
}

func TestRareSharesAreOutOfAThousand(t *testing.T) {
	a := New("", "", "")
	f := trial.Bounded(0.004, 0.001, 0.012)
	if got, want := a.Long(Share(f), f), "4 in 1,000 (between 1 and 12)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestMoney(t *testing.T) {
	dollar, franc := New("", "", ""), New("", "", "CHF")
	for _, c := range []struct {
		a    *Voice
		c    record.Cents
		want string
	}{
		{dollar, 8420000, "$84,200"}, {dollar, 149, "$1"}, {dollar, -123456, "−$1,235"}, {dollar, -49, "$0"}, {dollar, -50, "−$1"}, {franc, 123456, "CHF 1,235"},
	} {
		if got := c.a.Money(c.c); got != c.want {
			t.Errorf("%d cents: %q, want %q", c.c, got, c.want)
		}
	}
}

func TestSmallWords(t *testing.T) {
	for got, want := range map[string]string{
		Plural(1, "job"): "1 job", Plural(1210, "job"): "1,210 jobs", Plural(0, "job"): "0 jobs",
		LevelText(0.90): "9 times in 10", LevelText(0.95): "19 times in 20", LevelText(0.99): "99 times in 100", LevelText(0.999): "99.9 times in 100",
		MonthText("2026-10"): "October 2026", MonthText("soon"): "soon", DayText(record.DateOf(2026, 3, 2)): "March 2, 2026",
		AsOfText("2026-10-31"): "October 31, 2026", AsOfText("?"): "?", Capital("éa"): "Éa", Capital(""): "",
		Grouped(-0.4, 0): "0", Grouped(999999.6, 0): "1,000,000", Grouped(100, 0): "100", Grouped(1000.25, 1): "1,000.2",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestCleanTextIsOneHarmlessLine(t *testing.T) {
	for _, s := range trial.Hostile {
		checkClean(t.Errorf, s, 40)
	}
	rapid.Check(t, func(t *rapid.T) {
		checkClean(t.Errorf, rapid.String().Draw(t, "text"), rapid.IntRange(1, 60).Draw(t, "most"))
	})
}

func checkClean(fail func(string, ...any), s string, most int) {
	got := Clean(s, most)
	n := 0
	for _, r := range got {
		switch {
		case r == '\u2068' || r == '\u2069' || r == '…': // ours
		case unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == unicode.ReplacementChar || r == '\u2028' || r == '\u2029':
			fail("%q became %q, with %U in it", s, got, r)
		default:
			n++
		}
	}
	if n > most {
		fail("%q became %q, longer than %d", s, got, most)
	}
	if _, err := json.Marshal(got); err != nil || strings.Count(got, "\u2068") != strings.Count(got, "\u2069") {
		fail("%q became %q", s, got)
	}
}

func TestCleanSetsOffRightToLeft(t *testing.T) {
	if got, want := Clean("עגורן", 40), "\u2068עגורן\u2069"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := Clean("Heron 3", 40); got != "Heron 3" {
		t.Errorf("%q was changed", got)
	}
}
