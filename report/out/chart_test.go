package out

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/report/chart"
	"pourback/report/internal/trial"
	"pourback/report/page"
)

// chartsOf are the charts of pages, those that are drawn.
func chartsOf(pages []page.Page) (all []*chart.Chart) {
	for _, p := range pages {
		for _, e := range p.Exhibits {
			if e.Chart != nil && e.Chart.Why == "" {
				all = append(all, e.Chart)
			}
		}
	}
	return all
}

func TestChartsHaveFixedNames(t *testing.T) {
	var ids []string
	for _, c := range chartsOf(page.Pages(trial.CompanyFactors(t), page.Options{})) {
		if slices.Contains(ids, c.ID) {
			t.Errorf("two charts are called %s", c.ID)
		}
		if ids = append(ids, c.ID); c.Says == "" || c.Drawing().Height < 80 {
			t.Errorf("%s: %q, %v high", c.ID, c.Says, c.Drawing().Height)
		}
	}
	want := []string{"chart-month-bridge", "chart-month-year", "chart-month-control", "chart-orders", "chart-order-turns", "chart-used", "chart-waste", "chart-lost",
		"chart-crews", "chart-crew-turns", "chart-tasks", "chart-learning", "chart-pump", "chart-outfit-turns", "chart-delays", "chart-mixes",
		"chart-weather-map", "chart-weather", "chart-grid", "chart-made", "chart-curves",
		"chart-cracks-air-temperature", "chart-cracks-evaporation", "chart-cracks-joint-spacing-over-thickness", "chart-cracks-joint-cut", "chart-cracks-saw-delay", "chart-cracks-curing",
		"chart-together", "chart-steel-costs", "chart-mesh-rebar", "chart-steel-turns", "chart-steel-checks", "chart-margin", "chart-margin-bridge",
		"chart-calendar", "chart-visit-turns", "chart-early", "chart-calls", "chart-seen", "chart-warranty"}
	if !slices.Equal(ids, want) {
		t.Errorf("charts %v, want %v", ids, want)
	}
}

// classesOf are all classes of a drawing.
func classesOf(d *chart.Drawing) (all []string) {
	for _, s := range append(d.Shapes, chart.Shape{Class: "drawn " + d.Class}) {
		all = append(all, strings.Fields(s.Class)...)
	}
	return all
}

// TestClassesOfDrawingsAreThoseOfTheStyle: whatever the records hold, a shape looks
// as one of the style's own classes says, and in no other way.
func TestClassesOfDrawingsAreThoseOfTheStyle(t *testing.T) {
	known := map[string]bool{"word": true, "cell": true, "figure": true}
	for _, m := range regexp.MustCompile(`\.([a-z][a-z0-9-]*)`).FindAllStringSubmatch(style, -1) {
		known[m[1]] = true
	}
	hostile := page.Pages(trial.FactorsOf(t, trial.HostileRecords(), setting.Options{}), page.Options{})
	for _, c := range slices.Concat(kindsOfChart(t), chartsOf(hostile), chartsOf(page.Pages(trial.CompanyFactors(t), page.Options{}))) {
		for _, class := range classesOf(c.Drawing()) {
			if !known[class] {
				t.Errorf("%s: the style does not know %q", c.ID, class)
			}
		}
	}
	for crew := range 8 {
		if h := string(chart.CrewHue(crew)); !known[h] {
			t.Errorf("the style does not know %s", h)
		}
	}
}

// TestTheSameThingHasTheSameColor: the words of the records' vocabularies for
// reinforcement and for ways of placing have colors of their own.
func TestTheSameThingHasTheSameColor(t *testing.T) {
	seen := map[chart.Hue]string{}
	for _, word := range []string{"none", "mesh", "rebar", "fiber", "chute", "pump", "buggy", "barrow", "conveyor"} {
		h := chart.HueOf(word)
		if h == chart.Plain || seen[h] != "" {
			t.Errorf("%s is %s, as is %s", word, h, seen[h])
		}
		seen[h] = word
	}
	for _, word := range append(trial.Hostile, "", "worse", "mesh rebar") {
		if h := chart.HueOf(word); h != chart.Plain {
			t.Errorf("%q is %s", word, h)
		}
	}
}

// TestOnlyNumbersReachCharts puts values that are none into figures.
func TestOnlyNumbersReachCharts(t *testing.T) {
	f := trial.FactorsOf(t, trial.Pours(300), setting.Options{})
	for i := range f.Overage.Groups {
		g := &f.Overage.Groups[i]
		g.RawMean.Value, g.Past.P90.High, g.Past.P50.Low = math.NaN(), math.Inf(1), math.Inf(-1)
	}
	for i := range f.Overage.Points {
		f.Overage.Points[i].Neat = 0
	}
	for i := range f.Crews {
		f.Crews[i].SqftPerHour.High = math.Inf(1)
	}
	f.Pump.Outfits[0].ClogsPer100.Low = math.NaN()
	f.Weather.Placements[0].Rate = record.Some(math.Inf(1))
	f.Margin.Months[0].MarginPct.Value = math.NaN()
	numbers := regexp.MustCompile(` (?:d|x|y|cx|cy|r|rx|dy|width|height|viewBox)="([^"]*)"`)
	for _, c := range chartsOf(page.Pages(f, page.Options{})) {
		found := numbers.FindAllStringSubmatch(string(c.Drawing().SVG("")), -1)
		if len(found) < 10 {
			t.Errorf("%s: only %d numbers", c.ID, len(found))
		}
		for _, m := range found {
			if strings.Trim(m[1], "0123456789.- MLZ") != "" {
				t.Errorf("%s: %s", c.ID, m[0])
			}
		}
	}
}

// TestTextCannotLeaveItsDrawing: what records hold is text in drawings too.
func TestTextCannotLeaveItsDrawing(t *testing.T) {
	element := regexp.MustCompile(`<(/?)([^ >/]*)([^>]*)>`)
	attribute := regexp.MustCompile(` ([a-z:A-Z-]+)="[^"<>]*"`)
	ours := []string{"svg", "g", "path", "rect", "circle", "text", "tspan", "title"}
	allowed := []string{"class", "viewBox", "width", "height", "role", "aria-label", "aria-labelledby", "d", "x", "y", "cx", "cy", "r", "rx", "dy", "text-anchor", "transform"}
	for _, c := range chartsOf(page.Pages(trial.FactorsOf(t, trial.HostileRecords(), setting.Options{}), page.Options{})) {
		svg := string(c.Drawing().SVG(""))
		for _, m := range element.FindAllStringSubmatch(svg, -1) {
			if !slices.Contains(ours, m[2]) {
				t.Errorf("%s: an element %q", c.ID, m[2])
			}
			for _, a := range attribute.FindAllStringSubmatch(m[3], -1) {
				if !slices.Contains(allowed, a[1]) {
					t.Errorf("%s: an attribute %s", c.ID, a[0])
				}
			}
			if rest := strings.Trim(attribute.ReplaceAllString(m[3], ""), "/ "); rest != "" {
				t.Errorf("%s: %q in <%s>", c.ID, rest, m[2])
			}
		}
	}
}
