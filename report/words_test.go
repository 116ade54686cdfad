package report

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"pourback/analysis"
	"pourback/analysis/figure"
	"pourback/ingest/record"
)

// inf is an open end.
var inf = math.Inf(1)

func bounded(value, low, high float64) figure.Figure {
	return figure.Figure{Value: value, Low: low, High: high, Bounded: true}
}

// The expected texts are our own style: no published source.
func TestFiguresInWords(t *testing.T) {
	hour := measure{factor: 1, unit: " ft² per person-hour"}
	dollar, franc := newAuthor(&analysis.Factors{}, Options{}), newAuthor(&analysis.Factors{}, Options{Currency: "CHF", Units: "si"})
	for _, c := range []struct {
		m           measure
		f           figure.Figure
		short, long string
	}{
		{percent, bounded(0.0731, 0.058, 0.083), "7% (6 to 8)", "7% (between 6 and 8)"},
		{percent, bounded(0.0731, 0.070, 0.0756), "7% (7 to 8)", "7% (between 7 and 8)"},
		{percent, bounded(-0.021, -0.05, 0.01), "−2% (−5 to 1)", "−2% (between −5 and 1)"},
		{percent, bounded(0.1, 0.08, inf), "10% (8 or more)", "10% (8 or more)"},
		{percent, bounded(0.1, -inf, 0.12), "10% (12 or less)", "10% (12 or less)"},
		{percent, bounded(0.1, -inf, inf), "10%", "10%"},
		{percent, figure.Figure{Value: 0.034}, "3%", "3%"},
		{percent, bounded(0.1239, 0.1239, 0.1239), "about 12%", "about 12%"},
		{percent, bounded(0.1239, 0.1211, 0.1249), "about 12%", "about 12%"},
		{percent, bounded(0.0017, -0.001, 0.0056), "0.2% (−0.1 to 0.6)", "0.2% (between −0.1 and 0.6)"},
		{percent, bounded(0.00004, 0, 0.0001), "about 0%", "about 0%"},
		{times, bounded(1.067, 0.58, 1.9636), "1.1 times (0.6 to 2.0)", "1.1 times (between 0.6 and 2.0)"},
		{dollar.about(), bounded(16914, 13427, 20401), "$17,000 ($13,000 to $20,000)", "$17,000 (between $13,000 and $20,000)"},
		{dollar.about(), bounded(-284, -300, 12), "−$280 (−$300 to $12)", "−$280 (between −$300 and $12)"},
		{dollar.cash(), figure.Figure{Value: 1e12}, "$1,000,000,000,000", "$1,000,000,000,000"},
		{dollar.perArea(), bounded(0.757, 0.689, 0.88), "$0.76 ($0.69 to $0.88)", "$0.76 (between $0.69 and $0.88)"},
		{franc.perArea(), bounded(0.757, 0.689, 0.88), "CHF 8.15 (CHF 7.42 to CHF 9.47)", "CHF 8.15 (between CHF 7.42 and CHF 9.47)"},
		{inHundred, bounded(0.066, 0.043, 0.11), "7 in 100 (4 to 11)", "7 in 100 (between 4 and 11)"},
		{inHundred.of("slabs"), bounded(0, 0, 0.02), "0 in 100 slabs (0 to 2)", "0 in 100 slabs (between 0 and 2)"},
		{hour, bounded(23.24, 22.8, 23.7), "23.2 ft² per person-hour (22.8 to 23.7)", "23.2 ft² per person-hour (between 22.8 and 23.7)"},
		{hour, bounded(1234.5, 1200, 1300), "1,234 ft² per person-hour (1,200 to 1,300)", "1,234 ft² per person-hour (between 1,200 and 1,300)"},
		{plain, bounded(1.04, 0.65, 1.5), "1.0 (0.7 to 1.5)", "1.0 (between 0.7 and 1.5)"},
		{plain, figure.Figure{Value: 0}, "0", "0"},
	} {
		if got := c.m.short(c.f); got != c.short {
			t.Errorf("short: %q, want %q", got, c.short)
		}
		if got := c.m.long(c.f); got != c.long {
			t.Errorf("long: %q, want %q", got, c.long)
		}
	}
}

func TestRareSharesAreOutOfAThousand(t *testing.T) {
	f := bounded(0.004, 0.001, 0.012)
	if got, want := share(f).long(f), "4 in 1,000 (between 1 and 12)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestMoney(t *testing.T) {
	dollar, franc := newAuthor(&analysis.Factors{}, Options{}), newAuthor(&analysis.Factors{}, Options{Currency: "CHF"})
	for _, c := range []struct {
		a    *author
		c    record.Cents
		want string
	}{
		{dollar, 8420000, "$84,200"}, {dollar, 149, "$1"}, {dollar, -123456, "−$1,235"}, {dollar, -49, "$0"}, {dollar, -50, "−$1"}, {franc, 123456, "CHF 1,235"},
	} {
		if got := c.a.money(c.c); got != c.want {
			t.Errorf("%d cents: %q, want %q", c.c, got, c.want)
		}
	}
}

func TestSmallWords(t *testing.T) {
	for got, want := range map[string]string{
		plural(1, "job"): "1 job", plural(1210, "job"): "1,210 jobs", plural(0, "job"): "0 jobs",
		levelText(0.90): "9 times in 10", levelText(0.95): "19 times in 20", levelText(0.99): "99 times in 100", levelText(0.999): "99.9 times in 100",
		monthText("2026-10"): "October 2026", monthText("soon"): "soon", dayText(record.DateOf(2026, 3, 2)): "March 2, 2026",
		asOfText("2026-10-31"): "October 31, 2026", asOfText("?"): "?", capital("éa"): "Éa", capital(""): "",
		grouped(-0.4, 0): "0", grouped(999999.6, 0): "1,000,000", grouped(100, 0): "100", grouped(1000.25, 1): "1,000.2",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// hostile texts are what a record file may hold.
var hostile = []string{
	`</script><script>alert(1)</script>`, `__f__alert(1)__f__`, `$fn:errorBar`, `=HYPERLINK("http://example.com")`, `"><img src=x onerror=alert(1)>`,
	"\u202Egnp.exe", "\u202aLR\u202c\u2066i\u2069", "حفارة", "עגורן 3", "\x1b[31mred\x1b[0m", "a\x00b\u0007", "two\nlines\ttab", "{{.Answer}}", "{a|rich} {b} {c0} $& $1",
	strings.Repeat("W", 500), strings.Repeat("👷🏽", 60), "&lt;b&gt; &amp;", "'; DROP TABLE jobs; --", "\xff\xfe broken", "\u2028\u2029",
}

func TestCleanTextIsOneHarmlessLine(t *testing.T) {
	for _, s := range hostile {
		checkClean(t.Errorf, s, 40)
	}
	rapid.Check(t, func(t *rapid.T) {
		checkClean(t.Errorf, rapid.String().Draw(t, "text"), rapid.IntRange(1, 60).Draw(t, "most"))
	})
}

func checkClean(fail func(string, ...any), s string, most int) {
	got := clean(s, most)
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
	if got, want := clean("עגורן", 40), "\u2068עגורן\u2069"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := clean("Heron 3", 40); got != "Heron 3" {
		t.Errorf("%q was changed", got)
	}
}
