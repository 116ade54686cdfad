package sheet

import (
	"math"
	"strings"
	"testing"

	"pourback/ingest/record"
)

var pointFile, commaFile = habit{mark: '.'}, habit{mark: ',', said: true}

// saidCodes lists the codes of what was said, errors with a !.
func saidCodes(say remarks) string {
	var codes []string
	for _, x := range say {
		code := x.code
		if x.severity == record.Error {
			code = "!" + code
		}
		codes = append(codes, code)
	}
	return strings.Join(codes, " ")
}

// Conversions stand on the international inch of 25.4 mm exactly (NIST SP 811,
// appendix B); forms are those of the trade.
func TestQuantities(t *testing.T) {
	in, ft, sqft, yd := ownUnit(record.Inch), ownUnit(record.Foot), ownUnit(record.SquareFoot), ownUnit(record.CubicYard)
	f, mph, pct, h, min, psi, none := ownUnit(record.Fahrenheit), ownUnit(record.MilesPerHour), ownUnit(record.Percent), ownUnit(record.Hour), ownUnit(record.Minute), ownUnit(record.PSI), ownUnit(nil)
	mm := measure{record.Inch, 1 / 25.4, 0, true}
	celsius := measure{record.Fahrenheit, 1.8, 32, true}
	for _, c := range []struct {
		text string
		m    measure
		want float64
		said string
	}{
		{"4", in, 4, ""}, {"4.5", in, 4.5, ""}, {" 4.5 ", in, 4.5, ""}, {"+4", in, 4, ""}, {".5", in, 0.5, ""}, {"5.", in, 5, ""}, {"1e3", psi, 1000, ""}, {"1.5E+2", psi, 150, ""},
		{"4 1/2", in, 4.5, ""}, {"4-1/2", in, 4.5, ""}, {"4½", in, 4.5, ""}, {"4 ½", in, 4.5, ""}, {"½", in, 0.5, ""}, {"11/16", in, 0.6875, ""}, {"3⁄8", in, 0.375, ""}, {"⅜", in, 0.375, ""},
		{"4 1/2 in", in, 4.5, ""}, {`4 1/2"`, in, 4.5, ""}, {"4½ in.", in, 4.5, ""}, {"4 inches", in, 4, ""}, {"4''", in, 4, ""}, {"4”", in, 4, ""},
		{"90 mm", in, 90 / 25.4, ""}, {"90mm", in, 90 / 25.4, ""}, {"10 cm", in, 10 / 2.54, ""}, {"90", mm, 90 / 25.4, ""}, {`4"`, mm, 4, ""},
		{`7' 6"`, in, 90, ""}, {`7'6"`, in, 90, ""}, {`7'-6"`, in, 90, ""}, {`7' 6`, in, 90, ""}, {`7' 6"`, ft, 7.5, ""}, {"7 ft 6 in", ft, 7.5, ""}, {`7' 6 1/2"`, in, 90.5, ""}, {"10'", ft, 10, ""}, {"10 lf", ft, 10, ""}, {"3 m", ft, 3 / 0.3048, ""}, {"7 feet", ft, 7, ""},
		{"420 sq ft", sqft, 420, ""}, {"420 sf", sqft, 420, ""}, {"420 ft2", sqft, 420, ""}, {"420 ft²", sqft, 420, ""}, {"39 m2", sqft, 39 / (0.3048 * 0.3048), ""}, {"39 m²", sqft, 39 / (0.3048 * 0.3048), ""}, {"50 sq. yd.", sqft, 450, ""},
		{"1,250", sqft, 1250, ""}, {"1,250.5", sqft, 1250.5, ""}, {"1 250", sqft, 1250, ""}, {"1\u00a0250", sqft, 1250, ""}, {"12,500,000", none, 12500000, ""},
		{"7.6 m3", yd, 7.6 / 0.764554857984, ""}, {"7.6 m³", yd, 7.6 / 0.764554857984, ""}, {"9 cy", yd, 9, ""}, {"9 cu yd", yd, 9, ""}, {"9 yd^3", yd, 9, ""}, {"27 cu ft", yd, 1, ""}, {"9yds", yd, 9, ""},
		{"29 C", f, 84.2, ""}, {"29°C", f, 84.2, ""}, {"29 deg C", f, 84.2, ""}, {"84 F", f, 84, ""}, {"84°", f, 84, ""}, {"-5 C", f, 23, ""}, {"-40 C", f, -40, ""}, {"−5", f, -5, ""}, {"-5", celsius, 23, ""}, {"23 F", celsius, 23, ""}, {"0", celsius, 32, ""},
		{"16 km/h", mph, 16 / 1.609344, ""}, {"16 kmh", mph, 16 / 1.609344, ""}, {"10 m/s", mph, 36 / 1.609344, ""}, {"10 mph", mph, 10, ""}, {"10 knots", mph, 18.52 / 1.609344, ""},
		{"65%", pct, 65, ""}, {"65 %", pct, 65, ""}, {"2 percent", pct, 2, ""},
		{"27.6 MPa", psi, 27.6 / 0.006894757293168361, ""}, {"4 ksi", psi, 4000, ""},
		{"20 min", h, 1. / 3, ""}, {"1 h 15 min", h, 1.25, ""}, {"1h15", h, 1.25, ""}, {"1:15", h, 1.25, ""}, {"12 man-hours", h, 12, ""}, {"1.5 days", h, 36, ""},
		{"20 min", min, 20, ""}, {"1 h 15 min", min, 75, ""}, {"1h 15m", min, 75, ""}, {"1:15", min, 75, ""}, {"0:45", min, 45, ""}, {"1:15:30", min, 75.5, ""}, {"1.5 hrs", min, 90, ""}, {"90 s", min, 1.5, ""},
		{"75-80", pct, 77.5, "range"}, {"75–80", pct, 77.5, "range"}, {"75 to 80", pct, 77.5, "range"}, {"75%-80%", pct, 77.5, "range"}, {"3 1/2 - 4 in", in, 3.75, "range"}, {"1/2-3/4", in, 0.625, "range"}, {"20-30 C", f, 77, "range"}, {"-5 to 5 C", f, 32, "range"}, {"7'-8'", ft, 7.5, "range"}, {"100-150 mm", in, 125 / 25.4, "range"}, {"20-30 min", h, 25. / 60, "range"}, {"1e-3", none, 0.001, ""},
		{"~80", pct, 80, "approximate"}, {"approx 80", pct, 80, "approximate"}, {"80+", pct, 80, "approximate"}, {"about 80 %", pct, 80, "approximate"}, {"80?", pct, 80, "approximate"}, {">80", pct, 80, "approximate"}, {"80ish", pct, 80, "approximate"},
		{"3 men", none, 3, "unit-left-out"}, {"7,5", yd, 7.5, "other-decimal-mark"}, {"1.250,75", yd, 1250.75, "other-decimal-mark"},
		{"abc", in, 0, "!not-a-number"}, {"NaN", in, 0, "!not-a-number"}, {"inf", in, 0, "!not-a-number"}, {"0x1F", in, 0, "!not-a-number"}, {"1_000", in, 0, "!not-a-number"}, {"1,25,0", in, 0, "!not-a-number"}, {"80-75", pct, 0, "!not-a-number"}, {"4 4", in, 0, "!not-a-number"},
		{"1e999", in, 0, "!not-a-number"}, {"4..5", in, 0, "!not-a-number"}, {"555-12-34", in, 0, "!not-a-number"}, {"6 in 7 ft", in, 0, "!not-a-number"}, {"1:75", h, 0, "!not-a-number"}, {"1:15", in, 0, "!not-a-number"}, {"9/8", in, 0, "!not-a-number"}, {"$5", in, 0, "!not-a-number"}, {"", in, 0, "!not-a-number"}, {"-", in, 0, "!not-a-number"},
		{"4 ft", sqft, 0, "!wrong-unit"}, {"4 psi", in, 0, "!wrong-unit"}, {"29 C", in, 0, "!wrong-unit"}, {"=1+1", in, 0, "!formula"}, {"3 yd 2 ft", yd, 0, "!wrong-unit"},
	} {
		var say remarks
		got, ok := parseQuantity(c.text, c.m, pointFile, &say)
		if said := saidCodes(say); said != c.said || ok == strings.Contains(said, "!") {
			t.Errorf("%q: said %q, want %q", c.text, said, c.said)
		} else if ok && math.Abs(got.value-c.want) > 1e-9*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%q: %v, want %v", c.text, got.value, c.want)
		}
	}
}

func TestDecimalMarks(t *testing.T) {
	for _, c := range []struct {
		text string
		h    habit
		want float64
		said string
	}{
		{"7,5", commaFile, 7.5, ""}, {"1.250,5", commaFile, 1250.5, ""}, {"1.250", commaFile, 1250, "ambiguous-number"}, {"1,250", commaFile, 1.25, "ambiguous-number"}, {"0,125", commaFile, 0.125, ""},
		{"4.5", commaFile, 4.5, "other-decimal-mark"}, {"1.250.000", commaFile, 1250000, ""}, {"1 250,5", commaFile, 1250.5, ""}, {"12,5000", commaFile, 12.5, ""},
		{"1,250", pointFile, 1250, ""}, {"1.250", pointFile, 1.25, ""}, {"0,125", pointFile, 0.125, "other-decimal-mark"}, {"1,250", habit{'.', true}, 1250, "ambiguous-number"}, {"1.250", habit{'.', true}, 1.25, ""},
	} {
		var say remarks
		got, ok := parseQuantity(c.text, ownUnit(record.CubicYard), c.h, &say)
		if !ok || got.value != c.want || saidCodes(say) != c.said {
			t.Errorf("%q with %c: %v %q, want %v %q", c.text, c.h.mark, got.value, saidCodes(say), c.want, c.said)
		}
	}
}

func TestMoney(t *testing.T) {
	for _, c := range []struct {
		text string
		h    habit
		want record.Cents
		said string
	}{
		{"1250", pointFile, 125000, ""}, {"1,250.00", pointFile, 125000, ""}, {"$1,250.00", pointFile, 125000, ""}, {"$ 1250", pointFile, 125000, ""}, {"1250 USD", pointFile, 125000, ""}, {"US$1,250", pointFile, 125000, ""}, {"€1.250,00", commaFile, 125000, ""}, {"1.250,00 €", commaFile, 125000, ""}, {"£12.50", pointFile, 1250, ""},
		{"(1,250.00)", pointFile, -125000, ""}, {"($1,250.00)", pointFile, -125000, ""}, {"-$50", pointFile, -5000, ""}, {"$-50", pointFile, -5000, ""}, {"−50", pointFile, -5000, ""}, {"50-", pointFile, -5000, ""}, {"+50", pointFile, 5000, ""},
		{"12k", pointFile, 1200000, ""}, {"$1.2K", pointFile, 120000, ""}, {"$165/yd", pointFile, 16500, ""}, {"$46 per hour", pointFile, 4600, ""}, {"0.1", pointFile, 10, ""}, {".5", pointFile, 50, ""}, {"5.", pointFile, 500, ""}, {"1e3", pointFile, 100000, ""},
		{"12.345", pointFile, 1235, "rounded"}, {"12.344", pointFile, 1234, "rounded"}, {"1.005", pointFile, 101, "rounded"}, {"2.675", pointFile, 268, "rounded"}, {"-1.005", pointFile, -101, "rounded"}, {"(2.675)", pointFile, -268, "rounded"}, {"1.00499999999999999999", pointFile, 100, "rounded"}, {"1,00500", commaFile, 101, "rounded"}, {"1.000005k", pointFile, 100001, "rounded"}, {"1005e-3", pointFile, 101, "rounded"}, {"0.01-0.02", pointFile, 2, "range"}, {"12.340", pointFile, 1234, ""}, {"~$500", pointFile, 50000, "approximate"}, {"$500-700", pointFile, 60000, "range"}, {"500 to 700", pointFile, 60000, "range"},
		{"123.45000000000002", pointFile, 12345, ""}, {"2.6749999999999998", pointFile, 268, "rounded"}, {"0.20000000000004547", pointFile, 20, ""}, {"4.5474735088646412E-13", pointFile, 0, ""}, {"$1234567.8900000001", pointFile, 123456789, ""}, {"33.333333333333336", pointFile, 3333, "rounded"}, {"1250.0049999999999", pointFile, 125001, "rounded"}, {"123,45000000000002", commaFile, 12345, ""},
		{"abc", pointFile, 0, "!not-an-amount"}, {"$", pointFile, 0, "!not-an-amount"}, {"12 in", pointFile, 0, "!not-an-amount"}, {"-(5)", pointFile, 0, "!not-an-amount"}, {"(-5)", pointFile, 0, "!not-an-amount"}, {"1e30", pointFile, 0, "!not-an-amount"}, {"NaN", pointFile, 0, "!not-an-amount"}, {"700-500", pointFile, 0, "!not-an-amount"}, {"=A1", pointFile, 0, "!formula"}, {"1,25,0.00", pointFile, 0, "!not-an-amount"},
	} {
		var say remarks
		got, ok := parseMoney(c.text, c.h, &say)
		if said := saidCodes(say); said != c.said || ok == strings.Contains(said, "!") || ok && got != c.want {
			t.Errorf("%q: %v %q, want %v %q", c.text, got, said, c.want, c.said)
		}
	}
}

func TestDates(t *testing.T) {
	us, day := calendar{epoch: epoch1900}, calendar{epoch: epoch1900, dayFirst: true}
	for _, c := range []struct {
		text   string
		cal    calendar
		want   string
		either bool
		said   string
	}{
		{"2025-06-03", us, "2025-06-03", false, ""}, {"2025/6/3", us, "2025-06-03", false, ""}, {"2025.06.03", us, "2025-06-03", false, ""}, {"20250603", us, "2025-06-03", false, ""},
		{"6/3/2025", us, "2025-06-03", true, ""}, {"6/3/2025", day, "2025-03-06", true, ""}, {"6/3/25", us, "2025-06-03", true, ""}, {"6-3-2025", us, "2025-06-03", true, ""}, {"06/06/2025", us, "2025-06-06", false, ""}, {"6/13/2025", us, "2025-06-13", false, ""}, {"13/6/2025", day, "2025-06-13", false, ""}, {"6/3/71", us, "1971-06-03", true, ""}, {"6/3/68", us, "2068-06-03", true, ""},
		{"3.6.2025", us, "2025-06-03", false, ""}, {"03.06.25", us, "2025-06-03", false, ""}, {"Jun 3, 2025", us, "2025-06-03", false, ""}, {"June 3 2025", us, "2025-06-03", false, ""}, {"Jun. 3rd, 2025", us, "2025-06-03", false, ""}, {"3 June 2025", us, "2025-06-03", false, ""}, {"3-Jun-25", us, "2025-06-03", false, ""}, {"3rd of June 2025", us, "2025-06-03", false, ""}, {"03JUN2025", us, "2025-06-03", false, ""}, {"2025 Jun 3", us, "2025-06-03", false, ""}, {"Tue, Jun 3 2025", us, "2025-06-03", false, ""}, {"Tuesday 6/3/2025", us, "2025-06-03", true, ""}, {"3 Jun '25", us, "2025-06-03", false, ""}, {"Sept 3, 2025", us, "2025-09-03", false, ""},
		{"45811", us, "2025-06-03", false, "serial-date"}, {"45811.5", us, "2025-06-03", false, "serial-date"},
		{"2025-06-03 00:00:00", us, "2025-06-03", false, ""}, {"2025-06-03T00:00:00Z", us, "2025-06-03", false, ""}, {"6/3/2025 7:15 AM", us, "2025-06-03", true, "time-left-out"},
		{"2025-02-30", us, "", false, "!impossible-date"}, {"13/6/2025", us, "", false, "!impossible-date"}, {"6/13/2025", day, "", false, "!impossible-date"}, {"31/31/2025", us, "", false, "!impossible-date"}, {"0025-06-03", us, "", false, "!impossible-date"}, {"Feb 29, 2025", us, "", false, "!impossible-date"},
		{"6/3", us, "", false, "!not-a-date"}, {"June 2025", us, "", false, "!not-a-date"}, {"yesterday", us, "", false, "!not-a-date"}, {"123", us, "", false, "!not-a-date"}, {"6/3-2025", us, "", false, "!not-a-date"}, {"6/3/2025 or so", us, "", false, "!not-a-date"}, {"Foo 3, 2025", us, "", false, "!not-a-date"}, {"99999", us, "", false, "!not-a-date"}, {"7:15", us, "", false, "!not-a-date"},
	} {
		var say remarks
		got, ok := parseDay(c.text, c.cal, &say)
		if said := saidCodes(say); said != c.said || ok == strings.Contains(said, "!") || ok && (got.date.String() != c.want || got.either != c.either) {
			t.Errorf("%q: %v %v %q, want %v %v %q", c.text, got.date, got.either, said, c.want, c.either, c.said)
		}
	}
}

func TestMoments(t *testing.T) {
	us := calendar{epoch: epoch1900}
	for _, c := range []struct{ text, want, said string }{
		{"2025-06-03 07:15", "2025-06-03T07:15", ""}, {"2025-06-03T07:15", "2025-06-03T07:15", ""}, {"2025-06-03T07:15:30", "2025-06-03T07:15:30", ""}, {"2025-06-03T07:15:30.250", "2025-06-03T07:15:30", ""},
		{"6/13/2025 7:15 AM", "2025-06-13T07:15", ""}, {"6/13/2025 7:15pm", "2025-06-13T19:15", ""}, {"6/13/25, 12:05 am", "2025-06-13T00:05", ""}, {"6/13/25 12:05 p.m.", "2025-06-13T12:05", ""}, {"Jun 13, 2025 7 AM", "2025-06-13T07:00", ""}, {"13 June 2025 19:15", "2025-06-13T19:15", ""},
		{"45811.302083333336", "2025-06-03T07:15", "serial-date"},
		{"2025-06-03T07:15-05:00", "2025-06-03T07:15", "time-zone-left-out"}, {"6/13/2025 7:15 AM CST", "2025-06-13T07:15", "time-zone-left-out"},
		{"2025-06-03T07:15Z", "", "!time-zone"}, {"2025-06-03 07:15 UTC", "", "!time-zone"}, {"7:15", "", "!time-without-day"}, {"2025-06-03", "", "!day-without-time"}, {"2025-02-30 07:15", "", "!impossible-date"}, {"2025-06-03 25:15", "", "!not-a-time"}, {"6/13/2025 13:15 pm", "", "!not-a-time"}, {"soon", "", "!not-a-time"},
	} {
		var say remarks
		got, _, ok := parseMoment(c.text, us, &say)
		if said := saidCodes(say); said != c.said || ok == strings.Contains(said, "!") || ok && got.String() != c.want {
			t.Errorf("%q: %v %q, want %v %q", c.text, got, said, c.want, c.said)
		}
	}
}

// Serial numbers by ECMA-376 part 1, 18.17.4.1: 1900 counts 1 January 1900 as 1
// and knows a 29 February 1900, serial 60; 1904 counts 1 January 1904 as 0.
func TestSerials(t *testing.T) {
	for _, c := range []struct {
		from   epoch
		serial float64
		want   string
	}{
		{epoch1900, 1, "1900-01-01T00:00"}, {epoch1900, 59, "1900-02-28T00:00"}, {epoch1900, 61, "1900-03-01T00:00"}, {epoch1900, 45811, "2025-06-03T00:00"}, {epoch1900, 39448.5, "2008-01-01T12:00"}, {epoch1900, 2958465, "9999-12-31T00:00"},
		{epoch1904, 0, "1904-01-01T00:00"}, {epoch1904, 44349, "2025-06-03T00:00"}, {epoch1900, 45811.302083333336, "2025-06-03T07:15"},
	} {
		if got, ok := c.from.moment(c.serial); !ok || got.String() != c.want {
			t.Errorf("%v: %v, want %v", c.serial, got, c.want)
		}
	}
	for _, bad := range []float64{60, 60.5, 0, -1, 2958466, math.NaN(), math.Inf(1)} {
		if got, ok := epoch1900.moment(bad); ok {
			t.Errorf("%v is taken for %v", bad, got)
		}
	}
}

func TestWords(t *testing.T) {
	lexicons := map[string]*lexicon{}
	for _, name := range []string{"use", "method", "reinforcement", "joint_cut"} {
		lexicons[name] = newLexicon(record.Placements.Column(name).Words)
	}
	lexicons["crack_kind"] = newLexicon(record.Visits.Column("crack_kind").Words)
	for _, c := range []struct{ column, text, want, said string }{
		{"use", "Driveway", "driveway", ""}, {"use", " SHED-SLAB ", "shed slab", ""}, {"use", "shed_slab", "shed slab", ""}, {"use", "sidewalk", "walkway", ""}, {"use", "Shop Yard", "shop yard", "new-word"}, {"use", "drivway", "drivway", "like-a-known-word"}, {"use", "n/a", "", ""}, {"use", "420", "", "!unknown-word"}, {"use", strings.Repeat("x", 41), "", "!text-too-long"},
		{"method", "Line Pump", "pump", ""}, {"method", "pmup", "", "!unknown-word"}, {"method", "helicopter", "", "!unknown-word"}, {"method", "-", "", ""},
		{"reinforcement", "none", "none", ""}, {"reinforcement", "rebar + mesh", "mesh+rebar", ""}, {"reinforcement", "rebar and wire mesh", "mesh+rebar", ""}, {"reinforcement", "fiber, rebar", "rebar+fiber", ""}, {"reinforcement", "mesh & mesh", "mesh", ""}, {"reinforcement", "none + mesh", "", "!none-and-more"}, {"reinforcement", "mesh + straw", "", "!unknown-word"}, {"reinforcement", "rebar w/ fiber", "rebar+fiber", ""},
		{"joint_cut", "early_entry", "early-entry", ""}, {"joint_cut", "saw/tooled", "tooled+saw", ""}, {"crack_kind", "unknown", "unknown", ""},
	} {
		var say remarks
		got, ok := lexicons[c.column].parseWord(c.text, &say)
		if said := saidCodes(say); got != c.want || said != c.said || ok == strings.Contains(said, "!") {
			t.Errorf("%s %q: %q %q, want %q %q", c.column, c.text, got, said, c.want, c.said)
		}
	}
}

func TestTexts(t *testing.T) {
	key, note := record.Jobs.Column("job_no"), record.Jobs.Column("note")
	for _, c := range []struct {
		column           *record.Column
		text, want, said string
	}{
		{key, " J-1 ", "J-1", ""}, {key, "\u00a0J-1\u200b", "J-1", ""}, {key, "N/A", "", ""}, {key, "J\n1", "J 1", "control-characters"}, {key, strings.Repeat("j", 40), strings.Repeat("j", 40), ""}, {key, strings.Repeat("é", 40), strings.Repeat("é", 40), ""}, {key, strings.Repeat("j", 41), "", "!text-too-long"},
		{note, "=1+1", "=1+1", ""}, {note, `=HYPERLINK("http://example.com","x")`, `=HYPERLINK("http://example.com","x")`, ""}, {note, "two\r\nlines", "two\nlines", ""}, {note, "be\x07ll", "bell", "control-characters"}, {note, "caf\ufffd", "caf\ufffd", "unreadable-characters"}, {note, strings.Repeat("x", 10001), "", "!text-too-long"}, {note, "none", "", ""}, {note, "tbd", "", ""},
	} {
		var say remarks
		got, ok := parseText(c.text, c.column, &say)
		if said := saidCodes(say); got != c.want || said != c.said || ok == strings.Contains(said, "!") {
			t.Errorf("%q: %q %q, want %q %q", c.text, got, said, c.want, c.said)
		}
	}
}

func TestFlags(t *testing.T) {
	for text, want := range map[string]record.Flag{"yes": record.Yes, "Y": record.Yes, "TRUE": record.Yes, "1": record.Yes, "x": record.Yes, "no": record.No, "FALSE": record.No, "0": record.No, "none": record.No, "n/a": 0, "": 0, "?": 0} {
		var say remarks
		if got, ok := parseFlag(text, &say); !ok || got != want || len(say) > 0 {
			t.Errorf("%q: %v %v", text, got, say)
		}
	}
	var say remarks
	if _, ok := parseFlag("perhaps", &say); ok || saidCodes(say) != "!not-yes-or-no" {
		t.Error("perhaps is taken for an answer")
	}
}
