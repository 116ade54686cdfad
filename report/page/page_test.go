package page

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pourback/analysis/setting"
	"pourback/analysis/work"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
	"pourback/report/say"
)

func TestEveryPageAnswersFirst(t *testing.T) {
	slugs := []string{"index", "month", "waste", "crews", "pump", "weather", "cracks", "reinforcement", "margin", "records"}
	for name, f := range trial.Histories(t) {
		for _, units := range []string{"us", "si"} {
			pages := Pages(f, Options{Units: units})
			var got []string
			for _, p := range pages {
				got = append(got, p.Slug)
				if len(p.Tiles) == 0 && !strings.HasSuffix(p.Answer, ".") || strings.TrimSpace(p.Answer) == "." {
					t.Errorf("%s, %s: the answer is %q", name, p.Slug, p.Answer)
				}
				for _, w := range words(p) {
					if trial.NoNumber.MatchString(w) {
						t.Errorf("%s, %s: %q", name, p.Slug, w)
					}
				}
			}
			if !slices.Equal(got, slugs) {
				t.Errorf("%s: pages %v, want %v", name, got, slugs)
			}
		}
	}
}

func TestOnlyTopicsThatWereAskedHavePages(t *testing.T) {
	pages := Pages(trial.FactorsOf(t, trial.Pours(20), setting.Options{Topics: []string{"pump"}}), Options{})
	if len(pages) != 3 || pages[0].Slug != IndexSlug || pages[1].Slug != "pump" || pages[2].Slug != "records" {
		t.Errorf("pages %v", pages)
	}
}

func TestTableShape(t *testing.T) {
	for name, f := range trial.Histories(t) {
		for _, p := range Pages(f, Options{}) {
			for _, e := range p.Exhibits {
				if e.Table == nil || len(e.Table.Rows) == 0 {
					t.Errorf("%s, %s: %s has no table", name, p.Slug, e.Title)
					continue
				}
				for _, row := range e.Table.Rows {
					if len(row) != len(e.Table.Columns) {
						t.Errorf("%s, %s: a row of %d cells under %d heads", name, p.Slug, len(row), len(e.Table.Columns))
					}
					for _, c := range row {
						if c.Note < 0 || c.Note > len(e.Table.Foot) || c.Text == "not known" && c.Note == 0 {
							t.Errorf("%s, %s: %q refers to note %d of %d", name, p.Slug, c.Text, c.Note, len(e.Table.Foot))
						}
					}
				}
			}
		}
	}
}

func TestEmptyHistorySaysHowToBegin(t *testing.T) {
	for _, p := range Pages(trial.FactorsOf(t, record.Set{}, setting.Options{}), Options{}) {
		if !strings.HasPrefix(p.Answer, "No placements are on record yet") || !strings.Contains(strings.Join(p.Notes, " "), "pourback ingest") {
			t.Errorf("%s: %q %q", p.Slug, p.Answer, p.Notes)
		}
	}
}

// Records like those of the public pavement program: cracks seen at visits
// years apart, and neither volumes nor joint spacing.
func TestSurveysWithoutSpacing(t *testing.T) {
	f := trial.FactorsOf(t, trial.Surveys(160), setting.Options{Event: setting.EventSeen})
	pages := Pages(f, Options{})
	cracks := pageOf(t, pages, "cracks")
	for _, want := range []string{" of 160 slabs. Nobody looked at one late in its first year", "Joint spacing is unknown for all 160", "cannot tell steel from spacing"} {
		if !strings.Contains(cracks.Answer, want) {
			t.Errorf("%q lacks %q", cracks.Answer, want)
		}
	}
	if risk := f.Cracks.All.Risk1Yr; risk.Known() || strings.Contains(cracks.Answer, "0 in 100") {
		t.Errorf("slabs first looked at after years have a risk in the first: %+v", risk)
	}
	for _, slug := range []string{"waste", "crews", "pump", "weather", "margin"} {
		p := pageOf(t, pages, slug)
		if !strings.HasPrefix(p.Answer, "The records cannot say") || len(p.Notes) == 0 || !strings.HasPrefix(p.Notes[0], "It takes ") {
			t.Errorf("%s: %q %q", slug, p.Answer, p.Notes)
		}
	}
	mesh := pageOf(t, pages, "reinforcement")
	if !strings.HasPrefix(mesh.Answer, "The records cannot say whether mesh or rebar is better. 0 slabs with mesh") || !strings.Contains(mesh.Answer, "joint spacing is unknown") {
		t.Errorf("%q", mesh.Answer)
	}
}

func TestCautionsStandWhereTheyAreDue(t *testing.T) {
	pages := Pages(trial.FactorsOf(t, trial.Pours(50), setting.Options{}), Options{})
	for slug, due := range map[string][]Caution{"pump": {PluggedHose}, "weather": {heatIllness, causticConcrete},
		"cracks": {SilicaDust, noDesign}, "reinforcement": {noDesign}, "crews": {heatIllness, causticConcrete}} {
		if got := pageOf(t, pages, slug).Cautions; !slices.Equal(got, due) {
			t.Errorf("%s: %v", slug, got)
		}
	}
}

func TestMonthToSpeakOf(t *testing.T) {
	f := trial.FactorsOf(t, trial.Pours(300), setting.Options{})
	latest := f.Margin.Months[len(f.Margin.Months)-1].Month
	for month, want := range map[string]string{"": inEnglish.Month(latest) + " kept ", "2025-03": "March 2025 kept ", "1999-01": "No job with a price and a cost on record ended in January 1999. Those on record ended from " + inEnglish.Month(f.Margin.Months[0].Month) + " to " + inEnglish.Month(latest) + "."} {
		if got := pageOf(t, Pages(f, Options{Month: month}), "month").Answer; !strings.HasPrefix(got, want) {
			t.Errorf("month %q: %q does not begin with %q", month, got, want)
		}
	}
	f.Margin.Open = "2026-10" // as if the data date were in the middle of it
	if got := pageOf(t, Pages(f, Options{Month: "2026-10"}), "month").Answer; !strings.HasPrefix(got, "October 2026 so far kept ") {
		t.Errorf("a month that is not over: %q", got)
	}
	p := pageOf(t, Pages(f, Options{}), "month")
	if before := f.Margin.Months[len(f.Margin.Months)-2].Month; p.Title != inEnglish.Month(before) || !strings.HasPrefix(p.Answer, inEnglish.Month(before)+" kept ") {
		t.Errorf("the last month that is over is %s: %q, %q", before, p.Title, p.Answer)
	}
	if rows := pageOf(t, Pages(f, Options{}), "margin").Exhibits[0].Table.Rows; rows[0][0].Text != "October 2026 so far" {
		t.Errorf("the month that is not over is not marked: %q", rows[0][0].Text)
	}
}

// Exact conversions: NIST SP 811, appendix B.
func TestUnits(t *testing.T) {
	si := say.UnitsOf("si")
	for _, c := range []struct {
		m     say.Measure
		us    float64
		want  float64
		label string
	}{
		{si.Area, 1, 0.09290304, " m²"}, {si.Volume, 1, 0.764554857984, " m³"}, {si.Spacing, 1, 0.3048, " m"},
		{si.Speed, 1, 0.09290304, " m² per person-hour"}, {si.Clogs, 1, 1 / 0.764554857984, " per 100 m³"},
		{si.Evaporation, 1, 4.88242763638305, " kg/m²/h"},
	} {
		if got := c.us * c.m.Factor; relative(got, c.want) > 1e-12 || c.m.Unit != c.label {
			t.Errorf("1 is %v%s, want %v%s", got, c.m.Unit, c.want, c.label)
		}
	}
	us := say.UnitsOf("us")
	for _, m := range []say.Measure{us.Area, us.Volume, us.Spacing, us.Speed, us.Clogs, us.Evaporation} {
		if m.Factor != 1 {
			t.Errorf("%v: US units are the records' own", m)
		}
	}
}

func relative(got, want float64) float64 { return max(got/want, want/got) - 1 }

func TestPagesSpeakTheUnitsThatAreRead(t *testing.T) {
	f := trial.FactorsOf(t, trial.Pours(300), setting.Options{})
	for units, forbidden := range map[string]*regexp.Regexp{"us": regexp.MustCompile(`m²|m³|kg/|\d m\b`), "si": regexp.MustCompile(`ft²|yd³|lb/|\d ft\b`)} {
		for _, p := range Pages(f, Options{Units: units}) {
			for _, w := range append(words(p)[1:3], tableWords(p)...) {
				if forbidden.MatchString(w) {
					t.Errorf("%s, %s: %q", units, p.Slug, w)
				}
			}
		}
	}
}

// The records' own columns keep their units on the page that says what to mend.
func TestNothingIsLeftInUSUnits(t *testing.T) {
	left := regexp.MustCompile(`ft²|yd³|\byd\b|\d yards?\b|lb/|°F|\d ft\b|\bgal\b|\bpsi\b|\d in(?:[,.;)]|$)`)
	both := regexp.MustCompile(`\d+ °F (?:or |\()\d+ °C`)
	for _, p := range Pages(trial.CompanyFactors(t), Options{Units: "si"}) {
		if p.Slug == "records" {
			continue
		}
		for _, w := range append(words(p), tableWords(p)...) {
			if left.MatchString(both.ReplaceAllString(w, "")) && !strings.Contains(w, "_yd") && !strings.Contains(w, "_temp_f") {
				t.Errorf("%s: %q", p.Slug, w)
			}
		}
	}
}

func tableWords(p Page) []string {
	var all []string
	for _, e := range p.Exhibits {
		for _, c := range e.Table.Columns {
			all = append(all, c.Head)
		}
		for _, row := range e.Table.Rows {
			for _, c := range row {
				all = append(all, c.Text)
			}
		}
	}
	return all
}

func TestLongTablesAreCutAndSaySo(t *testing.T) {
	s := trial.Pours(4000)
	for i := range s.Placements {
		s.Placements[i].Use = fmt.Sprintf("use %d", i%500)
		s.Placements[i].HumidityPct = record.Some(0.0) // possible but unusual
	}
	pages := Pages(trial.FactorsOf(t, s, setting.Options{}), Options{})
	for _, slug := range []string{"waste", "records"} {
		cut := false
		for _, e := range pageOf(t, pages, slug).Exhibits {
			if len(e.Table.Rows) > MostRows {
				t.Errorf("%s: %d rows", slug, len(e.Table.Rows))
			}
			cut = cut || strings.HasPrefix(e.Table.More, "And ")
		}
		if !cut {
			t.Errorf("%s: nothing says that there is more", slug)
		}
	}
}

// A page stays small: of many pours evenly so many are drawn, and it says so.
func TestMapOfManyPoursIsThinned(t *testing.T) {
	var known []work.Evaporation
	for i := range 3 * mostDots {
		known = append(known, work.Evaporation{PlacedOn: trial.AsOf, Rate: record.Some(float64(i%7) / 10), AirF: float64(i % 90), Cracked: i%3 == 0})
	}
	c := weatherMapChart(say.Weather{Voice: say.New("", "", "")}, known)
	if !strings.HasPrefix(c.Says, "800 of 2,400 pours") {
		t.Error(c.Says)
	}
	if d := c.Drawing(); marked(d, "mark cloud own")+marked(d, "mark worse") != mostDots {
		t.Errorf("%d and %d dots, want %d", marked(d, "mark cloud own"), marked(d, "mark worse"), mostDots)
	}
}

// face is what an owner reads on a page: all but how it was computed.
func face(p Page) []string {
	p.Method = nil
	return append(words(p), tableWords(p)...)
}

// jargon does not belong on the face of a page, nor does a range whose ends are
// alike.
var jargon = regexp.MustCompile(`(?i)\bp-value|kaplan|log-rank|hazard|regression|quantile|poisson|bayes|posterior|\bprior\b|confidence interval|standard error|standard deviation|bootstrap|placement-years|shrink|gamma|student`)

func TestPagesSpeakPlainly(t *testing.T) {
	for name, f := range trial.Histories(t) {
		for _, p := range Pages(f, Options{}) {
			for _, w := range face(p) {
				if found := alike(w); found != "" {
					t.Errorf("%s, %s: %q in %q", name, p.Slug, found, w)
				}
			}
			if p.Slug != IndexSlug && !short(p.Answer) {
				t.Errorf("%s, %s: the answer is too long: %q", name, p.Slug, p.Answer)
			}
			for _, sentence := range sentences(p.Answer) {
				if n := len(strings.Fields(sentence)); moneySlugs[p.Slug] && n > 25 {
					t.Errorf("%s, %s: %d words in %q", name, p.Slug, n, sentence)
				}
			}
		}
	}
}

// moneySlugs are the pages whose answers are held to 25 words a sentence.
var moneySlugs = map[string]bool{"month": true, "margin": true, "records": true}

// sentences are those of a text, each with its full stop.
func sentences(s string) []string {
	var out []string
	for len(s) > 0 {
		end := sentenceEnd.FindStringIndex(s)
		if end == nil {
			return append(out, s)
		}
		out = append(out, s[:end[0]+1])
		s = s[end[0]+len(". "):]
	}
	return out
}

// sentenceEnd is a full stop, a space and a capital or a quote.
var sentenceEnd = regexp.MustCompile(`\. [A-Z0-9“]`)

// short says whether an answer is one that is read at a glance: a few sentences,
// the first of which is the headline.
func short(answer string) bool {
	const mostSentences, mostWords = 4, 32
	said := sentences(answer)
	return len(said) > 0 && len(said) <= mostSentences && len(strings.Fields(said[0])) <= mostWords
}

// alike is the first piece of jargon in a text, or a range whose ends are
// written alike.
func alike(s string) string {
	if found := jargon.FindString(s); found != "" {
		return found
	}
	for _, r := range ranges.FindAllStringSubmatch(s, -1) {
		if r[1] == r[2] {
			return r[0]
		}
	}
	return ""
}

var ranges = regexp.MustCompile(`(?:\(|between )([^ ()]+) (?:to|and) ([^ ()]+)`)

// TestOverviewAtAGlance: the three questions about money come first and larger;
// each tile leads to a page, says its answer in a few words and what it means in
// at most twelve, whatever the history.
func TestOverviewAtAGlance(t *testing.T) {
	for name, f := range trial.Histories(t) {
		pages := Pages(f, Options{})
		tiles := pages[0].Tiles
		if f.Placements == 0 {
			continue
		}
		for i, tile := range tiles {
			if !slices.ContainsFunc(pages[1:], func(p Page) bool { return p.Slug == tile.Slug }) {
				t.Errorf("%s: the tile %q leads nowhere (%q)", name, tile.Title, tile.Slug)
			}
			if tile.Hero != (i < 3) {
				t.Errorf("%s: tile %d, %q: hero %v", name, i, tile.Title, tile.Hero)
			}
			big, says := len(strings.Fields(tile.Big)), len(strings.Fields(tile.Says))
			if big == 0 || big > 5 || says == 0 || says > 12 || len([]rune(tile.Big)) > 32 {
				t.Errorf("%s: %q says %q, %q", name, tile.Title, tile.Big, tile.Says)
			}
		}
	}
	tiles := Pages(trial.CompanyFactors(t), Options{})[0].Tiles
	for i, want := range []string{`^\d+¢ of the dollar \d+ cents? (less|more) than bid: .+ \(\$[\d,]+\)`, `^Add \d+% \S+ yd for \S+ yd of driveway off the chute\.$`, `^(Mesh|Rebar|Not settled|Either is fine)`} {
		if got := tiles[i].Big + " " + tiles[i].Says; !regexp.MustCompile(want).MatchString(got) {
			t.Errorf("tile %d says %q, want %s", i+1, got, want)
		}
	}
}

// The month page tells its money to the cent as the JSON has it, for any month.
func TestEveryMonthHasItsPage(t *testing.T) {
	f := trial.CompanyFactors(t)
	for _, m := range f.Margin.Months {
		p := NewAuthor(f, Options{Month: m.Month}).thisMonth()
		if p.Title != inEnglish.Month(m.Month) || len(p.Exhibits) < 3 {
			t.Errorf("%s: %q with %d exhibits", m.Month, p.Title, len(p.Exhibits))
			continue
		}
		sum := 0.0
		for _, row := range p.Exhibits[0].Table.Rows {
			if v, err := strconv.ParseFloat(row[1].Value, 64); err == nil && row[0].Text != "Earned" && row[0].Text != "Against bids" {
				sum += v
			}
		}
		if earned := (m.Revenue - m.Cost).Dollars(); math.Abs(sum-earned) > 0.005 {
			t.Errorf("%s: the steps lead to %.2f, and %.2f was earned", m.Month, sum, earned)
		}
	}
}
