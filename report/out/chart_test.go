package out

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/report/chart"
	"pourback/report/internal/trial"
	"pourback/report/page"
)

func option(t testing.TB, c *chart.Chart) map[string]any {
	t.Helper()
	text, err := c.Option()
	if err != nil {
		t.Fatal(err)
	}
	var v map[string]any
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatalf("%s: %v", c.ID, err)
	}
	return v
}

func TestChartsHaveFixedNames(t *testing.T) {
	var ids []string
	for _, c := range chartsOf(page.Pages(trial.CompanyFactors(t), page.Options{})) {
		if slices.Contains(ids, c.ID) {
			t.Errorf("two charts are called %s", c.ID)
		}
		if ids = append(ids, c.ID); c.Says == "" || c.Height < 100 {
			t.Errorf("%s: %q, %d pixels high", c.ID, c.Says, c.Height)
		}
	}
	want := []string{"chart-month-bridge", "chart-month-control", "chart-orders", "chart-used", "chart-waste", "chart-lost",
		"chart-crews", "chart-tasks", "chart-learning", "chart-pump", "chart-delays", "chart-mixes",
		"chart-weather", "chart-made", "chart-curves",
		"chart-cracks-air-temperature", "chart-cracks-evaporation", "chart-cracks-joint-spacing-over-thickness", "chart-cracks-joint-cut", "chart-cracks-saw-delay", "chart-cracks-curing",
		"chart-together", "chart-steel-costs", "chart-mesh-rebar", "chart-steel-checks", "chart-margin", "chart-margin-bridge",
		"chart-early", "chart-calls", "chart-seen", "chart-warranty"}
	if !slices.Equal(ids, want) {
		t.Errorf("charts %v, want %v", ids, want)
	}
}

// TestChartsNameNoOtherFunctions: whatever the records hold, the only places
// that name a function are the renderItem of custom series, and their names
// are ours.
func TestChartsNameNoOtherFunctions(t *testing.T) {
	ours := map[any]bool{string(chart.DrawErrorBar): true, string(chart.DrawBand): true, string(chart.DrawSpan): true}
	for _, c := range chartsOf(page.Pages(trial.FactorsOf(t, trial.HostileRecords(), setting.Options{}), page.Options{})) {
		for _, s := range option(t, c)["series"].([]any) {
			series := s.(map[string]any)
			draws, names := series["renderItem"]
			if names != (series["type"] == "custom") || names && !ours[draws] {
				t.Errorf("%s: a series of type %v draws by %v", c.ID, series["type"], draws)
			}
			if data, _ := series["data"].([]any); len(data) == 0 && series["type"] != "scatter" && series["type"] != "custom" {
				t.Errorf("%s: the series %v is empty", c.ID, series["name"])
			}
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
	for _, c := range chartsOf(page.Pages(f, page.Options{})) {
		if text, err := c.Option(); err != nil || !json.Valid(text) {
			t.Errorf("%s: %v", c.ID, err)
		}
	}
}

func TestFiniteKeepsFiveDigits(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if got := chart.Finite(v); got != nil {
			t.Errorf("%v became %v", v, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64().Draw(t, "v")
		got, ok := chart.Finite(v).(float64)
		if !ok || math.IsNaN(got) || math.IsInf(got, 0) || math.Abs(got-v) > 1e-5*math.Abs(v) {
			t.Errorf("%v became %v", v, got)
		}
	})
}

func TestPageTextCannotLeaveItsScript(t *testing.T) {
	for _, c := range chartsOf(page.Pages(trial.FactorsOf(t, trial.HostileRecords(), setting.Options{}), page.Options{})) {
		text, err := c.Option()
		if err != nil {
			t.Fatal(err)
		}
		if strings.ContainsAny(string(text), "<>\u2028\u2029") {
			t.Errorf("%s: text is not escaped", c.ID)
		}
	}
}
