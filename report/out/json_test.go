package out

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strings"
	"testing"

	"pourback/analysis"
	"pourback/analysis/setting"
	"pourback/report/internal/trial"
	"pourback/report/page"
	"pourback/report/say"
)

func factorsJSON(t testing.TB, f *analysis.Factors) map[string]any {
	t.Helper()
	var b bytes.Buffer
	if err := JSON(&b, f, say.New("", "", "")); err != nil {
		t.Fatal(err)
	}
	var v map[string]any
	if err := json.Unmarshal(b.Bytes(), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

func TestJSONConformsToItsSchema(t *testing.T) {
	s := factorsSchema(t)
	for name, f := range trial.Histories(t) {
		for i, wrong := range s.check(name, factorsJSON(t, f)) {
			if i == 20 {
				t.Fatal("and more")
			}
			t.Error(wrong)
		}
	}
}

// TestSchemaCheckCanFail breaks a sound document in each way that a keyword of
// the schema forbids.
func TestSchemaCheckCanFail(t *testing.T) {
	s := factorsSchema(t)
	for name, breakIt := range map[string]func(doc map[string]any){
		"no placements":     func(d map[string]any) { delete(d, "placements") },
		"half a job":        func(d map[string]any) { d["jobs"] = 0.5 },
		"less than nothing": func(d map[string]any) { d["jobs"] = -1.0 },
		"a date in words":   func(d map[string]any) { d["as_of"] = "today" },
		"an unknown member": func(d map[string]any) { d["extra"] = 1.0 },
		"another event":     func(d map[string]any) { d["cracks"].(map[string]any)["event"] = "heard" },
		"null without why":  func(d map[string]any) { figureSchema(d)["value"] = nil },
		"a level of one":    func(d map[string]any) { figureSchema(d)["level"] = 1.0 },
		"a list of figures": func(d map[string]any) { d["crews"] = map[string]any{} },
	} {
		doc := factorsJSON(t, trial.FactorsOf(t, trial.Pours(200), setting.Options{}))
		if wrong := s.check("sound", doc); len(wrong) > 0 {
			t.Fatal(wrong)
		}
		breakIt(doc)
		if len(s.check(name, doc)) == 0 {
			t.Errorf("%s: nothing was found wrong", name)
		}
	}
}

func figureSchema(doc map[string]any) map[string]any {
	return doc["overage"].(map[string]any)["all"].(map[string]any)["raw_mean"].(map[string]any)
}

// TestJSONHasEveryKey holds the JSON to the keys that the description of the
// command line promises.
func TestJSONHasEveryKey(t *testing.T) {
	doc := any(factorsJSON(t, trial.CompanyFactors(t)))
	for _, path := range strings.Fields(`
		as_of placements jobs records_to_check
		overage.groups[].use overage.groups[].method overage.groups[].n overage.groups[].raw_mean overage.groups[].pooled_mean
		overage.groups[].next_job.p10 overage.groups[].next_job.p50 overage.groups[].next_job.p80 overage.groups[].next_job.p90
		overage.groups[].order_allowance overage.fixed_yd.chute overage.fixed_yd.pump overage.by_size
		crews[].crew crews[].n crews[].sqft_per_hour crews[].adjusted crews[].hours_lost_to_delay
		pump.outfits[].pump_outfit pump.outfits[].pumped_yd pump.outfits[].clogs pump.outfits[].clogs_per_100yd pump.outfits[].pooled pump.minutes_lost
		weather.placements[].job_no weather.placements[].placement weather.placements[].evaporation_lb_ft2_h weather.hot_count
		cracks.cells[].reinforcement cracks.cells[].spacing_from_ft cracks.cells[].spacing_to_ft cracks.cells[].placements
		cracks.cells[].callbacks cracks.cells[].placement_years cracks.cells[].risk_1yr cracks.logrank cracks.cox
		reinforcement.mesh_vs_rebar.raw_difference reinforcement.mesh_vs_rebar.adjusted_risk_mesh reinforcement.mesh_vs_rebar.adjusted_risk_rebar
		reinforcement.mesh_vs_rebar.adjusted_difference reinforcement.mesh_vs_rebar.probability_mesh_cheaper reinforcement.mesh_vs_rebar.cost_per_sqft_mesh
		reinforcement.mesh_vs_rebar.cost_per_sqft_rebar reinforcement.mesh_vs_rebar.placements_needed
		margin.months[].month margin.months[].jobs margin.months[].revenue margin.months[].cost margin.months[].margin_pct margin.months[].bid_margin_pct
		margin.months[].price margin.months[].change_orders margin.months[].volume margin.months[].usage margin.months[].labor_rate margin.months[].labor_efficiency
		margin.months[].delay margin.months[].callback margin.months[].other`) {
		v := doc
		for step := range strings.SplitSeq(path, ".") {
			name, each := strings.CutSuffix(step, "[]")
			object, _ := v.(map[string]any)
			member, there := object[name]
			if !there {
				t.Errorf("no %s: %s is missing", path, step)
				break
			}
			if v = member; each {
				if len(list(member)) == 0 {
					t.Errorf("%s: an empty list shows nothing", path)
					break
				}
				v = list(member)[0]
			}
		}
	}
}

// TestJSONIsThatOfTheWhole: writing the pours piece by piece changes nothing.
func TestJSONIsThatOfTheWhole(t *testing.T) {
	many := trial.Histories(t)
	many["9,000 pours"] = trial.FactorsOf(t, trial.Pours(9000), setting.Options{Topics: []string{"weather"}})
	many["crews alone"] = trial.FactorsOf(t, trial.Pours(50), setting.Options{Topics: []string{"crews"}})
	named := trial.Pours(4)
	named.Placements[0].Crew = `x","weather":{"placements":[]}`
	many["a crew like JSON"] = trial.FactorsOf(t, named, setting.Options{})
	for name, f := range many {
		v := say.New("", "", "")
		whole, err := asJSON(v, spoken(f, v))
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := JSON(&b, f, say.New("", "", "")); err != nil {
			t.Fatal(err)
		}
		if b.String() != string(whole)+"\n" {
			t.Errorf("%s: differs from the whole", name)
		}
	}
}

// fullDisk takes so many bytes and then fails.
type fullDisk struct{ room int }

var errFull = errors.New("no space left")

func (d *fullDisk) Write(b []byte) (int, error) {
	if d.room -= len(b); d.room < 0 {
		return 0, errFull
	}
	return len(b), nil
}

func TestWriteErrorsAreReturned(t *testing.T) {
	f := trial.FactorsOf(t, trial.Pours(9000), setting.Options{})
	pages := page.Pages(f, page.Options{})
	for _, room := range []int{0, 3000, 300_000} {
		if err := JSON(&fullDisk{room}, f, say.New("", "", "")); !errors.Is(err, errFull) {
			t.Errorf("JSON with room for %d bytes: %v", room, err)
		}
	}
	if err := Terminal(&fullDisk{10}, pages, 80, false); !errors.Is(err, errFull) {
		t.Errorf("Terminal: %v", err)
	}
	if err := WriteSingle(&fullDisk{10}, pages); !errors.Is(err, errFull) {
		t.Errorf("WriteSingle: %v", err)
	}
}

func BenchmarkJSON(b *testing.B) {
	f := trial.FactorsOf(b, trial.Pours(200_000), setting.Options{Topics: []string{"weather"}})
	for b.Loop() {
		if err := JSON(io.Discard, f, say.New("", "", "")); err != nil {
			b.Fatal(err)
		}
	}
}
