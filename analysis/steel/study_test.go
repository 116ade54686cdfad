package steel

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/stat/interval"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// studySeeds asks for the whole study, which takes minutes and writes its
// table: go test ./analysis/steel -run TestDecisionStudy -study-seeds 100
var studySeeds = flag.Int("study-seeds", 0, "companies to invent of each truth; writes testdata/steel.md anew")

// fate is a truth that companies of the study share.
type fate struct {
	name   string
	ratio  float64 // what the steel does: callbacks with mesh over those with rebar
	hidden float64 // what bad soil does that only mesh got, and nobody wrote down
	heat   bool    // mesh goes into the hot months
	turns  bool    // mesh and rebar took turns, and the settings say so
}

var (
	badSoil = fate{"mesh on bad soil: 2.5 times", 1, 2.5, false, false}
	inTurns = fate{"mesh 4 times, in turns", 4, 1, false, true}
)

var fates = []fate{
	{"no difference", 1, 1, false, false},
	{"no difference, in turns", 1, 1, false, true},
	{"mesh in the hot months", 1, 1, true, false},
	{"mesh on bad soil: 2 times", 1, 2, false, false},
	badSoil,
	{"mesh on bad soil: 3 times", 1, 3, false, false},
	{"mesh on bad soil: 4 times", 1, 4, false, false},
	{"mesh 4 times", 4, 1, false, false},
	inTurns,
	{"mesh half, in turns", 0.5, 1, false, true},
}

// freshSeeds are those of the study: no other test, and no trial of the method,
// has had them.
const freshSeeds = 20_000

// told is what came of one company.
type told struct {
	events   int
	gain     float64 // true gain of rebar on a placement
	verdict  Verdict
	advice   string
	raw      string // by raw rates
	width    float64
	held     bool
	rangeHas bool // a range was given
}

// lost is what a choice loses on a placement against knowing.
func (o told) lost(choice string) float64 {
	if choice == better(o.gain) {
		return 0
	}
	return math.Abs(o.gain)
}

// invent makes a company of a fate: 300 to 1,500 jobs of 3.5 years as a job log,
// callbacks of $2,000 with $500 of goodwill, and rebar that costs $10 to $150
// more on a placement by prices that are off by as much as the settings say.
func (f fate) invent(t *testing.T, seed uint64, jobs int) told {
	t.Helper()
	draw := rand.New(rand.NewPCG(seed, 77))
	if jobs == 0 {
		jobs = int(300 * math.Pow(5, draw.Float64()))
	}
	asOf := trial.Day("2026-03-31")
	set, truth, err := invented.Generate(invented.Options{Seed: seed, Jobs: jobs, Until: asOf, Adjust: func(t *invented.Truth) {
		t.Crack.ByReinforcement["mesh"] = t.Crack.ByReinforcement["rebar"] + math.Log(f.ratio*f.hidden)
		t.Crack.CallCost = invented.Price{Mean: 2000_00, SD: 0.5}
		if !f.heat {
			t.Choice.MeshPerF = 0
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	h := record.NewHistory(asOf, record.Set{Placements: invented.JobLog(set, asOf)})
	costs := setting.DefaultSteelCosts()
	costs.Goodwill, costs.Alternated, costs.RebarHours = 500, f.turns, costs.MeshHours
	area, slabs := steelSlabs(h, truth.Slabs)
	costs.RebarPerSqft = costs.MeshPerSqft + 10*math.Pow(15, draw.Float64())/area
	opt, err := setting.Options{Steel: costs, Seed: seed}.Complete()
	if err != nil {
		t.Fatal(err)
	}
	off := func(v float64) float64 { return v * (1 + draw.NormFloat64()*costs.PriceRange/1.6448536) }
	extra := area * (off(costs.RebarPerSqft) - off(costs.MeshPerSqft))
	truth.Crack.ByReinforcement["mesh"] = truth.Crack.ByReinforcement["rebar"] + math.Log(f.ratio) // the soil stays where it is, whatever the steel
	out := told{gain: (2000+500)*truth.MeanRisk1Yr(slabs, "mesh") - (2000+500)*truth.MeanRisk1Yr(slabs, "rebar") - extra}
	out.hear(&Of(h, cracks.SlabsOf(h, opt), opt).MeshVsRebar, 2500)
	return out
}

// steelSlabs are the slabs with mesh or rebar alone, with their mean area.
func steelSlabs(h *record.History, all []invented.Slab) (area float64, slabs []invented.Slab) {
	for i := range h.Placements.Len() {
		p := h.Placements.At(i)
		if p.Reinforcement() == "mesh" || p.Reinforcement() == "rebar" {
			area += p.AreaSqft().V
		}
	}
	for _, s := range all {
		if s.Reinforcement == "mesh" || s.Reinforcement == "rebar" {
			slabs = append(slabs, s)
		}
	}
	return area / float64(len(slabs)), slabs
}

// hear takes down what the tool says.
func (o *told) hear(m *MeshVsRebar, callback float64) {
	o.events, o.verdict, o.advice, o.raw = m.Events, m.Verdict, m.Advice, better(-m.ExtraRebar.Value)
	if m.RawDifference.Known() {
		o.raw = better(callback*m.RawDifference.Value - m.ExtraRebar.Value)
	}
	if f := m.RebarGain; f.Bounded {
		o.rangeHas, o.width, o.held = true, f.High-f.Low, f.Low <= o.gain && o.gain <= f.High
	}
}

// TestDecisionStudy asks invented companies of known truth what to use. Few
// seeds can only tell a gross failure; the table in testdata was made with the
// flag.
func TestDecisionStudy(t *testing.T) {
	if *studySeeds == 0 {
		open, right := trial.Share{}, trial.Share{}
		for seed := range uint64(4) {
			open.Add(badSoil.invent(t, 500+seed, 900).verdict == NotSettled)
			in := inTurns.invent(t, 600+seed, 1200)
			right.Add(in.events >= 80 && string(in.verdict) == better(in.gain))
		}
		open.Within(t, "not settled with a hidden cause", 0.5, 1)
		right.Within(t, "settled, and rightly, in turns", 0.5, 1)
		return
	}
	var b strings.Builder
	var all []told
	many := []told{}
	for k, f := range fates {
		var of []told
		for seed := range *studySeeds {
			o := f.invent(t, freshSeeds+uint64(seed)+uint64(k)*1000, 0)
			of = append(of, o)
			if f == inTurns && o.events >= 80 {
				many = append(many, o)
			}
		}
		all = append(all, of...)
		row(&b, f.name, of)
	}
	row(&b, "mesh 4 times, in turns, 80 crack events or more", many)
	row(&b, "all", all)
	b.WriteString(lossTable(t, all))
	path := filepath.Join("..", "..", "testdata", "steel.md")
	if err := os.WriteFile(path, []byte(fmt.Sprintf(studyHead, *studySeeds, *studySeeds)+b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

const studyHead = `# Mesh or rebar: is the advice right?
%d invented companies of each truth, of 300 to 1,500 jobs in 3.5 years, their callbacks of $2,000 and $500 of goodwill.
Rebar costs $10 to $150 more on a placement, at entered prices that are off by up to 10 %% 9 times in 10. The bad soil is
only under mesh, and on no record: steel makes no difference there. What is allowed for such a cause is up to 1.9 times
either way, 9 times in 10: a cause well past that is still told as settled. Settled is right where the choice costs less in
truth. Seeds are those of no other test. Made by

    go test ./analysis/steel -run TestDecisionStudy -study-seeds %d -timeout 180m

| truth | companies | crack events, middle | settled rightly | settled wrongly | not settled | advice right | range of the gain, mean width | held the truth |
| --- | --- | --- | --- | --- | --- | --- | --- | --- |
`

// row writes what came of companies.
func row(b *strings.Builder, name string, of []told) {
	var rightly, wrongly, open, advised, held trial.Share
	width, events := 0.0, []float64{}
	for _, o := range of {
		settled := o.verdict == ForMesh || o.verdict == ForRebar
		right := string(o.verdict) == better(o.gain)
		rightly.Add(settled && right)
		wrongly.Add(settled && !right)
		open.Add(!settled)
		advised.Add(o.advice == better(o.gain))
		if o.rangeHas {
			held.Add(o.held)
			width += o.width
		}
		events = append(events, float64(o.events))
	}
	middle, err := interval.Quantiles(events, 0.5)
	if err != nil {
		middle = []float64{0}
	}
	share := func(s trial.Share) string { return fmt.Sprintf("%.0f %%", 100*float64(s.Held)/max(1, float64(s.Of))) }
	fmt.Fprintf(b, "| %s | %d | %.0f | %s | %s | %s | %s | $%.0f | %s |\n", name, len(of), middle[0], share(rightly), share(wrongly), share(open), share(advised), width/max(1, float64(held.Of)), share(held))
}

// lossTable is what each rule loses on a placement against knowing, and by how
// much more than the advice, with its range over companies.
func lossTable(t *testing.T, all []told) string {
	t.Helper()
	var b strings.Builder
	b.WriteString(`
Dollars lost on a placement against knowing, over all these companies, and what each rule loses more than the advice,
company by company (90 % ranges, Student's t).

| rule | lost | more than the advice |
| --- | ---: | ---: |
`)
	for _, rule := range []struct {
		name   string
		choice func(told) string
	}{{"the advice", func(o told) string { return o.advice }}, {"raw rates", func(o told) string { return o.raw }},
		{"always mesh", func(told) string { return "mesh" }}, {"always rebar", func(told) string { return "rebar" }}} {
		lost, more := make([]float64, len(all)), make([]float64, len(all))
		for i, o := range all {
			lost[i] = o.lost(rule.choice(o))
			more[i] = lost[i] - o.lost(o.advice)
		}
		mean, err := interval.MeanT(lost, 0.9)
		if err != nil {
			t.Fatal(err)
		}
		paired := ""
		if d, err := interval.MeanT(more, 0.9); err == nil {
			paired = fmt.Sprintf("%.1f (%.1f to %.1f)", d.Value, d.Low, d.High)
		}
		fmt.Fprintf(&b, "| %s | %.1f (%.1f to %.1f) | %s |\n", rule.name, mean.Value, mean.Low, mean.High, paired)
	}
	return b.String()
}
