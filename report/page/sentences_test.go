package page

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis"
	"pourback/analysis/concrete"
	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/money"
	"pourback/analysis/setting"
	"pourback/analysis/steel"
	"pourback/analysis/work"
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

// The wording is our own: no published source.
func TestWhatAMonthKept(t *testing.T) {
	dollar, franc := NewAuthor(&analysis.Factors{}, Options{}), NewAuthor(&analysis.Factors{}, Options{Currency: "CHF"})
	earned := func(jobs int, revenue record.Cents, pct, bid float64, steps money.Bridge) *money.Earned {
		return &money.Earned{Jobs: jobs, Revenue: revenue, MarginPct: exactly(pct), BidMarginPct: exactly(bid), Bridge: steps}
	}
	noBid := earned(2, 10000_00, 20, 0, money.Bridge{})
	noBid.BidMarginPct = unknownFigure("1 of 2 jobs without the cost carried in the bid")
	noRevenue := earned(1, 0, 0, 0, money.Bridge{})
	noRevenue.MarginPct = unknownFigure("no revenue")
	for _, c := range []struct {
		a    *Author
		e    *money.Earned
		want string
	}{
		{dollar, earned(13, 71360_00, 23.4, 27.2, money.Bridge{LaborEfficiency: exactly(-1034), Delay: exactly(-658), Other: exactly(-354), Volume: exactly(-333)}),
			"May kept 23 cents of each dollar on 13 jobs, 4 cents worse than bid: mostly crews slower than usual ($1,034) and waiting ($658)"},
		{dollar, earned(1, 5000_00, 31, 30, money.Bridge{LaborEfficiency: exactly(80), Callback: exactly(-10)}),
			"May kept 31 cents of each dollar on 1 job, 1 cent better than bid: mostly crews faster than usual ($80)"},
		{dollar, earned(2, 5000_00, 30.2, 29.8, money.Bridge{Delay: exactly(-500)}), "May kept 30 cents of each dollar on 2 jobs, as bid"},
		{dollar, earned(1, 5000_00, 1, 27, money.Bridge{}), "May kept 1 cent of each dollar on 1 job, 26 cents worse than bid"},
		{dollar, earned(3, 9000_00, -12, 25, money.Bridge{Callback: exactly(-3000)}), "May lost 12 cents of each dollar on 3 jobs, 37 cents worse than bid: mostly callbacks ($3,000)"},
		{dollar, earned(1200, 4_000_000_000_00, 20, 25, money.Bridge{Other: exactly(-2e8)}),
			"May kept 20 cents of each dollar on 1,200 jobs, 5 cents worse than bid: mostly prices, wages or hours unlike the bid's ($200,000,000)"},
		{franc, earned(2, 9000_00, 23, 27, money.Bridge{Delay: exactly(-500)}), "May kept 23% of its revenue on 2 jobs, 4 points worse than bid: mostly waiting (CHF 500)"},
		{dollar, noBid, "May kept 20 cents of each dollar on 2 jobs; how that compares with the bids is not known (1 of 2 jobs without the cost carried in the bid)"},
		{dollar, noRevenue, "May brought no revenue, so there is no margin to speak of"},
	} {
		if got := c.a.kept("May", c.e); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}

func TestWhatToOrder(t *testing.T) {
	group := func(use, method string, n int, typical, order float64) concrete.Group {
		return concrete.Group{Use: use, Method: method, N: n, TypicalYd: typical, OrderYd: exactly(order), OrderAllowance: exactly(order/typical - 1)}
	}
	small := concrete.OverageSize{Use: "driveway", Method: "pump", NeatYd: 4, OrderYd: exactly(5)}
	none := group("driveway", "chute", 3, 8, 9)
	none.OrderYd, none.OrderAllowance = unknownFigure("3 complete placements: it takes at least 5"), unknownFigure("")
	for _, c := range []struct {
		units  string
		groups []concrete.Group
		sizes  []concrete.OverageSize
		want   string
	}{
		{"us", []concrete.Group{group("apron", "chute", 56, 3.7, 4.25), group("driveway", "chute", 113, 8.23, 9.25), group("driveway", "pump", 34, 10, 11.5)}, []concrete.OverageSize{small},
			"On the next driveway order 12% over the drawing by chute (9.25 yd³ for 8.2) and 15% by pump (11.5 yd³ for 10); a small job takes a larger share, 25% on 4 yd³ by pump."},
		{"us", []concrete.Group{group("patio", "buggy", 6, 4, 5)}, nil, "On the next patio order 25% over the drawing by buggy (5 yd³ for 4)."},
		{"si", []concrete.Group{group("patio", "buggy", 6, 4, 5)}, nil, "On the next patio order 25% over the drawing by buggy (3.8 m³ for 3.1)."},
		{"us", []concrete.Group{none}, nil, "The records cannot say yet how much to order over the drawing (3 complete placements: it takes at least 5)."},
	} {
		a := NewAuthor(&analysis.Factors{Overage: &concrete.Overage{Groups: c.groups, BySize: c.sizes}}, Options{Units: c.units})
		if got := a.wasteAnswer(); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}

func TestHowManySlabsCrack(t *testing.T) {
	all := func(n, events int, years float64, risk figure.Figure) *cracks.Cracks {
		return &cracks.Cracks{Event: setting.EventCallback, All: cracks.Cell{Placements: n, Callbacks: events, PlacementYears: years, Risk1Yr: risk}}
	}
	seen := all(10, 0, 30, between(0, 0, 0.26))
	seen.Event = setting.EventSeen
	for _, c := range []struct {
		c    *cracks.Cracks
		want string
	}{
		{all(599, 0, 1017, between(0, 0, 0.005)), "No slab brought a callback for a crack among 599 slabs watched for 1.7 years on average, which leaves room for up to 5 in 1,000 within a year"},
		{seen, "No slab was seen with a crack among 10 slabs watched for 3.0 years on average, which leaves room for up to 26 in 100 within a year"},
		{all(1, 0, 0.0833, unknownFigure("young")), "No slab brought a callback for a crack among 1 slab watched for 1 month on average, too short a time to say how many crack within a year"},
		{all(12, 2, 6, unknownFigure("young")), "2 of 12 slabs cracked, watched for 6 months on average, too short a time to say how many crack within a year"},
		{all(1, 1, 4, between(0, 0, 1)), "1 of 1 slab cracked, watched for 4.0 years on average, none that was found within its first year"},
	} {
		if got := NewAuthor(&analysis.Factors{}, Options{}).cracksAnswer(c.c); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}

func TestMeshOrRebarInASentence(t *testing.T) {
	money := func(verdict string, mesh float64) steel.MeshVsRebar {
		m := steel.MeshVsRebar{Verdict: verdict}
		m.MeshCheaper, m.CostMesh, m.CostRebar = exactly(mesh), between(0.757, 0.69, 0.88), between(1.387, 1.34, 1.46)
		return m
	}
	for _, c := range []struct {
		m      steel.MeshVsRebar
		answer string
		want   string
	}{
		{money("mesh", 0.9999999), "", "Mesh is the cheaper choice, over 99 times in 100: $0.76 per ft² with mesh against $1.39 with rebar, callbacks counted, where codes and the engineer leave the choice."},
		{money("rebar", 0.04), "", "Rebar is the cheaper choice, 96 times in 100: $0.76 per ft² with mesh against $1.39 with rebar, callbacks counted."},
		{money("not settled", 0.6), "", "Not settled: mesh is the cheaper 60 times in 100 ($0.76 per ft² with mesh against $1.39 with rebar, callbacks counted), but that turns with how one looks at it; until it is settled use the one that is cheaper to place."},
		{steel.MeshVsRebar{Verdict: "cannot tell"}, "The records cannot say whether mesh or rebar is better: 0 slabs with mesh. Record joint spacing.", "The records cannot say whether mesh or rebar is better: 0 slabs with mesh."},
		{steel.MeshVsRebar{}, "", "The records cannot say whether mesh or rebar is better."},
	} {
		a := NewAuthor(&analysis.Factors{Reinforcement: &steel.Reinforcement{Answer: c.answer}}, Options{})
		if got := a.steelAnswer(&c.m); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}

func TestWeatherInASentence(t *testing.T) {
	june := []monthOfYear{{month: 5, pours: 40, hot: 8}, {month: 6, pours: 67, hot: 21}}
	for _, c := range []struct {
		w      work.Weather
		months []monthOfYear
		units  string
		want   string
	}{
		{work.Weather{Known: 561, HotCount: 80, ColdCount: 35, HasAir: 594}, june, "us",
			"80 of 561 pours with weather on record dried fast enough for precautions (0.2 lb/ft²/h and more), most often in June; 35 of 594 were placed in air under 40 °F."},
		{work.Weather{Known: 1, ColdCount: 1, HasAir: 1}, june[:1], "si",
			"None of 1 pour with weather on record dried fast enough for precautions (1.0 kg/m²/h and more); 1 of 1 was placed in air under 4 °C."},
	} {
		if got := NewAuthor(&analysis.Factors{Weather: &c.w}, Options{Units: c.units}).weatherAnswer(c.months); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}

func TestSmallSentences(t *testing.T) {
	a := NewAuthor(&analysis.Factors{}, Options{})
	for got, want := range map[string]string{
		say.Listed(nil): "", say.Listed([]string{"a"}): "a", say.Listed([]string{"a", "b"}): "a and b", say.Listed([]string{"a", "b", "c"}): "a, b and c",
		sureText(0): "under 1", sureText(0.004): "under 1", sureText(0.5): "50", sureText(0.994): "99", sureText(0.9951): "over 99", sureText(1): "over 99",
		shortMonth("2026-09"): "Sep 2026", shortMonth("2026-05"): "May 2026", shortMonth("?"): "?",
		pointsMore(0.024): "2 more", pointsMore(-0.016): "2 fewer", pointsMore(0.001): "no more",
		ageText(0): "just poured", ageText(1): "1 day", ageText(90): "90 days", say.Lower("Labor, hours"): "labor, hours", say.Lower(""): "",
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

func TestMetricLevels(t *testing.T) {
	for us, want := range map[string]string{"over 40 to 60": "over 4 to 16 °C", "up to 40": "up to 4 °C"} {
		if got := metricLevel(us, "°F"); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got, want := metricLevel("over 0.1 to 0.2", "lb/ft²/h"), "over 0.488 to 0.976 kg/m²/h"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
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
