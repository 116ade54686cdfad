package report

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/survival"
)

// kindsOfChart are one chart of each ready-made kind, from made-up figures.
func kindsOfChart(t testing.TB) []*Chart {
	t.Helper()
	return []*Chart{survivalKind(t).chart(), forestKind(t).chart(), funnelKind().chart(), paretoKind().chart(),
		bridgeKind().chart(), controlKind().chart(), fitKind().chart(), boxKind().chart()}
}

func survivalKind(t testing.TB) survivalPlot {
	t.Helper()
	p := survivalPlot{id: "kind-survival", says: "Stepped lines that rise to the right.", level: 0.9}
	for g, name := range []string{"none", "mesh", "rebar"} {
		var times []float64
		var event []bool
		for i := range 60 {
			times, event = append(times, float64(30+(i*97+g*31)%1200)), append(event, i%(4+3*g) == 0)
		}
		km, err := survival.KaplanMeier(times, event)
		if err != nil {
			t.Fatal(err)
		}
		p.curves = append(p.curves, namedCurve{name, km})
	}
	return p
}

func forestKind(t testing.TB) forestPlot {
	t.Helper()
	ratio := func(value, low, high float64) figure.Figure { // only the analysis can know a figure
		f := factorsOf(t, pours(60), setting.Options{Topics: []string{"overage"}}).Overage.All.RawMean
		f.Value, f.Low, f.High = value, low, high
		return f
	}
	return forestPlot{id: "kind-forest", says: "A square for each ratio with its range.", scale: "risk of a crack, times that of bare slabs", none: "no difference",
		rows: []forestRow{
			{"mesh", ratio(0.8, 0.5, 1.3), "mesh: 0.8 times"},
			{"rebar", ratio(0.6, 0.2, inf), "rebar: 0.6 times, 0.2 or more"},
			{"poured over 80 °F", ratio(2.2, 1.2, 40), "hot: 2.2 times"},
			{"not known", figure.Figure{Why: "too few"}, ""}}}
}

func funnelKind() funnelPlot {
	p := funnelPlot{id: "kind-funnel", says: "A point for each outfit between limits that narrow.", basis: "pumped, 100 yd³", rate: "clogs per 100 yd³", all: "all together, 1.1", center: 1.1}
	for e := 1.0; e <= 20; e++ {
		p.inner = append(p.inner, reach{e, math.Max(0, 1.1-2*math.Sqrt(1.1/e)), 1.1 + 2*math.Sqrt(1.1/e)})
		p.outer = append(p.outer, reach{e, math.Max(0, 1.1-3.1*math.Sqrt(1.1/e)), 1.1 + 3.1*math.Sqrt(1.1/e)})
	}
	for i, rate := range []float64{0.9, 1.3, 2.6, 0.2} {
		name := fmt.Sprint("P", i+1)
		p.points = append(p.points, funnelPoint{spot{float64(4 + 4*i), rate, name + ": " + grouped(rate, 1)}, name, i == 2})
	}
	return p
}

func paretoKind() paretoPlot {
	return paretoPlot{id: "kind-pareto", says: "Bars from the longest down, and the share they add up to.", scale: "minutes lost", amount: "minutes",
		rows: []paretoRow{{"waiting for a truck", 620, 0.5, "waiting: 620 minutes"}, {"clog", 400, 0.82, "clogs: 400 minutes"}, {"weather", 220, 1, "weather: 220 minutes"}}}
}

func bridgeKind() bridgePlot {
	return bridgePlot{id: "kind-bridge", says: "Bars that lead from the bids to what was earned.", scale: "margin, $",
		first: bridgeStep{"in the bids", 900, "$900", "in the bids: $900"},
		steps: []bridgeStep{{"concrete", -1400, "−$1,400", "concrete cost $1,400 more"}, {"labor", 300, "+$300", "labor cost $300 less"}, {"other", 1000, "+$1,000", "other: $1,000 less"}},
		last:  "earned", lastText: "$800", lastTip: "earned: $800"}
}

func controlKind() controlPlot {
	p := controlPlot{id: "kind-control", says: "A line over the months between two limits.", scale: "margin, %", value: "margin",
		rules: []rule{{"average 18", 18}, {"worth a look above 30", 30}, {"worth a look below 6", 6}}}
	for i, v := range []float64{17, 19, 12, 22, 18, 4, 20, 21, 16, 19, 17, 23} {
		p.points = append(p.points, controlPoint{fmt.Sprintf("2025-%02d", i+1), v, v < 6, fmt.Sprintf("%v%%", v)})
	}
	return p
}

func fitKind() fitPlot {
	p := fitPlot{id: "kind-fit", says: "Points about a line with a band.", across: "neat, yd³", up: "used, yd³"}
	for g, name := range []string{"chute", "pump"} {
		f := fit{name: name}
		for x := 1.0; x <= 12; x += 0.25 {
			y := 0.3*float64(g+1) + 1.05*x
			f.points = append(f.points, spot{x, y + 0.4*math.Sin(7*x), fmt.Sprintf("%s: %v of %v", name, y, x)})
			f.line = append(f.line, spot{x: x, y: y})
			f.band = append(f.band, reach{x, y - 0.5, y + 0.7})
		}
		p.fits = append(p.fits, f)
	}
	return p
}

func boxKind() boxPlot {
	return boxPlot{id: "kind-box", says: "A box for each kind of placement.", scale: "waste, %", rows: []boxRow{
		{"driveway, chute", [5]float64{1, 3, 6, 9, 14}, 40, "half stayed under 6%"}, {"patio, pump", [5]float64{4, 8, 12, 15, 26}, 12, "half stayed under 12%"},
		{"steps, barrow", [5]float64{1, 2, 3, 4, 5}, 2, "too few"}}}
}

// matrixKind crosses three kinds of steel with four bands of spacing; one cell
// is not known.
func matrixKind() *Table {
	risks := map[string][]float64{"none": {4, 7, 12, 21}, "mesh": {2, 3, 6, 9}, "rebar": {1, 2, math.NaN(), 5}}
	return matrix("Cracked within a year, in 100 slabs", "Reinforcement", []string{"none", "mesh", "rebar"}, []int{0, 1, 2, 3},
		func(r string) string { return r }, func(c int) string { return fmt.Sprintf("%d to %d ft", 6+2*c, 8+2*c) },
		func(r string, c int) Cell {
			v := risks[r][c]
			if math.IsNaN(v) {
				return Cell{Text: "not known", why: "fewer than 5 slabs", unknown: true}
			}
			return shaded(Cell{Text: fmt.Sprintf("%v (%v to %v)", v, v-1, v+3), Value: fmt.Sprint(v), Below: "40 slabs"}, v, 21)
		})
}

// kindsPage is a page with a chart of each kind.
func kindsPage(t testing.TB) []Page {
	p := Page{Slug: "kinds", Title: "Kinds of chart", Answer: "One of each.", Basis: "Made-up figures."}
	for _, c := range kindsOfChart(t) {
		p.Exhibits = append(p.Exhibits, Exhibit{Title: c.ID, Chart: c, Table: tableOf("Table of "+c.ID, []int{1}, column[int]{head: "n", cell: whole})})
	}
	p.Exhibits = append(p.Exhibits, Exhibit{Title: "Matrix", Table: matrixKind()})
	return []Page{{Slug: IndexSlug, Title: "Overview", Answer: "See the other page."}, p}
}

func TestEveryKindOfChartDraws(t *testing.T) {
	for _, c := range kindsOfChart(t) {
		if c.Why != "" || c.Height < 100 || c.Says == "" {
			t.Errorf("%s: %q, %d pixels high, says %q", c.ID, c.Why, c.Height, c.Says)
			continue
		}
		option(t, c)
	}
}

// TestTooLittleToDrawSaysWhy takes from each kind what it needs.
func TestTooLittleToDrawSaysWhy(t *testing.T) {
	surv, forest, funnel, pareto, bridge, bridge2 := survivalKind(t), forestKind(t), funnelKind(), paretoKind(), bridgeKind(), bridgeKind()
	control, points, box := controlKind(), fitKind(), boxKind()
	surv.curves, forest.rows, funnel.points, pareto.rows = nil, forest.rows[3:], funnel.points[:2], pareto.rows[:1]
	bridge.steps, bridge2.steps[1].amount, control.points = nil, math.NaN(), control.points[:7]
	points.fits, box.rows = []fit{{points: points.fits[0].points[:2]}}, box.rows[2:]
	for _, c := range []*Chart{surv.chart(), forest.chart(), funnel.chart(), pareto.chart(), bridge.chart(), bridge2.chart(), control.chart(), points.chart(), box.chart()} {
		if c.draw != nil || !strings.HasPrefix(c.Why, "No chart is drawn") || !strings.HasSuffix(c.Why, ".") {
			t.Errorf("%s: %q", c.ID, c.Why)
		}
	}
}

func TestRoundStep(t *testing.T) {
	for _, c := range []struct {
		span float64
		most int
		want float64
	}{{4, 5, 1}, {4.1, 4, 2}, {10, 5, 2}, {11, 5, 5}, {0.9, 5, 0.2}, {50, 5, 10}, {0, 5, 1}, {inf, 5, 1}, {math.NaN(), 5, 1}} {
		if got := roundStep(c.span, c.most); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v in at most %d steps: %v, want %v", c.span, c.most, got, c.want)
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
	for _, v := range []float64{math.NaN(), inf, -1} {
		if got := shaded(Cell{}, v, 10).Shade; got != 0 {
			t.Errorf("%v is shaded %d", v, got)
		}
	}
	if got := shaded(Cell{}, 0, 0).Shade; got != 0 {
		t.Errorf("nothing of nothing is shaded %d", got)
	}
}
