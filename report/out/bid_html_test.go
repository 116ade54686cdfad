package out

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pourback/analysis/bid"
	"pourback/analysis/concrete"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
	"pourback/report/page"
	"pourback/report/say"
)

func bidHTML(t testing.TB, b *bid.Bid, opt page.Options) string {
	t.Helper()
	var out bytes.Buffer
	if err := WriteBid(&out, b, opt); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func pourDayHTML(t testing.TB, b *bid.Bid, lang string, opt page.Options) string {
	t.Helper()
	var out bytes.Buffer
	if err := WritePourDay(&out, page.PourDay{Bid: b, ID: 3, Reckoner: madeUpReckoner, Lang: lang}, opt); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// madeUpReckoner is a table with made-up numbers.
var madeUpReckoner = []bid.Reckoner{{Day: 1, Rows: []bid.ReckonerRow{
	{Covered: 0.5, Cells: []bid.ReckonerCell{{PlacedYd: 5, HaveYd: 5.25}, {PlacedYd: 5.25, HaveYd: 5.75}, {PlacedYd: 5.5, HaveYd: 6.25}}},
	{Covered: 0.8, Cells: []bid.ReckonerCell{{PlacedYd: 8, HaveYd: 2.25}, {PlacedYd: 8.25, HaveYd: 2.5}, {PlacedYd: 8.5, HaveYd: 2.75}}}}}}

// bidDocuments are a bid's documents of every kind.
func bidDocuments(t testing.TB, b *bid.Bid, opt page.Options) map[string]string {
	t.Helper()
	docs := map[string]string{"bid": bidHTML(t, b, opt)}
	for _, lang := range page.Languages {
		docs["pour day, "+lang] = pourDayHTML(t, b, lang, opt)
	}
	return docs
}

func TestBidSaysWhatEachNumberStandsOn(t *testing.T) {
	p := page.BidPage(trial.MadeUpBid(t), page.Options{})
	if want := "Order 9 yd³ and hold about 1.5 yd³ back for the last load; plan 41 labor-hours; and ask $8,987, which leaves a margin of 25% or more 80 times in 100."; p.Answer != want {
		t.Errorf("the answer is %q\nwant %q", p.Answer, want)
	}
	basis := regexp.MustCompile(`^(own records \([0-9,]+\)|common practice|your setting|this bid's spec|the dimensions)$`)
	for _, e := range p.Exhibits {
		if e.Title == "Look at this again" {
			continue // words about the spec, no numbers of the bid
		}
		last := len(e.Table.Columns) - 1
		if e.Table.Columns[last].Head != "Stands on" {
			t.Errorf("%s does not say what its numbers stand on", e.Title)
			continue
		}
		for _, row := range e.Table.Rows {
			if !basis.MatchString(row[last].Text) {
				t.Errorf("%s, %s stands on %q", e.Title, row[0].Text, row[last].Text)
			}
		}
	}
	for _, w := range words(p) {
		if trial.NoNumber.MatchString(w) {
			t.Errorf("%q", w)
		}
	}
}

func TestBidWithoutRecordsSaysSo(t *testing.T) {
	b := trial.MadeUpBid(t)
	b.Records = bid.RecordsUsed{}
	if p := page.BidPage(b, page.Options{}); !strings.Contains(p.Basis, "every number below is common practice") {
		t.Errorf("%q", p.Basis)
	}
}

func TestBidInMetricUnits(t *testing.T) {
	html := bidHTML(t, trial.MadeUpBid(t), page.Options{Units: "si"})
	for _, want := range []string{"7.36 m³", "12.19 m by 5.94 m", "25 to 34 mm", "kg/m²/h"} { // 9.63 yd³, 40 ft, 19.5 ft; 1 to 1⅓ in
		if !strings.Contains(html, want) {
			t.Errorf("no %q", want)
		}
	}
	if m := regexp.MustCompile(`>[^<]*\d (yd³|ft²|in<)`).FindString(html); m != "" {
		t.Errorf("US units: %s", m)
	}
}

// TestBidDocumentsFetchAndRunNothing: no address, no script, and a policy that
// knows the style and nothing else.
func TestBidDocumentsFetchAndRunNothing(t *testing.T) {
	for name, html := range bidDocuments(t, trial.MadeUpBid(t), page.Options{Company: "Saltgrass Flatwork"}) {
		if m := regexp.MustCompile(`(?i)https?:|//[a-z0-9-]+\.|@import|url\(|<script|<(link|iframe|object|embed|base)\b[^>]*| on[a-z]+=| style=`).FindAllString(html, -1); len(m) != 1 || m[0] != `<link rel="icon" href="data:,">`[:len(m[0])] {
			t.Errorf("%s: %q", name, m)
		}
		css := regexp.MustCompile(`(?s)<style>(.*?)</style>`).FindStringSubmatch(html)
		policy := strings.NewReplacer("&#39;", "'", "&#43;", "+").Replace(html)
		if want := "default-src 'none'; script-src 'none'; style-src " + hash(css[1]) + ";"; !strings.Contains(policy, want) {
			t.Errorf("%s: no policy %s", name, want)
		}
	}
}

// TestHostileBidStaysText puts hostile words wherever a bid holds words.
func TestHostileBidStaysText(t *testing.T) {
	for _, h := range trial.Hostile {
		b := trial.MadeUpBid(t)
		b.Name, b.JobNo, b.On, b.Spec.Name, b.Labor.Crew = h, h, h, h, h
		b.Spec.Placements[0] = bid.Placement{Name: h, Use: h, Method: h, Base: h, Bar: h, Mix: h, Reinforcement: h, JointCut: h, PumpOutfit: h}
		p := &b.Placements[0]
		p.Name, p.Use, p.Method = h, h, h
		p.Steel[0].Way, p.Steel[0].Detail, p.Steel[0].Unit = h, h, h
		p.Joints.Saw, p.Joints.Guide, p.Joints.OwnSays, p.Joints.Notes = h, h, h, []string{h}
		b.Days[0].Placements = []string{h}
		b.Labor.Tasks[0].Task, b.Weather.Caution, b.Notes = h, h, []string{h}
		b.Cost.Items[0].Item, b.Cost.Drivers[0].Name, b.Cost.Drivers[0].Unit = h, h, h
		b.Settings[0].Name, b.Settings[0].Unit, b.Settings[0].Basis.Says = h, h, h
		b.Cautions[0] = bid.Problem{Placement: h, Field: h, Value: h, Wrong: h, Right: h, Source: h}
		b.Cost.Items[0].Cost.Basis = bid.Basis{From: bid.FromPractice, Says: h}
		for name, html := range bidDocuments(t, b, page.Options{Company: h}) {
			for _, tag := range []string{"<script", "<img", "\x1b", "\x00", "\u202e", "\u2066"} {
				if strings.Contains(html, tag) {
					t.Errorf("%s, %.30q: %q stands in it", name, h, tag)
				}
			}
		}
		var term bytes.Buffer
		if err := Terminal(&term, []page.Page{page.BidPage(b, page.Options{Company: h})}, 80, false); err != nil {
			t.Fatal(err)
		}
		if strings.ContainsAny(term.String(), "\x1b\x00\x07\u202e\u2066") {
			t.Errorf("%.30q reaches the terminal as it is", h)
		}
	}
}

func TestPourDayWithoutHoldingBack(t *testing.T) {
	b := trial.MadeUpBid(t)
	b.Days[0].Hold.Worth = false
	if html := pourDayHTML(t, b, "en", page.Options{}); !strings.Contains(html, "Order: 10.75 yd³, in loads of 10 &#43; 0.75") || strings.Contains(html, "Hold back") {
		t.Error("one order is not told as one order")
	}
}

func TestBidsPage(t *testing.T) {
	line := func(what string, predicted, low, high float64, actual record.Number, held bool, why string) bid.Line {
		return bid.Line{What: what, Predicted: predicted, Low: low, High: high, Actual: actual, Held: held, Why: why}
	}
	r := &bid.Record{Answer: "Of 3 bids kept, 2 can be held against their jobs.", Notes: []string{"An interval should hold eight times in ten."},
		Outcomes: []bid.Outcome{
			{ID: 1, MadeOn: record.DateOf(2025, 5, 1), Name: trial.Hostile[0], JobNo: "J-1", Counted: true, Lines: []bid.Line{
				line("hours", 41, 33, 50, record.Some(44.0), true, ""), line("yards", 10.2, 9.7, 10.8, record.Some(11.5), false, ""),
				line("cost", 6480, 6010, 6990, record.Some(6400.0), true, ""), line("margin", 0.28, 0.22, 0.33, record.Number{}, false, "no contract price yet")}},
			{ID: 2, MadeOn: record.DateOf(2025, 5, 9), Name: "Lot 2", Why: "no job number: give job_no in the spec"}},
		Held: []bid.Held{{What: "hours", Share: trial.Fig(t, 0.85, 0.6, 0.95, 20)}, {What: "yards", Share: trial.Fig(t, 0.4, 0.2, 0.6, 20)}, {What: "cost", Share: trial.Fig(t, 0.97, 0.9, 0.99, 60)}, {What: "margin"}}}
	p := page.BidsPage(r, page.Options{})
	said := strings.Join(words(p), "\n")
	for _, want := range []string{"11.5 yd³", "$6,400", "28% (22 to 33)", "not known", "no job number", "as it should be, as far as so few can tell", "promise too much", "wider than need be", "nothing yet",
		"2 bids kept, 60 with the records of its job: ranges that should hold 80% of the time held 85% for hours, 40% for yards and 97% for cost; those of yards are too narrow: the bids promise too much and those of cost are wider than need be."} {
		if !strings.Contains(said+"\n"+strings.Join(p.Exhibits[1].Table.Foot, "\n"), want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	pages := page.Pages(trial.FactorsOf(t, trial.Pours(20), setting.Options{}), page.Options{Bids: r})
	if !slices.ContainsFunc(pages, func(p page.Page) bool { return p.Slug == "bids" }) {
		t.Error("the report has no page on bids")
	}
	if html := single(t, pages); strings.Contains(html, "<script>alert") {
		t.Error("a bid's name runs")
	}
	if slices.ContainsFunc(page.Pages(trial.FactorsOf(t, trial.Pours(20), setting.Options{}), page.Options{Bids: &bid.Record{}}), func(p page.Page) bool { return p.Slug == "bids" }) {
		t.Error("the report has a page on bids that there are not")
	}
	if none := page.BidsPage(&bid.Record{}, page.Options{}); none.Answer != "No bid has been kept yet." {
		t.Errorf("%q", none.Answer)
	}
	var out bytes.Buffer
	if err := BidsJSON(&out, r, say.New("", "", "")); err != nil || !strings.Contains(out.String(), `"actual": 11.5`) || strings.Count(out.String(), `"actual": null`) != 1 {
		t.Errorf("%v %s", err, out.String())
	}
}

func TestBalanceSaysOneSentenceFirst(t *testing.T) {
	for _, c := range []struct {
		call concrete.BalanceCall
		at   concrete.Progress
		want string
	}{
		{concrete.BalanceCall{CallYd: 2.25, ChanceShort: 0.04, NoCallShort: 0.91, RestYd: trial.Fig(t, 4.9, 4.3, 5.6, 30)}, concrete.Progress{PlacedYd: 6, Covered: 0.6, OnHandYd: 3},
			"Call in 2.25 yd³: that runs short 4 times in 100; without it, 91 times in 100."},
		{concrete.BalanceCall{ChanceShort: 0.01, RestYd: trial.Fig(t, 1.9, 1.3, 2.6, 30)}, concrete.Progress{PlacedYd: 6, Covered: 0.8, OnHandYd: 3}, "Call nothing in: what is on hand runs short 1 time in 100."},
		{concrete.BalanceCall{RestYd: trial.Fig(t, 0, 0, 0, 0)}, concrete.Progress{PlacedYd: 6, Covered: 1}, "All of the area is covered: call nothing in."},
	} {
		var out bytes.Buffer
		if err := Terminal(&out, []page.Page{page.BalancePage(c.call, c.at, page.Options{})}, 0, false); err != nil {
			t.Fatal(err)
		}
		if lines := strings.Join(strings.Fields(out.String()), " "); !strings.Contains(lines, c.want) {
			t.Errorf("%s\ndoes not say %q", lines, c.want)
		}
		var js bytes.Buffer
		if err := BalanceJSON(&js, 3, 0, c.at, c.call, say.New("", "", "")); err != nil || !strings.Contains(js.String(), fmt.Sprintf(`"call_yd": %v,`, c.call.CallYd)) {
			t.Errorf("%v %s", err, js.String())
		}
	}
}

// TestBidOnTheTerminal holds the made-up bid against a sheet that a person has
// looked at.
func TestBidOnTheTerminal(t *testing.T) {
	var out bytes.Buffer
	if err := Terminal(&out, []page.Page{page.BidPage(trial.MadeUpBid(t), page.Options{})}, 80, false); err != nil {
		t.Fatal(err)
	}
	golden(t, "bid-80.txt", out.Bytes())
}

// TestBidIsAsDocumented: a bid's JSON, of a company with records and of one
// without, is what its schema says.
func TestBidIsAsDocumented(t *testing.T) {
	set, _, err := invented.Generate(invented.Options{Seed: 2, Jobs: 60, Until: record.DateOf(2026, 3, 31)})
	if err != nil {
		t.Fatal(err)
	}
	asked := bid.Spec{On: "2026-04-03", Items: []bid.Item{{Item: "permit", Amount: 150}}, Placements: []bid.Placement{
		{Use: "driveway", LengthFt: 44, WidthFt: 24, NotchLengthFt: 12, NotchWidthFt: 8, ThicknessIn: 4, Method: "pump", Reinforcement: "rebar"},
		{Use: "walkway", AreaSqft: 120, ThicknessIn: 3.5, Day: 2}}}
	for name, s := range map[string]record.Set{"records": set, "none": {}} {
		bid, err := bid.Make(record.NewHistory(record.DateOf(2026, 3, 31), s), asked, setting.Options{})
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(bid)
		if err != nil {
			t.Fatal(err)
		}
		var value any
		if err := json.Unmarshal(text, &value); err != nil {
			t.Fatal(err)
		}
		for _, wrong := range schemaIn(t, "bid.schema.json").check(name, value) {
			t.Error(wrong)
		}
		for _, w := range words(page.BidPage(bid, page.Options{})) {
			if trial.NoNumber.MatchString(w) {
				t.Errorf("%s: %q", name, w)
			}
		}
		for doc, html := range bidDocuments(t, bid, page.Options{Units: "si"}) {
			if bad := regexp.MustCompile(`NaN|Inf\b|%!|<nil>`).FindString(html); bad != "" {
				t.Errorf("%s, %s: %s", name, doc, bad)
			}
			if us := regexp.MustCompile(`[^<>]*\d (?:yd³?|yards|ft²?|lb|psi|in\b[ ,.;)<](?:[^1-9]|$))[^<>]*`).FindString(html); us != "" {
				t.Errorf("%s, %s: not metric: %s", name, doc, us)
			}
		}
	}
}

// TestPourDayInBothLanguages: the blanks stand on the sheet in both, and the
// Spanish one is Spanish.
func TestPourDayInBothLanguages(t *testing.T) {
	b := trial.MadeUpBid(t)
	for _, lang := range page.Languages {
		html := pourDayHTML(t, b, lang, page.Options{})
		for _, column := range []string{"ticket_no", "pour_end", "cause", "worked_on", "hours", "delivered_yd", "leftover_yd", "concrete_temp_f", "saw_hours"} {
			if !strings.Contains(strings.ReplaceAll(html, "<wbr>", ""), "<code>"+column+"</code>") {
				t.Errorf("%s: no blank for %s", lang, column)
			}
		}
		if trial.NoNumber.MatchString(html) {
			t.Errorf("%s: %s", lang, trial.NoNumber.FindString(html))
		}
	}
	other := pourDayHTML(t, b, "es", page.Options{})
	for _, want := range []string{"Pedir primero: 9 yd³", "julio", "8 de cada 100 veces", "5.25 → <b>5.75</b>", "1 a 1⅜ in", `lang="es"`} {
		if !strings.Contains(other, want) {
			t.Errorf("the Spanish sheet lacks %q", want)
		}
	}
}
