package out

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
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
	opt.Lang = lang
	if err := WritePourDay(&out, page.PourDay{Bid: b, ID: 3, Reckoner: madeUpReckoner}, opt); err != nil {
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
	docs := map[string]string{}
	for _, lang := range say.Languages() {
		opt.Lang = lang
		docs["bid, "+lang] = bidHTML(t, b, opt)
		docs["pour day, "+lang] = pourDayHTML(t, b, lang, opt)
		docs["proposal, "+lang] = proposalHTML(t, b, lang, opt)
	}
	return docs
}

func TestBidSaysWhatEachNumberStandsOn(t *testing.T) {
	p := page.BidPage(trial.MadeUpBid(t), page.Options{})
	if want := "Order 9 yd and hold back about 1½ yd for the last load. Plan 41 hours of labor. Ask $9,000: that keeps 25% or more 80 times in 100."; p.Answer != want {
		t.Errorf("the answer is %q\nwant %q", p.Answer, want)
	}
	basis := regexp.MustCompile(`^(From your records \([0-9,]+\)|From common practice|You entered it|From the dimensions)$`)
	for _, e := range p.Exhibits {
		if e.Title == "Look at this again" {
			continue // words about the spec, no numbers of the bid
		}
		if strings.HasSuffix(e.Title, "by the clock") {
			if len(e.Table.Below) < 2 {
				t.Errorf("%s does not say below what its times rest on", e.Title)
			}
			continue
		}
		last := len(e.Table.Columns) - 1
		if e.Table.Columns[last].Head != "Where it comes from" {
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
	if p := page.BidPage(b, page.Options{}); !strings.Contains(p.Basis, "Every number below is common practice") {
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
		p.Steel[0].Way, p.Steel[0].Unit = h, h
		p.Joints.Saw.When, p.Joints.Slabs.Reinforcement, p.Joints.Notes = bid.SawWhen(h), h, []bid.JointNote{{Kind: bid.JointKind(h)}}
		b.Days[0].Placements = []string{h}
		b.Labor.Tasks[0].Task, b.Notes = h, []bid.Note{{Kind: bid.NoteUnknownCrew, Name: h}, {Kind: bid.NoteUnpriced, Name: h}}
		b.Cost.Items[0].Item, b.Cost.Items[0].Named, b.Cost.Drivers[0].Name, b.Cost.Drivers[0].Unit = bid.CostName(h), true, bid.Unsure(h), h
		b.Settings[0].Name, b.Settings[0].Unit, b.Settings[1].Name, b.Settings[1].Of = bid.SettingName(h), h, bid.SetBase, h
		b.Cautions[0] = bid.Problem{Placement: h, Field: h, Value: h, What: bid.UnknownWord, Amounts: bid.Amounts{Word: h, Words: []string{"chute"}}}
		b.Cost.Items[0].Cost.Basis = bid.Basis{From: bid.FromPractice, Of: bid.Counted(h), By: bid.Manner(h)}
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
	if html := pourDayHTML(t, b, "en", page.Options{}); !strings.Contains(html, "Order: 10¾ yd, in loads of 10 &#43; ¾") || strings.Contains(html, "Hold back") {
		t.Error("one order is not told as one order")
	}
}

func TestBidsPage(t *testing.T) {
	r := trial.SomeBids(trial.Hostile[0], "J-1")
	r.Outcomes[0].But = bid.Proviso{Kind: bid.OtherPlacements, Job: 3, InBid: 1}
	p := page.BidsPage(r, page.Options{})
	said := strings.Join(words(p), "\n")
	for _, want := range []string{"11.5 yd³", "$6,400", "28% (22 to 33)", "not known", "no records of this job yet", "not clearly off so far", "jobs land outside too often", "wider than it needs to be",
		"1 bid open, for 9 days: bid 2, ", "You won 1 of 1 decided.", "replaced by bid 2", "(version 2)", "void: counts nowhere",
		"4 bids kept, 1 compared with jobs. Ranges should hold 80 times in 100; they held 85 for hours, 40 for yards and 97 for cost. Ranges of yards are too narrow: jobs land outside too often. Ranges of cost are wider than they need to be.",
		"no contract price or no actual cost yet", "the job has 3 placements on record, the bid has 1"} {
		if !strings.Contains(said+"\n"+strings.Join(p.Exhibits[3].Table.Foot, "\n"), want) {
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
	if last := p.Exhibits[len(p.Exhibits)-1]; last.InHand || len(last.Table.Rows) != 2 || !p.Exhibits[0].InHand || len(p.Exhibits[0].Table.Rows) != 1 {
		t.Errorf("open bids first and those that count nowhere folded at the end: %+v", p.Exhibits)
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
			"Call in 2¼ yd. That runs short 4 times in 100; with nothing called in, 91 times in 100."},
		{concrete.BalanceCall{ChanceShort: 0.01, RestYd: trial.Fig(t, 1.9, 1.3, 2.6, 30)}, concrete.Progress{PlacedYd: 6, Covered: 0.8, OnHandYd: 3}, "Call nothing in. What is on hand runs short once in 100."},
		{concrete.BalanceCall{CallYd: 9.5, ChanceShort: 0.1, NoCallShort: 0.98, Runs: concrete.Thick, Ratio: 1.975, RunningIn: 7.9, DrawnIn: 4, RestYd: trial.Fig(t, 4.9, 4.3, 5.6, 30)}, concrete.Progress{PlacedYd: 7, Covered: 0.35, OnHandYd: 3, OrderedYd: 10},
			"Running 7.9 in thick for 4 in drawn: check grade and what you entered. If that is so, call in 9½ yd. That runs short 10 times in 100; with nothing called in, 98 times in 100."},
		{concrete.BalanceCall{CallYd: 9.5, ChanceShort: 0.1, NoCallShort: 0.98, Runs: concrete.Thick, Ratio: 1.4, RestYd: trial.Fig(t, 4.9, 4.3, 5.6, 30)}, concrete.Progress{PlacedYd: 7, Covered: 0.35},
			"What is placed covers too little, by 40%: check grade and what you entered. If that is so, call in 9½ yd. That runs short 10 times in 100; with nothing called in, 98 times in 100."},
		{concrete.BalanceCall{ChanceShort: 0.1, Runs: concrete.Thin, Ratio: 0.7, RunningIn: 2.8, DrawnIn: 4, RestYd: trial.Fig(t, 4.9, 4.3, 5.6, 30)}, concrete.Progress{PlacedYd: 7, Covered: 0.8},
			"Running 2.8 in thick for 4 in drawn: check the thickness and what you entered. If that is so, call nothing in. What is on hand runs short 10 times in 100."},
		{concrete.BalanceCall{ChanceShort: 0.1, Runs: concrete.Thin, Ratio: 0.7, RestYd: trial.Fig(t, 4.9, 4.3, 5.6, 30)}, concrete.Progress{PlacedYd: 7, Covered: 0.8},
			"What is placed covers more than is drawn, by 30%: check the thickness and what you entered. If that is so, call nothing in. What is on hand runs short 10 times in 100."},
		{concrete.BalanceCall{Done: true, RestYd: trial.Fig(t, 0, 0, 0, 0)}, concrete.Progress{PlacedYd: 6, Covered: 1}, "All of the area is covered. Call nothing in."},
	} {
		var out bytes.Buffer
		if err := Terminal(&out, []page.Page{page.BalancePage(c.call, c.at, page.Options{})}, 0, false); err != nil {
			t.Fatal(err)
		}
		lines := strings.Join(strings.Fields(out.String()), " ")
		if told := strings.Contains(lines, "what was ordered first, 10 yd, less what is placed"); told != (c.at.OrderedYd > 0) {
			t.Errorf("%s\nsays where on hand comes from: %v", lines, told)
		}
		if !strings.Contains(lines, c.want) {
			t.Errorf("%s\ndoes not say %q", lines, c.want)
		}
		var js bytes.Buffer
		if err := BalanceJSON(&js, 3, 0, c.at, c.call, nil, say.New("", "", "")); err != nil || !strings.Contains(js.String(), fmt.Sprintf(`"call_yd": %v,`, c.call.CallYd)) || !strings.Contains(js.String(), fmt.Sprintf(`"answer": %q`, c.want)) {
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
		var text bytes.Buffer
		if err := BidJSON(&text, 0, bid, say.New("", "", "")); err != nil {
			t.Fatal(err)
		}
		var value any
		if err := json.Unmarshal(text.Bytes(), &value); err != nil {
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
			if us := regexp.MustCompile(`[^<>]*\d (?:yd³?|yards|yardas|ft²?|pies?²?|pulg|lb|psi|in\b[ ,.;)<](?:[^1-9]|$))[^<>]*`).FindString(html); us != "" {
				t.Errorf("%s, %s: not metric: %s", name, doc, us)
			}
		}
	}
}

// TestPourDayInBothLanguages: the blanks stand on the sheet in both, and the
// Spanish one is Spanish.
func TestPourDayInBothLanguages(t *testing.T) {
	b := trial.MadeUpBid(t)
	for _, lang := range say.Languages() {
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
	for _, want := range []string{"Pedir primero: 9 yd", "Primer corte", "Sube el agua", "entrada de cochera", "Traducción sin revisar", "8 de cada 100 veces", "<span>5¼</span> <span>→ <b>5¾</b></span>", "1 a 1⅜ pulg.", `lang="es"`} {
		if !strings.Contains(other, want) {
			t.Errorf("the Spanish sheet lacks %q", want)
		}
	}
}

// WriteBid writes the sheet of a bid.
func WriteBid(w io.Writer, b *bid.Bid, opt page.Options) error {
	return WriteBidPage(w, page.BidPage(b, opt), b.AsOf, opt)
}
