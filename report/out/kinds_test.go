package out

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/report/chart"
	"pourback/report/internal/trial"
	"pourback/report/page"
	"pourback/report/say"
)

// kindsOfChart are one chart of each ready-made kind, from made-up figures.
func kindsOfChart(t testing.TB) []*chart.Chart {
	t.Helper()
	all := []*chart.Chart{survivalKind(t).Chart(), forestKind(t).Chart(), funnelKind().Chart(), paretoKind().Chart(),
		bridgeKind().Chart(), controlKind().Chart(), fitKind().Chart(), boxKind().Chart(), lineKind().Chart(), manyLinesKind().Chart(), rowKind().Chart(), columnKind().Chart(),
		scatterKind().Chart(), gridKind().Chart(), monthKind().Chart(), dayKind().Chart(), tornadoKind().Chart()}
	for _, small := range smallKinds() {
		all = append(all, small.Chart())
	}
	return all
}

func survivalKind(t testing.TB) chart.SurvivalPlot {
	t.Helper()
	p := chart.SurvivalPlot{ID: "kind-survival", Says: "Stepped lines that rise to the right.", Across: "years since the pour", Up: "cracked, in 100 slabs",
		Watched: "Still watched", Undrawn: "No chart is drawn: it takes 5 slabs of a kind that are still watched."}
	for g, name := range []string{"none", "mesh", "rebar"} {
		c := chart.NamedCurve{Name: name, Hue: chart.HueOf(name), Start: name + ": at the pour", End: 3.2, Watched: func(age float64) int { return 60 - int(17*age) }}
		for k := range 12 {
			share := 0.02 * float64((k+1)*(3-g))
			f := trial.Bounded(share, share/2, 1.5*share)
			f.Bounded = k > 0
			c.Steps = append(c.Steps, chart.CurveStep{Age: 0.08 + 0.28*float64(k), Share: f, Tip: fmt.Sprint(name, " step ", k)})
		}
		p.Curves = append(p.Curves, c)
	}
	return p
}

// inEnglish says why so little is not drawn.
var inEnglish = say.New("", "", "")

func forestKind(t testing.TB) chart.ForestPlot {
	t.Helper()
	ratio := func(value, low, high float64) figure.Figure { // only the analysis can know a figure
		f := trial.FactorsOf(t, trial.Pours(60), setting.Options{Topics: []string{"overage"}}).Overage.All.RawMean
		f.Value, f.Low, f.High = value, low, high
		return f
	}
	return chart.ForestPlot{ID: "kind-forest", Says: "A square for each ratio with its range.", Scale: "risk of a crack, times that of bare slabs", None: "no difference", Undrawn: "No chart is drawn: the records support no ratio.",
		Rows: []chart.ForestRow{
			{Label: "mesh", Ratio: ratio(0.8, 0.5, 1.3), Tip: "mesh: 0.8 times"},
			{Label: "rebar", Ratio: ratio(0.6, 0.2, trial.Inf), Tip: "rebar: 0.6 times, 0.2 or more"},
			{Label: "poured over 80 °F", Ratio: ratio(2.2, 1.2, 40), Tip: "hot: 2.2 times"},
			{Label: "not known", Ratio: figure.Unknown(figure.Written("too few")), Tip: ""}}}
}

func funnelKind() chart.FunnelPlot {
	p := chart.FunnelPlot{ID: "kind-funnel", Says: "A point for each outfit between limits that narrow.", Basis: "pumped, 100 yd³", Rate: "clogs per 100 yd³", All: "all together, 1.1", Center: 1.1,
		Words: chart.FunnelWords{ByChance: "as luck would have it", Outside: "stands out", Inner: "19 in 20 by luck", Outer: "998 in 1,000 by luck", TooFew: "No chart is drawn: it takes 3 outfits or more."}}
	for e := 1.0; e <= 20; e++ {
		p.Inner = append(p.Inner, chart.Reach{X: e, Low: math.Max(0, 1.1-2*math.Sqrt(1.1/e)), High: 1.1 + 2*math.Sqrt(1.1/e)})
		p.Outer = append(p.Outer, chart.Reach{X: e, Low: math.Max(0, 1.1-3.1*math.Sqrt(1.1/e)), High: 1.1 + 3.1*math.Sqrt(1.1/e)})
	}
	for i, rate := range []float64{0.9, 1.3, 2.6, 0.2} {
		name := fmt.Sprint("P", i+1)
		p.Points = append(p.Points, chart.FunnelPoint{Spot: chart.Spot{X: float64(4 + 4*i), Y: rate, Tip: name + ": " + say.Grouped(rate, 1)}, Name: name, Outside: i == 2})
	}
	return p
}

func paretoKind() chart.ParetoPlot {
	return chart.ParetoPlot{ID: "kind-pareto", Says: "Bars from the longest down, and the share they add up to.", Scale: "minutes lost", Running: "with those above, % of all", Few: inEnglish.TooFewCauses,
		Rows: []chart.ParetoRow{{Label: "waiting for a truck", Amount: 620, Running: 0.5, Tip: "waiting: 620 minutes"}, {Label: "clog", Amount: 400, Running: 0.82, Tip: "clogs: 400 minutes"}, {Label: "weather", Amount: 220, Running: 1, Tip: "weather: 220 minutes"}}}
}

func bridgeKind() chart.BridgePlot {
	return chart.BridgePlot{ID: "kind-bridge", Says: "Bars that lead from the bids to what was earned.", Scale: "margin, $", Ends: "in all", Worse: "costs more than bid", Better: "costs less than bid", NoSteps: say.Bridge{Voice: inEnglish}.NoSteps(), NoAmount: say.Bridge{Voice: inEnglish}.NoAmount(),
		First: chart.BridgeStep{Label: "in the bids", Amount: 900, Text: "$900", Tip: "in the bids: $900"},
		Steps: []chart.BridgeStep{{Label: "concrete", Amount: -1400, Text: "−$1,400", Tip: "concrete cost $1,400 more"}, {Label: "labor", Amount: 300, Text: "+$300", Tip: "labor cost $300 less"}, {Label: "other", Amount: 1000, Text: "+$1,000", Tip: "other: $1,000 less"}},
		Last:  "earned", LastText: "$800", LastTip: "earned: $800"}
}

func controlKind() chart.ControlPlot {
	p := chart.ControlPlot{ID: "kind-control", Says: "A line over the months between two limits.", Scale: "margin, %", Value: "margin", Marked: "stands out", Few: inEnglish.TooFewMonths,
		Center: chart.Rule{Name: "average 18", At: 18}, Limits: [2]chart.Rule{{Name: "worth a look below 6", At: 6}, {Name: "worth a look above 30", At: 30}},
		Notes: []chart.Note{{X: 5, Y: 4, Text: "rain for two weeks"}}}
	for i, v := range []float64{17, 19, 12, 22, 18, 4, 20, 21, 16, 19, 17, 23} {
		p.Points = append(p.Points, chart.ControlPoint{Label: fmt.Sprintf("2025-%02d", i+1), Value: v, Signal: v < 6, Tip: fmt.Sprintf("%v%%", v)})
	}
	return p
}

func fitKind() chart.FitPlot {
	p := chart.FitPlot{ID: "kind-fit", Says: "Points about a line with a band.", Across: "neat, yd³", Up: "used, yd³", Few: inEnglish.TooFewPlacements}
	for g, name := range []string{"chute", "pump"} {
		f := chart.Fit{Name: name, Hue: chart.HueOf(name)}
		for x := 1.0; x <= 12; x += 0.25 {
			y := 0.3*float64(g+1) + 1.05*x
			f.Points = append(f.Points, chart.Spot{X: x, Y: y + 0.4*math.Sin(7*x), Tip: fmt.Sprintf("%s: %v of %v", name, y, x)})
			f.Line = append(f.Line, chart.Spot{X: x, Y: y})
			f.Band = append(f.Band, chart.Reach{X: x, Low: y - 0.5, High: y + 0.7})
		}
		p.Fits = append(p.Fits, f)
	}
	return p
}

func boxKind() chart.BoxPlot {
	return chart.BoxPlot{ID: "kind-box", Says: "A box for each kind of placement.", Scale: "waste, %", None: inEnglish.NoKindTo, Rows: []chart.BoxRow{
		{Label: "driveway, chute", Five: [5]float64{1, 3, 6, 9, 14}, N: 40, Tip: "half stayed under 6%"}, {Label: "patio, pump", Five: [5]float64{4, 8, 12, 15, 26}, N: 12, Tip: "half stayed under 12%"},
		{Label: "steps, barrow", Five: [5]float64{1, 2, 3, 4, 5}, N: 2, Tip: "too few"}}}
}

// matrixKind crosses three kinds of steel with four bands of spacing; one cell
// is not known.
func matrixKind() *page.Table {
	risks := map[string][]float64{"none": {4, 7, 12, 21}, "mesh": {2, 3, 6, 9}, "rebar": {1, 2, math.NaN(), 5}}
	return page.Matrix("Cracked within a year, in 100 slabs", "Reinforcement", []string{"none", "mesh", "rebar"}, []int{0, 1, 2, 3},
		func(r string) string { return r }, func(c int) string { return fmt.Sprintf("%d to %d ft", 6+2*c, 8+2*c) },
		func(r string, c int) say.Cell {
			v := risks[r][c]
			if math.IsNaN(v) {
				return say.Cell{Text: "not known", Why: "fewer than 5 slabs", Unknown: true}
			}
			return page.Shaded(say.Cell{Text: fmt.Sprintf("%v (%v to %v)", v, v-1, v+3), Value: fmt.Sprint(v), Below: "40 slabs"}, v, 21)
		})
}

// kindsPage is a page with a chart of each kind.
func kindsPage(t testing.TB) []page.Page {
	p := page.Page{Slug: "kinds", Title: "Kinds of chart", Answer: "One of each.", Basis: "Made-up figures."}
	for _, c := range kindsOfChart(t) {
		p.Exhibits = append(p.Exhibits, page.Exhibit{Title: c.ID, Chart: c, Table: page.TableOf("Table of "+c.ID, []int{1}, page.ColumnOf[int]{Head: "n", Cell: say.Whole})})
	}
	p.Exhibits = append(p.Exhibits, page.Exhibit{Title: "Matrix", Table: matrixKind()})
	return []page.Page{{Slug: page.IndexSlug, Title: "Overview", Answer: "See the other page."}, p}
}

func TestEveryKindOfChartDraws(t *testing.T) {
	for _, c := range kindsOfChart(t) {
		if c.Why != "" || c.Says == "" {
			t.Errorf("%s: %q, says %q", c.ID, c.Why, c.Says)
			continue
		}
		if d := c.Drawing(); len(d.Shapes) < 5 || d.Height < 40 || d.Says != c.Says {
			t.Errorf("%s: %d shapes, %v high, says %q", c.ID, len(d.Shapes), d.Height, d.Says)
		}
	}
}

// TestTooLittleToDrawSaysWhy takes from each kind what it needs.
func TestTooLittleToDrawSaysWhy(t *testing.T) {
	surv, forest, funnel, pareto, bridge, bridge2 := survivalKind(t), forestKind(t), funnelKind(), paretoKind(), bridgeKind(), bridgeKind()
	control, points, box := controlKind(), fitKind(), boxKind()
	surv.Curves, forest.Rows, funnel.Points, pareto.Rows = nil, forest.Rows[3:], funnel.Points[:2], pareto.Rows[:1]
	bridge.Steps, bridge2.Steps[1].Amount, control.Points = nil, math.NaN(), control.Points[:7]
	points.Fits, box.Rows = []chart.Fit{{Points: points.Fits[0].Points[:2]}}, box.Rows[2:]
	for _, c := range []*chart.Chart{surv.Chart(), forest.Chart(), funnel.Chart(), pareto.Chart(), bridge.Chart(), bridge2.Chart(), control.Chart(), points.Chart(), box.Chart()} {
		if c.Drawing() != nil || !strings.HasPrefix(c.Why, "No chart is drawn") || !strings.HasSuffix(c.Why, ".") {
			t.Errorf("%s: %q", c.ID, c.Why)
		}
	}
}

func TestMatrix(t *testing.T) {
	m := matrixKind()
	if len(m.Rows) != 3 || len(m.Columns) != 5 || m.Columns[0].Head != "Reinforcement" || !m.Columns[1].Number {
		t.Fatalf("%d rows under %v", len(m.Rows), m.Columns)
	}
	none, rebar := m.Rows[0], m.Rows[2]
	if none[4].Shade != 5 || none[1].Shade != 1 || rebar[1].Shade != 1 || none[3].Shade != 3 || rebar[3].Shade != 0 {
		t.Errorf("shades %v %v", none, rebar)
	}
	if rebar[3].Note != 1 || m.Foot[0] != "fewer than 5 slabs" {
		t.Errorf("what is not known does not say why: %v %v", rebar[3], m.Foot)
	}
	for _, v := range []float64{math.NaN(), trial.Inf, -1} {
		if got := page.Shaded(say.Cell{}, v, 10).Shade; got != 0 {
			t.Errorf("%v is shaded %d", v, got)
		}
	}
	if got := page.Shaded(say.Cell{}, 0, 0).Shade; got != 0 {
		t.Errorf("nothing of nothing is shaded %d", got)
	}
}

// dayKind is a pour day with two trucks, one of them late, and a long window.
func dayKind() chart.DayPlot {
	return chart.DayPlot{ID: "kind-day", Says: "Two trucks by the clock.", Rule: chart.Rule{Name: "call by 7:20", At: 440}, Clock: func(min int) string { return strconv.Itoa(min/60) + ":00" },
		Keys: []chart.DayKey{{Name: "on the road", Hue: chart.Past}, {Name: "discharging", Hue: chart.Own}, {Name: "90 minutes end"}},
		Rows: []chart.DayRow{
			{Label: "1: 10 yd", Bars: []chart.DayBar{{From: 385, To: 420, Hue: chart.Past, Thin: true}, {From: 420, To: 450, Hue: chart.Own}}, Ticks: []chart.Spot{{X: 475, Tip: "7:55"}}},
			{Label: "2: 9½ yd, a long name of a truck that wraps", Bars: []chart.DayBar{{From: 415, To: 470, Hue: chart.Past, Thin: true}, {From: 470, To: 520, Hue: chart.Worse}}, Ticks: []chart.Spot{{X: 505, Tip: "8:25"}}},
			{Label: "Saw", Bars: []chart.DayBar{{From: 780, To: 1527, Hue: chart.Better, Tip: "1:00 pm to 1:27 am"}}},
			{Label: "Air, °F", Words: []chart.Rule{{Name: "78", At: 360}, {Name: "101", At: 720}}}}}
}
